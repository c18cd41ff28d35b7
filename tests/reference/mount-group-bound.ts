/**
 * A lower bound on crossings from groups of colours.
 *
 * Folds of one colour need not cross, so the crossings of a plan are those between its pairs of colours. The colours of a group,
 * all others left out, need as many crossings as they need alone: what that is more than their pairs need one by one is the gain
 * of the group. A word of few colours is much shorter once equal neighbours are folded away, so a group's need can mostly be found
 * exactly. Gains of groups add up, each with a weight, as long as no pair of colours bears more than 1 of weight in all. The
 * weights are sought as N. Garg and J. Könemann do, "Faster and simpler algorithms for multicommodity flow and other
 * fractional packing problems", SIAM J. Comput. 37 (2007) 630-652.
 */
import { cancelSearch } from './mount-cancel-search.ts';
import { crossingBound } from '../../engine/mount/search/crossing-bound.ts';
import { reduceWord } from '../../engine/mount/search/reduced-word.ts';

/** Letters left of a group's word up to which it is looked at. */
const LONGEST = 56;
const MOST_IN_GROUP = 9;
/** Groups of each size that are looked at; all where there are no more. */
const GROUPS_OF_SIZE = 160;
/** Groups weighed, one after the other. */
const WEIGHINGS = 600;
const WEARINESS = 1.08;

interface Group {
  /** Its pairs of colours, as `a * kinds + b`, a < b. */
  readonly pairs: readonly number[];
  readonly gain: number;
}

/**
 * No plan that leaves one single for each colour of odd count has fewer crossings.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param plan    any plan; of even counts it tells whether crossings are odd or even in number
 * @param room    most words of open folds looked at in all
 * O(room x places), and O(groups) for each weighing. Rule M5.
 */
export function groupBound(
  colours: readonly number[],
  plan: readonly (readonly [number, number])[],
  room: number,
): number {
  const needs = new GroupNeeds(colours, plan, room);
  const { kinds, pairNeeds } = needs;
  const groups: Group[] = [];
  for (let size = 3; size <= Math.min(kinds, MOST_IN_GROUP); size++) {
    const before = groups.length;
    for (const members of groupsOf(kinds, size, needs.draw)) {
      if (needs.used > (room * (size - 2)) / (MOST_IN_GROUP - 2)) break;
      const group = needs.gainOf(members);
      if (group !== null) groups.push(group);
    }
    if (groups.length === before) break;
  }
  const sum = pairNeeds.reduce((all, need) => all + need, 0) + weigh(groups, kinds);
  // Weights are rounded; what they gain beyond a whole number by less than that is not believed.
  return Math.ceil(sum - 1e-6);
}

/** Groups of so many colours: all, or as many as are looked at. */
function* groupsOf(kinds: number, size: number, draw: (below: number) => number): Generator<number[]> {
  if (choose(kinds, size) <= GROUPS_OF_SIZE) {
    yield* combinations(kinds, size);
    return;
  }
  const order = Array.from({ length: kinds }, (_, kind) => kind);
  for (let i = 0; i < GROUPS_OF_SIZE; i++) {
    for (let at = 0; at < size; at++) {
      const other = at + draw(kinds - at);
      [order[at], order[other]] = [order[other]!, order[at]!];
    }
    yield order.slice(0, size).sort((a, b) => a - b);
  }
}

/** The most that weights found give. */
function weigh(groups: readonly Group[], kinds: number): number {
  if (groups.length === 0) return 0;
  const prices = new Float64Array(kinds * kinds).fill(1);
  const loads = new Float64Array(kinds * kinds);
  const weights = new Float64Array(groups.length);
  for (let step = 0; step < WEIGHINGS; step++) {
    let best = 0;
    let most = -1;
    groups.forEach(({ pairs, gain }, at) => {
      let price = 0;
      for (const pair of pairs) price += prices[pair]!;
      if (gain / price > most) {
        most = gain / price;
        best = at;
      }
    });
    weights[best]!++;
    for (const pair of groups[best]!.pairs) {
      prices[pair]! *= WEARINESS;
      loads[pair]!++;
    }
  }
  const heaviest = loads.reduce((one, other) => Math.max(one, other), 1);
  loads.forEach((load, pair) => {
    loads[pair] = load / heaviest;
  });
  let sum = groups.reduce((all, { gain }, at) => all + (gain * weights[at]!) / heaviest, 0);
  // What pairs can still bear goes to the groups that gain most for each of theirs.
  const byGain = [...groups].sort((a, b) => b.gain / b.pairs.length - a.gain / a.pairs.length);
  for (const { pairs, gain } of byGain) {
    const rest = pairs.reduce((least, pair) => Math.min(least, 1 - loads[pair]!), 1);
    if (rest <= 0) continue;
    sum += gain * rest;
    for (const pair of pairs) loads[pair]! += rest;
  }
  return sum;
}

