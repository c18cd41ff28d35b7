import { describe, expect, it } from 'vitest';
import { type Pattern, type WorkOrder, weave, workOrder } from '../../../engine/index.ts';
import { boardOf, posetOf, randomBand, seededRandom } from '../../reference/work-bands.ts';
import { fewestRuns } from '../../reference/work-poset.ts';
import { cases, firstSeed } from '../../support/depth.ts';

const SEED = 20_239 + firstSeed;
const SMALL_BANDS = cases(500, 10_000);

/** Small bands of every mixture: few and many untied pairs, knots that stay and that change places. */
function smallBands(count: number, mostKnots: number): readonly Pattern[] {
  const random = seededRandom(SEED);
  const bands: Pattern[] = [];
  while (bands.length < count) {
    const strings = 2 + Math.floor(random() * 7);
    const rows = 1 + Math.floor(random() * 14);
    const shares = { untied: random() < 0.4 ? 0 : random() * 0.7, staying: random() };
    const band = randomBand(random, { strings, rows }, shares);
    const tied = band.knots.filter((knot) => knot > 0).length;
    if (tied > 0 && tied <= mostKnots) bands.push(band);
  }
  return bands;
}

/** Ties the steps with strings in the hand, as a maker would: whatever hangs at the two places is tied. */
function tieByHand(pattern: Pattern, order: WorkOrder): { shown: Map<string, number>; final: number[] } {
  const hanging = pattern.colours.map((_, place) => place);
  const shown = new Map<string, number>();
  for (const { row, k, place, kind, knotting, carrier } of order.steps) {
    const [left, right] = [hanging[place]!, hanging[place + 1]!];
    const isLeft = kind === 'f' || kind === 'fb';
    expect({ knotting, carrier }).toEqual({
      knotting: isLeft ? left : right,
      carrier: isLeft ? right : left,
    });
    shown.set(`${row} ${k}`, isLeft ? left : right);
    if (kind === 'f' || kind === 'b') {
      hanging[place] = right;
      hanging[place + 1] = left;
    }
  }
  return { shown, final: hanging };
}

function countRuns(order: WorkOrder): number {
  return order.steps.filter((step, i) => i === 0 || order.steps[i - 1]!.knotting !== step.knotting).length;
}

function exactOrder(pattern: Pattern): WorkOrder {
  const order = workOrder(boardOf(pattern), { method: 'exact' });
  if (!order.ok) throw new Error(order.error.message);
  return order;
}

