import { describe, expect, it } from 'vitest';
import { isNeatlyMountable } from '../../../../engine/mount/search/neat-order.ts';
import { pairAtOnce } from '../../../../engine/mount/search/open-folds.ts';
import { walkedLeadIn } from '../../../../engine/mount/search/walk-lead-in.ts';
import { numbered } from '../../../support/colour-orders.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

/** Fewest rows, by trying all rows of exchanges upwards. */
function rowsByTrying(colours: readonly number[], start: 0 | 1): number {
  let reached = new Map([[colours.join(' '), colours]]);
  for (let rows = 0; ; rows++) {
    if ([...reached.values()].some(isNeatlyMountable)) return rows;
    const next = new Map<string, readonly number[]>();
    for (const order of reached.values()) {
      let ways = [order];
      for (let place = (start + rows + 1) & 1; place + 1 < order.length; place += 2)
        ways = ways.flatMap((way) =>
          way[place] === way[place + 1]
            ? [way]
            : [way, way.with(place, way[place + 1]!).with(place + 1, way[place]!)],
        );
      for (const way of ways) next.set(way.join(' '), way);
    }
    reached = next;
  }
}

/** That each order follows from the one above it by exchanges of one row, the last one under the pattern's own stagger. */
function expectRows(orders: readonly (readonly number[])[], colours: readonly number[], start: 0 | 1): void {
  expect(isNeatlyMountable(orders[0]!)).toBe(true);
  expect(orders.at(-1)).toEqual(colours);
  const rows = orders.length - 1;
  for (let row = 0; row < rows; row++) {
    const [above, below] = [orders[row]!, orders[row + 1]!];
    const parity = (start + rows - row) & 1;
    if (parity === 1) expect(above[0]).toBe(below[0]);
    for (let place = parity; place + 1 < colours.length; place += 2) {
      const pair = [below[place], below[place + 1]];
      expect([
        [above[place], above[place + 1]],
        [above[place + 1], above[place]],
      ]).toContainEqual(pair);
    }
  }
}

describe('walkedLeadIn', () => {
  it('[M45] as few rows as trying everything finds, up to 8 strings', () => {
    const seen = new Set<number>();
    for (let seed = 1, done = 0; done < 40; seed++) {
      const random = seededRandom(seed);
      const length = 4 + random.below(5);
      const kinds = 2 + random.below(3);
      const any = Array.from({ length }, () => random.below(kinds));
      const colours = numbered(seed % 2 === 0 ? any : random.shuffle([0, 0, 1, 1, 2, 2, 3, 3]));
      if (isNeatlyMountable(colours)) continue;
      done++;
      const start = random.below(2) as 0 | 1;
      const told: number[] = [];
      const shares: number[] = [];
      const orders = walkedLeadIn(
        colours,
        start,
        pairAtOnce(colours)!,
        (share) => shares.push(share),
        (best) => told.push(best.length - 1),
      );
      expectRows(orders, colours, start);
      expect(orders.length - 1, `seed ${seed}`).toBe(rowsByTrying(colours, start));
      expect(told.at(-1)).toBe(orders.length - 1);
      expect(told).toEqual([...new Set(told)].sort((a, b) => b - a));
      expect(shares).toEqual([...shares].sort((a, b) => a - b));
      seen.add(orders.length - 1);
    }
    expect([...seen]).toEqual(expect.arrayContaining([1, 2]));
  });
});