class GroupNeeds {
  readonly kinds: number;
  /** What each two colours need by themselves, at `a * kinds + b`, a < b. */
  readonly pairNeeds: Float64Array;
  /** Words looked at so far. */
  used = 0;
  readonly #colours: readonly number[];
  readonly #plan: readonly (readonly [number, number])[];
  readonly #isEven: readonly boolean[];
  readonly #roomEach: number;
  #state = 12_345;

  constructor(colours: readonly number[], plan: readonly (readonly [number, number])[], room: number) {
    this.#colours = colours;
    this.#plan = plan;
    this.kinds = Math.max(...colours) + 1;
    this.#roomEach = room / 10;
    const counts = new Int32Array(this.kinds);
    for (const colour of colours) counts[colour]!++;
    this.#isEven = Array.from(counts, (count) => count % 2 === 0);
    this.pairNeeds = new Float64Array(this.kinds * this.kinds);
    for (let a = 0; a < this.kinds; a++)
      for (let b = a + 1; b < this.kinds; b++) this.pairNeeds[a * this.kinds + b] = this.#needOf([a, b], 0);
  }

  readonly draw = (below: number): number => {
    this.#state = (Math.imul(this.#state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((this.#state / 2 ** 32) * below);
  };

  /** Null when it gains nothing, or its word is too long to look at. */
  gainOf(members: readonly number[]): Group | null {
    const pairs: number[] = [];
    for (const a of members) for (const b of members) if (a < b) pairs.push(a * this.kinds + b);
    const known = pairs.reduce((sum, pair) => sum + this.pairNeeds[pair]!, 0);
    const gain = this.#needOf(members, known) - known;
    return gain > 0 ? { pairs, gain } : null;
  }

  /** The fewest crossings of a group, or as many as are proven. */
  #needOf(members: readonly number[], known: number): number {
    const word = this.#wordOf(members);
    let least = Math.max(known, crossingBound(word));
    if (word.length === 0 || word.length > LONGEST) return least;
    const isEven = members.every((kind) => this.#isEven[kind]);
    // Of even counts two colours need what crossingBound says.
    if (isEven && members.length === 2) return least;
    if (isEven && (least & 1) !== (this.#crossingsOf(members) & 1)) least++;
    for (let left = this.#roomEach; ; ) {
      const found = cancelSearch(word, least, left);
      left -= found.looked;
      this.used += found.looked;
      if (found.pairs !== null || !found.complete) return least;
      least += isEven ? 2 : 1;
    }
  }

  /** The word of a group, equal neighbours folded away, its colours numbered anew. */
  #wordOf(members: readonly number[]): number[] {
    const letters = this.#colours.filter((colour) => members.includes(colour));
    const word = reduceWord(letters).places.map((place) => letters[place]!);
    const known = [...new Set(word)];
    return word.map((colour) => known.indexOf(colour));
  }

  #crossingsOf(members: readonly number[]): number {
    const colours = this.#colours;
    const own = this.#plan.filter(([left]) => members.includes(colours[left]!));
    let crossings = 0;
    for (const [a, b] of own)
      for (const [c, d] of own) if (a < c && c < b && b < d && colours[a] !== colours[c]) crossings++;
    return crossings;
  }
}

function choose(n: number, k: number): number {
  let result = 1;
  for (let i = 1; i <= k; i++) result = (result * (n - k + i)) / i;
  return Math.round(result);
}

function* combinations(kinds: number, size: number, first = 0): Generator<number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let kind = first; kind <= kinds - size; kind++)
    for (const rest of combinations(kinds, size - 1, kind + 1)) yield [kind, ...rest];
}
