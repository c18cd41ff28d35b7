import { describe, expect, it } from 'vitest';
import { type Board, stillNeeded, type WorkStep, workOrder } from '../../../engine/index.ts';
import { layIns, reachOf } from '../../../engine/table/running-short.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

const GAUGE = {
  rowMm: 2,
  rowErrorMm: 0,
  knottingMm: 20,
  knottingErrorMm: 1,
  carrierMm: 3,
  carrierErrorMm: 0,
};

function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'segments', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

/** Random boards with a step and a string each. */
function* cases(seed: number, count: number) {
  const random = seededRandom(seed);
  for (let turn = 0; turn < count; turn++) {
    const size = { strings: 3 + Math.floor(random() * 5), rows: 2 + Math.floor(random() * 8) };
    const band = randomBand(random, size, { untied: random() * 0.4, staying: random() });
    const board = { ...boardOf(band, { repeats: 2, end: 'triangle', spareMm: 10 }), gauge: GAUGE };
    const steps = stepsOf(board);
    yield {
      board,
      steps,
      at: Math.floor(random() * (steps.length + 1)),
      string: Math.floor(random() * size.strings),
      leftMm: random() * 600,
    };
  }
}

/** What a string takes from step `at` on, knot by knot, told from `stillNeeded` of one step after the other. */
function takes({
  board,
  steps,
  at,
  string,
}: {
  board: Board;
  steps: readonly WorkStep[];
  at: number;
  string: number;
}) {
  const found: { step: number; isKnotting: boolean; mm: number }[] = [];
  for (let step = at; step < steps.length; step++) {
    const mm =
      stillNeeded(board, steps, step)[string]!.knotsMm - stillNeeded(board, steps, step + 1)[string]!.knotsMm;
    const { knotting, carrier } = steps[step]!;
    if (string === knotting || string === carrier) found.push({ step, isKnotting: string === knotting, mm });
  }
  return found;
}

describe('reachOf', () => {
  it('[H14] goes to the last knot that leaves what the fingers take, and says whether it is enough', () => {
    const verdicts = { enough: 0, tight: 0, short: 0 };
    for (const one of cases(14, 150)) {
      const { board, steps, at, string, leftMm } = one;
      const reach = reachOf(board, steps, at, string, leftMm);
      expect(reach.need).toEqual(stillNeeded(board, steps, at)[string]);
      let room = leftMm - 10;
      let last: number | null = null;
      for (const { step, mm } of takes(one)) {
        room -= mm;
        if (room >= 0) last = step;
      }
      expect(reach.likely?.step ?? null).toBe(last);
      const { knotsMm, endMm } = reach.need;
      expect(reach.verdict).toBe(
        leftMm >= knotsMm + endMm + 10 ? 'enough' : leftMm >= knotsMm + endMm ? 'tight' : 'short',
      );
      verdicts[reach.verdict]++;
    }
    expect(verdicts.enough).toBeGreaterThan(10);
    expect(verdicts.short).toBeGreaterThan(10);
    expect(verdicts.tight).toBeGreaterThan(0);
  });

  it('[H14] [L15] the gauge errs for all knots alike: sure and utmost are off by so much a knot', () => {
    let apart = 0;
    for (const one of cases(15, 250)) {
      const { board, steps, at, string, leftMm } = one;
      const { likely, surely, atMost, doubt } = reachOf(board, steps, at, string, leftMm);
      const all = takes(one);
      const tied = all.filter(({ isKnotting }) => isKnotting).length;
      // 1 mm a knot that it ties, known well: 19 cases of 20 within 1.95996 of it.
      expect(doubt!.plusMinusMm).toBeCloseTo(1.959964 * tied, 4);
      const until = (offMm: number): number | null => {
        let room = leftMm - 10;
        let last: number | null = null;
        for (const { step, isKnotting, mm } of all) {
          room -= mm + (isKnotting ? offMm : 0);
          if (room >= 0) last = step;
        }
        return last;
      };
      expect([surely?.step ?? null, atMost?.step ?? null]).toEqual([until(1.959964), until(-1.959964)]);
      expect(surely?.step ?? -1).toBeLessThanOrEqual(likely?.step ?? -1);
      if (surely?.step !== atMost?.step) apart++;
    }
    expect(apart).toBeGreaterThan(10);
  });

  it('[H14] [L17] where the gauge does not tell, only what is likely is told', () => {
    const [one] = cases(16, 1);
    const { board, steps, string, leftMm } = one!;
    const vague = { ...board, gauge: { rowMm: 2, knottingMm: 20, carrierMm: 3 } };
    const { doubt, likely, surely, atMost } = reachOf(vague, steps, 0, string, leftMm);
    expect(doubt).toBe(null);
    expect([surely, atMost]).toEqual([likely, likely]);
    expect(() => reachOf(board, steps, 0, 99, 1)).toThrow(/string 99/);
    expect(() => reachOf(board, steps, 0, 0, Number.NaN)).toThrow(RangeError);
    expect(() => reachOf(board, steps, 0, 0, -1)).toThrow(RangeError);
  });
});

describe('layIns', () => {
  it('[H15] finds every stretch, the latest beginning in each that is reached, and what the new string takes', () => {
    let found = 0;
    let none = 0;
    for (const one of cases(17, 200)) {
      const { board, steps, at, string, leftMm } = one;
      for (const least of [1, 3]) {
        const all = takes(one);
        const starts: number[] = [];
        all.forEach((_, start) => {
          const along = all.slice(start, start + least);
          const reachMm = all.slice(0, start + least).reduce((sum, { mm }) => sum + mm, 0);
          if (
            along.length === least &&
            along.every(({ isKnotting }) => !isKnotting) &&
            reachMm + 10 <= leftMm
          )
            starts.push(start);
        });
        // Of starts in one stretch the last.
        const best = starts.filter((start) => !starts.includes(start + 1));
        const told = layIns(board, steps, at, string, leftMm, least);
        expect(told.map(({ start }) => start.step)).toEqual(best.map((start) => all[start]!.step));
        told.forEach(({ newMm, from, start, to }, i) => {
          const rest = all.slice(best[i]!).reduce((sum, { mm }) => sum + mm, 0);
          const { endMm } = stillNeeded(board, steps, at)[string]!;
          expect(newMm).toBeCloseTo(rest + endMm + 10 + 40, 6);
          expect([from.step <= start.step, start.step <= to.step]).toEqual([true, true]);
        });
        if (told.length === 0) none++;
        else found++;
      }
      expect(layIns(board, steps, at, string, leftMm)).toEqual(layIns(board, steps, at, string, leftMm, 3));
    }
    expect(Math.min(found, none)).toBeGreaterThan(30);
    const [one] = cases(18, 1);
    expect(() => layIns(one!.board, one!.steps, 0, 0, 100, 0)).toThrow(/0 knots running/);
  });
});
