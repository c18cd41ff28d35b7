/** Where the spans of a band are cut, and how many cuts it needs at least. */
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';
import { TangleFinder } from './tangles.ts';
import { Untangler } from './untangle.ts';
import { searchWindows } from './window-search.ts';

/** Larger tangles are searched window by window. */
const MOST_KNOTS_TO_SEARCH = 1_500;

export interface SearchLimits {
  /** Knots to look at in one tangle and its parts, each as often as it is looked at. */
  readonly perTangle: number;
  /** The same, for all tangles together. */
  readonly inAll: number;
}

export interface SpanCuts {
  /** Knots at which a span is taken up again, ascending. */
  readonly cuts: readonly number[];
  /** No order does with fewer cuts. */
  readonly atLeast: number;
}

/**
 * Few cuts for all the tangles of some knots.
 * @param onProgress called with the share of the knots dealt with, 0 to 1
 */
export function findCuts(
  knots: TiedKnots,
  spans: Spans,
  limits: SearchLimits,
  onProgress: (share: number) => void,
): SpanCuts {
  const all = Array.from({ length: knots.count }, (_, knot) => knot);
  const tangles = new TangleFinder(knots, spans.before).find(all);
  const tangled = tangles.reduce((sum, tangle) => sum + tangle.length, 0);
  const untangler = new Untangler(knots, spans);
  const cuts: number[] = [];
  let atLeast = 0;
  let seen = 0;
  let left = limits.inAll;
  for (const tangle of tangles) {
    let found = untangler.estimate(tangle);
    if (found.at.length > found.atLeast) {
      const limit = Math.min(left, limits.perTangle);
      if (tangle.length <= MOST_KNOTS_TO_SEARCH) {
        found = untangler.untangle(tangle, limit);
        left -= Math.min(limit, untangler.looked);
      } else {
        found = { ...found, at: searchWindows(knots, spans, tangle, found.at, left) };
      }
    }
    for (const cut of found.at) cuts.push(cut);
    atLeast += found.atLeast;
    seen += tangle.length;
    onProgress(seen / tangled);
  }
  return { cuts: cuts.sort((a, b) => a - b), atLeast };
}
