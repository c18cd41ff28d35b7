/** The fewest crossings when no neat plan exists: exact where that can be, else a good plan beside a proven bound. */
import { crossingBound } from './crossing-bound.ts';
import { improve } from './improve.ts';
import { foldFromLeft } from './open-folds.ts';

/** Up to this many places the fewest crossings are always proven. */
const EXACT_PLACES = 24;
/** Beyond, a proof is tried with room for so many rows of open folds, up to so many places. */
const PROOF_PLACES = 100;
const PROOF_WIDTH = 30_000;
/** Rows of open folds kept for a beginning to improve, and steps aside from each. */
const BEAM_WIDTH = 300;
/** With more colours the bound by pairs of colours takes too long for choosing what to keep. */
const BOUND_COLOURS = 8;
const STEPS_ASIDE = 400;
/** A step takes about as long as the cubes of the colours' places add up to; so much in all is spent on one beginning. */
const IMPROVING = 1e8;
const QUICK_STEPS_ASIDE = 10;

export interface FewestCrossings {
  readonly pairs: readonly [number, number][];
  /** No plan that leaves one single for each colour of odd count has fewer crossings. */
  readonly lowerBound: number;
}

/** `'full'`: as {@link pairWithFewestCrossings} says; `'quick'`: one beginning, a few steps aside, a proof only by the bound. */
export type Effort = 'full' | 'quick';

/**
 * Pairs the places with one single for each colour of odd count and few crossings: the fewest up to 24 places.
 * @param colours colour number of each place, numbers from 0 without gaps, for which no neat plan exists
 * Rule M5.
 */
export function pairWithFewestCrossings(
  colours: readonly number[],
  effort: Effort = 'full',
): FewestCrossings {
  const bound = Math.max(1, crossingBound(colours));
  const n = colours.length;
  if (effort === 'full' && n <= EXACT_PLACES) return proven(foldFromLeft(colours, { width: 2 ** 20 }).pairs!);
  const steps = stepsAside(colours);
  let best = improve(colours, foldInTurn(colours), effort === 'full' ? steps : QUICK_STEPS_ASIDE, bound);
  if (effort === 'quick') return { pairs: best.pairs, lowerBound: bound };
  const weights = Math.max(...colours) < BOUND_COLOURS ? ([1, 0.5, 'bound'] as const) : ([1, 0.5] as const);
  for (const openWeight of weights) {
    if (best.crossings <= bound) break;
    const { pairs } = foldFromLeft(colours, { width: BEAM_WIDTH, openWeight });
    if (pairs === null) continue;
    const other = improve(colours, pairs, steps, bound);
    if (other.crossings < best.crossings) best = other;
  }
  if (best.crossings <= bound || n > PROOF_PLACES) return { pairs: best.pairs, lowerBound: bound };
  const fewer = foldFromLeft(colours, { width: PROOF_WIDTH, atMost: best.crossings - 1 });
  if (!fewer.complete) return { pairs: best.pairs, lowerBound: bound };
  return proven(fewer.pairs ?? best.pairs);
}

function stepsAside(colours: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const cubes = [...counts.values()].reduce((sum, count) => sum + count ** 3, 0);
  return Math.min(STEPS_ASIDE, Math.round(IMPROVING / cubes));
}

function proven(pairs: readonly (readonly [number, number])[]): FewestCrossings {
  let crossings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && c < b && b < d) crossings++;
  return { pairs: pairs.map(([left, right]) => [left, right]), lowerBound: crossings };
}

/** Each colour's places folded two by two from the left; of an odd count the last is single. */
function foldInTurn(colours: readonly number[]): [number, number][] {
  const open = new Map<number, number>();
  const pairs: [number, number][] = [];
  colours.forEach((colour, place) => {
    const left = open.get(colour);
    if (left === undefined) open.set(colour, place);
    else {
      pairs.push([left, place]);
      open.delete(colour);
    }
  });
  return pairs;
}
