/**
 * The cheapest nested pairing when every single, and every end of a pair of two colours, has a price: one step of the bound
 * in engine/mount/search/singles-bound.ts.
 */

/** Price of what may not be; 200 of them still fit into 32 bits. */
export const NEVER = 4_000_000;

/** Prices by which places are paired; whole numbers, which may be negative for singles. */
export interface PlacePrices {
  /** Price of leaving each place single; from {@link NEVER} on it may not be. */
  readonly single: Int32Array;
  /** Price of each place as one end of a pair of two colours. */
  readonly end: Int32Array;
  /** 1 for each place that must stay single. */
  readonly mustBeSingle: Uint8Array;
}

/** A table that is filled over and over for one order. */
export class NestedPrices {
  readonly #colours: Int16Array;
  /** best[i * w + e]: least price of places i to e - 1, w = n + 1. */
  readonly #best: Int32Array;

  /** @param colours colour number of each place, at most 200 places */
  constructor(colours: ArrayLike<number>) {
    this.#colours = Int16Array.from(colours);
    this.#best = new Int32Array((colours.length + 2) * (colours.length + 1));
  }

  /**
   * The least price of a nested pairing; pairs of one colour cost nothing. From {@link NEVER} on there is none.
   * The recurrence of Nussinov, Pieczenik, Griggs and Kleitman (1978). O(n^3).
   */
  fill({ single, end, mustBeSingle }: PlacePrices): number {
    const colours = this.#colours;
    const best = this.#best;
    const n = colours.length;
    const w = n + 1;
    for (let i = n - 1; i >= 0; i--) {
      const row = i * w;
      const below = row + w;
      const alone = single[i]!;
      for (let e = i + 1; e <= n; e++) best[row + e] = Math.min(NEVER, best[below + e]! + alone);
      if (mustBeSingle[i] === 1) continue;
      const colour = colours[i]!;
      const own = end[i]!;
      for (let k = i + 1; k < n; k++) {
        if (mustBeSingle[k] === 1) continue;
        const price = best[below + k]! + (colours[k] === colour ? 0 : own + end[k]!);
        if (price >= NEVER) continue;
        const rest = (k + 1) * w;
        for (let e = k + 1; e <= n; e++) {
          const total = price + best[rest + e]!;
          if (total < best[row + e]!) best[row + e] = total;
        }
      }
    }
    return best[n]!;
  }

  /**
   * A pairing of the price that {@link fill} gave for the same prices.
   * @param draw gives a whole number below its argument: which of the cheapest pairings is taken
   * @returns for each place the one at the other end of its pair, -1 for a single
   * @throws RangeError when the prices are not those of the last fill
   */
  trace({ single, end, mustBeSingle }: PlacePrices, draw: (below: number) => number): Int16Array {
    const colours = this.#colours;
    const best = this.#best;
    const n = colours.length;
    const w = n + 1;
    const partner = new Int16Array(n).fill(-1);
    const parts: [number, number][] = [[0, n]];
    const ways: number[] = [];
    for (let part = parts.pop(); part !== undefined; part = parts.pop()) {
      const [i, e] = part;
      if (i >= e) continue;
      const value = best[i * w + e]!;
      ways.length = 0;
      if (best[(i + 1) * w + e]! + single[i]! === value) ways.push(-1);
      if (mustBeSingle[i] === 0)
        for (let k = i + 1; k < e; k++) {
          if (mustBeSingle[k] === 1) continue;
          const price = colours[k] === colours[i] ? 0 : end[i]! + end[k]!;
          if (price + best[(i + 1) * w + k]! + best[(k + 1) * w + e]! === value) ways.push(k);
        }
      if (ways.length === 0) throw new RangeError(`no way back from places ${i} to ${e - 1}`);
      const k = ways[draw(ways.length)]!;
      if (k < 0) {
        parts.push([i + 1, e]);
        continue;
      }
      partner[i] = k;
      partner[k] = i;
      parts.push([i + 1, k], [k + 1, e]);
    }
    return partner;
  }
}
