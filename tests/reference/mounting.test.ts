/** Mounting checked against published counts. */
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { allPairings, countCrossings, countNestings, type Pairing } from '../support/pairings.ts';

const anyPair = () => true;

/** Places and colours of a pairing, each pair a colour of its own. */
function colouring(pairs: Pairing, size: number): number[] {
  const colours = new Array<number>(size).fill(-1);
  pairs.forEach(([a, b], i) => {
    colours[a] = colours[b] = i;
  });
  return colours;
}

describe('crossings of pairings', () => {
  // Touchard (1952), Riordan (1975); OEIS A067311. Row sums are A001147, first entries the Catalan numbers A000108.
  it.each([
    [1, [1]],
    [2, [2, 1]],
    [3, [5, 6, 3, 1]],
    [4, [14, 28, 28, 20, 10, 4, 1]],
    [5, [42, 120, 180, 195, 165, 117, 70, 35, 15, 5, 1]],
  ])(
    '[M5] %i pairs, each of its own colour, cross as often as Touchard and Riordan count',
    (n, published) => {
      const counted = new Array<number>(published.length).fill(0);
      for (const pairs of allPairings(2 * n, anyPair, 0)) {
        const plan = planMount(colouring(pairs, 2 * n));
        expect(plan.exact).toBe(true);
        counted[plan.crossings.length]!++;
      }
      expect(counted).toEqual(published);
    },
  );

  // FindStat St000043: crossings + 2 nestings of perfect matchings (places there from 1).
  it.each([
    [
      [
        [1, 6],
        [2, 4],
        [3, 5],
      ],
      5,
    ],
    [
      [
        [1, 6],
        [2, 5],
        [3, 4],
      ],
      6,
    ],
    [
      [
        [1, 4],
        [2, 5],
        [3, 6],
      ],
      3,
    ],
    [
      [
        [1, 8],
        [2, 7],
        [3, 6],
        [4, 5],
      ],
      12,
    ],
  ] as [Pairing, number][])('[M5] crossings and nestings of %j', (pairs, published) => {
    const plan = planMount(
      colouring(
        pairs.map(([a, b]) => [a - 1, b - 1]),
        2 * pairs.length,
      ),
    );
    const folds = plan.folds.map(({ left, right }) => [left, right] as const);
    expect(plan.crossings.length + 2 * countNestings(folds)).toBe(published);
  });
});

describe('neat plans', () => {
  // Nussinov, Pieczenik, Griggs, Kleitman (1978) as worked in Durbin et al., Biological Sequence Analysis, ch. 10 (from
  // memory): GGGAAAUCC folds at most 3 pairs, GGGGCCCC 4. Two bases pair where ours must be equal, so a row for our rule
  // is made from the complement at even places; that keeps perfect pairings only, as each joins an odd and an even place.
  it('[M2] GGGGCCCC folds completely once complemented at even places', () => {
    const complement: Record<string, string> = { A: 'U', U: 'A', C: 'G', G: 'C' };
    const word = [...'GGGGCCCC'].map((base, place) => (place % 2 === 1 ? complement[base]! : base));
    const plan = planMount(word, { singles: 'free' });
    expect(plan.folds.length).toBe(4);
  });

  // Rosalind CAT, sample AUAU: two perfect pairings without crossings, the same as for four places of one colour.
  it('[M2] AUAU and its complement AAAA have two perfect pairings each', () => {
    const neat = (word: string, mayPair: (a: string, b: string) => boolean) =>
      [...allPairings(4, (i, j) => mayPair(word[i]!, word[j]!), 0)].filter((p) => countCrossings(p) === 0)
        .length;
    expect(neat('AUAU', (a, b) => a !== b)).toBe(2);
    expect(neat('AAAA', (a, b) => a === b)).toBe(2);
    expect(planMount([...'AAAA']).neat).toBe(true);
  });

  // Catalan numbers, OEIS A000108: of all pairings of 2n places this many are neat.
  it('[M2] of all pairings of 12 places 132 are neat', () => {
    let neat = 0;
    for (const pairs of allPairings(12, anyPair, 0)) if (planMount(colouring(pairs, 12)).neat) neat++;
    expect(neat).toBe(132);
  });
});

describe('small orders', () => {
  // Recomputed by trying every pairing; no published table.
  it.each([
    ['AABB', 0],
    ['ABBA', 0],
    ['ABAB', 1],
    ['ABACBC', 2],
    ['ABCABC', 3],
    ['ABCDABCD', 6],
    ['AAAABBBB', 0],
    ['ABABABAB', 2],
  ])('[M5] %s crosses %i times', (word, crossings) => {
    expect(planMount([...word]).crossings.length).toBe(crossings);
  });
});

describe('orders with singles', () => {
  // Motzkin numbers 1, 1, 2, 4, 9, 21, 51, 127: ways to join some of n places without crossings. The 21 stands in
  // Rosalind MOTZ; the others are from memory (OEIS A001006).
  it('[M3] every crossing-free way to fold some of n places is found again: Motzkin numbers', () => {
    const counted = [1, 2, 3, 4, 5, 6, 7].map((n) => {
      const ways = [...allPairings(n, anyPair, n)].filter((pairs) => countCrossings(pairs) === 0);
      for (const pairs of ways) {
        // Each fold its own colour, each place left over a colour of its own.
        const colours = colouring(pairs, n).map((colour, place) => (colour < 0 ? 100 + place : colour));
        for (const singles of ['forced', 'free'] as const) {
          const plan = planMount(colours, { singles });
          expect(plan.neat).toBe(true);
          expect(plan.folds.map(({ left, right }) => [left, right])).toEqual(
            pairs.toSorted((a, b) => a[0] - b[0]),
          );
        }
      }
      return ways.length;
    });
    expect(counted).toEqual([1, 2, 4, 9, 21, 51, 127]);
  });
});
