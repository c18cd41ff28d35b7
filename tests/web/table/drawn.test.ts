/** What is drawn over the work, as it lies in a drawing. */
import { expect, it } from 'vitest';
import { gridText, pointOf, readGrid, spotOf } from '../../../web/table/drawn.ts';

const GRID = { x: 5, y: 10, string: 10, row: 12 };

it('[R54] places and points are each other’s inverse, and a grid is read as it is written', () => {
  expect(pointOf([0, 0], GRID)).toEqual([5, 10]);
  expect(pointOf([2.5, -1], GRID)).toEqual([30, -2]);
  for (const spot of [
    [0, 0],
    [3.25, 7.5],
    [-1, 400],
  ] as const)
    expect(spotOf(...pointOf(spot, GRID), GRID)).toEqual(spot);
  expect(readGrid(gridText(GRID))).toEqual(GRID);
  for (const bad of [null, '', '1 2 3', 'a b c d']) expect(readGrid(bad)).toBeNull();
});
