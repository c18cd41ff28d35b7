/** Knots that carry the colours along a route. */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  FORWARD,
  FORWARD_BACKWARD,
  isCrossing,
  isLeftShown,
  type KnotCode,
  NONE,
  rowStride,
} from '../pattern/index.ts';
import { ANY_COLOUR, ANY_KNOT, eachKnot, type Route, type Routing } from './routing.ts';

/** How knots are chosen where a route leaves a choice. */
export interface LayOptions {
  /** Whether a pair without a wish stays untied when its strings stay where they are; default false. */
  readonly mayStayOpen?: boolean;
  /** Knots to take wherever they lead and show the same. */
  readonly preferred?: Uint8Array;
}

/**
 * A knot for every pair, laid out as in a pattern: kept ones stay; of the others each shows its wish where one of its strings has that
 * colour. Where both do, or neither, the left string shows in the left half and on the middle line, the right one in the right half, and
 * strings of one colour stay where they are.
 */
export function layKnots(routing: Routing, route: Route, { mayStayOpen, preferred }: LayOptions): Uint8Array {
  const { strings, rows, wishes, kept } = routing;
  const knots = new Uint8Array(rows * rowStride(strings));
  eachKnot(routing, 0, rows, ({ row, cell, place }) => {
    const wish = wishes[cell]!;
    const above = row * strings + place;
    const old = preferred?.[cell] ?? NONE;
    if (kept[cell] !== ANY_KNOT) knots[cell] = kept[cell]!;
    else
      knots[cell] =
        old !== NONE && doesAsMuch(old as KnotCode, above, wish) ? old : choose(above, place, wish);
  });
  return knots;

  function doesAsMuch(knot: KnotCode, above: number, wish: number): boolean {
    const left = route[above]!;
    const right = route[above + 1]!;
    if (route[above + strings] !== (isCrossing(knot) ? right : left)) return false;
    return (left !== wish && right !== wish) || (isLeftShown(knot) ? left : right) === wish;
  }

  function choose(above: number, place: number, wish: number): KnotCode {
    const left = route[above]!;
    const right = route[above + 1]!;
    const isExchange = left !== right && route[above + strings] !== left;
    if (wish === ANY_COLOUR && mayStayOpen === true && !isExchange) return NONE;
    const isLeftHalf = place <= strings - 2 - place;
    const showsLeft = (left === wish) === (right === wish) ? isLeftHalf : left === wish;
    if (isExchange) return showsLeft ? FORWARD : BACKWARD;
    return showsLeft ? FORWARD_BACKWARD : BACKWARD_FORWARD;
  }
}
