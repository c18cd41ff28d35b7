/** What stands above the first row of a band that hangs from no ring: loose ends or a loop, and what closes them. */
import { headKnotOf, isHung, type Piece } from '../pattern/index.ts';
import { bundleThickness, closedLength, OVERHAND_TAKES } from './closing.ts';
import { requireNotNegative, requirePositive } from './field-error.ts';

/**
 * String of each loose end above the first row, in mm. Common practice, no source: as much as below the last row, so that both sides can be
 * tied together.
 */
const HEAD_MM = { overhand: 80, braid: 120, none: 20 } as const;
/** The same below a loop, where nothing hangs out; a knot there takes what its bundle asks for. Common practice, no source. */
const BELOW_LOOP_MM = { braid: 40, none: 0 } as const;
/** Height of a loop laid flat, in mm: a braid goes through it. Common practice, no source. */
export const LOOP_MM = 15;

/** What stands above the first row; lengths in mm. */
interface Head {
  /** Height of the loop; 0 where there is none. */
  readonly loopMm: number;
  /** String that each string of the band takes there, half a loop included. */
  readonly takesMm: number;
  /** How much more of it for each mm that the wound thread is thicker. */
  readonly perThread: number;
  /** How long it is when it is done. */
  readonly longMm: number;
}

const NONE: Head = { loopMm: 0, takesMm: 0, perThread: 0, longMm: 0 };

/**
 * The head of a piece; nothing on a ring. A loop laid flat is as long as each half of it.
 * @param threadMm thickness of the wound thread
 * @throws FieldRangeError when `piece.headMm` is negative or `piece.loopMm` not above 0
 * Rules L100, L101.
 */
export function headOf(piece: Piece, threadMm: number, strings: number): Head {
  if (isHung(piece)) return NONE;
  const knot = headKnotOf(piece);
  const isLoop = piece.begin === 'loop';
  const bundleMm = bundleThickness(strings, threadMm);
  const isByBundle = isLoop && knot === 'overhand' && piece.headMm === undefined;
  const stringMm = isByBundle ? OVERHAND_TAKES * bundleMm : (piece.headMm ?? usualHeadMm(piece) ?? 0);
  requireNotNegative('piece.headMm', stringMm);
  const loopMm = isLoop ? (piece.loopMm ?? LOOP_MM) : 0;
  if (isLoop) requirePositive('piece.loopMm', loopMm);
  return {
    loopMm,
    takesMm: loopMm + stringMm,
    perThread: isByBundle ? OVERHAND_TAKES * Math.sqrt(strings) : 0,
    longMm: loopMm + closedLength(knot, stringMm, bundleMm),
  };
}

/** What `piece.headMm` is where it is not said; null where the bundle decides. */
export function usualHeadMm(piece: Piece): number | null {
  const knot = headKnotOf(piece);
  if (piece.begin !== 'loop') return HEAD_MM[knot];
  return knot === 'overhand' ? null : BELOW_LOOP_MM[knot];
}
