/**
 * The motion of one kind that a repair brings about with the fewest changes.
 *
 * What a repair changes of the knots depends on the shift within the repeat alone, and rows say which shifts are worth a closer look: one
 * changed knot lets at most two rows fall on another row, so half of the rows that do not fall on their like is a lower bound. How many
 * repeats further on the motion goes is chosen afterwards, for the colours of the strings.
 */
import { type Pattern, rowStride } from '../pattern/index.ts';
import { type Weave, weave } from '../weave/index.ts';
import { colourTracks } from './colour-tracks.ts';
import { NO_REPEATS, type Repeats, remainderOf, together } from './endless-match.ts';
import {
  flipsEnds,
  flipsSides,
  imageOfBoundary,
  imageOfKnot,
  imageOfPlace,
  keepsStagger,
  type Motion,
  type MotionKind,
} from './motion.ts';
import { orderAt } from './order-at.ts';
import { firstStaying, repairedKnots } from './repair-knots.ts';
import { countOf, fewestChanges, repairedColours } from './repair-symmetry.ts';

/** Cells looked at closely for one kind of motion, of the shifts that promise most. */
const MOST_CELLS = 3_000_000;
/** Repeats from none on that are tried beside the number that most strings ask for. */
const FEW_REPEATS = 8;

/** Motions that are looked at closely, at least: those that come to least as they are, and those whose knots hardly change. */
const LEAST_TRIED = 12;
/** More of them where patterns are small: so many knots of all together. */
const TRIED_KNOTS = 20_000;

/**
 * The motion with the fewest knots and strings to change, of several the one with the fewest rows; null where the stagger forbids the kind.
 * @param closed of an even number of rows, at least 2
 * O(rows²) comparisons of numbers, O(knots) for each shift that may be better than the best so far, up to {@link MOST_CELLS}, and
 * some {@link LEAST_TRIED} times fewestChanges, or more where there are fewer knots.
 */
export function nearestMotion(closed: Pattern, kind: MotionKind): Motion | null {
  const likely = likelyMotions(closed, kind);
  const most = Math.max(LEAST_TRIED, Math.floor(TRIED_KNOTS / closed.knots.length)) / 2;
  const least = likely.toSorted((a, b) => a.changes - b.changes).slice(0, most);
  const tied = likely.toSorted((a, b) => a.ofKnots - b.ofKnots).slice(0, most);
  let best: { readonly motion: Motion; readonly changes: number } | null = null;
  for (const { motion } of new Set([...least, ...tied])) {
    const { changes } = fewestChanges(closed, motion);
    const isBetter =
      best === null || changes < best.changes || (changes === best.changes && motion.rows < best.motion.rows);
    if (isBetter) best = { motion, changes };
  }
  return best?.motion ?? null;
}

interface LikelyMotion {
  readonly motion: Motion;
  /** Knots that must change, at least. */
  readonly ofKnots: number;
  /** Knots and strings of one repair. */
  readonly changes: number;
}

function likelyMotions(closed: Pattern, kind: MotionKind): readonly LikelyMotion[] {
  const strings = closed.colours.length;
  const found: LikelyMotion[] = [];
  const most = Math.max(1, Math.floor(MOST_CELLS / closed.knots.length));
  let fewest = Number.POSITIVE_INFINITY;
  for (const { shift, rowsApart } of likelyShifts(closed, kind).slice(0, most)) {
    if (rowsApart / 2 > fewest) break;
    const knots = repairedKnots(closed, { kind, rows: shift }, 'fewest');
    const ofKnots = countOf(knots, closed.knots);
    if (ofKnots > fewest) continue;
    const tied = { ...closed, knots };
    const woven = weave(tied);
    for (const repeats of likelyRepeats(tied, woven, kind, shift)) {
      const motion = { kind, rows: shift + repeats * closed.rows };
      if (!keepsStagger(motion, strings) || !Number.isSafeInteger(motion.rows)) continue;
      const changes = ofKnots + countOf(repairedColours(closed.colours, woven, motion), closed.colours);
      fewest = Math.min(fewest, changes);
      found.push({ motion, ofKnots, changes });
    }
  }
  return found;
}

interface Shift {
  readonly shift: number;
  /** Rows of the repeat whose image is another than the row it falls on. */
  readonly rowsApart: number;
}

