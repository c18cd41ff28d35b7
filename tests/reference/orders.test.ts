/** Orders of strings against published counts of permutations. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isCrossing,
  type KnotCode,
  type Pattern,
  repeatCycle,
  rowStride,
  weave,
} from '../../engine/index.ts';
import { cycleOf } from '../../engine/weave/repeat-cycle.ts';
import { allOrders, bandToOrder, orderOfCycles, partitions } from '../support/orders.ts';

const crossings = ({ knots }: Pattern) => knots.filter((knot) => isCrossing(knot as KnotCode)).length;

describe('bands that bring strings into an order', () => {
  // Odd-even transposition: Knuth, The Art of Computer Programming, vol. 3, 5.3.4.
  it('[W2] n staggered rows, begun at either stagger, reach every order', () => {
    for (let n = 2; n <= 7; n++)
      for (const order of allOrders(n))
        for (const start of [0, 1] as const)
          expect(Array.from(weave(bandToOrder(order, start)).finalOrder)).toEqual(order);
  });

  it('[W2] six strings reach all 720 orders in six rows, and fewer in five', () => {
    const reached = (rows: number): number => {
      let orders = new Set(['012345']);
      for (let row = 0; row < rows; row++) {
        const next = new Set<string>();
        const count = (6 - (row & 1)) >> 1;
        for (const order of orders)
          for (let choice = 0; choice < 1 << count; choice++) {
            const knots = Uint8Array.from({ length: 3 }, (_, k) => (k < count ? (choice >> k) & 1 : 0));
            const woven = weave({ colours: [...order], start: (row & 1) as 0 | 1, rows: 1, knots });
            next.add(Array.from(woven.finalOrder, (s) => order[s]).join(''));
          }
        orders = next;
      }
      return orders.size;
    };
    expect(reached(6)).toBe(720);
    expect(reached(5)).toBeLessThan(720);
  });

  it('[P1] n rows have room for exactly n (n - 1) / 2 knots, all of which the reversed order needs', () => {
    for (let n = 2; n <= 40; n++)
      for (const start of [0, 1] as const)
        expect(
          crossings(
            bandToOrder(
              Array.from({ length: n }, (_, i) => n - 1 - i),
              start,
            ),
          ),
        ).toBe((n * (n - 1)) / 2);
  });

  // OEIS A008302: permutations of n by number of inversions.
  it.each([
    [4, [1, 3, 5, 6, 5, 3, 1]],
    [5, [1, 4, 9, 15, 20, 22, 20, 15, 9, 4, 1]],
  ])('[W2] the fewest knots that reach an order of %i strings are its inversions', (n, published) => {
    const start = Array.from({ length: n }, (_, i) => i);
    const distance = new Map([[start.join(), 0]]);
    const queue = [start];
    for (let order = queue.shift(); order !== undefined; order = queue.shift())
      for (let place = 0; place + 1 < n; place++) {
        const knots = new Uint8Array(rowStride(n));
        knots[place >> 1] = 1;
        const one = { colours: start.map(String), start: (place & 1) as 0 | 1, rows: 1, knots };
        const from = order;
        const next = Array.from(weave(one).finalOrder, (string) => from[string]!);
        if (distance.has(next.join())) continue;
        distance.set(next.join(), distance.get(order.join())! + 1);
        queue.push(next);
      }
    const counts = Array<number>(published.length).fill(0);
    for (const steps of distance.values()) counts[steps]!++;
    expect(counts).toEqual(published);
    for (const order of allOrders(n)) expect(crossings(bandToOrder(order))).toBe(distance.get(order.join()));
  });

  // From memory: de Bruijn 1974; Knuth, vol. 3, an exercise to 5.3.4.
  it('[W2] places where knots may be tied reach every order exactly when they reach the reversed one', () => {
    const orders = allOrders(4).length;
    let full = 0;
    const check = (cells: readonly boolean[], start: 0 | 1) => {
      const stride = 2;
      const rows = cells.length / stride;
      const usable = cells.flatMap((isOpen, cell) =>
        isOpen && (cell & 1) < (4 - ((start + (cell >> 1)) & 1)) >> 1 ? [cell] : [],
      );
      const reached = new Set<string>();
      for (let choice = 0; choice < 1 << usable.length; choice++) {
        const knots = new Uint8Array(cells.length);
        usable.forEach((cell, bit) => {
          if ((choice >> bit) & 1) knots[cell] = 1;
        });
        reached.add(weave({ colours: ['a', 'b', 'c', 'd'], start, rows, knots }).finalOrder.join());
      }
      expect(reached.has('3,2,1,0')).toBe(reached.size === orders);
      if (reached.size === orders) full++;
    };
    fc.assert(
      fc.property(
        fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
        fc.constantFrom<0 | 1>(0, 1),
        check,
      ),
      { numRuns: 300, seed: 18 },
    );
    check(Array(12).fill(true), 0);
    expect(full).toBeGreaterThan(1);
  });
});

describe('repeats until the strings stand as at the start', () => {
  // OEIS A000793, Landau's function: the greatest order of a permutation of n. g(15) is 105, not 140.
  it('[W5] the most repeats that n strings can need are Landau’s numbers', () => {
    const landau = [1, 2, 3, 4, 6, 6, 12, 15, 20, 30, 30, 60, 60, 84, 105, 140, 210, 210, 420, 420];
    for (let n = 2; n <= 20; n++) {
      const most = Math.max(
        ...partitions(n).map((lengths) => repeatCycle(bandToOrder(orderOfCycles(lengths))).strings),
      );
      expect(most, `${n} strings`).toBe(landau[n - 1]);
    }
  });

  // OEIS A000793, the example: partitions of 7 with their least common multiples.
  it.each([
    [[3, 4], 12],
    [[2, 5], 10],
    [[1, 6], 6],
  ])('[W5] cycles of %j recur after %i repeats', (lengths, repeats) => {
    expect(repeatCycle(bandToOrder(orderOfCycles(lengths))).strings).toBe(repeats);
  });

  // OEIS A057731: how many permutations of n have order k.
  it.each([
    [4, [1, 9, 8, 6]],
    [5, [1, 25, 20, 30, 24, 20]],
    [6, [1, 75, 80, 180, 144, 240]],
    [7, [1, 231, 350, 840, 504, 1470, 720, 0, 0, 504, 0, 420]],
  ])('[W5] of all orders of %i strings, as many recur after k repeats as are published', (n, published) => {
    const counts = Array<number>(published.length).fill(0);
    for (const order of allOrders(n)) counts[repeatCycle(bandToOrder(order)).strings - 1]!++;
    expect(counts).toEqual(published);
  });

  it('[W5] no 200 strings need more repeats than a double holds exactly', () => {
    // Landau's function by dynamic programming over prime powers.
    let best = Array<bigint>(201).fill(1n);
    for (let p = 2; p <= 200; p++) {
      if (Array.from({ length: p - 2 }, (_, i) => i + 2).some((d) => p % d === 0)) continue;
      const next = [...best];
      for (let q = p; q <= 200; q *= p)
        for (let n = q; n <= 200; n++) {
          const order = best[n - q]! * BigInt(q);
          if (order > next[n]!) next[n] = order;
        }
      best = next;
    }
    expect(best[20]).toBe(420n);
    expect(best[200]! < BigInt(Number.MAX_SAFE_INTEGER)).toBe(true);
    const parts = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31];
    const order = orderOfCycles(parts);
    const product = parts.reduce((a, b) => a * b, 1);
    const names = order.map(String);
    expect(cycleOf(order, names)).toEqual({ strings: product, colours: product });
  });
});
