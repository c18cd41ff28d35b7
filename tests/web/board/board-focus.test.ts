/** Where the maker is: the keyboard's place and the selection, which go with their knots. */
import { describe, expect, it } from 'vitest';
import { staggerOf } from '../../../engine/index.ts';
import { BoardFocus } from '../../../web/board/board-focus.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

function focusOn(board = sampleBoard(8, 8)) {
  const design = openDesign(board);
  const focus = new BoardFocus(design, () => staggerOf(design.snapshot.board.pattern));
  return { design, focus };
}
const knot = (row: number, k: number) => ({ on: 'knot', row, k }) as const;

describe('the place of the keyboard', () => {
  it('goes with its knot, and where that is deleted to the nearest that is left', () => {
    const { design, focus } = focusOn();
    focus.moveTo(knot(4, 1), false);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    focus.follow();
    expect(focus.spot).toMatchObject(knot(6, 1));
    runAll(design, { kind: 'delete-row-pairs', from: 3, count: 2 });
    focus.follow();
    expect(focus.cursor).not.toBeNull();
    expect(focus.spot).toMatchObject({ on: 'knot', row: 5 });
  });

  it('on a peg goes with its string, and where that is deleted stays on the board', () => {
    const { design, focus } = focusOn();
    focus.moveTo({ on: 'peg', place: 5 }, false);
    expect([focus.cursor, focus.block, focus.firstCell, focus.place]).toEqual([null, null, null, 5]);
    runAll(design, { kind: 'insert-string-pairs', at: 0, count: 1 });
    focus.follow();
    expect(focus.spot).toEqual({ on: 'peg', place: 7 });
    runAll(design, { kind: 'delete-string-pairs', from: 3, count: 2 });
    focus.follow();
    expect(focus.spot).toEqual({ on: 'peg', place: 5 });
  });

  it('is on no knot where there is none', () => {
    const { focus } = focusOn(sampleBoard(8, 0));
    expect([focus.cursor, focus.block]).toEqual([null, null]);
  });
});

describe('a selection', () => {
  it('grows from where the first step began, and anew after one that was none', () => {
    const { focus } = focusOn();
    focus.moveTo(knot(1, 1), false);
    focus.moveTo(knot(2, 1), true);
    focus.moveTo(knot(3, 2), true);
    expect([focus.has(knot(1, 1)), focus.has(knot(3, 2)), focus.has(knot(5, 1))]).toEqual([
      true,
      true,
      false,
    ]);
    expect(focus.firstCell).toMatchObject({ row: 1 });
    focus.moveTo(knot(6, 1), false);
    focus.moveTo(knot(7, 1), true);
    expect([focus.has(knot(3, 2)), focus.has(knot(6, 1))]).toEqual([false, true]);
  });

  it('begins at the knot itself where the keyboard came from a peg, and does not grow onto one', () => {
    const { focus } = focusOn();
    focus.moveTo({ on: 'peg', place: 2 }, false);
    focus.moveTo({ on: 'peg', place: 4 }, true);
    expect(focus.selection).toBeNull();
    focus.moveTo(knot(0, 2), true);
    expect(focus.selection).toMatchObject({ fromRow: 0, toRow: 0 });
  });

  it('goes with its knots, and away with them or when it is cleared', () => {
    const { design, focus } = focusOn();
    focus.moveTo(knot(2, 1), false);
    focus.moveTo(knot(3, 1), true);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    focus.follow();
    expect(focus.selection).toMatchObject({ fromRow: 4, toRow: 5 });
    runAll(design, { kind: 'delete-row-pairs', from: 2, count: 1 });
    focus.follow();
    expect(focus.selection).toBeNull();
    focus.select({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 3 });
    focus.clearSelection();
    expect([focus.selection, focus.has(knot(0, 0))]).toEqual([null, false]);
  });
});
