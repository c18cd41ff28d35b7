/** As few places as possible to recolour so that an order mounts neatly. */
import type { MountPlan } from './mount-plan.ts';
import { cheapestNested, NEVER, type NestedRecolouring } from './nested-recolouring.ts';
import { countOdd, numberColours, planNames, readColours } from './plan-mount.ts';
import { CANCELLED, type Cancellable, type Cancelled, isStopped } from './progress.ts';

/** Steps of the pairing table spent before the best found so far is given without proof. */
const MAX_STEPS = 1.5e9;

/** What {@link recolour} may use. */
export interface RecolourOptions extends Cancellable {
  /**
   * `'forced'` (default): the new order may have other colours of odd count, each with its single.
   * `'kept'`: the new order has no more singles than the given one.
   */
  readonly singles?: 'forced' | 'kept';
  /** Further colours that may be used, beside those of the order. */
  readonly palette?: readonly string[];
}

/** The places to give another colour so that the order mounts neatly. */
export interface Recolouring {
  /** The places to recolour, rising, each with its new colour. A place is a string at the top of the band. */
  readonly changes: readonly { readonly place: number; readonly colour: string }[];
  /** The order after the change. */
  readonly colours: readonly string[];
  /** How that is mounted: without crossings. */
  readonly plan: MountPlan;
  /** No recolouring under the same rule changes fewer places. */
  readonly lowerBound: number;
  /** Whether the number of changes is proven to be the least. */
  readonly exact: boolean;
}

/**
 * The fewest places to recolour so that the order mounts without crossings, one single for each colour of odd count.
 * @param colours one id per place, 1 to 200
 * @returns the recolouring, or `{cancelled: true}`, only where `isCancelled` is given. Of those with the fewest changes the
 * one found has the fewest singles that the search met.
 * A pairing table for each way to reckon with singles that matters (see nested-recolouring.ts): one where no colour of odd
 * count arises, a few as a rule, exponential in the colours at worst; after 1.5e9 steps the best so far comes with
 * `exact: false` and a bound. Rule M14.
 * @throws as `planMount` for the colours; RangeError for another `singles`.
 */
export function recolour(
  colours: readonly (string | number)[],
  options: RecolourOptions & { readonly isCancelled: () => boolean },
): Recolouring | Cancelled;
export function recolour(
  colours: readonly (string | number)[],
  options?: RecolourOptions & { readonly isCancelled?: never },
): Recolouring;
export function recolour(
  colours: readonly (string | number)[],
  options: RecolourOptions = {},
): Recolouring | Cancelled {
  const names = readColours(colours);
  const rule = options.singles ?? 'forced';
  if (rule !== 'forced' && rule !== 'kept')
    throw new RangeError(`singles must be 'forced' or 'kept', not ${JSON.stringify(rule)}`);
  const numbers = numberColours(names);
  const allowed = [...new Set([...names, ...(options.palette ?? [])])];
  const odd = countOdd(numbers);
  const search = new RecolourSearch(
    numbers,
    rule === 'kept' ? Math.min(odd, allowed.length) : allowed.length,
  );
  while (search.step()) if (isStopped(options, search.share)) return CANCELLED;
  isStopped(options, 1);
  const after = paint(names, numbers, allowed, search.best!);
  const changes = after.flatMap((colour, place) => (colour === names[place] ? [] : [{ place, colour }]));
  return {
    changes,
    colours: after,
    plan: planNames(after),
    lowerBound: search.lowerBound,
    exact: changes.length === search.lowerBound,
  };
}

/** How a colour's singles are reckoned. */
type Way =
  /** Undecided, as an even count: every single is taken as if it were the colour's only one. */
  | 'each'
  /** As an odd count: the colour is taken to have a single, further ones cost. */
  | 'one'
  /** No singles. */
  | 'none'
  /** The place given is the first single. */
  | number;

interface Node {
  readonly ways: readonly Way[];
  readonly bound: number;
}

/** Branch and bound over the ways to reckon with the singles of each colour. */
class RecolourSearch {
  best: NestedRecolouring | null = null;
  /** Price of `best`: the places to recolour. */
  #price = Number.POSITIVE_INFINITY;
  readonly #numbers: readonly number[];
  readonly #placesOf: readonly (readonly number[])[];
  readonly #mostSingles: number;
  readonly #stepsEach: number;
  #steps = 0;
  #open: Node[];

