/**
 * Spans: the longest stretches one string could tie without being put down.
 *
 * Two neighbouring knots of a string's chain belong to one span when both are tied with that string and nothing has to be
 * tied between them. Where they do not belong together, the knot between them is tied with another string, so the maker
 * must put the string down there whatever the order: **every order has at least as many pick-ups as there are spans**.
 */
import type { TiedKnots } from './knots.ts';

export interface Spans {
  /** Previous and next knot of the same span, -1 at its ends. */
  readonly before: Int32Array;
  readonly after: Int32Array;
  readonly count: number;
}

/** Whether `knot` must come after `target` (or is it). Looks only at knots numbered above `target`. */
function comesAfter(knots: TiedKnots, knot: number, target: number, seen: Int32Array, mark: number): boolean {
  const open = [knot];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (next === target) return true;
    if (next < target || seen[next] === mark) continue;
    seen[next] = mark;
    open.push(knots.beforeOnKnotting[next]!, knots.beforeOnCarrier[next]!);
  }
  return false;
}

/** The spans of some knots. O(knots), times the rows that a string hangs untied. Rule O5 in engine/RULES.md. */
export function findSpans(knots: TiedKnots): Spans {
  const before = new Int32Array(knots.count).fill(-1);
  const after = new Int32Array(knots.count).fill(-1);
  const seen = new Int32Array(knots.count).fill(-1);
  let count = knots.count;
  for (let knot = 0; knot < knots.count; knot++) {
    const last = knots.beforeOnKnotting[knot]!;
    if (last < 0 || knots.knotting[last] !== knots.knotting[knot]) continue;
    const other = knots.beforeOnCarrier[knot]!;
    if (other === last) {
      // The same two strings again, the same one knotting: nothing lies between.
    } else if (other > last && comesAfter(knots, other, last, seen, knot)) continue;
    before[knot] = last;
    after[last] = knot;
    count--;
  }
  return { before, after, count };
}
