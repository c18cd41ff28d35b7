import { describe, expect, it } from 'vitest';
import {
  parseBoard,
  formatBoard,
  KNOT_TOKENS,
  knotsInRow,
  planMount,
  rowParity,
  solvePicture,
  weave,
} from '../../../engine/index.ts';
import type { SolveOptions } from '../../../engine/solve/solve-options.ts';
import type { SolveTarget } from '../../../engine/solve/target.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import {
  changedPicture,
  drawnPicture,
  leastWrong,
  type PlainRules,
  POSSIBLE_KINDS,
  possiblePicture,
  targetOf,
} from '../../support/pictures.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';

type SolvedPicture = Extract<ReturnType<typeof solvePicture>, { ok: true }>;

/** Solves, and holds everything that the answer says of itself against the woven board. */
function solveAndCheck(target: SolveTarget, options: Parameters<typeof solvePicture>[1] = {}): SolvedPicture {
  const found = solvePicture(target, options);
  if (!found.ok) throw new Error(found.error.message);
  const { board, wrongCells } = found;
  const { pattern } = board;
  const leadInRows = board.piece.leadInRows ?? 0;
  expect(pattern.colours).toHaveLength(target.strings);
  expect(pattern.rows).toBe(target.rows.length + leadInRows);
  expect(rowParity(pattern.start, leadInRows)).toBe(target.start);
  const { shown } = weave(pattern);
  const wrong: (readonly [number, number])[] = [];
  target.rows.forEach((row, r) => {
    row.forEach((wanted, k) => {
      const string = shown[r + leadInRows]![k]!;
      const colour = string < 0 ? null : pattern.colours[string]!;
      if (wanted >= 0 && colour !== target.palette[wanted]!.id) wrong.push([r, k]);
    });
  });
  expect(wrongCells).toEqual(wrong);
  expect(found.wrong).toBe(wrong.length);
  const weights = options.weights;
  const sum = wrong.reduce((total, [r, k]) => total + (weights === undefined ? 1 : weights[r]![k]!), 0);
  expect(found.wrongWeight).toBe(sum);
  expect(found.lowerBound).toBeLessThanOrEqual(sum);
  expect(found.proven).toBe(found.lowerBound === sum);
  const plan = planMount(pattern.colours);
  expect(found.neat).toBe(plan.neat);
  expect(found.singles).toBe(plan.singles.length);
  return found;
}

/** Any picture of few strings, with some cells that do not matter. */
function smallPicture(random: SeededRandom, most: { strings: number; colours: number }): SolveTarget {
  const strings = 2 + random.below(most.strings - 1);
  const colours = 2 + random.below(most.colours - 1);
  const start = random.below(2) as 0 | 1;
  const rows = Array.from({ length: 1 + random.below(9) }, (_, row) =>
    Array.from({ length: knotsInRow(strings, rowParity(start, row)) }, () =>
      random.chance(0.15) ? -1 : random.below(colours),
    ),
  );
  return targetOf(strings, start, colours, rows);
}

/** Runs `check` on many seeds. */
function eachSeed(few: number, many: number, check: (random: SeededRandom, seed: number) => void): void {
  for (let seed = firstSeed; seed < firstSeed + cases(few, many); seed++) check(seededRandom(seed), seed);
}

const idsOf = (order: readonly number[]): string[] => order.map((colour) => `c${colour}`);
/** Colours that strings may have: those wanted somewhere. */
const isWanted = ({ rows }: SolveTarget): ((colour: number) => boolean) => {
  const wanted = new Set(rows.flat());
  const hasAny = rows.flat().some((colour) => colour >= 0);
  return (colour) => (hasAny ? wanted.has(colour) : colour === 0);
};

