/**
 * Fewest rows that lead in, by searching upwards from the pattern, row after row, over all orders of colours.
 *
 * An order is a number in base `kinds`: the colour at place p is its digit p. That is exact below 2^53, which 12 places
 * always are (12^12). Exchanging the digits x at p and y at p + 1 adds (x - y)(kinds - 1) kinds^p, so a row of exchanges is a
 * sum. A row may exchange nothing, so whatever can be reached by t rows can be reached by t + 1; and the orders reached by a
 * row are closed under that row's exchanges. So only orders new in row t have to be followed in row t + 1.
 */
import { pairNested } from './nested-pairing.ts';
import { isNeatlyMountable } from './neat-order.ts';
import type { Tell } from './tell.ts';

export interface LeadInSearchOptions {
  /** Orders looked at before giving up. */
  readonly maxOrders: number;
  /** Rows looked at before giving up. */
  readonly maxRows: number;
  /** Only rows whose exchanges mirror each other left to right; for an even number of places. */
  readonly symmetric: boolean;
  readonly tell: Tell;
}

/** Whether orders of so many places and colours can be numbered exactly. */
export function canSearchLeadIn(places: number, kinds: number): boolean {
  return places * Math.log2(Math.max(2, kinds)) < 52.9;
}

/**
 * Orders from the top of the lead-in down to the pattern's; null where none was found within the limits.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param start   place at which the pattern's first row begins; the lead-in's last row has the other parity
 * Among the shortest lead-ins the one with the fewest exchanges is taken, then the one with the shortest spans to mount.
 */
export function searchLeadIn(
  colours: readonly number[],
  start: 0 | 1,
  options: LeadInSearchOptions,
): readonly (readonly number[])[] | null {
  const n = colours.length;
  const kinds = Math.max(2, Math.max(...colours) + 1);
  const powers = Array.from({ length: n }, (_, place) => kinds ** place);
  const target = colours.reduce((sum, colour, place) => sum + colour * powers[place]!, 0);
  if (isNeatlyMountable(colours)) return [colours];

  const words = [target];
  const parents = [-1];
  const exchanges = [0];
  const indexOf = new Map<number, number>([[target, 0]]);
  const digits = new Uint8Array(n);
  const read = (word: number): Uint8Array => {
    for (let place = 0; place < n; place++) {
      digits[place] = word % kinds;
      word = Math.floor(word / kinds);
    }
    return digits;
  };

  for (let row = 1, from = 0; row <= options.maxRows; row++) {
    const parity = (start + row) & 1;
    const levelStart = words.length;
    for (let index = from; index < levelStart; index++) {
      if (index % 2048 === 0) options.tell(1 - 1 / (1 + row));
      const steps = rowSteps(read(words[index]!), parity, kinds, powers, options.symmetric);
      if (2 ** steps.length > options.maxOrders) return null;
      for (let subset = 1; subset < 2 ** steps.length; subset++) {
        let word = words[index]!;
        let count = exchanges[index]!;
        for (let bit = 0; bit < steps.length; bit++)
          if ((subset >> bit) & 1) {
            word += steps[bit]!.change;
            count += steps[bit]!.exchanges;
          }
        const known = indexOf.get(word);
        if (known === undefined) {
          indexOf.set(word, words.length);
          words.push(word);
          parents.push(index);
          exchanges.push(count);
        } else if (known >= levelStart && count < exchanges[known]!) {
          parents[known] = index;
          exchanges[known] = count;
        }
      }
      if (words.length > options.maxOrders) return null;
    }
    const best = bestNeat(words, exchanges, levelStart, read);
    if (best >= 0) {
      const orders: number[][] = [];
      for (let at = best; at >= 0; at = parents[at]!) orders.push(Array.from(read(words[at]!)));
      // The second row also follows the pattern's own order: then the row under it exchanges nothing.
      while (orders.length <= row) orders.push([...colours]);
      return orders;
    }
    // A row that brings nothing new may still be followed by one of the other parity; two such rows end the search.
    if (words.length === levelStart && row > 1) return null;
    from = row === 1 ? 0 : levelStart;
  }
  return null;
}

/** What exchanging each pair of a row adds to the word; pairs of one colour have nothing to exchange. */
function rowSteps(
  digits: Uint8Array,
  parity: number,
  kinds: number,
  powers: readonly number[],
  isSymmetric: boolean,
): { readonly change: number; readonly exchanges: number }[] {
  const n = digits.length;
  const steps: { change: number; exchanges: number }[] = [];
  const changeAt = (place: number): number =>
    (digits[place]! - digits[place + 1]!) * (kinds - 1) * powers[place]!;
  for (let place = parity; place + 1 < n; place += 2) {
    const mirror = n - 2 - place;
    if (!isSymmetric) {
      const change = changeAt(place);
      if (change !== 0) steps.push({ change, exchanges: 1 });
    } else if (place < mirror) {
      const here = changeAt(place);
      const there = changeAt(mirror);
      if (here !== 0 || there !== 0) steps.push({ change: here + there, exchanges: 2 });
    } else if (place === mirror && changeAt(place) !== 0)
      steps.push({ change: changeAt(place), exchanges: 1 });
  }
  return steps;
}

/** Index of the neat order with the fewest exchanges, then the shortest spans, then the least number; -1 where none is neat. */
function bestNeat(
  words: readonly number[],
  exchanges: readonly number[],
  from: number,
  read: (word: number) => Uint8Array,
): number {
  let best = -1;
  let bestSpan = 0;
  for (let index = from; index < words.length; index++) {
    if (best >= 0 && exchanges[index]! > exchanges[best]!) continue;
    const digits = read(words[index]!);
    if (!isNeatlyMountable(digits)) continue;
    const span = pairNested(digits).reduce((sum, [left, right]) => sum + right - left, 0);
    const isBetter =
      best < 0 ||
      exchanges[index]! < exchanges[best]! ||
      span < bestSpan ||
      (span === bestSpan && words[index]! < words[best]!);
    if (!isBetter) continue;
    best = index;
    bestSpan = span;
  }
  return best;
}
