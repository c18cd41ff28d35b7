/**
 * Fewest cuts of a tangle, by branch and bound.
 *
 * No span of a tangle can be tied whole at first (each waits for another), so some span is begun and put down again. It is
 * best to go on with it as far as it will go (nothing is gained by less), and whatever can then be tied whole is best tied at
 * once; what is left falls apart into smaller tangles that are solved one by one. Bounds of each: disjoint cycles from below,
 * a sweep from above; most tangles are settled by these alone.
 */
import { CyclePacker } from './cycle-packing.ts';
import type { TiedKnots } from './knots.ts';
import type { Spans } from './spans.ts';
import { Sweeper } from './sweep.ts';
import { type Tangle, TangleFinder } from './tangles.ts';

/** Cuts of a tangle: `at` lists the knots at which a span is taken up again; proven fewest when `at.length === atLeast`. */
export interface Cuts {
  readonly at: readonly number[];
  readonly atLeast: number;
}

interface Entry {
  readonly tangle: Tangle;
  lower: number;
  cuts: readonly number[];
  moves: readonly Move[] | null;
}

interface Move {
  readonly cutAt: number;
  readonly rest: readonly Entry[];
}

export class Untangler {
  private readonly knots: TiedKnots;
  private readonly spans: Spans;
  private readonly finder: TangleFinder;
  private readonly packer: CyclePacker;
  private readonly sweeper: Sweeper;
  private readonly member: Int32Array;
  private stamp = 0;
  private known = new Map<string, Entry>();
  private left = 0;
  /** Knots looked at in the last `untangle`. */
  looked = 0;

  /** @param spans read anew at every call of `untangle`, so that the caller may cut and mend them between calls */
  constructor(knots: TiedKnots, spans: Spans) {
    this.knots = knots;
    this.spans = spans;
    this.finder = new TangleFinder(knots, spans.before);
    this.packer = new CyclePacker(knots, spans);
    this.sweeper = new Sweeper(knots, spans);
    this.member = new Int32Array(knots.count);
  }

  /** Few cuts for a tangle without searching, and how many it needs at least. */
  estimate(tangle: Tangle): Cuts {
    const cycles = this.packer.pack(tangle);
    return { at: this.sweeper.sweep(tangle, cycles), atLeast: Math.max(1, cycles.length) };
  }

  /**
   * Fewest cuts for a tangle, or the fewest found when the limit is used up.
   * @param limit knots in all the tangles to look at, each counted as often as it is looked at
   */
  untangle(tangle: Tangle, limit: number): Cuts {
    this.known = new Map();
    this.left = limit;
    const entry = this.entryOf(tangle);
    this.solve(entry, Number.POSITIVE_INFINITY);
    this.known = new Map();
    this.looked = limit - this.left;
    return { at: entry.cuts, atLeast: entry.lower };
  }

  private entryOf(tangle: Tangle): Entry {
    const key = this.keyOf(tangle);
    const known = this.known.get(key);
    if (known) return known;
    this.left -= tangle.length;
    const { at, atLeast } = this.estimate(tangle);
    const entry: Entry = { tangle, lower: atLeast, cuts: at, moves: null };
    this.known.set(key, entry);
    return entry;
  }

  /** Only beginnings of spans are ever taken away, so the first knots tell the tangle. */
  private keyOf(tangle: Tangle): string {
    const stamp = this.mark(tangle);
    let key = '';
    for (const knot of tangle) if (!this.isIn(this.spans.before[knot]!, stamp)) key += `${knot},`;
    return key;
  }

  private mark(tangle: Tangle): number {
    const stamp = ++this.stamp;
    for (const knot of tangle) this.member[knot] = stamp;
    return stamp;
  }

  private isIn(knot: number, stamp: number): boolean {
    return knot >= 0 && this.member[knot] === stamp;
  }

  private isSpent(): boolean {
    return this.left < 0;
  }

  /** The ways to begin: each span that need not wait, begun and followed as far as it goes. */
  private movesOf(entry: Entry): readonly Move[] {
    if (entry.moves) return entry.moves;
    const { knots, spans } = this;
    const stamp = this.mark(entry.tangle);
    const begun: number[][] = [];
    for (const first of entry.tangle) {
      if (this.isIn(knots.beforeOnKnotting[first]!, stamp) || this.isIn(knots.beforeOnCarrier[first]!, stamp))
        continue;
      const tied = [first];
      let last = first;
      for (let next = spans.after[last]!; this.isIn(next, stamp); next = spans.after[last]!) {
        const other = knots.beforeOnCarrier[next]!;
        if (this.isIn(other, stamp) && knots.knotting[other] !== knots.knotting[next]) break;
        tied.push(next);
        last = next;
      }
      begun.push(tied);
    }
    const moves = begun.map((tied): Move => {
      const gone = new Set(tied);
      const rest = this.finder.find(entry.tangle.filter((knot) => !gone.has(knot)));
      return { cutAt: spans.after[tied[tied.length - 1]!]!, rest: rest.map((part) => this.entryOf(part)) };
    });
    entry.moves = moves;
    return moves;
  }

  private atLeast(move: Move): number {
    return move.rest.reduce((sum, part) => sum + part.lower, 1);
  }

  private price(move: Move): number {
    return move.rest.reduce((sum, part) => sum + part.cuts.length, 1);
  }

  /** Narrows the bounds of an entry until they meet, its lower bound reaches `limit`, or the search is spent. */
  private solve(entry: Entry, limit: number): void {
    if (entry.lower >= Math.min(limit, entry.cuts.length) || this.isSpent()) return;
    const moves = [...this.movesOf(entry)].sort(
      (a, b) => this.atLeast(a) - this.atLeast(b) || this.price(a) - this.price(b) || a.cutAt - b.cutAt,
    );
    for (const move of moves) {
      const ceiling = Math.min(limit, entry.cuts.length);
      for (const part of move.rest) {
        if (this.atLeast(move) >= ceiling) break;
        this.solve(part, ceiling - this.atLeast(move) + part.lower);
      }
      if (this.price(move) < entry.cuts.length)
        entry.cuts = [move.cutAt, ...move.rest.flatMap((part) => part.cuts)];
      if (entry.cuts.length === entry.lower) return;
    }
    const proven = Math.min(...moves.map((move) => this.atLeast(move)));
    entry.lower = Math.min(entry.cuts.length, Math.max(entry.lower, proven));
  }
}