/** The shifts that keep the stagger, those under which most rows fall on their like first. */
function likelyShifts(closed: Pattern, kind: MotionKind): readonly Shift[] {
  const { rows } = closed;
  const { numbers, images } = numberedRows(closed, kind);
  const isTurned = flipsEnds(kind);
  const found: Shift[] = [];
  for (let shift = 0; shift < (kind === 'mirror' ? 1 : rows); shift++) {
    if (!keepsStagger({ kind, rows: shift }, closed.colours.length)) continue;
    let rowsApart = 0;
    for (let row = 0; row < rows; row++) {
      const image = isTurned ? shift - row : shift + row;
      const to = image < 0 ? image + rows : image >= rows ? image - rows : image;
      if (images[row] !== numbers[to]) rowsApart++;
    }
    found.push({ shift, rowsApart });
  }
  return found.sort((a, b) => a.rowsApart - b.rowsApart || a.shift - b.shift);
}

/** A number for each row, and for its image under the kind: equal numbers, equal knots; an image that is no row has -1. */
function numberedRows(closed: Pattern, kind: MotionKind): { numbers: Int32Array; images: Int32Array } {
  const { rows, start, knots, colours } = closed;
  const strings = colours.length;
  const stride = rowStride(strings);
  const known = new Map<string, number>();
  const numbers = new Int32Array(rows);
  const keys: string[] = [];
  const keyOf = (row: number, isImage: boolean): string => {
    const codes = new Array<number>(strings - 1).fill(0);
    for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
      const knot = knots[row * stride + (place >> 1)]!;
      // On the middle line of a mirror any knot will do.
      const isExempt = kind === 'mirror' && imageOfPlace(kind, place, strings) === place;
      const at = isImage ? imageOfPlace(kind, place, strings) : place;
      codes[at] = isExempt ? 0 : isImage ? imageOfKnot(kind, knot) : knot;
    }
    return String.fromCharCode(...codes);
  };
  for (let row = 0; row < rows; row++) {
    const key = keyOf(row, false);
    const number = known.get(key) ?? known.size;
    known.set(key, number);
    numbers[row] = number;
    keys.push(key);
  }
  const images = Int32Array.from(keys, (_, row) => known.get(keyOf(row, true)) ?? -1);
  return { numbers, images };
}

/** How many repeats further on the strings may fall on strings of their colour: what most ask for, and the first few. */
function likelyRepeats(tied: Pattern, woven: Weave, kind: MotionKind, shift: number): readonly number[] {
  if (kind === 'mirror') return [0];
  const asked = askedFor(tied, woven, kind, shift);
  const all = new Set([asked.repeats, ...Array.from({ length: FEW_REPEATS }, (_, repeats) => repeats)]);
  // A glide by no rows is the mirror; what comes to the same a period later is one.
  if (kind === 'glide' && shift === 0 && all.delete(0)) all.add(asked.modulus);
  return [...all];
}

/** The number of repeats that most strings ask for, one period after the other; those that fit no more are passed over. */
function askedFor(tied: Pattern, woven: Weave, kind: MotionKind, shift: number): Repeats {
  const strings = tied.colours.length;
  const tracks = colourTracks(tied);
  const motion = { kind, rows: shift };
  const boundary = firstStaying(motion);
  const imageAt = imageOfBoundary(motion, boundary);
  const order = orderAt(woven, boundary);
  const within = imageAt % tied.rows;
  const image = orderAt(woven, within);
  const carried = (imageAt - within) / tied.rows;
  const votes = new Map<number, Map<number, number>>();
  order.forEach((x, place) => {
    const y = image[flipsSides(kind) ? strings - 1 - place : place]!;
    const remainder = remainderOf(tracks, flipsEnds(kind), x, y, carried);
    if (remainder === NO_REPEATS) return;
    const period = tracks.period[x]!;
    const ofPeriod = votes.get(period) ?? new Map<number, number>();
    votes.set(period, ofPeriod);
    ofPeriod.set(remainder, (ofPeriod.get(remainder) ?? 0) + 1);
  });
  const asked = [...votes]
    .flatMap(([modulus, ofPeriod]) => [...ofPeriod].map(([repeats, count]) => ({ repeats, modulus, count })))
    .sort((a, b) => b.count - a.count);
  let all: Repeats = { repeats: 0, modulus: 1 };
  for (const one of asked) {
    const both = together(all, one);
    if (both !== null && both.modulus * tied.rows <= Number.MAX_SAFE_INTEGER) all = both;
  }
  return all;
}
