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
  const edges = edgesAt(colours, steps, places);
  const left = [...new Set(places)]
    .filter((place) => {
      const edge = edges.get(place);
      if (edge === undefined) throw new RangeError(`place ${place} is outside 0 to ${steps.length}`);
      return seen.every(({ place: at, above, colour }) => edge[at * MOST_DEPTH + above] === colour);
    })
    .sort((a, b) => Math.abs(a - kept) - Math.abs(b - kept) || a - b);
  if (left.length <= 1) return { places: left, ask: null };
  let ask: LowKnot | null = null;
  let most = left.length;
  for (let above = 0; above < MOST_DEPTH; above++)
    for (let place = 0; place < colours.length; place++) {
      const counts = new Map<ColourId | null, number>();
      for (const one of left) {
        const colour = edges.get(one)![place * MOST_DEPTH + above]!;
        counts.set(colour, (counts.get(colour) ?? 0) + 1);
      }
      const worst = Math.max(...counts.values());
      if (worst >= most) continue;
      most = worst;
      ask = { place, above };
    }
  return { places: left, ask };
}

/** For each place in the work the colours of the lowest knots: `edge[place * MOST_DEPTH + above]`, null where there is none. */
function edgesAt(
  colours: readonly ColourId[],
  steps: readonly WorkStep[],
  places: readonly number[],
): ReadonlyMap<number, readonly (ColourId | null)[]> {
  const wanted = new Set(places);
  const edges = new Map<number, readonly (ColourId | null)[]>();
  const order = Int16Array.from(colours, (_, place) => place);
  /** By string, the colours of its knots from the lowest up. */
  const low = colours.map((): (ColourId | null)[] => Array(MOST_DEPTH).fill(null));
  const note = (done: number): void => {
    if (wanted.has(done))
      edges.set(
        done,
        Array.from(order).flatMap((string) => low[string]!),
      );
  };
  note(0);
  for (const [at, step] of steps.entries()) {
    const colour = colours[step.knotting]!;
    for (const string of [step.knotting, step.carrier])
      low[string] = [colour, ...low[string]!.slice(0, MOST_DEPTH - 1)];
    if (isExchange(step)) exchange(order, step.place);
    note(at + 1);
  }
  return edges;
}
