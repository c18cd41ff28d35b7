/**
 * Tangles: groups of spans that cannot all be tied in one go, because each waits for part of another.
 *
 * Draw an arrow from each knot to those that wait for it, and one backwards along every span. Knots that reach each other
 * along the arrows form a group; a group of two spans or more is a tangle, and at least one of its spans must be cut. Every other
 * span is tied whole, and tangles do not touch each other's price: **fewest pick-ups = spans + fewest cuts of each tangle**.
 */
import type { TiedKnots } from './knots.ts';

/** Knots of one tangle, in ascending order. */
export type Tangle = readonly number[];

/** Finds the tangles among some knots; holds its working space, so that many searches share it. */
export class TangleFinder {
  private readonly knots: TiedKnots;
  private readonly back: Int32Array;
  /** `inPart[knot] === part` while the knot belongs to the knots looked at. */
  private readonly inPart: Int32Array;
  private part = 0;
  private readonly index: Int32Array;
  private readonly low: Int32Array;
  private readonly edge: Uint8Array;
  private readonly onStack: Uint8Array;

  /** @param back knot before each in its span, -1 where there is none; read at every search */
  constructor(knots: TiedKnots, back: Int32Array) {
    this.knots = knots;
    this.back = back;
    this.inPart = new Int32Array(knots.count);
    this.index = new Int32Array(knots.count);
    this.low = new Int32Array(knots.count);
    this.edge = new Uint8Array(knots.count);
    this.onStack = new Uint8Array(knots.count);
  }

  /** Tangles among `members`, by their first knots. O(members). */
  find(members: Tangle): readonly Tangle[] {
    const part = ++this.part;
    for (const knot of members) {
      this.inPart[knot] = part;
      this.index[knot] = 0;
    }
    const found: number[][] = [];
    const state = { counter: 0, stack: [] as number[] };
    for (const root of members) if (this.index[root] === 0) this.walk(root, state, found);
    return found.sort((a, b) => a[0]! - b[0]!);
  }

  private arrow(knot: number, edge: number): number {
    if (edge === 0) return this.knots.afterOnKnotting[knot]!;
    if (edge === 1) return this.knots.afterOnCarrier[knot]!;
    return this.back[knot]!;
  }

  /** Tarjan, Depth-first search and linear graph algorithms (1972), without recursion. */
  private walk(root: number, state: { counter: number; stack: number[] }, found: number[][]): void {
    const { index, low, edge, onStack, inPart, part } = this;
    const path = [root];
    const enter = (knot: number): void => {
      index[knot] = low[knot] = ++state.counter;
      edge[knot] = 0;
      onStack[knot] = 1;
      state.stack.push(knot);
    };
    enter(root);
    while (path.length > 0) {
      const knot = path[path.length - 1]!;
      if (edge[knot]! < 3) {
        const next = this.arrow(knot, edge[knot]!++);
        if (next < 0 || inPart[next] !== part) continue;
        if (index[next] === 0) {
          enter(next);
          path.push(next);
        } else if (onStack[next] === 1) low[knot] = Math.min(low[knot]!, index[next]!);
        continue;
      }
      path.pop();
      const parent = path[path.length - 1];
      if (parent !== undefined) low[parent] = Math.min(low[parent]!, low[knot]!);
      if (low[knot] === index[knot]) this.close(knot, state.stack, found);
    }
  }

  private close(knot: number, stack: number[], found: number[][]): void {
    const at = stack.lastIndexOf(knot);
    const group = stack.splice(at);
    for (const member of group) this.onStack[member] = 0;
    const string = this.knots.knotting[knot];
    const isOneSpan = group.every((member) => this.knots.knotting[member] === string);
    if (!isOneSpan) found.push(group.sort((a, b) => a - b));
  }
}
