import { describe, expect, it } from 'vitest';
import { FieldRangeError, type Pattern, type WorkOrder, weave, workOrder } from '../../../engine/index.ts';
import { bandOf, boardOf, posetOf, randomBand, seededRandom } from '../../reference/work-bands.ts';
import { fewestRuns, type LabelledPoset } from '../../reference/work-poset.ts';

const SEED = 4_711;

/** Small bands, each with a number of first rows from 0 to all. */
function cases(count: number): readonly (readonly [Pattern, number])[] {
  const random = seededRandom(SEED);
  const found: (readonly [Pattern, number])[] = [];
  while (found.length < count) {
    const strings = 2 + Math.floor(random() * 7);
    const rows = 1 + Math.floor(random() * 10);
    const shares = { untied: random() < 0.4 ? 0 : random() * 0.7, staying: random() };
    const band = randomBand(random, { strings, rows }, shares);
    const tied = band.knots.filter((knot) => knot > 0).length;
    if (tied > 0 && tied <= 18) found.push([band, Math.floor(random() * (rows + 1))]);
  }
  return found;
}

const nameOf = ({ row, k }: { readonly row: number; readonly k: number }): string => `${row} ${k}`;

function orderOf(pattern: Pattern, method: 'rows' | 'segments' | 'exact', rowsFirst: number): WorkOrder {
  const order = workOrder(boardOf(pattern), { method, rowsFirst });
  if (!order.ok) throw new Error(order.error.message);
  return order;
}

/** The poset in which the first `beginning.length` knots must come first, in that order: each waits for the one before, all others for the last. */
function beginningWith(pattern: Pattern, rowsFirst: number): LabelledPoset {
  const { knots, after, labels } = posetOf(pattern);
  const first = orderOf(pattern, 'rows', 0).steps.filter(({ row }) => row < rowsFirst);
  const numbers = new Map(knots.map((knot, number) => [nameOf(knot), number]));
  const chain = first.map((step) => numbers.get(nameOf(step))!);
  const rest = knots.map((_, number) => number).filter((number) => !chain.includes(number));
  const sequence = [...chain, ...rest];
  const place = new Map(sequence.map((number, at) => [number, at]));
  return {
    after: sequence.map((number, at) => {
      if (at < chain.length) return at === 0 ? [] : [at - 1];
      const own = after[number]!.map((other) => place.get(other)!);
      return chain.length === 0 ? own : [...own, chain.length - 1];
    }),
    labels: sequence.map((number) => labels[number]!),
  };
}

describe(`first rows one by one, on random bands, seed ${SEED}`, () => {
  const all = cases(1_200);
  const methods = ['segments', 'exact'] as const;

  it('[O1] [O11] ties every knot once and after those it waits for, and begins as row by row does', () => {
    for (const [pattern, rowsFirst] of all) {
      const { knots, after } = posetOf(pattern);
      const first = orderOf(pattern, 'rows', 0).steps.filter(({ row }) => row < rowsFirst);
      for (const method of methods) {
        const { steps } = orderOf(pattern, method, rowsFirst);
        expect(steps.slice(0, first.length)).toEqual(first);
        const at = new Map(steps.map((step, turn) => [nameOf(step), turn]));
        expect([steps.length, at.size]).toEqual([knots.length, knots.length]);
        after.forEach((before, knot) => {
          for (const other of before)
            expect(at.get(nameOf(knots[other]!))!).toBeLessThan(at.get(nameOf(knots[knot]!))!);
        });
      }
    }
  });

  it('[O12] [O13] exact needs as many pick-ups as the best of all orders that begin so', () => {
    for (const [pattern, rowsFirst] of all) {
      const { pickUps, lowerBound, exact } = orderOf(pattern, 'exact', rowsFirst);
      const fewest = fewestRuns(beginningWith(pattern, rowsFirst));
      expect([pickUps, lowerBound, exact]).toEqual([fewest, fewest, true]);
    }
  });

  it('[O13] the bound never exceeds that best, no order stays below it, and none is worse than row by row', () => {
    for (const [pattern, rowsFirst] of all) {
      const { pickUps, lowerBound, exact, steps } = orderOf(pattern, 'segments', rowsFirst);
      const fewest = fewestRuns(beginningWith(pattern, rowsFirst));
      expect(lowerBound).toBeLessThanOrEqual(fewest);
      expect(pickUps).toBeGreaterThanOrEqual(fewest);
      expect(exact).toBe(pickUps === lowerBound);
      expect(pickUps).toBeLessThanOrEqual(orderOf(pattern, 'rows', 0).pickUps);
      expect(steps.filter((step, i) => step.knotting !== steps[i - 1]?.knotting).length).toBe(pickUps);
    }
  });

  it('[O11] none first leaves the order as it is, and all first is row by row', () => {
    for (const [pattern] of all.slice(0, 300)) {
      const plain = workOrder(boardOf(pattern), { method: 'segments' });
      expect(orderOf(pattern, 'segments', 0)).toEqual(plain);
      const rows = orderOf(pattern, 'rows', 0);
      expect(orderOf(pattern, 'segments', pattern.rows)).toMatchObject({ steps: rows.steps, exact: true });
      expect(orderOf(pattern, 'rows', pattern.rows)).toEqual(rows);
    }
  });

  it('reached bands where the beginning costs pick-ups, and where a string goes on over the seam', () => {
    const dearer = all.filter(
      ([pattern, rows]) => orderOf(pattern, 'exact', rows).pickUps > orderOf(pattern, 'exact', 0).pickUps,
    );
    const goingOn = all.filter(([pattern, rows]) => {
      const { steps } = orderOf(pattern, 'exact', rows);
      const seam = steps.findIndex(({ row }) => row >= rows);
      return seam > 0 && !steps[seam]!.isPickUp;
    });
    expect(dearer.length).toBeGreaterThan(100);
    expect(goingOn.length).toBeGreaterThan(100);
  });
});

