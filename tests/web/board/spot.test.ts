/** Where the keyboard is, and the places about it. */
import { describe, expect, it } from 'vitest';
import { staggerOf } from '../../../engine/index.ts';
import { blockAlong, cellBeside, isInBlock, nearestSpot, placeOfSpot } from '../../../web/board/spot.ts';
import { samplePattern } from '../../support/sample-board.ts';

const stagger = staggerOf(samplePattern(6, 4));
const knot = (row: number, k: number) => ({ on: 'knot', row, k }) as const;

describe('a spot after rows or strings came or went', () => {
  it('goes with its knot where that was found', () => {
    expect(nearestSpot(stagger, knot(0, 0), { row: 3, k: 1 })).toEqual(knot(3, 1));
  });

  it('is else at the nearest knot left', () => {
    expect(nearestSpot(stagger, knot(9, 9), null)).toEqual(knot(3, 1));
    expect(nearestSpot(stagger, knot(2, 9), null)).toEqual(knot(2, 2));
    expect(nearestSpot(staggerOf(samplePattern(6, 0)), knot(2, 1), null)).toMatchObject({ row: 0 });
  });

  it('on a peg stays on one', () => {
    expect(nearestSpot(stagger, { on: 'peg', place: 9 }, null)).toEqual({ on: 'peg', place: 5 });
    expect(nearestSpot(stagger, { on: 'peg', place: 2 }, { row: 0, k: 0 })).toEqual({ on: 'peg', place: 2 });
  });
});

describe('places', () => {
  it('of a peg, of the left string of a knot, and the first without either', () => {
    expect(placeOfSpot(stagger, { on: 'peg', place: 4 }, null)).toBe(4);
    expect(placeOfSpot(stagger, knot(1, 1), { row: 1, k: 1 })).toBe(3);
    expect(placeOfSpot(stagger, knot(1, 1), null)).toBe(0);
  });

  it('beside a knot lie on the stagger, or nowhere', () => {
    expect(cellBeside(stagger, { row: 0, k: 0 }, 1, 1)).toEqual({ row: 1, k: 0 });
    expect(cellBeside(stagger, { row: 0, k: 0 }, 0, 2)).toEqual({ row: 0, k: 1 });
    // Between two knots of the row, above the first row, below the last, beyond either edge.
    for (const [rows, places] of [
      [1, 0],
      [-1, 1],
      [4, 0],
      [0, -2],
      [0, 6],
    ] as const)
      expect([rows, places, cellBeside(stagger, { row: 0, k: 0 }, rows, places)]).toEqual([
        rows,
        places,
        null,
      ]);
  });

  it('a knot is in a block that holds both its strings', () => {
    const row = blockAlong(stagger, { row: 1, k: 0 }, 'row');
    const places = blockAlong(stagger, { row: 0, k: 1 }, 'places');
    expect([row.fromRow, row.toRow, row.fromPlace, row.toPlace]).toEqual([1, 1, 0, 5]);
    expect([places.fromRow, places.toRow]).toEqual([0, 3]);
    expect([isInBlock(stagger, row, { row: 1, k: 1 }), isInBlock(stagger, row, { row: 2, k: 1 })]).toEqual([
      true,
      false,
    ]);
    expect(isInBlock(stagger, row, { row: 0, k: 1 })).toBe(false);
    expect([isInBlock(stagger, row, { row: 1, k: 2 }), isInBlock(stagger, row, { row: 1, k: -1 })]).toEqual([
      false,
      false,
    ]);
    expect([
      isInBlock(stagger, places, { row: 2, k: 1 }),
      isInBlock(stagger, places, { row: 1, k: 1 }),
    ]).toEqual([true, false]);
    expect(isInBlock(stagger, places, { row: 0, k: 0 })).toBe(false);
  });
});
