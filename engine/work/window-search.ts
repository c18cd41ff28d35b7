/**
 * Fewer cuts for a tangle too large to search as a whole: window by window down the rows, the cuts in the window are mended
 * and made anew as cheaply as possible, those outside stay.
 */
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';
import { type Tangle, TangleFinder } from './tangles.ts';
import { Untangler } from './untangle.ts';

const WINDOW_ROWS = 12;
const LIMIT_OF_PART = 15_000;

/** Cuts and mends the span of `knot` before it. */
function setCut(spans: Spans, whole: Spans, knot: number, isCut: boolean): void {
  const before = whole.before[knot]!;
  spans.before[knot] = isCut ? -1 : before;
  spans.after[before] = isCut ? -1 : knot;
}

/**
 * Improves the cuts of one tangle. Never returns more than it was given.
 * @param limit knots to look at in all windows together
 */
export function searchWindows(
  knots: TiedKnots,
  whole: Spans,
  tangle: Tangle,
  cuts: readonly number[],
  limit: number,
): readonly number[] {
  const spans: Spans = { before: whole.before.slice(), after: whole.after.slice(), count: whole.count };
  const isCut = new Set(cuts);
  for (const knot of cuts) setCut(spans, whole, knot, true);
  const finder = new TangleFinder(knots, spans.before);
  const untangler = new Untangler(knots, spans);
  const firstRow = knots.row[tangle[0]!]!;
  const lastRow = knots.row[tangle[tangle.length - 1]!]!;
  let left = limit;
  for (let from = firstRow; from <= lastRow; from += WINDOW_ROWS >> 1) {
    left -= tangle.length >> 3;
    if (left < 0) break;
    const inWindow = [...isCut].filter((knot) => {
      const row = knots.row[knot]!;
      return row >= from && row < from + WINDOW_ROWS;
    });
    for (const knot of inWindow) {
      setCut(spans, whole, knot, false);
      isCut.delete(knot);
    }
    const mended = new Set(inWindow);
    for (const part of finder.find(tangle)) {
      const before = part.filter((knot) => mended.has(knot));
      const found = untangler.untangle(part, LIMIT_OF_PART).at;
      for (const knot of found.length < before.length ? found : before) isCut.add(knot);
    }
    for (const knot of isCut) setCut(spans, whole, knot, true);
  }
  return [...isCut].sort((a, b) => a - b);
}
