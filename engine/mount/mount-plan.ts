/** What a mounting plan says, and the parts that every plan shares: turns, spreads, crossings. Places are counted from 0. */
import type { Half } from '../pattern/index.ts';

/** One string folded over the bar: its two ends hang at `left` and `right`, `left < right`. */
export interface Fold {
  readonly left: number;
  readonly right: number;
  /** Its turn in the mounting order, from 1: a fold that encloses others comes before them. */
  readonly turn: number;
  /** Whether its ends are spread, because ends of other strings hang between them. */
  readonly spread: boolean;
}

/** Two folds that cross, and what shows for it. */
interface Crossing {
  /** Indices into `folds`, the smaller first. */
  readonly folds: readonly [number, number];
  /** Colour of the bar that will show on the back: that of the fold mounted later of the two. */
  readonly colour: string;
}

/** Which places each folded string serves, and in which order they go on. */
export interface MountPlan {
  /** By their left places. */
  readonly folds: readonly Fold[];
  /** Places of strings with one long end, rising. */
  readonly singles: readonly number[];
  /** Pairs of indices into `folds`, the smaller first, in rising order. */
  readonly crossings: readonly (readonly [number, number])[];
  /** The same pairs, each with the colour that will show on the back. */
  readonly faults: readonly Crossing[];
  /** Whether no two folds cross. */
  readonly neat: boolean;
  /** No plan under the same rule of singles has fewer crossings than this. */
  readonly lowerBound: number;
  /** Whether the number of crossings is proven to be the least. */
  readonly exact: boolean;
}

/** What a plan of a pairing may be told. */
interface PlanDetails {
  /** Of crossings; without it as many as there are, as they are known to be the fewest. */
  readonly lowerBound?: number | undefined;
  /** Default 'left'. */
  readonly firstHalf?: Half | undefined;
}

/**
 * Orders, marks and counts the folds of a pairing.
 * @param pairs `[left, right]` with `left < right`, each place at most once
 * Mounting goes from the left, by left places: so a fold comes before all that it encloses, and these before whatever hangs beside it.
 * From the right, by right places. O(folds^2). Rules M4 and M40.
 */
export function planOf(
  colours: readonly string[],
  pairs: readonly (readonly [number, number])[],
  { lowerBound, firstHalf = 'left' }: PlanDetails = {},
): MountPlan {
  const sorted = [...pairs].sort((a, b) => a[0] - b[0]);
  const turns = new Array<number>(sorted.length);
  sorted
    .map((_, fold) => fold)
    .sort((a, b) => (firstHalf === 'left' ? a - b : sorted[b]![1] - sorted[a]![1]))
    .forEach((fold, position) => {
      turns[fold] = position + 1;
    });
  const folds = sorted.map(([left, right], i) => ({
    left,
    right,
    turn: turns[i]!,
    spread: right > left + 1,
  }));
  const crossings: [number, number][] = [];
  for (let i = 0; i < folds.length; i++)
    for (let j = i + 1; j < folds.length; j++)
      if (folds[j]!.left < folds[i]!.right && folds[i]!.right < folds[j]!.right) crossings.push([i, j]);
  const faults = crossings.map(([i, j]) => {
    const later = folds[i]!.turn > folds[j]!.turn ? folds[i]! : folds[j]!;
    return { folds: [i, j] as const, colour: colours[later.left]! };
  });
  const isFolded = new Uint8Array(colours.length);
  for (const { left, right } of folds) isFolded[left] = isFolded[right] = 1;
  const singles = colours.map((_, place) => place).filter((place) => isFolded[place] === 0);
  return {
    folds,
    singles,
    crossings,
    faults,
    neat: crossings.length === 0,
    lowerBound: lowerBound ?? crossings.length,
    exact: lowerBound === undefined || crossings.length === lowerBound,
  };
}

/**
 * The plan mounted from that side: its folds keep their places, not their turns, and of two that cross the other one comes later.
 * @param colours as the plan was made for
 * O(folds^2). Rule M40.
 */
export function mountFrom(plan: MountPlan, colours: readonly string[], firstHalf: Half): MountPlan {
  if (plan.folds.length === 0) return plan;
  const pairs = plan.folds.map(({ left, right }) => [left, right] as const);
  return planOf(colours, pairs, { lowerBound: plan.lowerBound, firstHalf });
}
