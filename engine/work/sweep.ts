/**
 * Ties a tangle from the top, cutting as few spans as it can.
 *
 * Whatever can be tied whole is tied. When nothing can, one span is begun, followed as far as it goes and put down: one that
 * breaks up a cycle of the packing if there is any, since that cut is one the bound counts. When every cut is, the cuts
 * are proven fewest.
 *
 * Held per string: its knots of the tangle in order; `next`, the first one still to tie; `end`, where the span of `next` ends;
 * `reach`, the first one of that span that would have to wait if the span went on alone, or `end`.
 */
import type { Cycle } from './cycle-packing.ts';
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';
import type { Tangle } from './tangles.ts';

const OUTSIDE = 0;
const WAITING = 1;
const TIED = 2;

export class Sweeper {
  private readonly knots: TiedKnots;
  private readonly spans: Spans;
  private readonly state: Uint8Array;
  private readonly cyclesAt: (number[] | undefined)[];
  private chains: number[][] = [];
  private readonly next: Int32Array;
  private readonly reach: Int32Array;
  private readonly end: Int32Array;
  private isBroken = new Uint8Array(0);
  private finishable: number[] = [];

  constructor(knots: TiedKnots, spans: Spans) {
    this.knots = knots;
    this.spans = spans;
    this.state = new Uint8Array(knots.count);
    this.cyclesAt = new Array<number[] | undefined>(knots.count).fill(undefined);
    this.next = new Int32Array(knots.strings);
    this.reach = new Int32Array(knots.strings);
    this.end = new Int32Array(knots.strings);
  }

  /** Knots at which a span is taken up again. O(knots + cuts * strings). */
  sweep(tangle: Tangle, cycles: readonly Cycle[]): readonly number[] {
    this.enter(tangle, cycles);
    const cuts: number[] = [];
    for (let left = tangle.length; left > 0; ) {
      const string = this.finishable.pop() ?? this.stringToBegin();
      left -= this.tie(string);
      if (this.next[string]! < this.end[string]!) cuts.push(this.chains[string]![this.next[string]!]!);
      else this.beginSpan(string);
    }
    for (const knot of tangle) {
      this.state[knot] = OUTSIDE;
      this.cyclesAt[knot] = undefined;
    }
    return cuts;
  }

  private enter(tangle: Tangle, cycles: readonly Cycle[]): void {
    this.chains = Array.from({ length: this.knots.strings }, () => []);
    this.finishable = [];
    this.isBroken = new Uint8Array(cycles.length);
    for (const knot of tangle) {
      this.state[knot] = WAITING;
      this.chains[this.knots.knotting[knot]!]!.push(knot);
    }
    cycles.forEach((cycle, id) => {
      for (const knot of cycle) {
        const list = this.cyclesAt[knot];
        if (list) list.push(id);
        else this.cyclesAt[knot] = [id];
      }
    });
    for (let string = 0; string < this.knots.strings; string++) {
      this.next[string] = 0;
      this.beginSpan(string);
    }
  }

  private beginSpan(string: number): void {
    const chain = this.chains[string]!;
    const next = this.next[string]!;
    let end = next;
    if (next < chain.length)
      for (end++; end < chain.length && this.spans.before[chain[end]!] === chain[end - 1]; ) end++;
    this.end[string] = end;
    this.reach[string] = next;
    this.extend(string);
  }

  private isWaiting(knot: number): boolean {
    return knot >= 0 && this.state[knot] === WAITING;
  }

  /** Follows the span in hand as far as it would go alone. */
  private extend(string: number): void {
    const { knots } = this;
    const chain = this.chains[string]!;
    const end = this.end[string]!;
    const from = this.reach[string]!;
    let reach = from;
    for (; reach < end; reach++) {
      const knot = chain[reach]!;
      const other = knots.beforeOnCarrier[knot]!;
      if (this.isWaiting(other) && (knots.knotting[other] !== string || reach === this.next[string])) break;
      if (reach === this.next[string] && this.isWaiting(knots.beforeOnKnotting[knot]!)) break;
    }
    this.reach[string] = reach;
    if (reach > from && reach === end) this.finishable.push(string);
  }

  /** Ties the span in hand up to its reach. @returns how many knots that were */
  private tie(string: number): number {
    const { knots } = this;
    const chain = this.chains[string]!;
    const from = this.next[string]!;
    const to = this.reach[string]!;
    for (let at = from; at < to; at++) {
      this.state[chain[at]!] = TIED;
      for (const id of this.cyclesAt[chain[at]!] ?? []) this.isBroken[id] = 1;
    }
    this.next[string] = to;
    for (let at = from; at < to; at++) {
      this.notify(knots.afterOnKnotting[chain[at]!]!);
      this.notify(knots.afterOnCarrier[chain[at]!]!);
    }
    return to - from;
  }

  private notify(knot: number): void {
    if (!this.isWaiting(knot)) return;
    const string = this.knots.knotting[knot]!;
    const reach = this.reach[string]!;
    if (reach < this.end[string]! && this.chains[string]![reach] === knot) this.extend(string);
  }

  private breaksCycle(string: number): boolean {
    const chain = this.chains[string]!;
    for (let at = this.next[string]!; at < this.reach[string]!; at++)
      for (const id of this.cyclesAt[chain[at]!] ?? []) if (this.isBroken[id] === 0) return true;
    return false;
  }

  /** The topmost span to begin, one that breaks a cycle before any other. */
  private stringToBegin(): number {
    let best = -1;
    let bestKnot = 0;
    let bestBreaks = false;
    for (let string = 0; string < this.knots.strings; string++) {
      if (this.next[string] === this.reach[string]) continue;
      const knot = this.chains[string]![this.next[string]!]!;
      const breaks = this.breaksCycle(string);
      if (best >= 0 && (bestBreaks === breaks ? knot > bestKnot : bestBreaks)) continue;
      best = string;
      bestKnot = knot;
      bestBreaks = breaks;
    }
    if (best < 0) throw new Error('no knot of the tangle can be tied: its precedence is not a partial order');
    return best;
  }
}
