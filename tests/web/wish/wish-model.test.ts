import { describe, expect, it } from 'vitest';
import { OPEN, weave, type Wish, wishFrom } from '../../../engine/index.ts';
import { MISSED_CELL, OPEN_CELL, STAYING_CELL, wishModelOf } from '../../../web/wish/wish-model.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const board = sampleBoard(6, 4);
const wish: Wish = {
  ...wishFrom(board),
  rows: [
    [0, OPEN, 2],
    [1, OPEN],
    [OPEN, OPEN, OPEN],
    [OPEN, OPEN],
  ],
};

describe('a wish as the canvas draws it', () => {
  it('[B331] [B335] each cell in the colour wanted, open ones open, crossed where it can’t be had; strings hang as on the board', () => {
    const model = wishModelOf({ board, wish, missed: [[0, 2]], region: null }, null);
    expect([...model.board.pattern.knots.slice(0, 6)]).toEqual([1, OPEN_CELL, MISSED_CELL, 1, OPEN_CELL, 0]);
    const hexOf = (at: number): string | undefined => model.hexes[model.weave.shownFlat[at]!];
    expect([hexOf(0), hexOf(1), hexOf(2), hexOf(3)]).toEqual([
      board.palette[0]!.hex,
      undefined,
      board.palette[2]!.hex,
      board.palette[1]!.hex,
    ]);
    expect(model.weave.orderFlat).toEqual(weave(board.pattern).orderFlat);
    expect(model.strings).toBe(6);
  });

  it('[B339] outside the part that is painted what shows now, whatever is wanted there', () => {
    const region = { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 3 };
    const { board: drawn, weave: shown } = wishModelOf({ board, wish, missed: [], region }, null);
    const now = weave(board.pattern).shownFlat;
    const inside = new Set([0, 1]);
    drawn.pattern.knots.forEach((cell, at) => {
      if (inside.has(at)) return;
      expect(cell).toBe(now[at]! < 0 ? OPEN_CELL : STAYING_CELL);
      expect(shown.shownFlat[at]).toBe(now[at]);
    });
    expect([...drawn.pattern.knots.slice(0, 2)]).toEqual([1, OPEN_CELL]);
  });
});
