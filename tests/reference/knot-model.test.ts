/**
 * The knot model against worked examples in print: Thérèse de Dillmont, Encyclopedia of Needlework, chapter "Macramé"
 * (Project Gutenberg eBook 20776). A bar there: one cord passes under its neighbours in turn, each of which is knotted over it.
 * In our rows the cord goes one place further in each row, so a bar of n knots is n rows with one knot each.
 */
import { describe, expect, it } from 'vitest';
import { cycleOf, type Pattern, repeatCycle, weave } from '../../engine/index.ts';

interface Tie {
  /** Place of the left one of the two strings. */
  readonly place: number;
  readonly knot: 1 | 2;
}

/** Knots one after the other, each in the next row with its stagger; rows between stay untied. */
function tied(colours: readonly string[], ties: readonly Tie[]) {
  const stride = colours.length >> 1;
  const cells: { row: number; k: number; knot: number }[] = [];
  let row = -1;
  for (const { place, knot } of ties) {
    row++;
    if ((row & 1) !== (place & 1)) row++;
    cells.push({ row, k: (place - (row & 1)) / 2, knot });
  }
  const rows = row + 1;
  const knots = new Uint8Array(rows * stride);
  for (const cell of cells) knots[cell.row * stride + cell.k] = cell.knot;
  const pattern: Pattern = { colours, start: 0, rows, knots };
  const woven = weave(pattern);
  return {
    knotters: cells.map(({ row: r, k }) => woven.shown[r]![k]!),
    order: Array.from(woven.finalOrder),
  };
}

/** The cord at place 0 goes right under the others: each right-hand string is knotted over it, so the right one shows. */
const barRight = (length: number, from = 0): Tie[] =>
  Array.from({ length }, (_, i) => ({ place: from + i, knot: 2 as const }));
/** The cord goes left: the left-hand string is knotted over it. */
const barLeft = (from: number, length: number): Tie[] =>
  Array.from({ length }, (_, i) => ({ place: from - i, knot: 1 as const }));

const four = ['1', '2', '3', '4'];
const names = (strings: readonly number[]) => strings.map((s) => four[s]).join(' ');

describe('bars', () => {
  it('[W1] figs. 540-541, right bar in two rows: thread 1 is cord to 2, 3, 4; then 2 with 3, 4, 1 over it', () => {
    const first = tied(four, barRight(3));
    expect(names(first.knotters)).toBe('2 3 4');
    expect(names(first.order)).toBe('2 3 4 1');
    const both = tied(four, [...barRight(3), ...barRight(3)]);
    expect(names(both.knotters)).toBe('2 3 4 3 4 1');
    expect(names(both.order)).toBe('3 4 1 2');
  });

  it('[W1] figs. 542-543, left bar in two rows: 3, 2, 1 over 4; then 2, 1, 4 over 3', () => {
    const first = tied(four, barLeft(2, 3));
    expect(names(first.knotters)).toBe('3 2 1');
    expect(names(first.order)).toBe('4 1 2 3');
    const both = tied(four, [...barLeft(2, 3), ...barLeft(2, 3)]);
    expect(names(both.knotters)).toBe('3 2 1 2 1 4');
    expect(names(both.order)).toBe('3 4 1 2');
  });

  it('[W1] figs. 560-561, four blue covered by four brown and by each other: 4 + 5 + 6 + 7 knots', () => {
    const threads = ['b1', 'b2', 'b3', 'b4', 'd1', 'd2', 'd3', 'L'];
    // b4 at place 3 is covered by 4, b3 at place 2 by 5, and so on; each cord ends behind those that covered it.
    const bars = [3, 2, 1, 0].map((from, i) => barRight(4 + i, from));
    const { knotters, order } = tied(threads, bars.flat());
    const kinds = knotters.map((s) => threads[s]!.replace(/\d/, '').toUpperCase());
    expect(kinds.join('')).toBe('DDDLDDDLBDDDLBBDDDLBBB');
    expect(order.map((s) => threads[s]).join(' ')).toBe('d1 d2 d3 L b4 b3 b2 b1');
  });
});

describe('when a repeat recurs', () => {
  // OEIS A000793, Landau's function g(1) to g(20): the greatest order of a permutation of n.
  const landau = [1, 2, 3, 4, 6, 6, 12, 15, 20, 30, 30, 60, 60, 84, 105, 140, 210, 210, 420, 420];

  /** Every way to write n as a sum, largest part first. */
  function* partitions(n: number, most = n): Generator<number[]> {
    if (n === 0) yield [];
    for (let part = Math.min(n, most); part > 0; part--)
      for (const rest of partitions(n - part, part)) yield [part, ...rest];
  }

  /** A permutation with cycles of these lengths. */
  function permutation(cycles: readonly number[]): number[] {
    let from = 0;
    return cycles.flatMap((length) => {
      const start = from;
      from += length;
      return Array.from({ length }, (_, i) => start + ((i + 1) % length));
    });
  }

  it("[W4] the longest cycle of strings is Landau's function", () => {
    landau.forEach((published, i) => {
      let most = 0;
      for (const cycles of partitions(i + 1)) {
        const order = permutation(cycles);
        most = Math.max(most, cycleOf(order, order.map(String)).strings);
      }
      expect(most).toBe(published);
    });
  });

  // OEIS A057731: how many permutations of n have order k.
  it.each([
    [4, [1, 9, 8, 6]],
    [5, [1, 25, 20, 30, 24, 20]],
    [6, [1, 75, 80, 180, 144, 240]],
    [7, [1, 231, 350, 840, 504, 1470, 720, 0, 0, 504, 0, 420]],
  ])('[W4] the permutations of %i by their order', (n, published) => {
    const counted = new Array<number>(published.length).fill(0);
    const walk = (rest: readonly number[], chosen: readonly number[]): void => {
      if (rest.length === 0) counted[cycleOf(chosen, chosen.map(String)).strings - 1]!++;
      for (const next of rest)
        walk(
          rest.filter((r) => r !== next),
          [...chosen, next],
        );
    };
    walk(
      Array.from({ length: n }, (_, i) => i),
      [],
    );
    expect(counted).toEqual(published);
  });

  it('[W4] exact beyond 32 bits: cycles of 2, 3, 5, 7, 11, 13, 17, 19, 23, 29 strings', () => {
    const order = permutation([2, 3, 5, 7, 11, 13, 17, 19, 23, 29]);
    expect(cycleOf(order, order.map(String)).strings).toBe(6_469_693_230);
    expect(
      cycleOf(
        order,
        order.map(() => 'a'),
      ).colours,
    ).toBe(1);
  });
});

describe('any order within n rows', () => {
  // Odd-even transposition: n staggered rows bring n strings into any order (Knuth, TAOCP vol. 3, 5.3.4).
  it('[W3] every permutation of six strings is reached by six rows, and some not by five', () => {
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

  it('[W4] a repeat of one forward knot each way is home after two', () => {
    expect(repeatCycle({ colours: ['a', 'b'], start: 0, rows: 1, knots: Uint8Array.of(1) })).toEqual({
      strings: 2,
      colours: 2,
    });
  });
});