  constructor(numbers: readonly number[], mostSingles: number) {
    this.#numbers = numbers;
    const kinds = Math.max(...numbers) + 1;
    this.#placesOf = Array.from({ length: kinds }, (_, kind) =>
      numbers.flatMap((number, place) => (number === kind ? [place] : [])),
    );
    this.#mostSingles = mostSingles;
    this.#stepsEach = (numbers.length ** 3 / 6) * (1 + mostSingles) ** 2 * 0.25;
    const ways = this.#placesOf.map((places): Way => (places.length % 2 === 1 ? 'one' : 'each'));
    this.#open = [{ ways, bound: 0 }];
  }

  /** Share of the allowed steps used. */
  get share(): number {
    return this.#steps / MAX_STEPS;
  }

  /** Least bound of what is still open, or the price found. */
  get lowerBound(): number {
    return this.#open.reduce((least, { bound }) => Math.min(least, bound), this.#price);
  }

  /** Looks at one node, the most promising one; false when nothing is left to do. */
  step(): boolean {
    this.#open = this.#open.filter(({ bound }) => bound < this.#price);
    let at = this.#open.length - 1;
    for (let i = 0; i < this.#open.length; i++) if (this.#open[i]!.bound < this.#open[at]!.bound) at = i;
    const node = this.#open[at];
    if (node === undefined) return false;
    if (this.best !== null && this.#steps > MAX_STEPS) return false;
    this.#open.splice(at, 1);
    this.#expand(node.ways);
    return true;
  }

  #expand(ways: readonly Way[]): void {
    this.#steps += this.#stepsEach;
    const n = this.#numbers.length;
    const single = new Int32Array(n);
    const mustBeSingle = new Uint8Array(n);
    let reward = 0;
    ways.forEach((way, kind) => {
      if (way === 'one') reward++;
      for (const place of this.#placesOf[kind]!) {
        if (way === 'each') single[place] = 0;
        else if (way === 'one') single[place] = 1;
        else if (way === 'none') single[place] = NEVER;
        else if (place < way) single[place] = NEVER;
        else if (place === way) mustBeSingle[place] = 1;
        else single[place] = 1;
      }
    });
    const found = cheapestNested({
      colours: this.#numbers,
      single,
      mustBeSingle,
      mostSingles: this.#mostSingles,
    });
    if (found === null) return;
    const bound = found.price - reward;
    const price = this.#priceOf(found);
    if (price < this.#price || (price === this.#price && found.singles.length < this.best!.singles.length)) {
      this.#price = price;
      this.best = found;
    }
    if (bound >= this.#price) return;
    this.#branch(ways, found, bound);
  }

  /** Pairs of different colours, and singles beyond the first of each colour. */
  #priceOf({ pairs, singles }: NestedRecolouring): number {
    const differing = pairs.filter(([left, right]) => this.#numbers[left] !== this.#numbers[right]).length;
    return differing + singles.length - new Set(singles.map((place) => this.#numbers[place])).size;
  }

  /** Decides the colour whose singles were reckoned furthest from what they cost. */
  #branch(ways: readonly Way[], { singles }: NestedRecolouring, bound: number): void {
    let worst = -1;
    let worstGap = 0;
    ways.forEach((way, kind) => {
      const count = singles.filter((place) => this.#numbers[place] === kind).length;
      const gap = way === 'each' ? count - Math.min(1, count) : way === 'one' && count === 0 ? 1 : 0;
      if (gap > worstGap) {
        worst = kind;
        worstGap = gap;
      }
    });
    const next: Way[] = ways[worst] === 'each' ? ['none', 'one'] : ['none', ...this.#placesOf[worst]!];
    for (const way of next)
      this.#open.push({ ways: ways.map((w, kind) => (kind === worst ? way : w)), bound });
  }
}

/** Gives each pair the colour of its left place, and each single a colour that no other single has. */
function paint(
  names: readonly string[],
  numbers: readonly number[],
  allowed: readonly string[],
  { pairs, singles }: NestedRecolouring,
): string[] {
  const after = [...names];
  for (const [left, right] of pairs) if (numbers[left] !== numbers[right]) after[right] = names[left]!;
  const taken = new Set(singles.map((place) => names[place]!));
  const seen = new Set<string>();
  for (const place of singles) {
    if (seen.has(names[place]!)) {
      const free = allowed.find((colour) => !taken.has(colour));
      if (free === undefined) throw new RangeError(`no colour is left for the single at place ${place}`);
      taken.add(free);
      after[place] = free;
    }
    seen.add(names[place]!);
  }
  return after;
}
