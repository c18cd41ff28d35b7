/** Symmetries that the band has or nearly has, and the places that break them. */
import { closeRepeat, type Pattern, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import {
  ANY_REPEATS,
  type EndlessPicture,
  endlessPicture,
  leastRepeats,
  NO_REPEATS,
  remainderAt,
} from './endless-match.ts';
import { type FriezeSymmetries, friezeSymmetries } from './frieze.ts';
import {
  flipsEnds,
  flipsSides,
  imageOfBoundary,
  imageOfKnot,
  imageOfPlace,
  imageOfRow,
  keepsStagger,
  MOTION_KINDS,
  type Motion,
  type MotionKind,
} from './motion.ts';
import { nearestMotion } from './nearest-motion.ts';
import { orderAt } from './order-at.ts';
import { fewestChanges } from './repair-symmetry.ts';

/** What the frieze group calls each kind. */
const IN_BAND: Readonly<Record<MotionKind, keyof FriezeSymmetries>> = {
  mirror: 'leftRight',
  glide: 'glide',
  'upside-down': 'upsideDown',
  'half-turn': 'halfTurn',
};

/** A knot by its row in the pattern, from 0, and its number in the row. */
interface KnotPlace {
  readonly row: number;
  readonly k: number;
}

/** A motion and how well the band keeps it. */
export interface NearSymmetry extends Motion {
  /** Whether the colours between two rows fall on the same colours; seen at the axis or centre, else at the top. */
  readonly order: boolean;
  /** Whether every knot falls on its like; one that falls on itself is exempt. */
  readonly knots: boolean;
  /** Whether the endless picture falls on itself. */
  readonly picture: boolean;
  /**
   * Knots of the pattern whose colour, somewhere in the endless band, falls on another; of two that fall on each other the
   * first. Empty exactly when `picture` holds.
   */
  readonly breaks: readonly KnotPlace[];
  /** Knots and strings that `repairSymmetry` changes for it. */
  readonly changes: number;
}

/**
 * For each kind of motion one: where the endless picture keeps some, the one of fewest rows; else the one that a repair brings about with
 * the fewest changes of knots and colours of strings, then fewest rows. Kinds that the stagger forbids are left out.
 * @returns those that the picture keeps first, then by the number of changes; one entry a kind
 * O(rows² x strings) at worst for what is kept, and see nearestMotion; however late the colours recur. Rules S7, S8.
 */
export function nearSymmetries(pattern: Pattern): readonly NearSymmetry[] {
  const closed = closeRepeat(pattern);
  const strings = closed.colours.length;
  const picture = endlessPicture(closed);
  const band = friezeSymmetries(pattern);
  const found = MOTION_KINDS.flatMap((kind) => {
    const kept = band[IN_BAND[kind]] ? keptMotion(picture, kind) : null;
    const motion = kept ?? (closed.rows === 0 ? null : nearestMotion(closed, kind));
    return motion === null || !keepsStagger(motion, strings) ? [] : [judge(closed, picture, motion)];
  });
  const rank = ({ picture: isKept, changes }: NearSymmetry): number => (isKept ? 0 : 1 + changes);
  return found.sort((a, b) => rank(a) - rank(b));
}

/** The motion of this kind, of fewest rows, that lays the picture onto itself; null when none does. */
function keptMotion(picture: EndlessPicture, kind: MotionKind): Motion | null {
  const { rows, strings } = picture;
  if (rows === 0) return keepsStagger({ kind, rows: 0 }, strings) ? { kind, rows: 0 } : null;
  let fewest: number | null = null;
  for (let shift = 0; shift < (kind === 'mirror' ? 1 : rows); shift++) {
    if (!keepsStagger({ kind, rows: shift }, strings)) continue;
    const found = leastRepeats(picture, kind, shift);
    if (found === null) continue;
    // A glide by no rows is the mirror.
    const repeats = kind === 'glide' && shift === 0 && found.repeats === 0 ? found.modulus : found.repeats;
    if (kind === 'mirror' && repeats > 0) return null;
    const all = shift + repeats * rows;
    if (fewest === null || all < fewest) fewest = all;
  }
  return fewest === null ? null : { kind, rows: fewest };
}

/** @param closed the pattern with an even number of rows */
function judge(closed: Pattern, picture: EndlessPicture, motion: Motion): NearSymmetry {
  const breaks = pictureBreaks(closed, picture, motion);
  return {
    ...motion,
    order: isOrderKept(closed, motion),
    knots: areKnotsKept(closed, motion),
    picture: breaks.length === 0,
    breaks,
    changes: fewestChanges(closed, motion).changes,
  };
}

function pictureBreaks(closed: Pattern, picture: EndlessPicture, motion: Motion): KnotPlace[] {
  const { rows, strings, shown, tracks } = picture;
  if (rows === 0) return [];
  const width = strings - 1;
  const stride = rowStride(strings);
  const shift = motion.rows % rows;
  const repeats = (motion.rows - shift) / rows;
  const isBroken = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++) {
    const to = wrap(imageOfRow(motion, row), rows);
    for (let place = (closed.start + row) & 1; place < width; place += 2) {
      const remainder = remainderAt(picture, motion.kind, shift, row, place);
      if (remainder === ANY_REPEATS) continue;
      if (remainder !== NO_REPEATS && repeats % tracks.period[shown[row * width + place]!]! === remainder)
        continue;
      const here = row * stride + (place >> 1);
      const there = to * stride + (imageOfPlace(motion.kind, place, strings) >> 1);
      isBroken[Math.min(here, there)] = 1;
    }
  }
  const breaks: KnotPlace[] = [];
  isBroken.forEach((broken, cell) => {
    if (broken === 1) breaks.push({ row: Math.floor(cell / stride), k: cell % stride });
  });
  return breaks;
}

function isOrderKept(closed: Pattern, motion: Motion): boolean {
  const strings = closed.colours.length;
  const woven = weave(closed);
  const boundary = flipsEnds(motion.kind) ? Math.floor((motion.rows + 1) / 2) : 0;
  const order = orderAt(woven, boundary);
  const image = orderAt(woven, imageOfBoundary(motion, boundary));
  return order.every((string, place) => {
    const other = image[flipsSides(motion.kind) ? strings - 1 - place : place]!;
    return closed.colours[string] === closed.colours[other];
  });
}

function areKnotsKept({ colours, start, rows, knots }: Pattern, motion: Motion): boolean {
  const strings = colours.length;
  const stride = rowStride(strings);
  for (let row = 0; row < rows; row++) {
    const to = wrap(imageOfRow(motion, row), rows);
    for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
      const here = row * stride + (place >> 1);
      const there = to * stride + (imageOfPlace(motion.kind, place, strings) >> 1);
      if (here !== there && knots[there] !== imageOfKnot(motion.kind, knots[here]!)) return false;
    }
  }
  return true;
}

function wrap(row: number, rows: number): number {
  return ((row % rows) + rows) % rows;
}
