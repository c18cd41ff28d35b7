/**
 * Walks from neat order to neat order, looking for one from which few rows lead to the order asked.
 *
 * How many rows a neat order needs is counted without weaving. Its strings go from their places in the order asked to their places in
 * the neat one, and of all rows of exchanges those need fewest that exchange two neighbours exactly where they stand the wrong way round: of two orders
 * of which one lies below the other, it still does when neighbours are exchanged in both where they are wrong, so that no other choice gets ahead
 * (lifting property of the Bruhat order: Björner, Brenti, Combinatorics of Coxeter Groups, 2005, 2.2.7). For every k take the k strings that go
 * furthest left. Of these, the one at place q that has i others of them to its left goes to place i. It is there after q - i rows, or one more
 * where the first row does not take it left; each of the k - 1 - i behind it comes at least one row later, and none later than another
 * makes it. So the rows are the largest of all q - i + late(q) + (k - 1 - i) with i < q.
 *
 * What a sum has above the rows wanted is its excess; the walk is annealed until all excesses are 0: S. Kirkpatrick, C. D. Gelatt,
 * M. P. Vecchi, "Optimization by simulated annealing", Science 220 (1983) 671-680. A step moves one end of a fold over a few folds beside it, or
 * both ends, or an empty fold, or folds strings of one colour another way; the order stays neat. Strings of one colour never overtake each other, since
 * that would only take longer; so an order of colours says it all, and the k furthest left depend on k, and on nothing but how often each colour
 * comes among the first k. A step that changes a stretch of places therefore changes the sums of the k within it, and no others.
 */

import { Draws } from './draws.ts';

/** At last a step that adds so much excess is taken once in e times. */
const COLD = 0.3;
/** Steps between two coolings. */
const COOLING = 256;
const MOST_WORSE = 48;
/** What a step costs besides the sums it looks at, in sums. */
const A_STEP = 40;
/** An end moves over so many things at most, and so many places. */
const MOST_HOPS = 3;
const MOST_PLACES = 12;

