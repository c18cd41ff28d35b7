/**
 * Folds one colour anew, the folds of all others as they are.
 *
 * With the others fixed, a fold between two places costs the folds of other colours that it crosses, whatever its own colour
 * does besides; and folds of one colour need not cross each other. So the best way is a nested pairing with costs, found by
 * the recurrence of Nussinov, Pieczenik, Griggs and Kleitman (1978). A colour of odd count keeps one single, placed as best.
 */

import { CROSSING } from './mount-cost.ts';

/** The places of each colour, and who folds with whom. */
export class Folding {
  readonly size: number;
  /** Place at the other end of the fold, -1 for a single. */
  readonly partner: Int16Array;
  /** Rising places of each colour. */
  readonly placesOf: readonly Int16Array[];
  readonly #best: Int32Array;
  readonly #choice: Int16Array;
  readonly #costs: Int32Array;

  /** @param colours colour number of each place, numbers from 0 without gaps, at most 200 places */
  constructor(colours: ArrayLike<number>, pairs: readonly (readonly [number, number])[]) {
    this.size = colours.length;
    this.partner = new Int16Array(this.size).fill(-1);
    for (const [left, right] of pairs) {
      this.partner[left] = right;
      this.partner[right] = left;
    }
    const lists: number[][] = [];
    for (let place = 0; place < this.size; place++) {
      const colour = colours[place]!;
      while (lists.length <= colour) lists.push([]);
      lists[colour]!.push(place);
    }
    this.placesOf = lists.map((list) => Int16Array.from(list));
    const most = Math.max(0, ...lists.map((list) => list.length));
    this.#best = new Int32Array((most + 2) * (most + 2));
    this.#choice = new Int16Array((most + 2) * (most + 2));
    this.#costs = new Int32Array(most * most);
  }

  /** The folds as `[left, right]`, by their left places. */
  get pairs(): [number, number][] {
    const pairs: [number, number][] = [];
    for (let left = 0; left < this.size; left++)
      if (this.partner[left]! > left) pairs.push([left, this.partner[left]!]);
    return pairs;
  }

  /**
   * Folds the colour anew in the best way that the others leave.
   * @returns whether the colour now costs less
   * O(m^3 + m n) for m places of the colour.
   */
  refold(colour: number): boolean {
    const places = this.placesOf[colour]!;
    const m = places.length;
    if (m < 3) return false;
    const before = this.#costOf(places);
    this.#fillCosts(places);
    const after = this.#fold(m);
    if (after >= before) return false;
    this.#apply(places);
    return true;
  }

  #costOf(places: Int16Array): number {
    const partner = this.partner;
    let own = 0;
    let sum = 0;
    for (let i = 0; i < places.length; i++) {
      const left = places[i]!;
      const right = partner[left]!;
      if (right <= left) continue;
      sum += right - left;
      for (let at = left + 1; at < right; at++) {
        const other = partner[at]!;
        if (other >= 0 && (other < left || other > right)) sum += CROSSING;
      }
      // Folds of one colour may cross each other in what a caller gives; both of them count that crossing here.
      for (let j = i + 1; j < places.length && places[j]! < right; j++)
        if (partner[places[j]!]! > right) own += CROSSING;
    }
    return sum - own;
  }

  #fillCosts(places: Int16Array): void {
    const partner = this.partner;
    const m = places.length;
    // Out of sight meanwhile: below zero, and a single stays one.
    for (let i = 0; i < m; i++) partner[places[i]!] = -2 - partner[places[i]!]!;
    for (let i = 0; i < m; i++) {
      const from = places[i]!;
      let crossing = 0;
      for (let j = i + 1, at = from + 1; j < m; j++) {
        const to = places[j]!;
        for (; at < to; at++) {
          const other = partner[at]!;
          // A fold whose first end was already inside is enclosed; any other end inside crosses.
          if (other >= 0) crossing += other > from && other < at ? -1 : 1;
        }
        this.#costs[i * m + j] = crossing * CROSSING + (to - from);
      }
    }
    for (let i = 0; i < m; i++) partner[places[i]!] = -2 - partner[places[i]!]!;
  }

  /** Least cost of folding m places with one single where m is odd. best[i * w + e]: places i to e - 1. */
  #fold(m: number): number {
    const best = this.#best;
    const choice = this.#choice;
    const costs = this.#costs;
    const w = m + 1;
    for (let i = 0; i <= m; i++) best[i * w + i] = 0;
    const isOdd = m % 2 === 1;
    for (let i = m - 1; i >= 0; i--) {
      for (let e = i + 2; e <= m; e += 2) {
        let least = 2 ** 31 - 1;
        let at = -1;
        for (let k = i + 1; k < e; k += 2) {
          const cost = costs[i * m + k]! + best[(i + 1) * w + k]! + best[(k + 1) * w + e]!;
          if (cost < least) {
            least = cost;
            at = k;
          }
        }
        best[i * w + e] = least;
        choice[i * w + e] = at;
      }
      if (!isOdd) continue;
      for (let e = i + 1; e <= m; e += 2) {
        let least = best[(i + 1) * w + e]!;
        let at = -1;
        for (let k = i + 1; k < e; k++) {
          const cost = costs[i * m + k]! + best[(i + 1) * w + k]! + best[(k + 1) * w + e]!;
          if (cost < least) {
            least = cost;
            at = k;
          }
        }
        best[i * w + e] = least;
        choice[i * w + e] = at;
      }
    }
    return best[m]!;
  }

  #apply(places: Int16Array): void {
    const m = places.length;
    const w = m + 1;
    const open: [number, number][] = [[0, m]];
    for (let part = open.pop(); part !== undefined; part = open.pop()) {
      const [from, end] = part;
      if (from >= end) continue;
      const k = this.#choice[from * w + end]!;
      if (k < 0) {
        this.partner[places[from]!] = -1;
        open.push([from + 1, end]);
        continue;
      }
      this.partner[places[from]!] = places[k]!;
      this.partner[places[k]!] = places[from]!;
      open.push([from + 1, k], [k + 1, end]);
    }
  }
}
