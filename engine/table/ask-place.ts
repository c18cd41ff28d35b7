/**
 * Which of several places in the work one is at, where the strings hang alike at all of them: by the colours of the lowest knots, asked
 * for one at a time.
 */
import type { Board, ColourId } from '../pattern/index.ts';
import type { WorkStep } from '../work/index.ts';
import { exchange, isExchange } from './hanging.ts';

/** Knots looked at on each string, from the lowest upwards. */
const MOST_DEPTH = 3;

/** One knot of those that can be seen at the lower edge. */
export interface LowKnot {
  /** Place at which a string hangs now. */
  readonly place: number;
  /** 0: the lowest knot on that string, 1: the next one up it … */
  readonly above: number;
}

/** A knot that was looked at; `colour` is null where the string has no such knot. */
export interface SeenKnot extends LowKnot {
  readonly colour: ColourId | null;
}

/** What is known of the place. */
export interface AskedPlace {
  /** Numbers of steps done that fit, nearest to the one kept first, of equally near ones the earlier. */
  readonly places: readonly number[];
  /** What to look at next; null when one place is left or none, or colours cannot tell those that are left apart. */
  readonly ask: LowKnot | null;
}

/**
 * The places that fit what was seen, and the knot whose colour tells most about those that are left: the one that leaves the fewest at
 * worst, of these the lowest, then the leftmost.
 * @param places numbers of steps done, such as `findPlace` gives
 * @param seen   what was looked at so far
 * @param kept   the place that was kept
 * O(steps + places x strings). Rule H12.
 */
export function askPlace(
  { pattern }: Pick<Board, 'pattern'>,
  steps: readonly WorkStep[],
  places: readonly number[],
  seen: readonly SeenKnot[],
  kept: number,
): AskedPlace {
  const { colours } = pattern;
  const known: readonly (ColourId | null)[] = [null, ...new Set(colours)];
  const edges = edgesAt(colours, steps, places, known);
  const left = [...new Set(places)]
    .filter((place) => {
      const edge = edges.get(place);
      if (edge === undefined) throw new RangeError(`place ${place} is outside 0 to ${steps.length}`);
      return seen.every(({ place: at, above, colour }) => known[edge[at * MOST_DEPTH + above]!] === colour);
    })
    .sort((a, b) => Math.abs(a - kept) - Math.abs(b - kept) || a - b);
  if (left.length <= 1) return { places: left, ask: null };
  const rows = left.map((place) => edges.get(place)!);
  let ask: LowKnot | null = null;
  let most = left.length;
  for (let above = 0; above < MOST_DEPTH; above++)
    for (let place = 0; place < colours.length; place++) {
      const counts = new Int32Array(known.length);
      for (const row of rows) counts[row[place * MOST_DEPTH + above]!]!++;
      const worst = Math.max(...counts);
      if (worst >= most) continue;
      most = worst;
      ask = { place, above };
    }
  return { places: left, ask };
}

/**
 * For each place in the work the colours of the lowest knots, as indices into `known`: `edge[place * MOST_DEPTH + above]`; 0 = there is none.
 */
function edgesAt(
  colours: readonly ColourId[],
  steps: readonly WorkStep[],
  places: readonly number[],
  known: readonly (ColourId | null)[],
): ReadonlyMap<number, Uint8Array> {
  const wanted = new Set(places);
  const edges = new Map<number, Uint8Array>();
  const order = Int16Array.from(colours, (_, place) => place);
  const codes = colours.map((colour) => known.indexOf(colour));
  /** By string, its knots from the lowest up. */
  const low = new Uint8Array(colours.length * MOST_DEPTH);
  const note = (done: number): void => {
    if (!wanted.has(done)) return;
    const edge = new Uint8Array(low.length);
    order.forEach((string, place) => {
      for (let above = 0; above < MOST_DEPTH; above++)
        edge[place * MOST_DEPTH + above] = low[string * MOST_DEPTH + above]!;
    });
    edges.set(done, edge);
  };
  note(0);
  for (const [at, step] of steps.entries()) {
    for (const string of [step.knotting, step.carrier]) {
      const first = string * MOST_DEPTH;
      low.copyWithin(first + 1, first, first + MOST_DEPTH - 1);
      low[first] = codes[step.knotting]!;
    }
    if (isExchange(step)) exchange(order, step.place);
    note(at + 1);
  }
  return edges;
}
