/** Branch and bound over how many singles each colour has, and where. */
import { type Bounded, type Known, type Part, type Priced, SinglesBound } from './singles-bound.ts';

/** Tables filled for the whole, and for each part of it. */
const FIRST_TABLES = 300;
const PART_TABLES = 40;
/** Pairings looked at more closely before the search divides. */
const CLOSER = 24;

interface Open {
  readonly part: Part;
  readonly bound: number;
}

/** Looks for the nested pairing with the fewest places to recolour. */
export class RecolourSearch {
  best: Priced;
  readonly #bounds: SinglesBound;
  readonly #mostSingles: number;
  readonly #stepsEach: number;
  #open: Open[];
  #isFirst = true;

  /**
   * @param numbers colour number of each place, numbers from 0 without gaps
   * @param mostSingles most singles allowed; 1 or more where the places are odd in number
   */
  constructor(numbers: readonly number[], mostSingles: number) {
    this.#bounds = new SinglesBound(numbers, mostSingles);
    this.#mostSingles = mostSingles;
    this.#stepsEach = numbers.length ** 3 / 6;
    this.best = neighboursPaired(numbers);
    this.#open = [{ part: this.#bounds.whole(), bound: 0 }];
  }

  /** Steps of the pairing table taken so far. */
  get steps(): number {
    return this.#bounds.tables * this.#stepsEach;
  }

  /** Least bound of what is still open, or the price found. */
  get lowerBound(): number {
    return this.#open.reduce((least, { bound }) => Math.min(least, bound), this.best.price);
  }

  /** Looks at one part, the most promising one; false when nothing is left to do. */
  step(): boolean {
    this.#open = this.#open.filter(({ bound }) => bound < this.best.price);
    let at = this.#open.length - 1;
    for (let i = 0; i < this.#open.length; i++) if (this.#open[i]!.bound < this.#open[at]!.bound) at = i;
    const open = this.#open[at];
    if (open === undefined) return false;
    this.#open.splice(at, 1);
    const close: Priced[] = [];
    const bounded = this.#bounds.bound(
      open.part,
      () => this.best.price,
      (found) => {
        this.#take(found);
        if (this.#isFirst) close.push(found);
      },
      this.#isFirst ? FIRST_TABLES : PART_TABLES,
    );
    this.#isFirst = false;
    const bound = Math.max(open.bound, bounded.bound);
    for (const found of close.slice(-CLOSER)) {
      if (bound >= this.best.price) break;
      this.#lookAround(found);
    }
    if (bound >= this.best.price) return true;
    const parts = this.#divide(open.part, bounded);
    // A part that does not divide has its singles fixed, so its bound would be its price.
    if (parts === null) this.#open.push({ part: open.part, bound });
    else for (const part of parts) this.#open.push({ part, bound });
    return parts !== null;
  }

  #take(found: Priced): void {
    const { price, singles } = this.best;
    if (found.price < price || (found.price === price && found.singles < singles)) this.best = found;
  }

  /** The cheapest pairing that keeps one single of each colour, over and over while that gains. */
  #lookAround(from: Priced): void {
    for (let now = from; ; ) {
      const free = this.#bounds.placesOf.flatMap((places) => {
        const singles = places.filter((place) => now.partner[place]! < 0);
        return singles.length === 0 ? [] : [singles[singles.length >> 1]!];
      });
      const next = this.#bounds.around(free);
      if (next === null) return;
      this.#take(next);
      if (next.price >= now.price) return;
      now = next;
    }
  }

  /** Parts that together hold all that the part holds; null when its singles are fixed. */
  #divide(part: Part, bounded: Bounded): Part[] | null {
    const { known } = part;
    const { gaps, singleAt } = bounded;
    let open = -1;
    let spread = -1;
    let most = 0.02;
    for (let kind = 0; kind < known.length; kind++) {
      if (known[kind] === 'nothing' && (open < 0 || gaps[kind]! > gaps[open]!)) open = kind;
      if (known[kind] !== 'one' && known[kind] !== 'more') continue;
      const doubt = this.#undecided(part, kind).reduce((sum, place) => {
        const share = singleAt[place]!;
        return sum + share * (1 - share);
      }, 0);
      if (doubt > most) {
        spread = kind;
        most = doubt;
      }
    }
    if (open >= 0 && (gaps[open]! > 0.02 || spread < 0)) return this.#byCount(part, bounded, open);
    if (spread < 0)
      spread = known.findIndex(
        (how, kind) => (how === 'one' || how === 'more') && this.#undecided(part, kind).length > 0,
      );
    if (spread < 0) return null;
    return known[spread] === 'one'
      ? this.#byHalves(part, bounded, spread)
      : this.#byPlace(part, bounded, spread);
  }

  #undecided({ rules }: Part, kind: number): number[] {
    return this.#bounds.placesOf[kind]!.filter((place) => rules[place] === 0);
  }

  /** No single, one, more of a colour. */
  #byCount(part: Part, { prices }: Bounded, kind: number): Part[] {
    const counts = this.#bounds.placesOf[kind]!.length === 1 ? ['none', 'one'] : ['none', 'one', 'more'];
    return (counts as Known[])
      .map((count): Part => {
        const first = prices.first.slice();
        if (count === 'more') first[kind] = 0;
        const known = part.known.map((how, at) => (at === kind ? count : how));
        return { known, rules: part.rules, prices: { ...prices, first } };
      })
      .filter(({ known }) => {
        const least = known.reduce((sum, how) => sum + (how === 'one' ? 1 : how === 'more' ? 2 : 0), 0);
        return least <= this.#mostSingles;
      });
  }

  /** The one single of a colour is among its first places, or among the others. */
  #byHalves(part: Part, { prices, singleAt }: Bounded, kind: number): Part[] {
    const places = this.#undecided(part, kind);
    const all = places.reduce((sum, place) => sum + singleAt[place]!, 0);
    let cut = 0;
    for (let sum = 0; cut < places.length - 1; ) {
      sum += singleAt[places[cut++]!]!;
      if (sum * 2 >= all) break;
    }
    return [places.slice(0, cut), places.slice(cut)]
      .filter((half) => half.length > 0)
      .map((half) => {
        const rules = part.rules.slice();
        for (const place of places) rules[place] = half.includes(place) ? (half.length === 1 ? 1 : 0) : 2;
        return { known: part.known, rules, prices };
      });
  }

  /** A place of a colour with two and more singles is one of them, or is none. */
  #byPlace(part: Part, { prices, singleAt }: Bounded, kind: number): Part[] {
    const places = this.#undecided(part, kind);
    const doubt = (place: number): number => Math.abs(singleAt[place]! - 0.5);
    const [place] = [...places].sort((a, b) => doubt(a) - doubt(b));
    return [1, 2].map((rule) => {
      const rules = part.rules.slice();
      rules[place!] = rule;
      return { known: part.known, rules, prices };
    });
  }
}

/** Each place with its neighbour: a recolouring that is always there. */
function neighboursPaired(numbers: readonly number[]): Priced {
  const partner = new Int16Array(numbers.length).fill(-1);
  let price = 0;
  for (let left = 0; left + 1 < numbers.length; left += 2) {
    partner[left] = left + 1;
    partner[left + 1] = left;
    if (numbers[left] !== numbers[left + 1]) price++;
  }
  return { partner, price, singles: numbers.length % 2 };
}
