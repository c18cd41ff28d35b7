/** The order of whole runs: each is tied from its first knot to its last before the next is taken up. */
import { rowParity } from '../pattern/index.ts';
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';

/**
 * Knots in an order that keeps every run together. Of the runs that need not wait, the one that begins highest goes first,
 * among equals the one nearest to where the last run ended.
 * @param spans the spans with all their cuts made
 * @param start as in the pattern
 * @param from place where the last run before these ended; -1 when there was none
 * @throws Error when runs wait for each other, which cuts of `findCuts` exclude
 * O(knots + runs * strings). Rule O4.
 */
export function orderRuns(knots: TiedKnots, spans: Spans, start: 0 | 1, from: number): Int32Array {
  const { runOf, firsts } = numberRuns(knots, spans);
  const waitsFor = new Int32Array(firsts.length);
  const eachBefore = (knot: number, visit: (before: number) => void): void => {
    const a = knots.beforeOnKnotting[knot]!;
    const b = knots.beforeOnCarrier[knot]!;
    if (a >= 0 && runOf[a] !== runOf[knot]) visit(a);
    if (b >= 0 && runOf[b] !== runOf[knot]) visit(b);
  };
  for (let knot = 0; knot < knots.count; knot++) eachBefore(knot, () => waitsFor[runOf[knot]!]!++);
  const placeOf = (knot: number): number => 2 * knots.k[knot]! + rowParity(start, knots.row[knot]!);
  const ready: number[] = [];
  firsts.forEach((_, run) => {
    if (waitsFor[run] === 0) ready.push(run);
  });
  const order = new Int32Array(knots.count);
  let tied = 0;
  let hand = from < 0 ? Math.max(0, (knots.strings >> 1) - 1) : from;
  const free = (knot: number): void => {
    const run = knot < 0 ? -1 : runOf[knot]!;
    if (run >= 0 && --waitsFor[run]! === 0) ready.push(run);
  };
  while (ready.length > 0) {
    let best = 0;
    for (let at = 1; at < ready.length; at++) {
      const a = firsts[ready[at]!]!;
      const b = firsts[ready[best]!]!;
      const higher = knots.row[a]! - knots.row[b]!;
      const nearer = Math.abs(placeOf(a) - hand) - Math.abs(placeOf(b) - hand);
      if (higher < 0 || (higher === 0 && (nearer < 0 || (nearer === 0 && a < b)))) best = at;
    }
    const run = ready[best]!;
    ready[best] = ready[ready.length - 1]!;
    ready.pop();
    for (let knot = firsts[run]!; knot >= 0; knot = spans.after[knot]!) {
      order[tied++] = knot;
      hand = placeOf(knot);
      const a = knots.afterOnKnotting[knot]!;
      const b = knots.afterOnCarrier[knot]!;
      if (a >= 0 && runOf[a] !== run) free(a);
      if (b >= 0 && runOf[b] !== run) free(b);
    }
  }
  if (tied < knots.count)
    throw new Error(`${knots.count - tied} knots wait for each other: their runs need more cuts`);
  return order;
}

function numberRuns(knots: TiedKnots, spans: Spans): { runOf: Int32Array; firsts: number[] } {
  const runOf = new Int32Array(knots.count);
  const firsts: number[] = [];
  for (let knot = 0; knot < knots.count; knot++) {
    const before = spans.before[knot]!;
    if (before >= 0) runOf[knot] = runOf[before]!;
    else runOf[knot] = firsts.push(knot) - 1;
  }
  return { runOf, firsts };
}
