/** Mounting checked against an independent solver: HiGHS (mixed integer programming), which knows nothing of our rules. */
import highsLoader from 'highs';
import { describe, expect, it } from 'vitest';
import { planMount, recolour } from '../../engine/index.ts';
import { cases } from '../support/depth.ts';
import { type SeededRandom, seededRandom } from '../support/seeded-random.ts';

const highs = await highsLoader();

function randomOrder(random: SeededRandom, size: number, kinds: number): string[] {
  return Array.from({ length: size }, () => `c${random.below(kinds)}`);
}

interface Pair {
  readonly name: string;
  readonly left: number;
  readonly right: number;
}

function pairsOf(size: number, mayPair: (i: number, j: number) => boolean): Pair[] {
  const pairs: Pair[] = [];
  for (let left = 0; left < size; left++)
    for (let right = left + 1; right < size; right++)
      if (mayPair(left, right)) pairs.push({ name: `x_${left}_${right}`, left, right });
  return pairs;
}

const cross = (a: Pair, b: Pair): boolean => a.left < b.left && b.left < a.right && a.right < b.right;
const sum = (terms: readonly string[]): string => (terms.length === 0 ? '0 zero' : terms.join(' + '));

/** Solves a programme in LP format; null when there is no solution. */
function solve(
  objective: string,
  rules: readonly string[],
  binaries: readonly string[],
  direction = 'Minimize',
): number | null {
  const text = [
    direction,
    ` obj: ${objective}`,
    'Subject To',
    ...rules.map((rule, i) => ` r${i}: ${rule}`),
    'Binary',
    ` ${[...binaries, 'zero'].join(' ')}`,
    'End',
  ].join('\n');
  const { Status, ObjectiveValue } = highs.solve(text);
  if (Status === 'Infeasible') return null;
  if (Status !== 'Optimal') throw new Error(`HiGHS says ${Status}`);
  return Math.round(ObjectiveValue);
}

/** Each place in one pair or single; colours of odd count have one single, the others none. */
function fewestCrossings(colours: readonly string[]): number | null {
  const pairs = pairsOf(colours.length, (i, j) => colours[i] === colours[j]);
  const rules = colours.map((_, place) => {
    const own = pairs.filter(({ left, right }) => left === place || right === place).map(({ name }) => name);
    return `${sum([...own, `s_${place}`])} = 1`;
  });
  for (const colour of new Set(colours)) {
    const places = colours.flatMap((c, place) => (c === colour ? [place] : []));
    rules.push(`${sum(places.map((place) => `s_${place}`))} = ${places.length % 2}`);
  }
  const crossings: string[] = [];
  for (const a of pairs)
    for (const b of pairs)
      if (cross(a, b)) {
        const name = `z_${a.name}_${b.name}`;
        crossings.push(name);
        rules.push(`${a.name} + ${b.name} - ${name} <= 1`);
      }
  return solve(sum(crossings), rules, [
    ...pairs.map(({ name }) => name),
    ...colours.map((_, p) => `s_${p}`),
    ...crossings,
  ]);
}

/** Most folds without crossings. */
function mostNestedFolds(colours: readonly string[]): number | null {
  const pairs = pairsOf(colours.length, (i, j) => colours[i] === colours[j]);
  const rules = colours.map((_, place) => {
    const own = pairs.filter(({ left, right }) => left === place || right === place).map(({ name }) => name);
    return `${sum(own)} <= 1`;
  });
  for (const a of pairs) for (const b of pairs) if (cross(a, b)) rules.push(`${a.name} + ${b.name} <= 1`);
  return solve(
    sum(pairs.map(({ name }) => name)),
    rules,
    pairs.map(({ name }) => name),
    'Maximize',
  );
}

/**
 * Fewest changes so that the order is neat: `k_p_c` says that place p has colour c afterwards. Nested pairs join equal
 * colours; singles have colours of their own.
 */
function fewestChanges(colours: readonly string[], mostSingles: number): number | null {
  const kinds = [...new Set(colours)];
  const pairs = pairsOf(colours.length, () => true);
  const colour = (place: number, kind: string): string => `k_${place}_${kind}`;
  const rules: string[] = [];
  const changes: string[] = [];
  colours.forEach((own, place) => {
    const mine = pairs.filter(({ left, right }) => left === place || right === place).map(({ name }) => name);
    rules.push(`${sum([...mine, `s_${place}`])} = 1`);
    rules.push(`${sum(kinds.map((kind) => colour(place, kind)))} = 1`);
    changes.push(...kinds.filter((kind) => kind !== own).map((kind) => colour(place, kind)));
  });
  for (const { name, left, right } of pairs)
    for (const kind of kinds) {
      rules.push(`${name} + ${colour(left, kind)} - ${colour(right, kind)} <= 1`);
      rules.push(`${name} + ${colour(right, kind)} - ${colour(left, kind)} <= 1`);
    }
  for (const a of pairs) for (const b of pairs) if (cross(a, b)) rules.push(`${a.name} + ${b.name} <= 1`);
  for (let i = 0; i < colours.length; i++)
    for (let j = i + 1; j < colours.length; j++)
      for (const kind of kinds) rules.push(`s_${i} + s_${j} + ${colour(i, kind)} + ${colour(j, kind)} <= 3`);
  rules.push(`${sum(colours.map((_, place) => `s_${place}`))} <= ${mostSingles}`);
  const all = colours.flatMap((_, place) => [`s_${place}`, ...kinds.map((kind) => colour(place, kind))]);
  return solve(sum(changes), rules, [...pairs.map(({ name }) => name), ...all]);
}

describe('against a mixed integer solver', () => {
  it('[M5] as few crossings', () => {
    const random = seededRandom(101);
    const seen = new Set<number>();
    for (let run = 0; run < cases(20, 200); run++) {
      const colours = randomOrder(random, 8 + random.below(7), 3 + random.below(3));
      const plan = planMount(colours);
      expect(plan.crossings.length, colours.join(' ')).toBe(fewestCrossings(colours));
      seen.add(plan.crossings.length);
    }
    expect(seen.size).toBeGreaterThan(3);
  });

  it('[M2] as few singles without crossings', () => {
    const random = seededRandom(102);
    for (let run = 0; run < cases(20, 200); run++) {
      const colours = randomOrder(random, 8 + random.below(9), 2 + random.below(4));
      expect(planMount(colours, { singles: 'free' }).folds.length, colours.join(' ')).toBe(
        mostNestedFolds(colours),
      );
    }
  });

  it('[M14] as few places recoloured', () => {
    const random = seededRandom(103);
    const seen = new Set<number>();
    for (let run = 0; run < cases(6, 50); run++) {
      const colours = randomOrder(random, 7 + random.below(3), 3);
      const any = recolour(colours);
      const kept = recolour(colours, { singles: 'kept' });
      expect(any.changes.length, colours.join(' ')).toBe(fewestChanges(colours, colours.length));
      expect(kept.changes.length, colours.join(' ')).toBe(
        fewestChanges(colours, planMount(colours).singles.length),
      );
      seen.add(kept.changes.length);
    }
    expect(seen.size).toBeGreaterThan(1);
  });
});