describe('first rows one by one', () => {
  it('[O11] [O12] a large band: as woven, first rows as they are, within the bounds', () => {
    const pattern = randomBand(seededRandom(SEED), { strings: 60, rows: 120 }, { untied: 0.1, staying: 0.5 });
    const order = orderOf(pattern, 'segments', 10);
    const rows = orderOf(pattern, 'rows', 0);
    const first = rows.steps.filter(({ row }) => row < 10);
    expect(order.steps.slice(0, first.length)).toEqual(first);
    expect(order.steps.length).toBe(rows.steps.length);
    expect(order.lowerBound).toBeLessThanOrEqual(order.pickUps);
    expect(order.pickUps).toBeLessThan(rows.pickUps);
    const hanging = pattern.colours.map((_, place) => place);
    for (const { place, kind, knotting, carrier } of order.steps) {
      const pair = [hanging[place], hanging[place + 1]];
      expect(kind[0] === 'f' ? [knotting, carrier] : [carrier, knotting]).toEqual(pair);
      if (kind.length === 1) [hanging[place], hanging[place + 1]] = [pair[1]!, pair[0]!];
    }
    expect(hanging).toEqual([...weave(pattern).finalOrder]);
  });

  it('[O11] a mirrored first row is tied from the middle outwards', () => {
    const band = bandOf(6, 4, (row, k) => (row % 2 === 0 ? [1, 1, 2][k]! : [1, 2][k]!));
    expect(
      orderOf(band, 'segments', 1)
        .steps.slice(0, 3)
        .map(({ row, k }) => [row, k]),
    ).toEqual(
      orderOf(band, 'rows', 0)
        .steps.slice(0, 3)
        .map(({ row, k }) => [row, k]),
    );
    const ks = orderOf(band, 'segments', 1)
      .steps.slice(0, 3)
      .map(({ k }) => k);
    expect(ks).toEqual([1, 0, 2]);
  });

  it('[O11] refuses a number that is negative, not whole or above the rows, and says which field', () => {
    const board = boardOf(bandOf(4, 3, () => 1));
    for (const method of ['rows', 'segments', 'exact'] as const)
      for (const rowsFirst of [-1, 1.5, 4, Number.NaN, Number.POSITIVE_INFINITY]) {
        const ask = (): unknown => workOrder(board, { method, rowsFirst });
        expect(ask).toThrow(FieldRangeError);
        expect(ask).toThrow(`rowsFirst must be a whole number from 0 to 3, not ${rowsFirst}`);
      }
    const covers = { repeats: 2 } as const;
    expect(() => workOrder(board, { covers, rowsFirst: 7 })).not.toThrow();
    expect(() => workOrder(board, { covers, rowsFirst: 8 })).toThrow('from 0 to 7');
  });
});
