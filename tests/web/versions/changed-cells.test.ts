/** Which knots of a version's picture are marked as changed. */
import { expect, test } from 'vitest';
import { type Board, type KnotCode, rowStride } from '../../../engine/index.ts';
import { changedCells } from '../../../web/versions/changed-cells.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

const board = sampleBoard(6, 4);
const withKnot = (row: number, k: number, knot: KnotCode): Board => {
  const knots = board.pattern.knots.slice();
  knots[row * rowStride(6) + k] = knot;
  return { ...board, pattern: { ...board.pattern, knots } };
};
const cells = (after: Board): readonly number[] => [...changedCells(board, after).cells];

test('[B111] none between equal boards', () => {
  expect(changedCells(board, structuredClone(board))).toEqual({ cells: new Set(), isOtherSize: false });
});

test('[B111] a knot tied otherwise is one, though it shows the same colour', () => {
  // Forward-backward shows the same string as forward would, and lets the strings go on where they were.
  const last = 3 * rowStride(6);
  expect(cells(withKnot(3, 0, 4))).toContain(last);
});

test('[B111] so are those below it that show another colour', () => {
  const changed = cells(withKnot(0, 0, 1));
  expect(changed[0]).toBe(0);
  expect(changed.length).toBeGreaterThan(1);
  expect(changed.every((cell) => cell >= 0 && cell < board.pattern.knots.length)).toBe(true);
});

test('[B111] those that show a colour whose look was changed are, and no others', () => {
  const palette = board.palette.map((colour) => (colour.id === 'g' ? { ...colour, hex: '#000000' } : colour));
  const changed = cells({ ...board, palette });
  expect(changed.length).toBeGreaterThan(0);
  const renamed = board.palette.map((colour) => ({ ...colour, name: `${colour.name}!` }));
  expect(cells({ ...board, palette: renamed })).toEqual([]);
});

test('[B111] boards of another size are not compared knot by knot', () => {
  for (const pattern of [samplePattern(6, 5), samplePattern(8, 4), samplePattern(6, 4, 1)])
    expect(changedCells(board, { ...board, pattern })).toEqual({ cells: new Set(), isOtherSize: true });
});
