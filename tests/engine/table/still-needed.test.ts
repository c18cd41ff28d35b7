import { describe, expect, it } from 'vitest';
import { type Board, cutList, stillNeeded, type WorkStep, workOrder } from '../../../engine/index.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function stepsOf(
  board: Board,
  method: 'rows' | 'segments',
  firstHalf: 'left' | 'right',
): readonly WorkStep[] {
  const order = workOrder(board, { method, covers: 'piece', firstHalf });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

/** Random boards with lead-ins, odd repeats, ends, gauges and untied pairs. */
function* boards(seed: number, count: number): Generator<Board> {
  const random = seededRandom(seed);
  for (let turn = 0; turn < count; turn++) {
    const size = { strings: 2 + Math.floor(random() * 7), rows: 1 + Math.floor(random() * 6) };
    const band = randomBand(random, size, { untied: random() * 0.6, staying: random() });
    const ends = ['straight', 'triangle', 'double triangle'] as const;
    const board = boardOf(band, {
      // A length stops anywhere in the repeat.
      ...(turn % 5 === 0 ? { lengthMm: 5 + random() * 60 } : { repeats: 1 + Math.floor(random() * 3) }),
      leadInRows: Math.floor(random() * (size.rows + 1)),
      end: ends[turn % 3]!,
      ...(turn % 4 === 0 ? { tailMm: 33, spareMm: 21 } : {}),
    });
    yield turn % 2 === 0 ? board : { ...board, gauge: { rowMm: 2.1, knottingMm: 19.7, carrierMm: 3.3 } };
  }
}

describe('stillNeeded', () => {
  it('[H13] at the start, with the share of mounting, it is what the cutting list says', () => {
    let folded = 0;
    for (const board of boards(13, 120)) {
      const needs = stillNeeded(board, stepsOf(board, 'segments', 'left'), 0);
      const whole = needs.map(({ knotsMm, endMm, spareMm }) => knotsMm + endMm + spareMm);
      const list = cutList(board);
      const cordMm = list.gauge.cordMm.valueMm;
      for (const { left, right, needMm } of list.folds) {
        const mounting = list.allowances.mountMm + ((right - left - 1) * cordMm) / 2;
        expect(whole[left]! + mounting).toBeCloseTo(needMm[0], 6);
        expect(whole[right]! + mounting).toBeCloseTo(needMm[1], 6);
        folded++;
      }
      for (const { place, needMm, shortMm } of list.singles)
        expect(whole[place]! + list.allowances.mountMm + shortMm).toBeCloseTo(needMm, 6);
    }
    expect(folded).toBeGreaterThan(100);
  });

  it('[H13] knots fall at each step for its two strings alone, by any order; end and spare stay', () => {
    for (const [turn, board] of [...boards(14, 60)].entries()) {
      const steps = stepsOf(board, turn % 2 === 0 ? 'rows' : 'segments', turn % 3 === 0 ? 'right' : 'left');
      let before = stillNeeded(board, steps, 0);
      steps.forEach((step, at) => {
        const after = stillNeeded(board, steps, at + 1);
        after.forEach(({ knotsMm, endMm, spareMm }, string) => {
          const was = before[string]!;
          expect([endMm, spareMm]).toEqual([was.endMm, was.spareMm]);
          if (string === step.knotting || string === step.carrier) expect(knotsMm).toBeLessThan(was.knotsMm);
          else expect(knotsMm).toBe(was.knotsMm);
        });
        before = after;
      });
      for (const { knotsMm } of before) expect(knotsMm).toBe(0);
    }
  });

  it('[H13] what hangs below the last knot is rows and tail; a string without knots hangs all the way', () => {
    // Strings 0 and 1 are tied in row 0 alone, strings 2 and 3 in row 2.
    const band = {
      colours: ['c0', 'c0', 'c1', 'c1'],
      start: 0 as const,
      rows: 4,
      knots: Uint8Array.of(1, 0, 0, 0, 0, 2, 0, 0),
    };
    const board = {
      ...boardOf(band, { tailMm: 50, spareMm: 7 }),
      gauge: { rowMm: 2, knottingMm: 20, carrierMm: 3 },
    };
    const steps = stepsOf(board, 'rows', 'left');
    expect(stillNeeded(board, steps, 0)).toEqual([
      { knotsMm: 20, endMm: 56, spareMm: 7 },
      { knotsMm: 3, endMm: 56, spareMm: 7 },
      { knotsMm: 7, endMm: 52, spareMm: 7 },
      { knotsMm: 24, endMm: 52, spareMm: 7 },
    ]);
    expect(stillNeeded(board, steps, 1).map(({ knotsMm }) => knotsMm)).toEqual([0, 0, 7, 24]);
    expect(() => stillNeeded(board, steps, 3)).toThrow(/step 3 is outside 0 to 2/);
    expect(() => stillNeeded(board, steps, 0.5)).toThrow(RangeError);
  });
});
