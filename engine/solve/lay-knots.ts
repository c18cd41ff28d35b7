/** Knots that carry the colours along a route. */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  FORWARD,
  FORWARD_BACKWARD,
  type KnotCode,
  NONE,
  rowStride,
} from '../pattern/index.ts';
import { ANY_COLOUR, ANY_KNOT, eachKnot, type Route, type Routing } from './routing.ts';

/**
 * A knot for every pair, laid out as in a pattern: kept ones stay; of the others each shows its wish where one of its strings has that
 * colour. Where both do, or neither, the left string shows in the left half and on the middle line, the right one in the right half, and
 * strings of one colour stay where they are.
 * @param mayStayOpen whether a pair without a wish stays untied when its strings stay where they are
 */
export function layKnots(routing: Routing, route: Route, mayStayOpen: boolean): Uint8Array {
  const { strings, rows, wishes, kept } = routing;
  const knots = new Uint8Array(rows * rowStride(strings));
  eachKnot(routing, 0, rows, ({ row, cell, place }) => {
    knots[cell] = kept[cell] !== ANY_KNOT ? kept[cell]! : choose(row * strings + place, place, wishes[cell]!);
  });
  return knots;

  function choose(above: number, place: number, wish: number): KnotCode {
    const left = route[above]!;
    const right = route[above + 1]!;
    const isExchange = left !== right && route[above + strings] !== left;
    if (wish === ANY_COLOUR && mayStayOpen && !isExchange) return NONE;
    const isLeftHalf = place <= strings - 2 - place;
    const showsLeft = (left === wish) === (right === wish) ? isLeftHalf : left === wish;
    if (isExchange) return showsLeft ? FORWARD : BACKWARD;
    return showsLeft ? FORWARD_BACKWARD : BACKWARD_FORWARD;
  }
}
