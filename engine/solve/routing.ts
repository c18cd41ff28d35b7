/**
 * What the search works on: colours as numbers, and where they hang before each row. Which of two strings of one colour hangs where does
 * not matter, since every pair chooses freely which of its two colours shows: a wish is met where one of the two has its colour.
 *
 * Layout. With N strings, R rows and `stride = N >> 1`: wishes, weights and kept knots lie at `row * stride + k`, as knots do in a pattern.
 * A *route* holds at `row * N + place` the colour that hangs there before that row; row R is after the last.
 */
import { knotsInRow, rowParity, rowStride } from '../pattern/index.ts';

/** A knot that the search may choose. */
export const ANY_KNOT = 255;
/** A cell in which any colour may show. */
export const ANY_COLOUR = -1;

/** What the order at the top must be like. */
export interface TopRule {
  /** Colours as they hang; null where the search chooses. */
  readonly given: readonly number[] | null;
  /** Reads the same from both sides. */
  readonly mirrored: boolean;
  /** Folds without crossings, one single for each colour of odd count. */
  readonly nested: boolean;
  /** At most so many colours have an odd number of strings. */
  readonly mostOdd: number;
}

/** The rule that lets every order be. */
export const ANY_ORDER: TopRule = { given: null, mirrored: false, nested: false, mostOdd: Infinity };

/** A picture to route colours for. */
export interface Routing {
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  /** Number of colours; they count from 0. */
  readonly colours: number;
  /** Colour that should show in each cell, {@link ANY_COLOUR} where none should. */
  readonly wishes: Int16Array;
  /** What a cell costs that does not show its wish: whole, 0 or more. */
  readonly weights: Int32Array;
  /** Knots that stay, {@link ANY_KNOT} where the search chooses. */
  readonly kept: Uint8Array;
  readonly top: TopRule;
  /** Colours that must hang below the last row; null where any may. */
  readonly bottom: readonly number[] | null;
  /** Row before which the colours hang as below the last one; -1 where that does not matter. */
  readonly seam: number;
}

/** Where colours hang before each row. */
export type Route = Uint8Array<ArrayBuffer>;

/** A knot of a routing. */
export interface RoutedKnot {
  readonly row: number;
  readonly k: number;
  /** Where it lies in wishes, weights and kept knots. */
  readonly cell: number;
  /** Place of its left string. */
  readonly place: number;
}

/** Calls `visit` for every knot from one row up to, not including, another. */
export function eachKnot(
  { strings, start }: Pick<Routing, 'strings' | 'start'>,
  from: number,
  to: number,
  visit: (knot: RoutedKnot) => void,
): void {
  const stride = rowStride(strings);
  for (let row = from; row < to; row++) {
    const parity = rowParity(start, row);
    const count = knotsInRow(strings, parity);
    for (let k = 0; k < count; k++) visit({ row, k, cell: row * stride + k, place: 2 * k + parity });
  }
}

/** Whether the wish of a cell is met by a route: one of its two strings has the colour, or the kept knot shows it. */
export function isMet(routing: Routing, route: Route, { row, cell, place }: RoutedKnot): boolean {
  const wish = routing.wishes[cell]!;
  if (wish === ANY_COLOUR) return true;
  const kept = routing.kept[cell]!;
  if (kept === 0) return false;
  const at = row * routing.strings + place;
  if (kept !== ANY_KNOT) return route[(kept & 1) === 1 ? at : at + 1] === wish;
  return route[at] === wish || route[at + 1] === wish;
}

/** Sum of the weights of the cells from one row up to another that do not show their wish. */
export function costOf(routing: Routing, route: Route, from = 0, to = routing.rows): number {
  let cost = 0;
  eachKnot(routing, from, to, (knot) => {
    if (!isMet(routing, route, knot)) cost += routing.weights[knot.cell]!;
  });
  return cost;
}

/** The rows from one up to another, with the colours above and below them held where a route is given for them. */
export function windowOf(
  routing: Routing,
  from: number,
  to: number,
  held: { readonly above: Route | null; readonly below: Route | null },
): Routing {
  const { strings, rows } = routing;
  const stride = rowStride(strings);
  const orderAt = (route: Route, row: number): number[] =>
    Array.from(route.subarray(row * strings, (row + 1) * strings));
  const isWhole = from === 0 && to === rows;
  return {
    ...routing,
    start: rowParity(routing.start, from),
    rows: to - from,
    wishes: routing.wishes.subarray(from * stride, to * stride),
    weights: routing.weights.subarray(from * stride, to * stride),
    kept: routing.kept.subarray(from * stride, to * stride),
    top:
      held.above === null
        ? from === 0
          ? routing.top
          : ANY_ORDER
        : { ...ANY_ORDER, given: orderAt(held.above, from) },
    bottom: held.below === null ? (to === rows ? routing.bottom : null) : orderAt(held.below, to),
    seam: isWhole ? routing.seam : -1,
  };
}
