/**
 * Where else the same band can begin, and how it mounts there.
 *
 * The band is the repeat worked over and over, without beginning or end; an odd repeat is followed by an untied row. Between
 * its rows lie *boundaries*: boundary b of R rows, 0 to R, has row b below it and row b - 1 above it. Working downwards from
 * b begins with row b; working from the other end of the band begins with row b - 1 and goes up. The strings that are
 * mounted are those that hang at the boundary, whichever way the band is worked from there.
 */
import { mirrorPattern, type Pattern, reversePattern, shiftStart } from '../pattern/index.ts';
import { repeatCycle, weave } from '../weave/index.ts';
import { type MountPlan, planOf } from './mount-plan.ts';
import type { MountOptions } from './plan-at-once.ts';
import { planNames } from './plan-mount.ts';
import type { Watched } from './progress.ts';
import { countOdd, type Effort, isNeatlyMountable, numberColours } from './search/index.ts';

/** Boundaries looked at, over all repeats, and steps spent on whether they are neat; the first repeat is looked at whole. */
const MAX_BOUNDARIES = 40_000;
const MAX_STEPS = 2e9;
/** Orders planned with full effort where none is neat: those that seem to cross least. */
const PLANNED_FULLY = 6;
/** With more strings a mirrored order takes the mirrored plan: as good, and planning anew takes long. */
const PLANNED_ANEW = 24;

/** Where {@link findStarts} looks. */
export interface StartOptions extends MountOptions, Watched {
  /** Repeats looked at, 1 or more; default: until the colours recur, or as far as the limit goes, 40,000 boundaries at most. */
  readonly repeats?: number;
}

/** One way to begin the band, with its mount plan. */
export interface Start {
  /** Row that is worked first, by its number in the pattern; 0 in a pattern without rows. */
  readonly row: number;
  /** Whether the rows are worked upwards from there, forward and backward exchanged. */
  readonly reversed: boolean;
  /** Whether left and right are exchanged. */
  readonly mirrored: boolean;
  /** Repeat in which the colours stand like that, from 0. */
  readonly repeat: number;
  /** Colours above the first row worked, left to right as worked. */
  readonly order: readonly string[];
  /** How that order is mounted. Planned quickly, see `plan.exact`, unless it is the order given, or none is neat and it is among the few that cross least. */
  readonly plan: MountPlan;
}

/** A boundary in the first repeat in which it mounts neatly, or else in the first. */
interface Boundary {
  readonly repeat: number;
  readonly order: readonly string[];
  readonly isNeat: boolean;
}

/**
 * Every row to begin at, from either end of the band, mirrored or not, with its mount plan, best first.
 * @returns one entry for each row, end and mirroring, `4 x rows` of them (2 without rows), each for the first repeat in which
 * it mounts neatly, or else for the first. Best: fewest crossings,
 * then fewest singles, then the least change: earlier repeat, not worked from the other end, not mirrored, earlier row.
 *
 * Looked at are the orders between all rows of the first repeat and, as colours may stand otherwise in the next one, of those
 * after it until the colours recur; {@link startReach} says whether the limit cut that short. A neat start among them is
 * always found. O(boundaries x strings), and one plan for each different order. Rules M7 and M8.
 * @throws RangeError when `repeats` is no whole number of 1 or more.
 */
export function findStarts(pattern: Pattern, options: StartOptions = {}): readonly Start[] {
  const { considered } = startReach(pattern, options);
  const boundaries = neatRepeats(pattern, considered, options);
  const plans = new Plans(options);
  for (const [at, { order }] of boundaries.entries()) {
    if (at % 16 === 0) options.onProgress?.(0.5 + (0.3 * at) / boundaries.length);
    plans.get(order);
  }
  // Where a neat start exists, how the others compare among themselves is of little use.
  const crossing = boundaries.some(({ isNeat }) => isNeat)
    ? []
    : boundaries
        .slice(1)
        .sort((a, b) => compare(plans.get(a.order), plans.get(b.order)))
        .slice(0, PLANNED_FULLY);
  for (const [at, { order }] of [boundaries[0]!, ...crossing].entries()) {
    options.onProgress?.(0.8 + (0.2 * at) / (PLANNED_FULLY + 1));
    plans.improve(order, at === 0 ? 'full' : 'annealed');
  }
  const worked = boundaries.map(({ order }) =>
    [order, [...order].reverse()].map((strings) => ({ order: strings, plan: plans.get(strings) })),
  );
  const starts: Start[] = [];
  for (let row = 0; row < Math.max(1, pattern.rows); row++)
    for (const reversed of pattern.rows === 0 ? [false] : [false, true])
      for (const mirrored of [false, true]) {
        const boundary = reversed ? row + 1 : row;
        const { repeat } = boundaries[boundary]!;
        starts.push({ row, reversed, mirrored, repeat, ...worked[boundary]![mirrored ? 1 : 0]! });
      }
  options.onProgress?.(1);
  return starts.sort((a, b) => compare(a.plan, b.plan) || changeOf(a) - changeOf(b) || a.row - b.row);
}

/** The boundaries, each in the first repeat in which it is neat. */
function neatRepeats(pattern: Pattern, considered: number, options: StartOptions): readonly Boundary[] {
  const { orderFlat } = weave(pattern);
  const strings = pattern.colours.length;
  const size = pattern.rows + 1;
  const best: Boundary[] = [];
  let neat = 0;
  let top: readonly string[] = pattern.colours;
  for (let repeat = 0; repeat < considered && neat < size; repeat++) {
    for (let boundary = 0; boundary < size; boundary++) {
      if (boundary % 64 === 0) options.onProgress?.((0.5 * (repeat + boundary / size)) / considered);
      if (best[boundary]?.isNeat) continue;
      const order = ordered(top, orderFlat, boundary * strings);
      const isNeat = isNeatlyMountable(numberColours(order));
      if (isNeat) neat++;
      if (isNeat || repeat === 0) best[boundary] = { repeat, order, isNeat };
    }
    top = ordered(top, orderFlat, pattern.rows * strings);
  }
  return best;
}

