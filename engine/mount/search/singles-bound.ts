/**
 * A lower bound on the places to recolour, by prices for the singles.
 *
 * After recolouring, an order is neat when its places pair without crossings and the singles have colours of their own. Let a
 * colour have s singles and m ends in pairs of two colours: its share of the places to recolour is m/2 + max(0, s - 1), and
 * m + s is even or odd as its places are. The first single is free, the others are not: that ties together places that lie far
 * apart, and no table over stretches of places sees it. But the share is at least
 *
 * - m/2, and m/2 + s - 1;
 * - s/2 for a colour of even count, since m + s is even: (0, 2) costs 1, (1, 1) costs 1/2.
 *
 * These planes are the lower convex hull of the share. Any mixture of them prices every single and every end by itself, and a
 * table of nested pairings gives the least total of such prices: a lower bound. Where a colour is known to have none, one, or
 * two and more singles, its share is a plane, and a multiplier holds it there (Lagrange). The best mixture is sought by
 * subgradient steps towards the best price known (B. T. Polyak, "Minimization of unsmooth functionals", 1969; M. Held, P. Wolfe,
 * H. P. Crowder, "Validation of subgradient optimization", Math. Programming 6 (1974) 62-88). Sums are whole numbers, so what is
 * proven is proven.
 */
import { NEVER, NestedPrices } from './nested-prices.ts';

/** One place to recolour; even, so that halves are whole. */
const UNIT = 2048;
/** Multipliers stay within so many units of 0. */
const MOST_UNITS = 4;

/** What is known about the singles of a colour. */
export type Known = 'nothing' | 'none' | 'one' | 'more';

/** What a part of the search takes for granted. */
export interface Part {
  readonly known: readonly Known[];
  /** By place: 0 may be single, 1 must be, 2 may not be. */
  readonly rules: Uint8Array;
  /** Prices to begin with, from a part around this one; see {@link SinglesBound}. */
  readonly prices: Prices;
}

/** Multipliers by colour; what they mean depends on what is known. `limit` is that of the number of singles. */
interface Prices {
  readonly first: Float64Array;
  readonly second: Float64Array;
  readonly limit: number;
}

/** A nested pairing, its places to recolour and its singles. */
export interface Priced {
  readonly partner: Int16Array;
  readonly price: number;
  readonly singles: number;
}

/** What a part of the search comes to. */
export interface Bounded {
  /** No recolouring in this part changes fewer places. */
  readonly bound: number;
  readonly prices: Prices;
  /** Mean over the last steps: singles of each colour, and how often each place is one. */
  readonly singlesOf: Float64Array;
  readonly singleAt: Float64Array;
  /** Mean share of each colour less what its planes take for it. */
  readonly gaps: Float64Array;
}

export class SinglesBound {
  readonly placesOf: readonly (readonly number[])[];
  /** Tables filled so far. */
  tables = 0;
  readonly #colours: readonly number[];
  readonly #kinds: number;
  readonly #mostSingles: number;
  readonly #table: NestedPrices;
  readonly #single: Int32Array;
  readonly #end: Int32Array;
  readonly #must: Uint8Array;
  #state = 12_345;

