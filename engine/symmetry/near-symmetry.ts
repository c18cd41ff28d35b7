/** Symmetries that the band has or nearly has, and the places that break them. */
import { closeRepeat, type Pattern, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { type BandCells, type BandRows, bandCells, bandRows } from './band-rows.ts';
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
import { orderAt } from './order-at.ts';

/** Rows and cells compared at most for one kind of motion; where more were needed, the kind is left out. */
const MAX_COMPARED_CELLS = 50_000_000;

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
}

/**
 * For each kind of motion the one that the endless picture keeps best: fewest cells that fall on another colour, then fewest
 * rows. Kinds that the stagger forbids, and those over the limit {@link MAX_COMPARED_CELLS}, are left out.
 * @returns one entry a kind, in the order of {@link MOTION_KINDS}; none when the ring of rows is too long (see bandCells)
 * O(cells of the ring x rows of the ring) at worst; a motion is given up as soon as a better one is known. Rules S7, S8.
 */
export function nearSymmetries(pattern: Pattern): readonly NearSymmetry[] {
  const ring = bandCells(pattern);
  if (ring === null) return [];
  const closed = closeRepeat(pattern);
  const numbered = bandRows(ring);
  return MOTION_KINDS.flatMap((kind) => {
    const motion = bestMotion(ring, numbered, kind, pattern.colours.length);
    return motion === null ? [] : [judge(closed, ring, motion)];
  });
}

/** The motion of this kind under which fewest cells of the ring fall on another colour. */
function bestMotion(
  ring: BandCells,
  { rows: numbers, mirrored }: BandRows,
  kind: MotionKind,
  strings: number,
): Motion | null {
  const from = flipsSides(kind) ? mirrored : numbers;
  // A glide by no rows is the mirror; by the whole ring it comes to the same and is tried last.
  const first = kind === 'glide' ? 1 : 0;
  const candidates = Array.from({ length: kind === 'mirror' ? 1 : ring.rows }, (_, i) => first + i).filter(
    (rows) => keepsStagger({ kind, rows }, strings),
  );
  const isTurned = flipsEnds(kind);
  let best: Motion | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  let compared = 0;
  for (const rows of candidates) {
    let wrong = 0;
    let row = 0;
    for (; row < ring.rows && wrong < fewest; row++) {
      const image = isTurned ? rows - row : rows + row;
      const to = image < 0 ? image + ring.rows : image >= ring.rows ? image - ring.rows : image;
      if (from[row] === numbers[to]) continue;
      wrong += differences(ring, row, to, flipsSides(kind));
      compared += ring.width;
      if (compared > MAX_COMPARED_CELLS) return null;
    }
    compared += row;
    if (compared > MAX_COMPARED_CELLS) return null;
    if (wrong >= fewest) continue;
    fewest = wrong;
    best = { kind, rows };
    if (wrong === 0) break;
  }
  return best;
}

function differences({ cells, width }: BandCells, row: number, to: number, isFlipped: boolean): number {
  let wrong = 0;
  const target = isFlipped ? (to + 1) * width - 1 : to * width;
  const step = isFlipped ? -1 : 1;
  for (let place = 0; place < width; place++)
    if (cells[row * width + place] !== cells[target + step * place]) wrong++;
  return wrong;
}

/** @param closed the pattern with an even number of rows */
function judge(closed: Pattern, ring: BandCells, motion: Motion): NearSymmetry {
  const breaks = pictureBreaks(closed, ring, motion);
  return {
    ...motion,
    order: isOrderKept(closed, motion),
    knots: areKnotsKept(closed, motion),
    picture: breaks.length === 0,
    breaks,
  };
}

function pictureBreaks(closed: Pattern, { cells, rows, width }: BandCells, motion: Motion): KnotPlace[] {
  const strings = closed.colours.length;
  const stride = rowStride(strings);
  const isBroken = new Uint8Array(closed.rows * stride);
  for (let row = 0; row < rows; row++) {
    const to = wrap(imageOfRow(motion, row), rows);
    for (let place = (closed.start + row) & 1; place < width; place += 2) {
      const other = imageOfPlace(motion.kind, place, strings);
      if (cells[row * width + place] === cells[to * width + other]) continue;
      const here = (row % closed.rows) * stride + (place >> 1);
      const there = (to % closed.rows) * stride + (other >> 1);
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
