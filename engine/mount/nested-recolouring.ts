/**
 * Nested pairings that may join different colours, for a price: what recolouring as few places as possible comes down to.
 *
 * After recolouring, an order is neat when its places pair without crossings and the singles have colours of their own. So
 * the price of a pairing is one for each pair of different colours, one for each single, less one for each colour that some
 * single has already. The last part ties places together that lie far apart; here each colour is told how to reckon it, and
 * engine/mount/recolour.ts tries the ways that matter.
 */

/** More than any price. */
export const NEVER = 10_000;

export interface NestedPrices {
  /** Colour number of each place. */
  readonly colours: ArrayLike<number>;
  /** Price of leaving each place single, {@link NEVER} when it may not be. */
  readonly single: Int32Array;
  /** 1 for each place that must stay single. */
  readonly mustBeSingle: Uint8Array;
  /** Most singles allowed. */
  readonly mostSingles: number;
}

export interface NestedRecolouring {
  readonly price: number;
  readonly pairs: readonly (readonly [number, number])[];
  readonly singles: readonly number[];
}

/**
 * The cheapest nested pairing; among those the one with the fewest singles. Null when there is none.
 * best[(s * w + i) * w + e]: least price of places i to e - 1 with s singles, w = n + 1.
 * The recurrence of Nussinov, Pieczenik, Griggs and Kleitman (1978), the number of singles carried along.
 * O(n^3 s^2) time, O(n^2 s) memory for s singles at most.
 */
export function cheapestNested(prices: NestedPrices): NestedRecolouring | null {
  const { colours, single, mustBeSingle } = prices;
  const n = colours.length;
  const w = n + 1;
  const layer = w * w;
  const most = Math.min(n, prices.mostSingles);
  const best = new Int16Array((most + 1) * layer).fill(NEVER);
  for (let i = 0; i <= n; i++) best[i * w + i] = 0;
  for (let i = n - 1; i >= 0; i--)
    for (let e = i + 1; e <= n; e++)
      for (let s = (e - i) & 1; s <= most && s <= e - i; s += 2) {
        let least = s > 0 ? best[(s - 1) * layer + (i + 1) * w + e]! + single[i]! : NEVER;
        if (mustBeSingle[i] === 0)
          for (let k = i + 1; k < e; k++) {
            if (mustBeSingle[k] === 1) continue;
            const price = colours[i] === colours[k] ? 0 : 1;
            for (let inside = (k - i - 1) & 1; inside <= s && inside < k - i; inside += 2) {
              const total =
                price +
                best[inside * layer + (i + 1) * w + k]! +
                best[(s - inside) * layer + (k + 1) * w + e]!;
              if (total < least) least = total;
            }
          }
        best[s * layer + i * w + e] = Math.min(NEVER, least);
      }
  let count = n & 1;
  for (let s = count; s <= most; s += 2) if (best[s * layer + n]! < best[count * layer + n]!) count = s;
  if (count > most || best[count * layer + n]! >= NEVER) return null;
  return traced(prices, best, count);
}

/** Walks back through the table; of equal ways the first place folds with the nearest. */
function traced(prices: NestedPrices, best: Int16Array, count: number): NestedRecolouring {
  const { colours, single, mustBeSingle } = prices;
  const n = colours.length;
  const w = n + 1;
  const layer = w * w;
  const pairs: [number, number][] = [];
  const singles: number[] = [];
  const parts: [number, number, number][] = [[0, n, count]];
  for (let part = parts.pop(); part !== undefined; part = parts.pop()) {
    const [i, e, s] = part;
    if (i >= e) continue;
    const value = best[s * layer + i * w + e]!;
    const found = mustBeSingle[i] === 1 ? null : partnerOf(i, e, s, value);
    if (found === null) {
      if (s === 0 || best[(s - 1) * layer + (i + 1) * w + e]! + single[i]! !== value)
        throw new RangeError(`no way back from places ${i} to ${e - 1} with ${s} singles`);
      singles.push(i);
      parts.push([i + 1, e, s - 1]);
      continue;
    }
    const [k, inside] = found;
    pairs.push([i, k]);
    parts.push([i + 1, k, inside], [k + 1, e, s - inside]);
  }
  return {
    price: best[count * layer + n]!,
    pairs: pairs.sort((a, b) => a[0] - b[0]),
    singles: singles.sort((a, b) => a - b),
  };

  function partnerOf(i: number, e: number, s: number, value: number): [number, number] | null {
    for (let k = i + 1; k < e; k++) {
      if (mustBeSingle[k] === 1) continue;
      const price = colours[i] === colours[k] ? 0 : 1;
      for (let inside = (k - i - 1) & 1; inside <= s && inside < k - i; inside += 2)
        if (
          price + best[inside * layer + (i + 1) * w + k]! + best[(s - inside) * layer + (k + 1) * w + e]! ===
          value
        )
          return [k, inside];
    }
    return null;
  }
}
