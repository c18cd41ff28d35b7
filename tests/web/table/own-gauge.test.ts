import { describe, expect, it } from 'vitest';
import { cutList, hangingAfter, stillNeeded, workingGauge, workOrder } from '../../../engine/index.ts';
import { endsAsked, knotsPerMinute, measuredPatch, withPatch } from '../../../web/table/own-gauge.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

/** The hand that ties; the board’s gauge is another. */
const HAND = { rowMm: 2.2, knottingMm: 19, carrierMm: 3.1 };
const BOARD = {
  ...readBoard({
    ...LOPSIDED,
    strings: ['a', 'b', 'c', 'c', 'b', 'a'],
    piece: { repeats: 9, end: 'triangle' },
  }),
  gauge: { rowMm: 2.2, rowErrorMm: 0, rowFreedom: 5 },
};
const order = workOrder(BOARD, { method: 'rows', covers: 'piece' });
if (!order.ok) throw new Error(order.error.message);
const { steps } = order;
const ENDS = endsAsked(cutList(BOARD), steps, hangingAfter(6, steps));

describe('what a finished keychain says of the hand', () => {
  it('[N63] asks for the ends that tell most, by where they hang, and knows how long each hung', () => {
    expect(ENDS.length).toBe(2);
    const list = cutList(BOARD);
    for (const { string, place, hungMm } of ENDS) {
      expect(hangingAfter(6, steps)[place]).toBe(string);
      // Cut in steps upwards, what hangs at first is what knots, end and fingers take, and no more than a step beyond it.
      const { knotsMm, endMm, spareMm } = stillNeeded(BOARD, steps, 0)[string]!;
      expect(hungMm - (knotsMm + endMm + spareMm)).toBeGreaterThanOrEqual(-1e-6);
      expect(hungMm - (knotsMm + endMm + spareMm)).toBeLessThan(5);
      expect(list.ends.map(({ place: at }) => at)).toContain(string);
    }
  });

  it('[N64] both measured give the take-up of the hand, with how sure it is; what cannot be gives nothing', () => {
    const measured = ENDS.map((end) => {
      const use = { knotting: 0, carrier: 0 };
      for (const { knotting, carrier } of steps) {
        if (knotting === end.string) use.knotting++;
        if (carrier === end.string) use.carrier++;
      }
      const rows = Math.max(...steps.map(({ row }) => row)) + 1;
      const usedMm =
        use.knotting * HAND.knottingMm +
        use.carrier * HAND.carrierMm +
        (rows - use.knotting - use.carrier) * HAND.rowMm;
      return { end: { ...end, hungMm: usedMm + 90 }, leftMm: 90 };
    });
    const patch = measuredPatch(BOARD, BOARD, steps, measured)!;
    expect(patch.knottingMm).toBeCloseTo(HAND.knottingMm, 6);
    expect(patch.carrierMm).toBeCloseTo(HAND.carrierMm, 6);
    const gauge = workingGauge(withPatch(BOARD.gauge, patch));
    expect(gauge.knottingMm).toMatchObject({ estimate: false });
    expect(gauge.rowMm.valueMm).toBe(2.2);
    const more = [{ end: ENDS[0]!, leftMm: ENDS[0]!.hungMm + 1 }];
    expect(measuredPatch(BOARD, BOARD, steps, more)).toBeNull();
  });

  it('[N64] the pace is knots a minute, to the tenth; none of too few', () => {
    const marks = Array.from({ length: 8 }, () => ({ gapMs: 7000, knots: 1, wasHidden: false }));
    expect(knotsPerMinute(marks)).toBe(8.6);
    expect(knotsPerMinute(marks.slice(0, 3))).toBeNull();
  });
});
