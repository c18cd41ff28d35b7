/** What an empty board is offered. */
import { describe, expect, it } from 'vitest';
import { type Board, planMount, symmetry } from '../../../engine/index.ts';
import { isEmptyBoard, offeredFor } from '../../../web/start/empty-board.ts';
import { THREADS } from '../../support/threads.ts';

function emptyBoard(strings: number, rows = 24, colours = 3): Board {
  const palette = THREADS.slice(0, Math.max(1, colours)).map((thread, i) => ({ id: `c${i}`, ...thread }));
  return {
    title: 'Try',
    palette,
    pattern: {
      colours: Array.from({ length: strings }, (_, place) => palette[place % palette.length]!.id),
      start: 0,
      rows,
      knots: new Uint8Array(rows * (strings >> 1)),
    },
    piece: { repeats: 2 },
    gauge: {},
    colourways: [],
  };
}

describe('an empty board', () => {
  it('[B300] is offered stripes, arrowheads and diamonds for 6 to 24 strings, each neat by the engine', () => {
    for (let strings = 6; strings <= 24; strings++) {
      const offered = offeredFor(emptyBoard(strings));
      expect(
        offered.map(({ kind }) => kind),
        `${strings}`,
      ).toEqual(['stripes', 'arrowheads', 'diamonds']);
      for (const { kind, board } of offered) {
        const { pattern } = board;
        expect(planMount(pattern.colours).neat).toBe(true);
        const isWhole = kind === 'stripes' || strings % 2 === 0;
        expect(pattern.colours.length).toBe(isWhole ? strings : strings + 1);
        if (kind !== 'stripes') expect(symmetry(pattern).mirror.picture).toBe(true);
      }
    }
  });

  it('[B300] in the colours that its strings have, about as many rows long, with its title and piece', () => {
    const board = emptyBoard(12, 40, 2);
    for (const { board: offered } of offeredFor({
      ...board,
      palette: [...board.palette, { id: 'x', name: 'X', hex: '#101010' }],
    })) {
      expect(new Set(offered.pattern.colours)).toEqual(new Set(['c0', 'c1']));
      expect(Math.abs(offered.pattern.rows - 40)).toBeLessThanOrEqual(12);
      expect([offered.title, offered.piece]).toEqual(['Try', { repeats: 2 }]);
    }
  });

  it('[B300] of one colour, or with a knot, is offered nothing', () => {
    expect(offeredFor(emptyBoard(12, 24, 1))).toEqual([]);
    const board = emptyBoard(12);
    expect(isEmptyBoard(board)).toBe(true);
    const knots = board.pattern.knots.slice();
    knots[5] = 1;
    expect(isEmptyBoard({ ...board, pattern: { ...board.pattern, knots } })).toBe(false);
    expect(isEmptyBoard(emptyBoard(12, 0))).toBe(false);
  });
});
