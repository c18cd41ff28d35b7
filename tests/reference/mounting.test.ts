/** Mounting checked against published counts. */
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { pairNested } from '../../engine/mount/search/nested-pairing.ts';
import { allPairings, countCrossings, countNestings, type Pairing } from '../support/pairings.ts';

const anyPair = () => true;
const COMPLEMENT: Readonly<Record<string, string>> = { A: 'U', U: 'A', C: 'G', G: 'C' };

function isComplement(word: string, i: number, j: number): boolean {
  return COMPLEMENT[word[i]!] === word[j];
}

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
    [6, [132, 495, 990, 1430, 1650, 1617, 1386, 1056, 726, 451, 252, 126, 56, 21, 6, 1]],
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
  // Nussinov, Pieczenik, Griggs, Kleitman, "Algorithms for loop matchings" (1978); the example as worked in Durbin et al.,
  // Biological Sequence Analysis, ch. 10 (from memory): GGGAAAUCC pairs at most 3 times, GGGGCCCC 4 times. The recurrence is
  // the one that plans use, told that complements pair instead of equals.
  it.each([
    ['GGGAAAUCC', 3],
    ['GGGGCCCC', 4],
  ])('[M2] %s pairs at most %i times', (word, most) => {
    expect(
      pairNested(new Uint8Array(word.length), (i, j) => (isComplement(word, i, j) ? 0 : -1)).length,
    ).toBe(most);
  });

  // First row of the table of that example: most pairs of its first 1 to 9 places.
  it('[M2] the first places of GGGAAAUCC pair as the table of the example has it', () => {
    const word = 'GGGAAAUCC';
    const most = Array.from(
      word,
      (_, i) => pairNested(new Uint8Array(i + 1), (a, b) => (isComplement(word, a, b) ? 0 : -1)).length,
    );
    expect(most).toEqual([0, 0, 0, 0, 0, 0, 1, 2, 3]);
  });

  // A perfect nested pairing joins odd places with even ones, as what lies between the ends of a pair is paired among itself.
  // So complements pair exactly where, after complementing the even places, equals do.
  it('[M2] GGGGCCCC folds completely once complemented at even places', () => {
    const word = [...'GGGGCCCC'].map((base, place) => (place % 2 === 1 ? COMPLEMENT[base]! : base));
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

describe('the pairings that tests compare with', () => {
  const nested = (word: string, singles: number, mayPair = isComplement) =>
    [...allPairings(word.length, (i, j) => mayPair(word, i, j), singles)].filter(
      (p) => countCrossings(p) === 0,
    );

  // Rosalind MOTZ, sample AUAU: 7 nested pairings, perfect or not.
  it('[M2] AUAU has seven nested pairings', () => {
    expect(nested('AUAU', 4).length).toBe(7);
  });

  // Motzkin numbers, OEIS A001006 (1, 1, 2, 4, 9, 21, 51, 127; all but the fifth from memory).
  it('[M2] places of one colour have as many nested pairings as Motzkin counts', () => {
    const counts = [0, 1, 2, 3, 4, 5, 6, 7].map((n) => nested('a'.repeat(n), n, () => true).length);
    expect(counts).toEqual([1, 1, 2, 4, 9, 21, 51, 127]);
  });

  // Rosalind PMCH and MMCH, samples: pairings that may cross.
  it('[M5] AGCUAGUCAU has 12 perfect pairings, AUGCUUC 6 largest ones', () => {
    const perfect = [...allPairings(10, (i, j) => isComplement('AGCUAGUCAU', i, j), 0)];
    expect(perfect.length).toBe(12);
    const any = [...allPairings(7, (i, j) => isComplement('AUGCUUC', i, j), 7)];
    const most = Math.max(...any.map((pairs) => pairs.length));
    expect(any.filter((pairs) => pairs.length === most).length).toBe(6);
  });

  // Rosalind RNAS, sample: G and U may pair too, at a distance of 4 or more.
  it('[M2] CGAUGCUAG has 12 nested pairings with wobble and distance', () => {
    const mayPair = (word: string, i: number, j: number): boolean =>
      j - i >= 4 && (isComplement(word, i, j) || ['GU', 'UG'].includes(word[i]! + word[j]!));
    expect(nested('CGAUGCUAG', 9, mayPair).length).toBe(12);
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

  // As above: of the best pairings there are so many, and ABABAB has none because its counts are odd.
  it('[M5] AAAABBBB has 4 best pairings and ABABABAB 4; ABABAB leaves two singles', () => {
    const best = (word: string): number => {
      const ways = [...allPairings(word.length, (i, j) => word[i] === word[j], 0)].map(countCrossings);
      return ways.filter((crossings) => crossings === Math.min(...ways)).length;
    };
    expect([best('AAAABBBB'), best('ABABABAB'), best('ABABAB')]).toEqual([4, 4, 0]);
    expect(planMount([...'ABABAB']).singles.length).toBe(2);
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

describe('threads as Dillmont mounts them', () => {
  // Encyclopedia of Needlework, chapter Macramé: each double thread is put on by itself and gives two neighbouring ends (fig. 515).
  it.each([
    [
      'fig. 548',
      [
        ['white', 1],
        ['red', 2],
        ['blue', 1],
      ],
      3,
    ],
    [
      'fig. 566',
      [
        ['blue', 4],
        ['écru', 4],
      ],
      2,
    ],
    [
      'fig. 573',
      [
        ['red', 1],
        ['écru', 3],
        ['red', 1],
        ['light', 1],
        ['écru', 3],
        ['light', 1],
      ],
      2,
    ],
    [
      'fig. 579',
      [
        ['blue', 4],
        ['écru', 4],
        ['red', 5],
        ['écru', 4],
      ],
      2,
    ],
  ] as const)(
    '[M2] %s: doubles side by side, over and over, mount as they are listed',
    (_, threads, times) => {
      const once = threads.flatMap(([colour, count]) => new Array<string>(2 * count).fill(colour));
      const order = Array.from({ length: times }, () => once).flat();
      for (const singles of ['forced', 'free'] as const) {
        const plan = planMount(order, { singles });
        expect(plan).toMatchObject({ neat: true, singles: [], lowerBound: 0, exact: true });
        expect(plan.folds.map(({ left, right, spread }) => [left, right, spread])).toEqual(
          plan.folds.map((_fold, i) => [2 * i, 2 * i + 1, false]),
        );
      }
    },
  );

  it('[M2] [M4] fig. 560: four blue doubles, their ends split 4 and 4 round the eight brown ones, go on first', () => {
    const brown = ['dark', 'dark', 'dark', 'light', 'light', 'dark', 'dark', 'dark'];
    const blue = new Array<string>(4).fill('blue');
    const order = [...blue, ...brown, ...blue];
    expect(order.length).toBe(16);
    // With the threads of the book: each blue one serves a place on either side.
    const plan = planMount(
      [0, 1, 2, 3]
        .map((i) => `blue ${i}`)
        .concat(
          brown,
          [3, 2, 1, 0].map((i) => `blue ${i}`),
        ),
    );
    expect(plan.neat).toBe(true);
    expect(plan.folds.filter(({ turn }) => turn <= 4).map(({ left, right }) => [left, right])).toEqual([
      [0, 15],
      [1, 14],
      [2, 13],
      [3, 12],
    ]);
    // Told only the colours, the same order is as neat, and shorter spans are taken where that is possible.
    const byColour = planMount(order);
    expect(byColour).toMatchObject({ neat: true, singles: [] });
    const span = (folds: readonly { left: number; right: number }[]): number =>
      folds.reduce((sum, { left, right }) => sum + right - left, 0);
    expect(span(byColour.folds)).toBeLessThan(span(plan.folds));
  });
});
