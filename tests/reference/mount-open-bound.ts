/**
 * A lower bound on the crossings still to come when folding from the left.
 *
 * The open folds and the places still to come make up an order of their own, and what it costs to mount is what is still to
 * come; so the bound by pairs of colours (engine/mount/search/crossing-bound.ts) holds for it. Of two colours the word left when equal neighbours
 * are folded away alternates, so its length and one end say all, and two such words join in one step: where the letters
 * that meet are equal, the shorter is undone; else the lengths add up.
 */
export class OpenBound {
  readonly #kinds: number;
  /** Of the places from p on, for each two colours: length of the word left, and its first letter. */
  readonly #lengths: Uint8Array;
  readonly #firsts: Uint8Array;
  /** Places of each colour from p on. */
  readonly #counts: Uint8Array;
  readonly #openLengths: Uint8Array;
  readonly #openLasts: Uint8Array;
  readonly #openCounts: Uint8Array;

  /** @param colours colour number of each place, numbers from 0 without gaps, at most 200 places. O(n kinds^2). */
  constructor(colours: readonly number[]) {
    const n = colours.length;
    const kinds = Math.max(...colours) + 1;
    const layer = kinds * kinds;
    this.#kinds = kinds;
    this.#lengths = new Uint8Array((n + 1) * layer);
    this.#firsts = new Uint8Array((n + 1) * layer);
    this.#counts = new Uint8Array((n + 1) * kinds);
    this.#openLengths = new Uint8Array(layer);
    this.#openLasts = new Uint8Array(layer);
    this.#openCounts = new Uint8Array(kinds);
    for (let place = n - 1; place >= 0; place--) {
      this.#lengths.copyWithin(place * layer, (place + 1) * layer, (place + 2) * layer);
      this.#firsts.copyWithin(place * layer, (place + 1) * layer, (place + 2) * layer);
      this.#counts.copyWithin(place * kinds, (place + 1) * kinds, (place + 2) * kinds);
      const colour = colours[place]!;
      this.#counts[place * kinds + colour]!++;
      addLetter(
        this.#lengths.subarray(place * layer, (place + 1) * layer),
        this.#firsts.subarray(place * layer, (place + 1) * layer),
        kinds,
        colour,
      );
    }
  }

  /**
   * @param open colours of the open folds, in their order, each as the code of a letter less `base`
   * @param from first place still to come
   * O(open folds x colours + colours^2).
   */
  at(open: string, base: number, from: number): number {
    const kinds = this.#kinds;
    this.#openLengths.fill(0);
    this.#openCounts.fill(0);
    for (let i = 0; i < open.length; i++) {
      const colour = open.charCodeAt(i) - base;
      this.#openCounts[colour]!++;
      addLetter(this.#openLengths, this.#openLasts, kinds, colour);
    }
    const layer = from * kinds * kinds;
    let bound = 0;
    for (let a = 0; a < kinds; a++) {
      // A colour that still has its single to place is left out: it may undo any word.
      if (((this.#openCounts[a]! + this.#counts[from * kinds + a]!) & 1) === 1) continue;
      for (let b = a + 1; b < kinds; b++) {
        if (((this.#openCounts[b]! + this.#counts[from * kinds + b]!) & 1) === 1) continue;
        const pair = a * kinds + b;
        const left = this.#openLengths[pair]!;
        const right = this.#lengths[layer + pair]!;
        const isUndone = left > 0 && right > 0 && this.#openLasts[pair] === this.#firsts[layer + pair];
        bound += (isUndone ? Math.abs(left - right) : left + right) >> 2;
      }
    }
    return bound;
  }

  /** What two colours of even count prove by themselves, as in {@link at}. O(open folds). */
  ofPair(open: string, base: number, from: number, one: number, other: number): number {
    const [a, b] = one < other ? [one, other] : [other, one];
    const pair = from * this.#kinds * this.#kinds + a * this.#kinds + b;
    let length = this.#lengths[pair]!;
    let first = this.#firsts[pair]!;
    // Put before the places still to come, from the last open fold to the first.
    for (let i = open.length - 1; i >= 0; i--) {
      const colour = open.charCodeAt(i) - base;
      if (colour !== a && colour !== b) continue;
      if (length > 0 && first === colour) {
        length--;
        first = a + b - colour;
      } else {
        length++;
        first = colour;
      }
    }
    return length >> 2;
  }
}

/** Puts one more letter to the end kept in `ends`, for its colour with every other; pairs are kept at `smaller * kinds + larger`. */
function addLetter(lengths: Uint8Array, ends: Uint8Array, kinds: number, colour: number): void {
  for (let other = 0; other < kinds; other++) {
    if (other === colour) continue;
    const pair = other < colour ? other * kinds + colour : colour * kinds + other;
    if (lengths[pair]! > 0 && ends[pair] === colour) {
      lengths[pair]!--;
      ends[pair] = other;
    } else {
      lengths[pair]!++;
      ends[pair] = colour;
    }
  }
}
