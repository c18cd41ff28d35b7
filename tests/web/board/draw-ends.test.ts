/** What stands above and below the band in the finished look, where it hangs from no ring. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText, planBoard } from '../../../engine/index.ts';
import { CordSprites } from '../../../web/board/cord-sprites.ts';
import { type BandSide, drawFinished, layoutFinished } from '../../../web/board/draw-finished.ts';
import { backBars, type FinishedModel, finishedModelOf } from '../../../web/board/finished-model.ts';
import { type Drawn, drawnBy } from '../../support/recorded-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { THEME } from '../../support/scene.ts';

afterEach(() => vi.unstubAllGlobals());

const BOX = { width: 600, height: 900 };
const STEEL = ['#5f5c57', '#8f8b84', '#c3beb5', '#f0ece4'];

function worn(piece: Board['piece']): FinishedModel {
  const board: Board = {
    ...sampleBoard(),
    pattern: patternFromText([...'rgrg'], ['f f', 'f']),
    piece: { repeats: 2, endKnot: 'none', ...piece },
  };
  return finishedModelOf(board, planBoard(board));
}

function drawn(model: FinishedModel, side: BandSide = 'front', to?: number): readonly Drawn[] {
  const layout = layoutFinished(model, BOX, 1);
  const sprites = new CordSprites(layout.unit, layout.row, 1);
  return drawnBy((context) =>
    drawFinished(context, model, layout, side, THEME, sprites, 0, to ?? layout.height),
  );
}

describe('without a ring', () => {
  it('[B281] no metal is drawn and no bar on the back; above the band is room for what stands there', () => {
    expect(drawn(worn({})).some(({ colour }) => STEEL.includes(colour))).toBe(true);
    for (const begin of ['loose', 'loop', 'stick'] as const) {
      const model = worn({ begin, headMm: 60 });
      expect(backBars(model.plan)).toEqual([]);
      for (const side of ['front', 'back'] as const)
        expect(drawn(model, side).filter(({ colour }) => STEEL.includes(colour))).toEqual([]);
      const layout = layoutFinished(model, BOX, 1);
      const longer = layoutFinished(worn({ begin, headMm: 90 }), BOX, 1);
      expect(layout.y).toBeGreaterThanOrEqual(model.proportions.headPerCord * layout.unit);
      expect(longer.y / longer.unit).toBeGreaterThan(layout.y / layout.unit);
    }
  });

  it('[B281] what stands there stays within that room: loose strings, a braid, a knot, a loop', () => {
    const above = (piece: Board['piece']) => {
      const model = worn(piece);
      const { y, unit } = layoutFinished(model, BOX, 1);
      // Up to the band, so that neither knots nor tails are drawn.
      const all = drawn(model, 'front', y - 1).filter(({ box }) => box[1] < y - unit);
      return {
        all,
        top: Math.min(...all.map(({ box }) => box[1])),
        highest: y - model.proportions.headPerCord * unit,
        unit,
      };
    };
    const open = above({ begin: 'loose', headKnot: 'none', headMm: 60 });
    expect(Math.abs(open.top - open.highest)).toBeLessThan(2 * open.unit);
    for (const piece of [
      { begin: 'loose', headMm: 60 },
      { begin: 'loose', headKnot: 'overhand' },
      { begin: 'stick' },
      { begin: 'loop' },
      { begin: 'loop', headKnot: 'braid' },
      { begin: 'loop', headKnot: 'none', loopMm: 25 },
    ] as const) {
      const { all, top, highest, unit } = above(piece);
      expect([piece, top > highest - 1.5 * unit, top < highest + 6 * unit]).toEqual([piece, true, true]);
      expect(all.length).toBeGreaterThan(open.all.length);
    }
  });
});
