/** How a band begins and is closed, where the board says nothing of it. */
import type { EndKnot, HeadKnot, Piece } from './board.ts';

/** Whether the band hangs from a ring or bar, on which cords are mounted. Rule X110. */
export function isHung({ begin = 'ring' }: Piece): boolean {
  return begin === 'ring';
}

/** What stands above the first row of a band without a ring. Rule X112. */
export function headKnotOf({ begin, headKnot }: Piece): HeadKnot {
  return headKnot ?? (begin === 'loop' ? 'overhand' : 'braid');
}

/** What closes the band: what is worn without a ring is tied by its braids. Rule X112. */
export function endKnotOf(piece: Piece): EndKnot {
  return piece.endKnot ?? (isHung(piece) ? 'overhand' : 'braid');
}