/**
 * How many repeats {@link findStarts} looks at, and after how many the colours recur.
 * `complete` when every order in which the band can begin is among them.
 * @throws RangeError when `repeats` is no whole number of 1 or more.
 */
export function startReach(
  pattern: Pattern,
  options: Pick<StartOptions, 'repeats'> = {},
): { readonly considered: number; readonly cycle: number; readonly complete: boolean } {
  const { repeats } = options;
  if (repeats !== undefined && !(Number.isInteger(repeats) && repeats >= 1))
    throw new RangeError(`repeats must be a whole number from 1, not ${repeats}`);
  const cycle = repeatCycle(pattern).colours;
  const strings = pattern.colours.length;
  const stepsEach = countOdd(numberColours(pattern.colours)) === 0 ? strings : strings ** 3 / 6;
  const most = Math.min(MAX_BOUNDARIES, MAX_STEPS / stepsEach);
  const room = Math.max(1, Math.floor(most / (pattern.rows + 1)));
  const considered = Math.min(cycle, repeats ?? room);
  return { considered, cycle, complete: considered === cycle };
}

/**
 * The pattern that begins there: one repeat of the same endless band, in the order in which its rows are then worked.
 * An odd repeat comes back with its untied row among the others, unless it begins at its own end.
 * @throws RangeError when the start's row or order does not fit the pattern. O(rows x strings).
 */
export function applyStart(
  pattern: Pattern,
  start: Pick<Start, 'row' | 'reversed' | 'mirrored' | 'order'>,
): Pattern {
  if (start.order.length !== pattern.colours.length)
    throw new RangeError(`an order of ${start.order.length} does not fit ${pattern.colours.length} strings`);
  const last = Math.max(0, pattern.rows - 1);
  if (!(Number.isInteger(start.row) && start.row >= 0 && start.row <= last))
    throw new RangeError(`row ${start.row} is outside 0 to ${last}`);
  const boundary = start.reversed ? start.row + 1 : start.row;
  const isOwnEnd = boundary === 0 || boundary >= pattern.rows;
  const shifted = isOwnEnd ? pattern : shiftStart(pattern, boundary);
  const turned = start.reversed ? reversePattern(shifted) : shifted;
  const mirrored = start.mirrored ? mirrorPattern(turned) : turned;
  return { ...mirrored, colours: [...start.order] };
}

function ordered(top: readonly string[], orderFlat: Int16Array, at: number): readonly string[] {
  return top.map((_, place) => top[orderFlat[at + place]!]!);
}

function compare(a: MountPlan, b: MountPlan): number {
  return a.crossings.length - b.crossings.length || a.singles.length - b.singles.length;
}

/** Earlier repeat first, then as few turnings as possible. */
function changeOf(start: Start): number {
  return start.repeat * 4 + (start.reversed ? 2 : 0) + (start.mirrored ? 1 : 0);
}

/** Plans by order, each made once; orders that differ only in the names of colours, or in left and right, share one. */
class Plans {
  readonly #known = new Map<string, MountPlan>();
  readonly #options: Required<MountOptions>;

  constructor({ singles = 'forced', firstHalf = 'left' }: MountOptions) {
    this.#options = { singles, firstHalf };
  }

  /** A plan made quickly: neat where that is possible, else not far from the fewest crossings. */
  get(order: readonly string[]): MountPlan {
    return this.#shared(order) ?? this.#make(order, 'quick');
  }

  /** Makes the plan with more effort, for {@link get} to give from now on. */
  improve(order: readonly string[], effort: Effort): void {
    const known = this.get(order);
    if (known.neat || known.exact) return;
    const plan = planNames(order, this.#options, effort);
    if (plan.crossings.length <= known.crossings.length) this.#known.set(keyOf(order), plan);
  }

  #make(order: readonly string[], effort: Effort): MountPlan {
    const plan = planNames(order, this.#options, effort);
    this.#known.set(keyOf(order), plan);
    return plan;
  }

  /** The plan of an order like it. Small orders are planned anew from the right, so that ties go as they do there. */
  #shared(order: readonly string[]): MountPlan | null {
    const same = this.#known.get(keyOf(order));
    if (same !== undefined) return this.#named(order, same, (place) => place);
    const last = order.length - 1;
    if (last < PLANNED_ANEW) return null;
    const mirrored = this.#known.get(keyOf([...order].reverse()));
    return mirrored === undefined ? null : this.#named(order, mirrored, (place) => last - place);
  }

  /** The plan with the places and colours of the order. */
  #named(order: readonly string[], plan: MountPlan, placeOf: (place: number) => number): MountPlan {
    const pairs = plan.folds.map(({ left, right }): [number, number] => {
      const [a, b] = [placeOf(left), placeOf(right)];
      return a < b ? [a, b] : [b, a];
    });
    return planOf(order, pairs, { lowerBound: plan.lowerBound, firstHalf: this.#options.firstHalf });
  }
}

/** What decides how an order mounts: which places are of one colour. */
function keyOf(order: readonly string[]): string {
  return String.fromCharCode(...numberColours(order).map((number) => 33 + number));
}
