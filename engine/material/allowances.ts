/** String that is needed beside the knots: on the bar, below the last row, and in the hand. */
import { type EndKnot, endKnotOf, isHung, type Piece } from '../pattern/index.ts';
import { helixLength } from './cord.ts';
import { requireNotNegative } from './field-error.ts';
import { headOf } from './head.ts';

/** Thickness of the bar that a lark's head goes round, and of the stick that a string goes round once, in mm. Common practice, no source. */
export const BAR_THICKNESS_MM = 3;

/**
 * String left hanging for what closes the band, in mm. Common practice, no source: an overhand knot needs enough to be drawn
 * tight, a tassel hangs as long as it shall be seen, a braid takes up more than it shows.
 */
export const TAIL_MM: Readonly<Record<EndKnot, number>> = { overhand: 80, tassel: 60, braid: 120, none: 20 };

/**
 * Spare at each end for the fingers, in mm: the last knots cannot be tied with a short end. Common practice, no source: strings for a
 * keychain are cut about as long as for a bracelet for this reason.
 */
export const SPARE_MM = 100;

/** Short end of a single, hidden behind the first knots, in mm. Common practice, no source. */
export const SINGLE_TUCK_MM = 40;

/** What each end needs beside the knots, in mm. */
export interface Allowances {
  /** Its half of a lark's head, or its turn over a stick; 0 where it goes round nothing. */
  readonly mountMm: number;
  /** Above the first row of a band without a ring: loose end or half a loop, and what closes it. */
  readonly headMm: number;
  readonly tailMm: number;
  readonly spareMm: number;
}

/**
 * Allowances of a piece; unset fields take the defaults above.
 * @param threadMm thickness of the wound thread
 * @throws FieldRangeError when `piece.tailMm`, `piece.spareMm` or what is said of the head is out of range
 * Rules L8, L100.
 */
export function allowancesOf(piece: Piece, threadMm: number, strings: number): Allowances {
  const tailMm = piece.tailMm ?? TAIL_MM[endKnotOf(piece)];
  const spareMm = piece.spareMm ?? SPARE_MM;
  requireNotNegative('piece.tailMm', tailMm);
  requireNotNegative('piece.spareMm', spareMm);
  const mountMm = isHung(piece) || piece.begin === 'stick' ? mountLength(threadMm) : 0;
  return { mountMm, headMm: headOf(piece, threadMm, strings).takesMm, tailMm, spareMm };
}

/**
 * Half of a lark's head in mm. The knot is two half hitches in opposite directions, one for each end: a turn of the thread round
 * the bar, its centre line half a thread outside it, one thread further along.
 */
function mountLength(threadMm: number): number {
  return helixLength(1, (BAR_THICKNESS_MM + threadMm) / 2, threadMm);
}
