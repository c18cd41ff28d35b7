/** Beginnings as the worker gives them: each with what it comes to, and made of the piece that was asked for. */
import { describe, expect, it } from 'vitest';
import { fitShape, tallyOf } from '../../../engine/index.ts';
import { runStart, type StartAsk, type Started } from '../../../web/worker/run-start.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const PALETTE = [
  { id: 'a', name: 'spruce', hex: '#1f6266' },
  { id: 'b', name: 'sand', hex: '#e8c98a' },
  { id: 'c', name: 'rust', hex: '#a0401f' },
];
const PIECE = { repeats: 3, end: 'straight' } as const;

function run(ask: StartAsk): readonly Started[] {
  const all = runStart(ask);
  for (const { board, tally } of all) expect(tally).toEqual(tallyOf(board));
  return all;
}

describe('beginnings with what they come to', () => {
  it('these boards as they are, like no figure', () => {
    const boards = [sampleBoard(), sampleBoard(8, 4)];
    const all = run({ of: 'these', boards });
    expect(all.map(({ board, shape, differs }) => ({ board, shape, differs }))).toEqual(
      boards.map((board) => ({ board, shape: null, differs: [] })),
    );
  });

  it('more like a figure: each says its shape and how it differs', () => {
    const shape = fitShape('diamonds', 24, { colours: 3 });
    const all = run({ of: 'more', shape, palette: PALETTE, piece: PIECE, seed: 1 });
    expect(all.length).toBeGreaterThan(1);
    for (const one of all) {
      expect(one.board.piece).toEqual(PIECE);
      expect(one.shape).not.toBeNull();
      expect(one.differs.length).toBeGreaterThan(0);
    }
    expect(run({ of: 'more', shape, palette: PALETTE, piece: PIECE, seed: 1 })).toEqual(all);
  });

  it('from what lies in the drawer: of its threads alone', () => {
    const drawer = PALETTE.map(({ hex, name }) => ({ hex, name, haveMm: 8000 }));
    const all = run({ of: 'drawer', drawer, piece: PIECE, seed: 1 });
    expect(all.length).toBeGreaterThan(0);
    const known = new Set(PALETTE.map(({ hex }) => hex));
    for (const { board, shape } of all) {
      expect(board.palette.filter(({ hex }) => !known.has(hex))).toEqual([]);
      expect(shape).not.toBeNull();
    }
  });

  it('for a lesson: of so many strings, in the colours given, of the piece', () => {
    const all = run({ of: 'lesson', strings: 8, palette: PALETTE, piece: PIECE, seed: 1 });
    expect(all.length).toBeGreaterThan(0);
    for (const { board, shape } of all) {
      expect([board.pattern.colours.length, board.piece, shape]).toEqual([8, PIECE, null]);
      expect(board.palette.length).toBeLessThanOrEqual(3);
    }
  });
});