  /**
   * @param colours colour number of each place, numbers from 0 without gaps
   * @param mostSingles most singles allowed
   */
  constructor(colours: readonly number[], mostSingles: number) {
    this.#colours = colours;
    this.#kinds = Math.max(...colours) + 1;
    this.placesOf = Array.from({ length: this.#kinds }, (_, kind) =>
      colours.flatMap((colour, place) => (colour === kind ? [place] : [])),
    );
    this.#mostSingles = mostSingles;
    this.#table = new NestedPrices(colours);
    this.#single = new Int32Array(colours.length);
    this.#end = new Int32Array(colours.length);
    this.#must = new Uint8Array(colours.length);
  }

  /** Where nothing is known yet. */
  whole(): Part {
    const first = new Float64Array(this.#kinds);
    const second = new Float64Array(this.#kinds);
    this.placesOf.forEach((places, kind) => {
      if (places.length % 2 === 0) second[kind] = 1;
      else first[kind] = 0.5;
    });
    return {
      known: new Array<Known>(this.#kinds).fill(this.#mostSingles === 0 ? 'none' : 'nothing'),
      rules: new Uint8Array(this.#colours.length),
      prices: { first, second, limit: 0 },
    };
  }

  /**
   * The bound of a part.
   * @param best   price of the best recolouring known, now and whenever asked; the search ends once none better can be here
   * @param onFound told every pairing met that keeps the number of singles
   * @param steps  most tables filled
   */
  bound(part: Part, best: () => number, onFound: (found: Priced) => void, steps: number): Bounded {
    const { known, rules } = part;
    const first = part.prices.first.slice();
    const second = part.prices.second.slice();
    let { limit } = part.prices;
    let prices: Prices = part.prices;
    let highest = Number.NEGATIVE_INFINITY;
    let boldness = 1;
    let idle = 0;
    const singlesOf = new Float64Array(this.#kinds);
    const singleAt = new Float64Array(this.#colours.length);
    const endsOf = new Float64Array(this.#kinds);
    const shares = new Float64Array(this.#kinds);
    const s = new Int32Array(this.#kinds);
    const m = new Int32Array(this.#kinds);
    const slopeFirst = new Float64Array(this.#kinds);
    const slopeSecond = new Float64Array(this.#kinds);
    for (let step = 0; step < steps; step++) {
      const constant = this.#setPrices(known, rules, first, second, limit);
      const prices_ = { single: this.#single, end: this.#end, mustBeSingle: this.#must };
      const least = this.#table.fill(prices_);
      this.tables++;
      if (least >= NEVER / 2) return { bound: NEVER, prices, singlesOf, singleAt, gaps: shares };
      const value = (least + constant) / UNIT;
      if (value > highest) {
        if (value > highest + 1e-3) idle = 0;
        highest = value;
        prices = { first: first.slice(), second: second.slice(), limit };
      }
      const partner = this.#table.trace(prices_, this.#draw);
      const found = this.#priceOf(partner, s, m);
      if (found.singles <= this.#mostSingles) onFound(found);
      if (Math.ceil(highest) >= best()) break;
      if (++idle > 12) {
        boldness *= 0.6;
        idle = 0;
        if (boldness < 0.02) break;
      }
      const keep = step === 0 ? 0 : 0.9;
      let square = 0;
      for (let kind = 0; kind < this.#kinds; kind++) {
        const [one, two] = slopesOf(known[kind]!, this.placesOf[kind]!.length % 2 === 0, s[kind]!, m[kind]!);
        slopeFirst[kind] = one;
        slopeSecond[kind] = two;
        square += one * one + two * two;
        singlesOf[kind] = keep * singlesOf[kind]! + (1 - keep) * s[kind]!;
        const share = m[kind]! / 2 + Math.max(0, s[kind]! - 1);
        shares[kind] = keep * shares[kind]! + (1 - keep) * share;
        endsOf[kind] = keep * endsOf[kind]! + (1 - keep) * m[kind]!;
      }
      for (let place = 0; place < partner.length; place++)
        singleAt[place] = keep * singleAt[place]! + (1 - keep) * (partner[place]! < 0 ? 1 : 0);
      const slopeLimit = found.singles - this.#mostSingles;
      if (slopeLimit > 0 || limit > 0) square += slopeLimit * slopeLimit;
      if (square === 0) break;
      const stride = (boldness * Math.max(0.1, best() - 0.9 - value)) / square;
      for (let kind = 0; kind < this.#kinds; kind++) {
        first[kind]! += stride * slopeFirst[kind]!;
        second[kind]! += stride * slopeSecond[kind]!;
        this.#keepInside(known[kind]!, kind, first, second);
      }
      if (slopeLimit > 0 || limit > 0) limit = Math.min(MOST_UNITS, Math.max(0, limit + stride * slopeLimit));
    }
    const gaps = shares.map((share, kind) => {
      const [singles, half] = [singlesOf[kind]!, endsOf[kind]! / 2];
      const isEven = this.placesOf[kind]!.length % 2 === 0;
      return share - Math.max(half, half + singles - 1, isEven ? singles / 2 : 0);
    });
    return { bound: Math.ceil(highest), prices, singlesOf, singleAt, gaps };
  }

  /**
   * The cheapest pairing when only the places given are free singles and all others cost one, or, where those would be too
   * many, may not be. Null where there is none.
   */
  around(free: readonly number[]): Priced | null {
    this.#end.fill(UNIT / 2);
    this.#must.fill(0);
    const prices = { single: this.#single, end: this.#end, mustBeSingle: this.#must };
    for (const others of [UNIT, NEVER]) {
      this.#single.fill(others);
      for (const place of free) this.#single[place] = 0;
      this.tables++;
      if (this.#table.fill(prices) >= NEVER / 2) return null;
      const counts = new Int32Array(this.#kinds);
      const found = this.#priceOf(this.#table.trace(prices, this.#draw), counts, counts.slice());
      if (found.singles <= this.#mostSingles) return found;
    }
    return null;
  }

  readonly #draw = (below: number): number => {
    this.#state = (Math.imul(this.#state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((this.#state / 2 ** 32) * below);
  };

  /** Fills in the price of every single and every end; gives what does not depend on the pairing. */
  #setPrices(
    known: readonly Known[],
    rules: Uint8Array,
    first: Float64Array,
    second: Float64Array,
    limit: number,
  ): number {
    const ofLimit = Math.round(limit * UNIT);
    let constant = -ofLimit * this.#mostSingles;
    for (let kind = 0; kind < this.#kinds; kind++) {
      const one = Math.round(first[kind]! * UNIT);
      const two = Math.round((second[kind]! * UNIT) / 2) * 2;
      let single = NEVER;
      let end = UNIT / 2;
      switch (known[kind]!) {
        case 'nothing':
          single = one + two / 2;
          end = (UNIT - two) / 2;
          constant -= one;
          break;
        case 'one':
          single = one;
          constant -= one;
          break;
        case 'more':
          single = UNIT - one;
          constant += 2 * one - UNIT;
          break;
        case 'none':
          break;
      }
      for (const place of this.placesOf[kind]!) {
        const rule = rules[place]!;
        this.#single[place] = single === NEVER || rule === 2 ? NEVER : single + ofLimit;
        this.#end[place] = end;
        this.#must[place] = rule === 1 ? 1 : 0;
      }
    }
    return constant;
  }

  /** Singles and ends of each colour into `s` and `m`, and what the pairing really costs. */
  #priceOf(partner: Int16Array, s: Int32Array, m: Int32Array): Priced {
    const colours = this.#colours;
    s.fill(0);
    m.fill(0);
    let price = 0;
    let singles = 0;
    for (let place = 0; place < partner.length; place++) {
      const other = partner[place]!;
      if (other < 0) {
        singles++;
        if (s[colours[place]!]!++ > 0) price++;
      } else if (colours[other] !== colours[place]) {
        m[colours[place]!]!++;
        if (other > place) price++;
      }
    }
    return { partner, price, singles };
  }

  #keepInside(known: Known, kind: number, first: Float64Array, second: Float64Array): void {
    if (known === 'one') first[kind] = Math.min(MOST_UNITS, Math.max(-MOST_UNITS, first[kind]!));
    else if (known === 'more') first[kind] = Math.min(MOST_UNITS, Math.max(0, first[kind]!));
    else if (known === 'nothing') {
      const isEven = this.placesOf[kind]!.length % 2 === 0;
      let one = Math.max(0, first[kind]!);
      let two = isEven ? Math.max(0, second[kind]!) : 0;
      const over = one + two - 1;
      if (over > 0) {
        // The nearest point of the triangle one, two >= 0, one + two <= 1.
        one -= isEven ? over / 2 : over;
        two -= isEven ? over / 2 : 0;
        if (one < 0) [one, two] = [0, 1];
        if (two < 0) [one, two] = [1, 0];
      }
      first[kind] = one;
      second[kind] = two;
    }
  }
}

/** How the bound changes with the two multipliers of a colour that has s singles and m ends. */
function slopesOf(known: Known, isEven: boolean, s: number, m: number): [number, number] {
  switch (known) {
    case 'nothing':
      return [s - 1, isEven ? (s - m) / 2 : 0];
    case 'one':
      return [s - 1, 0];
    case 'more':
      return [2 - s, 0];
    case 'none':
      return [0, 0];
  }
}