describe('solvePicture', () => {
  it.each(POSSIBLE_KINDS)('[Z2] meets possible pictures exactly: %s', (kind) => {
    for (const size of [
      { strings: 14, rows: 30, colours: 4 },
      { strings: 24, rows: 60, colours: 6 },
    ])
      eachSeed(3, 125, (_, seed) => {
        const found = solveAndCheck(possiblePicture(seed, size, kind).target);
        expect(found, seedFailed(seed)).toMatchObject({ wrong: 0, proven: true });
      });
  });

  it('[Z3] is as near as following every order of colours down the band, and proves it', () => {
    const seen = new Set<number>();
    eachSeed(120, 3000, (random, seed) => {
      const target = smallPicture(random, { strings: 5, colours: 4 });
      const found = solveAndCheck(target);
      expect(found.proven, seedFailed(seed)).toBe(true);
      expect(found.wrong, seedFailed(seed)).toBe(leastWrong(target));
      seen.add(found.wrong);
    });
    expect(seen.size).toBeGreaterThan(2);
  });

  it('[Z3] with fewer steps the bound still holds', () => {
    let open = 0;
    eachSeed(3, 30, (_, seed) => {
      const target = changedPicture(seed, { strings: 14, rows: 30, colours: 4 }, 0.03);
      const least = solveAndCheck(target, { steps: 1e9 });
      expect(least.proven).toBe(true);
      for (const steps of [1_000_000, 2_000_000, 4_000_000]) {
        const found = solveAndCheck(target, { steps });
        expect(found.wrong, seedFailed(seed)).toBeGreaterThanOrEqual(least.wrong);
        expect(found.lowerBound, seedFailed(seed)).toBeLessThanOrEqual(least.wrong);
        if (!found.proven) open++;
      }
      expect(solvePicture(target, { steps: 100 })).toMatchObject({
        ok: false,
        error: { kind: 'too-few-steps' },
      });
    });
    expect(open).toBeGreaterThan(0);
  });

  it('[Z3] improves pictures that cannot be, whose changes bound what is wrong', () => {
    const size = { strings: 14, rows: 30, colours: 4 };
    for (const share of [0.01, 0.03])
      eachSeed(2, 20, (_, seed) => {
        const target = changedPicture(seed, size, share);
        const cells = target.rows.flat().length;
        const found = solveAndCheck(target);
        expect(found.wrong, seedFailed(seed)).toBeLessThanOrEqual(Math.round(cells * share));
        expect(found.proven, seedFailed(seed)).toBe(true);
      });
    const drawn = solveAndCheck(drawnPicture(5, size), { steps: 20_000_000 });
    expect(drawn.wrong).toBeLessThan(20);
    expect(drawn.wrong).toBeGreaterThan(0);
  });

  it('[Z4] the order given, mirrored or nested: as near as every such order comes', () => {
    const seen = new Set<string>();
    eachSeed(60, 1000, (random, seed) => {
      const target = smallPicture(random, { strings: 5, colours: 4 });
      const hangs = isWanted(target);
      const given = Array.from({ length: target.strings }, () => random.below(target.palette.length));
      const kinds: readonly [SolveOptions['order'] & {}, (order: readonly number[]) => boolean][] = [
        [idsOf(given), (order) => order.every((colour, place) => colour === given[place])],
        [
          'mirrored',
          (order) => order.every(hangs) && order.every((colour, p) => colour === order.at(-1 - p)),
        ],
        ['nested', (order) => order.every(hangs) && planMount(idsOf(order)).neat],
      ];
      for (const [order, mayHang] of kinds) {
        const found = solveAndCheck(target, { order });
        expect(found.proven, seedFailed(seed)).toBe(true);
        expect(found.wrong, seedFailed(seed)).toBe(leastWrong(target, { mayHang }));
        if (typeof order === 'string') expect(found.neat).toBe(true);
        else expect(found.board.pattern.colours).toEqual(order);
        seen.add(`${typeof order === 'string' ? order : 'given'} ${Math.min(found.wrong, 1)}`);
      }
    });
    expect(seen.size).toBe(6);
  });

  it('[Z5] even numbers of every colour, or few singles: as near as every such order comes', () => {
    let refused = 0;
    eachSeed(60, 1000, (random, seed) => {
      const target = smallPicture(random, { strings: 5, colours: 3 });
      const hangs = isWanted(target);
      for (const [options, most] of [
        [{ even: true }, 0],
        [{ singles: 1 }, 1],
        [{ singles: 1, order: 'nested' }, 1],
      ] as const) {
        const mayHang = (order: readonly number[]): boolean => {
          const plan = planMount(idsOf(order));
          return order.every(hangs) && plan.singles.length <= most && ('order' in options ? plan.neat : true);
        };
        const least = leastWrong(target, { mayHang });
        const found = solvePicture(target, options);
        if (!found.ok) {
          expect(found.error, seedFailed(seed)).toMatchObject({ kind: 'cannot-be', path: 'options' });
          expect(least).toBe(Infinity);
          refused++;
          continue;
        }
        expect(found.singles).toBeLessThanOrEqual(most);
        expect([found.wrong, found.proven], seedFailed(seed)).toEqual([least, true]);
      }
    });
    expect(refused).toBeGreaterThan(0);
  });

  it('[Z6] knots that must stay, stay; what they show counts', () => {
    let wrong = 0;
    eachSeed(60, 1000, (random, seed) => {
      const target = smallPicture(random, { strings: 5, colours: 3 });
      const kept = new Map<string, number>();
      target.rows.forEach((row, r) => {
        row.forEach((_, k) => {
          if (random.chance(0.4)) kept.set(`${r} ${k}`, random.below(5));
        });
      });
      const keep = [...kept].map(([at, code]) => {
        const [row, k] = at.split(' ').map(Number) as [number, number];
        return { row, k, kind: KNOT_TOKENS[code]! };
      });
      const mayHang = (order: readonly number[]): boolean => order.every(isWanted(target));
      const found = solveAndCheck(target, { keep });
      expect([found.wrong, found.proven], seedFailed(seed)).toEqual([
        leastWrong(target, { kept, mayHang }),
        true,
      ]);
      const { knots } = found.board.pattern;
      for (const { row, k, kind } of keep)
        expect(KNOT_TOKENS[knots[row * (target.strings >> 1) + k]!]).toBe(kind);
      wrong += found.wrong;
    });
    expect(wrong).toBeGreaterThan(10);
  });

  it('[Z7] rows that repeat without a seam hang below as above', () => {
    eachSeed(30, 500, (random, seed) => {
      const target = smallPicture(random, { strings: 4, colours: 3 });
      const mayHang = (order: readonly number[]): boolean => order.every(isWanted(target));
      const found = solveAndCheck(target, { seamless: true });
      const { colours } = found.board.pattern;
      const below = Array.from(weave(found.board.pattern).finalOrder, (string) => colours[string]);
      expect(below, seedFailed(seed)).toEqual(colours);
      expect([found.wrong, found.proven], seedFailed(seed)).toEqual([
        leastWrong(target, { seamless: true, mayHang }),
        true,
      ]);
    });
    const band = solveAndCheck(possiblePicture(3, { strings: 14, rows: 30, colours: 4 }, 'sparse').target, {
      seamless: true,
    });
    expect(band.wrong).toBe(0);
  });

  it('[Z8] lead-in rows stand above the target, as few as serve', () => {
    const counts = new Set<number>();
    eachSeed(40, 300, (random, seed) => {
      const target = smallPicture(random, { strings: 6, colours: 3 });
      const found = solveAndCheck(target, { order: 'mirrored', leadInRows: 3 });
      const rows = found.board.piece.leadInRows ?? 0;
      counts.add(rows);
      const mayHang = (order: readonly number[]): boolean =>
        order.every(isWanted(target)) && order.every((colour, place) => colour === order.at(-1 - place));
      const above = (count: number): SolveTarget => {
        const start = rowParity(target.start, count & 1);
        const free = Array.from({ length: count }, (_, row) =>
          Array.from({ length: knotsInRow(target.strings, rowParity(start, row)) }, () => -1),
        );
        return { ...target, start, rows: [...free, ...target.rows] };
      };
      const leasts = [0, 1, 2, 3].map((count) => leastWrong(above(count), { mayHang }));
      const least = Math.min(...leasts);
      expect([found.wrong, found.proven, rows], seedFailed(seed)).toEqual([
        least,
        true,
        leasts.indexOf(least),
      ]);
    });
    expect(counts.size).toBeGreaterThan(1);
  });

  it('[Z9] weights say which cells matter most', () => {
    eachSeed(60, 1000, (random, seed) => {
      const target = smallPicture(random, { strings: 5, colours: 3 });
      const weights = target.rows.map((row) => row.map(() => random.below(8)));
      const found = solveAndCheck(target, { weights });
      const rules: PlainRules = { weights, mayHang: (order) => order.every(isWanted(target)) };
      expect([found.wrongWeight, found.proven], seedFailed(seed)).toEqual([leastWrong(target, rules), true]);
    });
  });

  it('[Z10] every cell is tied; those that do not matter may stay open where asked', () => {
    let open = 0;
    eachSeed(20, 200, (_, seed) => {
      const { target } = possiblePicture(seed, { strings: 9, rows: 12, colours: 3 }, 'sparse');
      for (const mayStayOpen of [false, true]) {
        const { pattern } = solveAndCheck(target, { mayStayOpen }).board;
        target.rows.forEach((row, r) => {
          row.forEach((wanted, k) => {
            const isTied = pattern.knots[r * (target.strings >> 1) + k] !== 0;
            if (wanted >= 0 || !mayStayOpen) expect(isTied, seedFailed(seed)).toBe(true);
            else if (!isTied) open++;
          });
        });
      }
    });
    expect(open).toBeGreaterThan(50);
  });

  it('[Z13] two colours are always possible: nested with one lead-in row by fours of strings, with two singles else', () => {
    eachSeed(6, 60, (random, seed) => {
      const strings = 8 + 2 * random.below(5);
      const start = random.below(2) as 0 | 1;
      const rows = Array.from({ length: 24 }, (_, row) =>
        Array.from({ length: knotsInRow(strings, rowParity(start, row)) }, () => random.below(2)),
      );
      const target = targetOf(strings, start, 2, rows);
      expect(solveAndCheck(target).wrong, seedFailed(seed)).toBe(0);
      const options = strings % 4 === 0 ? { even: true, leadInRows: 1 } : { singles: 2, leadInRows: 2 };
      const found = solveAndCheck(target, { order: 'nested', ...options });
      expect(found.wrong, seedFailed(seed)).toBe(0);
      expect(found.neat).toBe(true);
    });
  });

  it('[Z1] the board is a board like any other, and targets are not changed', () => {
    eachSeed(5, 50, (random) => {
      const target = smallPicture(random, { strings: 8, colours: 4 });
      const before = structuredClone(target);
      const { board } = solveAndCheck(target, { leadInRows: 1, order: 'mirrored' });
      expect(target).toEqual(before);
      expect(parseBoard(formatBoard(board))).toEqual({ ok: true, value: board });
      expect(board.palette).toEqual(target.palette);
    });
  });
});
