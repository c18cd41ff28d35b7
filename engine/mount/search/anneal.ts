/**
 * Few crossings by annealing: S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by simulated annealing", Science 220
 * (1983) 671-680.
 *
 * A step takes two folds of one colour and folds their four places p1 < p2 < p3 < p4 the other way: beside each other (p1 p2, p3 p4)
 * or one inside the other (p1 p4, p2 p3). Let A, B, C be the stretches between the four and O what lies outside. Any other fold
 * crosses the two folds equally often both ways, unless it joins A with C (two crossings beside, none inside) or B with O
 * (none beside, two inside). So counting those two kinds is all that a step costs.
 */
import type { Tell } from './tell.ts';

/** Crossings that half the worsening steps may add, at first and at last. */
const WARM = 2.2;
const COLD = 0.25;
/** Steps between two coolings. */
const COOLING = 512;
const MOST_WORSE = 32;

export class Annealing {
  /** Place at the other end of the fold, -1 for a single. */
  readonly partner: Int16Array;
  readonly #colours: ArrayLike<number>;
  readonly #placesOf: Int16Array[] = [];
  /** Places of colours that can be folded in another way. */
  readonly #drawn: Int16Array;
  /** Chances, of 2^32, of taking a step that adds so many crossings. */
  readonly #chances = new Float64Array(MOST_WORSE);
  #state = 2_463_534_242;

  /**
   * @param colours colour number of each place, numbers from 0 without gaps
   * @param pairs   where to begin: equal colours joined, one single for each colour of odd count
   */
  constructor(colours: ArrayLike<number>, pairs: readonly (readonly [number, number])[]) {
    const n = colours.length;
    this.#colours = colours;
    this.partner = new Int16Array(n).fill(-1);
    for (const [left, right] of pairs) {
      this.partner[left] = right;
      this.partner[right] = left;
    }
    const lists: number[][] = [];
    for (let place = 0; place < n; place++) {
      while (lists.length <= colours[place]!) lists.push([]);
      lists[colours[place]!]!.push(place);
    }
    this.#placesOf = lists.map((list) => Int16Array.from(list));
    this.#drawn = Int16Array.from(lists.flatMap((list) => (list.length > 2 ? list : [])));
  }

  /** The folds as `[left, right]`, by their left places. */
  get pairs(): [number, number][] {
    return [...this.partner].flatMap((right, left): [number, number][] =>
      right > left ? [[left, right]] : [],
    );
  }

  /**
   * Cools once from warm to cold; leaves the fewest crossings met in `partner`.
   * @param crossings of the folds as they are
   * @param steps two folds are looked at so many times
   * @param tell told the share done now and then
   * @returns the fewest crossings met. Deterministic; each further call goes another way. O(steps x places).
   */
  cool(crossings: number, steps: number, enough: number, tell: Tell): number {
    const drawn = this.#drawn;
    const partner = this.partner;
    if (drawn.length === 0) return crossings;
    let now = crossings;
    let least = crossings;
    let kept = partner.slice();
    const rate = (COLD / WARM) ** (COOLING / steps);
    let warmth = WARM / rate;
    for (let step = 0; step < steps && least > enough; step++) {
      if (step % COOLING === 0) {
        warmth *= rate;
        for (let more = 0; more < MOST_WORSE; more++)
          this.#chances[more] = 2 ** 32 * Math.exp(-more / warmth);
        if (step % (64 * COOLING) === 0) tell(step / steps);
      }
      const p = drawn[this.#draw(drawn.length)]!;
      const places = this.#placesOf[this.#colours[p]!]!;
      const q = places[this.#draw(places.length)]!;
      if (q === p || partner[p] === q) continue;
      const more = partner[p]! < 0 || partner[q]! < 0 ? this.#moveSingle(p, q) : this.#turn(p, q);
      now += more;
      if (now >= least) continue;
      least = now;
      kept = partner.slice();
    }
    partner.set(kept);
    return least;
  }

  /** 32 random bits: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), no. 14. */
  #next(): number {
    let x = this.#state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.#state = x;
    return x >>> 0;
  }

  #draw(below: number): number {
    return Math.floor((this.#next() * below) / 2 ** 32);
  }

  #isTaken(more: number): boolean {
    return more <= 0 || (more < MOST_WORSE && this.#next() < this.#chances[more]!);
  }

  /** Folds the four places the other way; gives how many crossings more that makes, 0 where it was not done. */
  #turn(p: number, q: number): number {
    const partner = this.partner;
    const [p1, p2] = ordered(p, partner[p]!);
    const [q1, q2] = ordered(q, partner[q]!);
    // a < b < c < d
    const a = Math.min(p1, q1);
    const d = Math.max(p2, q2);
    const [b, c] = ordered(Math.max(p1, q1), Math.min(p2, q2));
    const isCrossed = partner[a] === c;
    const isInside = partner[a] === d;
    let change = 0;
    for (let at = b + 1; at < c; at++) {
      const other = partner[at]!;
      if (other >= 0 && (other < a || other > d)) change++;
    }
    const fewer = change;
    if (b - a < d - c)
      for (let at = a + 1; at < b; at++) {
        const other = partner[at]!;
        if (other > c && other < d) change--;
      }
    else
      for (let at = c + 1; at < d; at++) {
        const other = partner[at]!;
        if (other > a && other < b) change--;
      }
    // `change`: half of what lying inside costs more than lying beside.
    if (isCrossed) {
      const across = fewer - change;
      if (change <= 0) this.#fold(a, d, b, c);
      else this.#fold(a, b, c, d);
      return -1 - 2 * Math.max(fewer, across);
    }
    const more = isInside ? -2 * change : 2 * change;
    if (!this.#isTaken(more)) return 0;
    if (isInside) this.#fold(a, b, c, d);
    else this.#fold(a, d, b, c);
    return more;
  }

  /** The single takes the place of one end of a fold. */
  #moveSingle(p: number, q: number): number {
    const partner = this.partner;
    // `single` is to be folded with `end`, whose partner becomes the single.
    const single = partner[p]! < 0 ? p : q;
    const end = single === p ? q : p;
    const freed = partner[end]!;
    const before = this.#crossingsOf(end, freed);
    partner[freed] = -1;
    partner[end] = single;
    partner[single] = end;
    const more = this.#crossingsOf(single, end) - before;
    if (this.#isTaken(more)) return more;
    partner[single] = -1;
    partner[end] = freed;
    partner[freed] = end;
    return 0;
  }

  /** Folds that cross the fold of the two places. */
  #crossingsOf(p: number, q: number): number {
    const [left, right] = ordered(p, q);
    let count = 0;
    for (let at = left + 1; at < right; at++) {
      const other = this.partner[at]!;
      if (other >= 0 && (other < left || other > right)) count++;
    }
    return count;
  }

  #fold(a: number, b: number, c: number, d: number): void {
    this.partner[a] = b;
    this.partner[b] = a;
    this.partner[c] = d;
    this.partner[d] = c;
  }
}

function ordered(a: number, b: number): readonly [number, number] {
  return a < b ? [a, b] : [b, a];
}