export class NeatWalk {
  /** Colour at each place of the neat order. */
  readonly kind: Uint8Array;
  /** Place at the other end of the fold, -1 for a single. */
  readonly partner: Int16Array;
  /** Place in the order asked of the string at each place of the neat order. */
  readonly string: Int16Array;
  /** Sum of all excesses. */
  excess = 0;
  /** How many sums were looked at, and what else steps cost: what a walk takes on any machine. */
  sums = 0;
  readonly #n: number;
  readonly #colours: ArrayLike<number>;
  readonly #goal: Int16Array;
  /** 1 where the first row cannot take a string left. */
  readonly #late: Uint8Array;
  /** Of the strings up to place k of the neat order: first place of the order asked that has none, last one that has one, excess. */
  readonly #hole: Int16Array;
  readonly #last: Int16Array;
  readonly #excessAt: Int32Array;
  /** What stood at the places of a step before it. */
  readonly #kept: {
    readonly kind: Uint8Array;
    readonly partner: Int16Array;
    readonly string: Int16Array;
    readonly hole: Int16Array;
    readonly last: Int16Array;
    readonly excessAt: Int32Array;
  };
  readonly #chances = new Float64Array(MOST_WORSE);
  #rows = 0;
  readonly #draws: Draws;

  /**
   * @param colours colour number of each place of the order asked
   * @param start place at which the pattern's first row begins
   */
  constructor(colours: ArrayLike<number>, start: 0 | 1, seed: number) {
    const n = colours.length;
    this.#n = n;
    this.kind = new Uint8Array(n);
    this.partner = new Int16Array(n);
    this.string = new Int16Array(n);
    this.#goal = new Int16Array(n);
    // The row next to the pattern begins at the other place than the pattern's own.
    this.#late = Uint8Array.from({ length: n }, (_, place) => (((place - start) & 1) === 0 ? 0 : 1));
    this.#hole = new Int16Array(n);
    this.#last = new Int16Array(n);
    this.#excessAt = new Int32Array(n);
    this.#kept = {
      kind: new Uint8Array(n),
      partner: new Int16Array(n),
      string: new Int16Array(n),
      hole: new Int16Array(n),
      last: new Int16Array(n),
      excessAt: new Int32Array(n),
    };
    this.#draws = new Draws(seed);
    this.#colours = colours;
  }

  /** Stands at a neat order. @param kinds its colours @param pairs how it is folded, without crossings */
  stand(kinds: ArrayLike<number>, pairs: readonly (readonly [number, number])[]): void {
    const lists: number[][] = Array.from({ length: 1 + Math.max(...Array.from(kinds)) }, () => []);
    for (let place = 0; place < this.#n; place++) lists[this.#colours[place]!]!.push(place);
    const next = lists.map(() => 0);
    this.kind.set(kinds);
    this.partner.fill(-1);
    for (const [left, right] of pairs) {
      this.partner[left] = right;
      this.partner[right] = left;
    }
    for (let place = 0; place < this.#n; place++) {
      const kind = kinds[place]!;
      this.string[place] = lists[kind]![next[kind]!++]!;
      this.#goal[this.string[place]!] = place;
    }
    this.want(this.#rows);
  }

  /** Place in the neat order of the string at each place of the order asked. */
  get goals(): Int16Array {
    return this.#goal;
  }

  /** Wants so many rows. */
  want(rows: number): void {
    this.#rows = rows;
    this.#excessAt.fill(0);
    this.excess = 0;
    this.#count(0, this.#n);
  }

  /** Rows that the neat order needs. O(places^2). */
  get rows(): number {
    let most = 0;
    for (let k = 0; k < this.#n; k++) {
      let left = 0;
      for (let q = 0; q <= this.#last[k]!; q++) {
        if (this.#goal[q]! > k) continue;
        if (left < q) most = Math.max(most, q - 2 * left + this.#late[q]! + k);
        left++;
      }
    }
    return most;
  }

  /**
   * Cools once, until no excess is left or so many steps are done.
   * @param warm excess that a step may add, once in e times, at first
   * @returns whether none is left
   */
  cool(steps: number, warm: number): boolean {
    const rate = (COLD / warm) ** (COOLING / steps);
    let warmth = warm / rate;
    for (let step = 0; step < steps && this.excess > 0; step++) {
      if (step % COOLING === 0) {
        warmth *= rate;
        for (let more = 0; more < MOST_WORSE; more++)
          this.#chances[more] = 2 ** 32 * Math.exp(-more / warmth);
      }
      this.sums += A_STEP;
      const place = this.#draws.below(this.#n);
      const drawn = this.#draws.next() & 15;
      if (drawn < 2) this.#turn(place);
      else if (drawn < 4) this.#moveBoth(place);
      else this.#moveEnd(place);
    }
    return this.excess === 0;
  }

  /** Moves an end, or a single, over what hangs beside it; an empty fold as a whole now and then. */
  #moveEnd(place: number): void {
    const { partner } = this;
    const other = partner[place]!;
    const bits = this.#draws.next();
    const by = bits & 1 ? 1 : -1;
    if (other === place + by && (bits & 2) !== 0) {
      // The fold is empty on this side: it may go anywhere.
      const far = place + by + by * (1 + ((bits >>> 8) % MOST_HOPS));
      if (far < 0 || far >= this.#n) return;
      const low = Math.min(place, far);
      const high = Math.max(place, far);
      this.#keep(low, high);
      this.#shift(other, far);
      this.#shift(place, far - by);
      this.#settle(low, high, 0, -1);
      return;
    }
    let to = place;
    for (let hops = 1 + ((bits >>> 8) % MOST_HOPS); hops > 0; hops--) {
      const beside = to + by;
      if (beside < 0 || beside >= this.#n || beside === other) break;
      const end = partner[beside]!;
      // A single may stand anywhere. An end stays inside what encloses it.
      const next = end < 0 || other < 0 ? beside : end;
      if ((next - beside) * by < 0 || Math.abs(next - place) > MOST_PLACES) break;
      to = next;
    }
    if (to === place) return;
    const low = Math.min(place, to);
    const high = Math.max(place, to);
    this.#keep(low, high);
    this.#shift(place, to);
    this.#settle(low, high, 0, -1);
  }

  /** Moves both ends of a fold a little, over whatever is there, where nothing crosses it then. */
  #moveBoth(place: number): void {
    const { partner } = this;
    const other = partner[place]!;
    if (other < 0) return;
    const left = Math.min(place, other);
    const right = Math.max(place, other);
    const bits = this.#draws.next();
    const toLeft = left + ((bits >>> 4) % 5) - 2;
    const toRight = right + ((bits >>> 12) % 5) - 2;
    if (toLeft < 0 || toRight >= this.#n || toLeft >= toRight) return;
    const lowA = Math.min(left, toLeft);
    const highA = Math.max(left, toLeft);
    const lowB = Math.min(right, toRight);
    const highB = Math.max(right, toRight);
    if (highA >= lowB) return;
    this.#keep(lowA, highA);
    this.#keep(lowB, highB);
    this.#shift(left, toLeft);
    this.#shift(right, toRight);
    for (let at = toLeft + 1; at < toRight; at++) {
      const end = partner[at]!;
      if (end >= 0 && (end < toLeft || end > toRight)) {
        this.#restore(lowA, highA);
        this.#restore(lowB, highB);
        return;
      }
    }
    this.#settle(lowA, highA, lowB, highB);
  }

  /** Folds strings of one colour another way, where nothing crosses then; the order stays as it is. */
  #turn(place: number): void {
    const { partner, kind } = this;
    const q = this.#draws.below(this.#n);
    const p = place;
    if (kind[p] !== kind[q] || p === q || partner[p] === q) return;
    const endP = partner[p]!;
    const endQ = partner[q]!;
    if (endP < 0 || endQ < 0) {
      // The single takes the place of the far end.
      const freed = endP < 0 ? endQ : endP;
      const low = Math.min(p, q);
      const high = Math.max(p, q);
      for (let at = low + 1; at < high; at++) {
        const end = partner[at]!;
        if (at !== freed && end >= 0 && (end < low || end > high)) return;
      }
      partner[freed] = -1;
      partner[p] = q;
      partner[q] = p;
      return;
    }
    const a = Math.min(p, q, endP, endQ);
    const d = Math.max(p, q, endP, endQ);
    const isInside = partner[a] === d;
    const b = isInside ? Math.min(...(p === a || p === d ? [q, endQ] : [p, endP])) : partner[a]!;
    const c = isInside ? partner[b]! : partner[d]!;
    // Beside each other a b, c d; inside a d, b c. The stretch that was within neither, or within the outer one alone, must be whole.
    const from = isInside ? a : b;
    const to = isInside ? b : c;
    for (let at = from + 1; at < to; at++) {
      const end = partner[at]!;
      if (end >= 0 && (end < from || end > to)) return;
    }
    this.#fold(a, isInside ? b : d);
    this.#fold(c, isInside ? d : b);
  }

  #fold(p: number, q: number): void {
    this.partner[p] = q;
    this.partner[q] = p;
  }

  /** Takes what hangs at one place to another; what is between moves up by one. */
  #shift(from: number, to: number): void {
    const { kind, partner, string } = this;
    const goal = this.#goal;
    const moved = kind[from]!;
    const end = partner[from]!;
    let held = string[from]!;
    const by = to > from ? 1 : -1;
    for (let at = from; at !== to; at += by) {
      const next = at + by;
      kind[at] = kind[next]!;
      const other = partner[next]!;
      partner[at] = other;
      // The moved end's own partner is told at the end.
      if (other >= 0 && next !== end) partner[other] = at;
      // Strings of one colour do not overtake each other: the moved one takes the place of the last of its colour.
      if (kind[next] === moved) {
        const taken = held;
        held = string[next]!;
        string[at] = taken;
      } else string[at] = string[next]!;
      goal[string[at]!] = at;
    }
    kind[to] = moved;
    string[to] = held;
    goal[held] = to;
    const endNow = this.#endAfter(end, from, to, by);
    partner[to] = endNow;
    if (endNow >= 0) partner[endNow] = to;
  }

  /** Where the other end is after a shift. */
  #endAfter(end: number, from: number, to: number, by: number): number {
    if (end < 0) return -1;
    const isBetween = by > 0 ? end > from && end <= to : end < from && end >= to;
    return isBetween ? end - by : end;
  }

  #keep(low: number, high: number): void {
    const { kind, partner, string, hole, last, excessAt } = this.#kept;
    for (let at = low; at <= high; at++) {
      kind[at] = this.kind[at]!;
      partner[at] = this.partner[at]!;
      string[at] = this.string[at]!;
      hole[at] = this.#hole[at]!;
      last[at] = this.#last[at]!;
      excessAt[at] = this.#excessAt[at]!;
    }
  }

  #restore(low: number, high: number): void {
    const { kind, partner, string, hole, last, excessAt } = this.#kept;
    for (let at = low; at <= high; at++) {
      this.kind[at] = kind[at]!;
      this.partner[at] = partner[at]!;
      if (partner[at]! >= 0) this.partner[partner[at]!] = at;
      this.string[at] = string[at]!;
      this.#goal[string[at]!] = at;
      this.#hole[at] = hole[at]!;
      this.#last[at] = last[at]!;
      this.#excessAt[at] = excessAt[at]!;
    }
  }

  /** Counts the changed stretches, the second may be empty, and takes the step back where it is not worth it. */
  #settle(lowA: number, highA: number, lowB: number, highB: number): void {
    const before = this.excess;
    this.#count(lowA, highA);
    if (highB >= lowB) this.#count(lowB, highB);
    const more = this.excess - before;
    if (more <= 0 || (more < MOST_WORSE && this.#draws.next() < this.#chances[more]!)) return;
    this.excess = before;
    this.#restore(lowA, highA);
    if (highB >= lowB) this.#restore(lowB, highB);
  }

  /** Counts anew what the strings up to each of these places come to. */
  #count(low: number, high: number): void {
    const goal = this.#goal;
    const late = this.#late;
    let hole = low === 0 ? 0 : this.#hole[low - 1]!;
    let last = low === 0 ? -1 : this.#last[low - 1]!;
    let change = 0;
    for (let k = low; k < high; k++) {
      const string = this.string[k]!;
      if (string > last) last = string;
      while (hole <= last && goal[hole]! <= k) hole++;
      let excess = 0;
      let bound = k - 2 * hole - this.#rows;
      for (let q = hole + 1; q <= last; q++)
        if (goal[q]! <= k) {
          const above = bound + q + late[q]!;
          if (above > 0) excess += above;
          bound -= 2;
        }
      this.sums += last - hole + 4;
      change += excess - this.#excessAt[k]!;
      this.#hole[k] = hole;
      this.#last[k] = last;
      this.#excessAt[k] = excess;
    }
    this.excess += change;
  }
}
