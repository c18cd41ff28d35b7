import { describe, expect, it } from 'vitest';
import { type Board, stillNeeded, type WorkStep, workOrder } from '../../../engine/index.ts';
import { lastRows } from '../../../engine/table/last-row.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

/** The band as one repeat of the first so many of its rows, with its end. */
function shortened(board: Board, rows: number): Board {
  const stride = board.pattern.colours.length >> 1;
  return {
    ...board,
    pattern: { ...board.pattern, rows, knots: board.pattern.knots.slice(0, rows * stride) },
  };
}

describe('lastRows', () => {
  it('[H16] is the last row at which every measured string covers knots, end rows, tail and spare, found by making each piece', () => {
    const random = seededRandom(16);
    const outcome = { all: 0, fewer: 0, none: 0 };
    for (let turn = 0; turn < 200; turn++) {
      const size = { strings: 3 + Math.floor(random() * 5), rows: 1 + Math.floor(random() * 9) };
      const band = randomBand(random, size, { untied: random() * 0.4, staying: random() });
      const end = (['straight', 'triangle', 'double triangle'] as const)[turn % 3]!;
      const board = {
        ...boardOf(band, { end, tailMm: 20, spareMm: 10 }),
        gauge: { rowMm: 2, knottingMm: 20, carrierMm: 3 },
      };
      const steps = stepsOf(board);
      const inBand = steps.filter(({ part }) => part === 'band').length;
      const at = Math.floor(random() * (inBand + 1));
      const begun = Math.max(0, ...steps.slice(0, at).map(({ row }) => row + 1));
      const left = [0, 1].map((string) => ({ string, leftMm: random() * 40 * size.rows }));
      let expected: number | null = null;
      for (let rows = begun; rows <= size.rows; rows++) {
        const piece = shortened(board, rows);
        // In rows, what is done comes first there too.
        const needs = stillNeeded(piece, stepsOf(piece), at);
        const reaches = ({ string, leftMm }: { string: number; leftMm: number }): boolean => {
          const { knotsMm, endMm, spareMm } = needs[string]!;
          return leftMm >= knotsMm + endMm + spareMm - 1e-9;
        };
        if (left.every(reaches)) expected = rows;
      }
      expect(lastRows(board, steps, at, left)).toBe(expected);
      outcome[expected === null ? 'none' : expected === size.rows ? 'all' : 'fewer']++;
      expect(lastRows(board, steps, at, [])).toBe(size.rows);
    }
    for (const [what, count] of Object.entries(outcome)) expect(count, what).toBeGreaterThan(15);
  });

  it('[H16] counts rows of the whole piece, and never leaves out what is tied', () => {
    const board = {
      ...boardOf(
        { colours: ['c0', 'c0'], start: 0, rows: 1, knots: Uint8Array.of(3) },
        { repeats: 4, tailMm: 0, spareMm: 0 },
      ),
      gauge: { rowMm: 1, knottingMm: 10, carrierMm: 2 },
    };
    const steps = stepsOf(board);
    // Rows 0, 2, 4, 6 tie it, each but the first after a row that hangs.
    const left = (leftMm: number) => [{ string: 0, leftMm }];
    expect(lastRows(board, steps, 0, left(43))).toBe(7);
    expect(lastRows(board, steps, 0, left(42.9))).toBe(6);
    expect(lastRows(board, steps, 0, left(31))).toBe(4);
    expect(lastRows(board, steps, 0, left(9))).toBe(0);
    expect(lastRows(board, steps, 2, left(11))).toBe(5);
    expect(lastRows(board, steps, 2, left(0))).toBe(3);
    expect(lastRows(board, steps, 2, [{ string: 1, leftMm: 0 }])).toBe(3);
  });

  it('[H16] who has begun the end rows ends there or not at all', () => {
    const band = {
      colours: ['c0', 'c0', 'c0', 'c0'],
      start: 0 as const,
      rows: 1,
      knots: Uint8Array.of(1, 1),
    };
    const board = {
      ...boardOf(band, { end: 'triangle', tailMm: 0, spareMm: 0 }),
      gauge: { rowMm: 1, knottingMm: 10, carrierMm: 2 },
    };
    const steps = stepsOf(board);
    expect(steps.map(({ part }) => part)).toEqual(['band', 'band', 'end']);
    expect(lastRows(board, steps, 3, [{ string: 0, leftMm: 0 }])).toBe(1);
    expect(lastRows(board, steps, 3, [{ string: 1, leftMm: 0.5 }])).toBe(null);
  });
});