describe(`orders of random bands, seed ${SEED}`, () => {
  const bands = smallBands(SMALL_BANDS, 20);

  it('[O1] keeps every knot after the last tied knots on its two strings, and ties each once', () => {
    for (const pattern of bands) {
      const poset = posetOf(pattern);
      for (const method of ['rows', 'segments'] as const) {
        const at = new Map(
          workOrder(boardOf(pattern), { method }).steps.map(({ row, k }, i) => [`${row} ${k}`, i]),
        );
        expect(at.size).toBe(poset.knots.length);
        const turns = poset.knots.map(({ row, k }) => at.get(`${row} ${k}`) ?? -1);
        poset.after.forEach((before, knot) => {
          for (const other of before) expect(turns[other]!).toBeLessThan(turns[knot]!);
        });
        expect(Math.min(...turns)).toBe(0);
      }
    }
  });

  it('[O1] gives the same band when tied in that order', () => {
    for (const pattern of bands) {
      const woven = weave(pattern);
      for (const method of ['rows', 'segments'] as const) {
        const { shown, final } = tieByHand(pattern, workOrder(boardOf(pattern), { method }));
        woven.shown.forEach((row, r) => {
          row.forEach((string, k) => {
            expect(shown.get(`${r} ${k}`) ?? -1).toBe(string);
          });
        });
        expect(final).toEqual([...woven.finalOrder]);
      }
    }
  });

  it('[O4] counts pick-ups as runs of one knotting string and marks them in the steps', () => {
    for (const pattern of bands) {
      for (const method of ['rows', 'segments'] as const) {
        const order = workOrder(boardOf(pattern), { method });
        expect(order.pickUps).toBe(countRuns(order));
        expect(order.steps.filter((step) => step.isPickUp).length).toBe(order.pickUps);
        expect(order.steps[order.steps.length - 1]?.run).toBe(order.pickUps);
      }
    }
  });

  it('[O7] exact needs as many pick-ups as trying all orders', () => {
    for (const pattern of bands) expect(exactOrder(pattern).pickUps).toBe(fewestRuns(posetOf(pattern)));
  });

  it('[O5] [O6] no lower bound exceeds the fewest pick-ups, nor does any order stay below it', () => {
    for (const pattern of bands) {
      const fewest = fewestRuns(posetOf(pattern));
      for (const method of ['rows', 'segments'] as const) {
        const order = workOrder(boardOf(pattern), { method });
        expect(order.lowerBound).toBeLessThanOrEqual(fewest);
        expect(order.pickUps).toBeGreaterThanOrEqual(fewest);
        expect(order.exact).toBe(order.pickUps === order.lowerBound);
      }
    }
  });

  it('[O6] segments need at most 1.03 times the fewest pick-ups on average, and never more than rows', () => {
    let ratios = 0;
    for (const pattern of bands) {
      const segments = workOrder(boardOf(pattern), { method: 'segments' }).pickUps;
      expect(segments).toBeLessThanOrEqual(workOrder(boardOf(pattern), { method: 'rows' }).pickUps);
      ratios += segments / fewestRuns(posetOf(pattern));
    }
    expect(ratios / bands.length).toBeLessThanOrEqual(1.03);
  });

  it('[O8] gives the same order for the same band', () => {
    for (const pattern of bands.slice(0, 50)) {
      const copy = { ...pattern, colours: [...pattern.colours], knots: pattern.knots.slice() };
      expect(workOrder(boardOf(copy))).toEqual(workOrder(boardOf(pattern)));
      expect(copy.knots).toEqual(pattern.knots);
    }
  });

  it('reached the bands that matter', () => {
    const orders = bands.map((pattern) => exactOrder(pattern));
    const distinct = bands.map((pattern) => new Set(posetOf(pattern).labels).size);
    const untied = bands.filter(
      (pattern) => posetOf(pattern).knots.length * 2 < pattern.rows * (pattern.colours.length - 1),
    );
    expect(orders.filter((order, i) => order.pickUps > distinct[i]!).length).toBeGreaterThan(100);
    expect(orders.filter((order) => order.pickUps >= 10).length).toBeGreaterThan(20);
    expect(untied.length).toBeGreaterThan(50);
  });
});

describe(`orders of large bands, seed ${SEED}`, () => {
  const random = seededRandom(SEED + 1);
  const bands = [
    randomBand(random, { strings: 60, rows: 120 }, { untied: 0, staying: 0.5 }),
    randomBand(random, { strings: 61, rows: 120 }, { untied: 0.1, staying: 0.9 }),
    randomBand(random, { strings: 40, rows: 200 }, { untied: 0.4, staying: 0.2 }),
  ];

  it('[O1] [O4] [O6] keeps the laws, and stays within 1.03 times the lower bound', () => {
    for (const pattern of bands) {
      const order = workOrder(boardOf(pattern), { method: 'segments' });
      expect(tieByHand(pattern, order).final).toEqual([...weave(pattern).finalOrder]);
      expect(order.steps.length).toBe(posetOf(pattern).knots.length);
      expect(order.pickUps).toBe(countRuns(order));
      expect(order.pickUps / order.lowerBound).toBeLessThanOrEqual(1.03);
      expect(order.pickUps).toBeLessThan(workOrder(boardOf(pattern), { method: 'rows' }).pickUps);
    }
  });
});
