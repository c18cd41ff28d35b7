/** Ties a band anew so that a motion lays it onto itself. */
import { closeRepeat, NONE, type Pattern } from '../pattern/index.ts';
import { type Weave, weave } from '../weave/index.ts';
import { flipsSides, imageOfBoundary, keepsStagger, type Motion } from './motion.ts';
import { orderAt } from './order-at.ts';
import { basesOf, firstStaying, type Keep, orbitsOf, repairedKnots, tie } from './repair-knots.ts';

/**
 * The pattern with knots and colours changed so that its endless band is laid onto itself by the motion.
 *
 * Knots: see repairedKnots. Colours: strings whose ends must then have one colour all get the one that most of them had, else that of the
 * leftmost.
 *
 * @param motion one that nearSymmetries gives, or any other with whole rows, 0 or more
 * @param keep whose knots stay where two that fall on each other differ
 * @returns a pattern with an even number of rows (an odd number is closed by its untied row), same strings and start
 * @throws RangeError when the rows are no whole number of 0 or more, or the motion does not lay the stagger onto itself
 * O(knots). Rule S9.
 */
export function repairSymmetry(pattern: Pattern, motion: Motion, keep: Keep = 'fewest'): Pattern {
  const strings = pattern.colours.length;
  if (!(Number.isInteger(motion.rows) && motion.rows >= 0 && keepsStagger(motion, strings)))
    throw new RangeError(
      `a ${motion.kind} of ${motion.rows} rows does not lay ${strings} strings onto their stagger`,
    );
  const closed = closeRepeat(pattern);
  if (keep === 'fewest') return fewestChanges(closed, motion).pattern;
  return withColours({ ...closed, knots: repairedKnots(closed, motion, keep) }, motion);
}

/** A pattern that keeps a motion, and how many knots and strings are others than before. */
export interface Repair {
  readonly pattern: Pattern;
  readonly changes: number;
}

/** Cells woven at most while one repair is looked for. */
const MOST_CELLS = 2_000_000;
/** Where more knots than this must change anyway, the band is not nearly symmetric, and a string more is no matter. */
const FEW_KNOTS = 8;

/**
 * The repair that changes least. Knots alone have their least by what most of them are; but which of two stays, or a knot that falls on
 * itself, also decides how the strings stand at the end, and so how many must change their colour. So single knots are exchanged, with
 * all they fall on, as long as that comes to less, where no more than a few knots change.
 * @param closed of an even number of rows
 * O(knots) for each exchange tried; none is tried where the colours stay. Least where one exchange at a time leads there.
 */
export function fewestChanges(closed: Pattern, motion: Motion): Repair {
  const knots = repairedKnots(closed, motion, 'fewest');
  let best = counted(closed, { ...closed, knots }, motion);
  if (countOf(knots, closed.knots) > FEW_KNOTS) return best;
  let left = Math.floor(MOST_CELLS / Math.max(1, closed.knots.length));
  const orbits = isRecoloured(closed, best) ? orbitsOf(closed, motion) : [];
  // Those of which some knot changes anyway cost least to tie as another.
  const byCost = orbits.toSorted(
    (a, b) => Number(isUntouched(closed, best, a)) - Number(isUntouched(closed, best, b)),
  );
  for (let isBetter = true; isBetter && isRecoloured(closed, best); ) {
    isBetter = false;
    for (const orbit of byCost) {
      for (const base of basesOf(orbit, motion)) {
        const { knots } = best.pattern;
        if (knots[orbit[0]!] === base || knots[orbit[0]!] === NONE) continue;
        if (left-- <= 0) return best;
        const other = knots.slice();
        tie(other, orbit, motion, base);
        const repair = counted(closed, { ...closed, knots: other }, motion);
        if (repair.changes >= best.changes) continue;
        best = repair;
        isBetter = true;
      }
    }
  }
  return best;
}

function isRecoloured(closed: Pattern, { pattern }: Repair): boolean {
  return pattern.colours.some((colour, string) => colour !== closed.colours[string]);
}

function isUntouched(closed: Pattern, { pattern }: Repair, orbit: readonly number[]): boolean {
  return orbit.every((cell) => pattern.knots[cell] === closed.knots[cell]);
}

function counted(closed: Pattern, tied: Pattern, motion: Motion): Repair {
  const pattern = withColours(tied, motion);
  const ofKnots = pattern.knots.reduce((sum, knot, i) => sum + (knot === closed.knots[i] ? 0 : 1), 0);
  const changes = pattern.colours.reduce(
    (sum, colour, i) => sum + (colour === closed.colours[i] ? 0 : 1),
    ofKnots,
  );
  return { pattern, changes };
}

function withColours(tied: Pattern, motion: Motion): Pattern {
  return { ...tied, colours: repairedColours(tied.colours, weave(tied), motion) };
}

/** Colours under which the boundary at the axis, centre or top falls on its like. */
export function repairedColours(colours: readonly string[], woven: Weave, motion: Motion): string[] {
  const strings = colours.length;
  const boundary = firstStaying(motion);
  const order = orderAt(woven, boundary);
  const image = orderAt(woven, imageOfBoundary(motion, boundary));
  const group = Int16Array.from({ length: strings }, (_, string) => string);
  const leader = (string: number): number => {
    let at = string;
    while (group[at] !== at) at = group[at]!;
    return at;
  };
  order.forEach((string, place) => {
    const a = leader(string);
    const b = leader(image[flipsSides(motion.kind) ? strings - 1 - place : place]!);
    group[Math.max(a, b)] = Math.min(a, b);
  });
  return colours.map((_, string) => {
    const ofGroup = colours.filter((__, other) => leader(other) === leader(string));
    return mostFrequent(ofGroup);
  });
}

/** The colour that occurs most often; of several the first. */
function mostFrequent(colours: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const most = Math.max(...counts.values());
  return colours.find((colour) => counts.get(colour) === most)!;
}

/** In how many places two of the same length differ. */
export function countOf<T>(a: ArrayLike<T>, b: ArrayLike<T>): number {
  let count = 0;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) count++;
  return count;
}
