/**
 * A lower bound for the cuts of a tangle: cycles that share no place to cut.
 *
 * A step back along a span, from a knot to the one before it, can be taken only while the span is not cut there. A cycle of
 * steps forward (to a knot that waits) and steps back is a contradiction unless it is cut at one of its steps back; so
 * cycles without a common step back need a cut each.
 */
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';
import { type Tangle, TangleFinder } from './tangles.ts';

/** All knots a cycle passes. */
export type Cycle = readonly number[];

/** Knots looked at for each knot of a tangle before the packing is closed; it is a bound however few cycles it holds. */
const LOOKS_PER_KNOT = 3_000;

export class CyclePacker {
  private readonly knots: TiedKnots;
  private readonly spans: Spans;
  /** Steps back that no cycle uses yet; -1 where there is none. */
  private readonly back: Int32Array;
  private readonly finder: TangleFinder;
  private readonly inPart: Int32Array;
  private readonly reached: Int32Array;
  private readonly steps: Int32Array;
  private readonly from: Int32Array;
  private part = 0;
  private search = 0;
  private looksLeft = 0;

  constructor(knots: TiedKnots, spans: Spans) {
    this.knots = knots;
    this.spans = spans;
    this.back = new Int32Array(knots.count);
    this.finder = new TangleFinder(knots, this.back);
    this.inPart = new Int32Array(knots.count);
    this.reached = new Int32Array(knots.count);
    this.steps = new Int32Array(knots.count);
    this.from = new Int32Array(knots.count);
  }

  /** Cycles of a tangle, short ones first, no two with a step back in common. */
  pack(tangle: Tangle): readonly Cycle[] {
    for (const knot of tangle) this.back[knot] = this.spans.before[knot]!;
    this.looksLeft = LOOKS_PER_KNOT * tangle.length;
    const cycles: Cycle[] = [];
    let parts: readonly Tangle[] = [tangle];
    for (let most = 1; parts.length > 0 && this.looksLeft > 0; most += 1 + (most >> 2)) {
      for (const part of parts) this.packPart(part, most, cycles);
      parts = parts.flatMap((part) => this.finder.find(part));
    }
    return cycles;
  }

  private packPart(tangle: Tangle, most: number, cycles: Cycle[]): void {
    const part = ++this.part;
    for (const knot of tangle) this.inPart[knot] = part;
    let fall = 1;
    for (const knot of tangle) {
      const before = this.back[knot]!;
      if (before >= 0) fall = Math.max(fall, this.knots.row[knot]! - this.knots.row[before]!);
    }
    for (const knot of tangle) {
      const before = this.back[knot]!;
      if (before < 0 || this.inPart[before] !== part) continue;
      if (this.findCycle(before, knot, most, fall)) cycles.push(this.takeCycle(knot));
      if (this.looksLeft < 0) return;
    }
  }

  /**
   * Looks for a way from `start` to the next knot `goal` of its span that leaves the span, with at most `most` steps back.
   * A way that has gone further down than its remaining steps back can climb is given up.
   */
  private findCycle(start: number, goal: number, most: number, fall: number): boolean {
    const { knots, reached, steps, from } = this;
    const search = ++this.search;
    reached[start] = search;
    steps[start] = 0;
    from[start] = -1;
    let layer = [start];
    for (let taken = 0; taken <= most && layer.length > 0; taken++) {
      const later: number[] = [];
      const lowest = knots.row[goal]! + (most - taken) * fall;
      for (let knot = layer.pop(); knot !== undefined; knot = layer.pop()) {
        if (steps[knot] !== taken) continue;
        this.looksLeft--;
        for (let edge = 0; edge < 2; edge++) {
          const next = edge === 0 ? knots.afterOnKnotting[knot]! : knots.afterOnCarrier[knot]!;
          if (next < 0 || this.inPart[next] !== this.part || knots.row[next]! > lowest) continue;
          // A carrier that comes back to the same knotting string: no news, and no way out of the span.
          if (edge === 1 && knots.knotting[next] === knots.knotting[knot]) continue;
          if (next === goal && knot === start) continue;
          if (reached[next] === search && steps[next]! <= taken) continue;
          reached[next] = search;
          steps[next] = taken;
          from[next] = knot;
          if (next === goal) return true;
          layer.push(next);
        }
        const back = this.back[knot]!;
        if (back < 0 || taken === most || this.inPart[back] !== this.part || reached[back] === search)
          continue;
        reached[back] = search;
        steps[back] = taken + 1;
        from[back] = knot;
        if (back === goal) return true;
        later.push(back);
      }
      layer = later;
    }
    return false;
  }

  /** The knots of the cycle just found, whose steps back are used up from now on. */
  private takeCycle(goal: number): Cycle {
    const cycle: number[] = [];
    const usedAfter: number[] = [goal];
    for (let knot = goal; knot >= 0; knot = this.from[knot]!) {
      cycle.push(knot);
      const previous = this.from[knot]!;
      if (previous >= 0 && this.back[previous] === knot) usedAfter.push(previous);
    }
    for (const knot of usedAfter) this.back[knot] = -1;
    return cycle;
  }
}
