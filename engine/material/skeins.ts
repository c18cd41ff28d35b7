/** How many skeins the pieces of one thread need. */

export interface SkeinCount {
  /** Sum of the pieces, in mm. */
  readonly totalMm: number;
  readonly skeins: number;
  /** No arrangement needs fewer: the pieces' sum over the skein, and one for each piece longer than half of it. */
  readonly leastSkeins: number;
  /** Left over from the skeins when all pieces are cut, in mm. */
  readonly wasteMm: number;
  /** Pieces longer than a whole skein: they need to be joined, or bought on a larger spool. */
  readonly tooLong: number;
}

/**
 * Skeins for pieces that must each come whole from one skein: first fit, longest piece first, which never takes more than 11/9 of
 * the fewest plus 6/9. A piece longer than a skein is counted as whole skeins of its own.
 * @param piecesMm lengths, above 0
 * @param skeinMm  length of a skein, above 0
 * O(pieces x skeins). Rule L10. Source: G. Dósa, "The tight bound of first fit decreasing bin-packing algorithm is FFD(I) <= 11/9 OPT(I) + 6/9",
 * LNCS 4614 (2007) 1-11 (cited from memory).
 */
export function countSkeins(piecesMm: readonly number[], skeinMm: number): SkeinCount {
  const totalMm = piecesMm.reduce((sum, piece) => sum + piece, 0);
  const long = piecesMm.filter((piece) => piece > skeinMm);
  const rest = piecesMm.filter((piece) => piece <= skeinMm).sort((one, two) => two - one);
  const free: number[] = [];
  for (const piece of rest) {
    const found = free.findIndex((room) => room >= piece);
    if (found < 0) free.push(skeinMm - piece);
    else free[found] = (free[found] as number) - piece;
  }
  const own = long.reduce((sum, piece) => sum + Math.ceil(piece / skeinMm), 0);
  const skeins = free.length + own;
  const bySum = Math.ceil(rest.reduce((sum, piece) => sum + piece, 0) / skeinMm);
  const byLong = rest.filter((piece) => piece > skeinMm / 2).length;
  return {
    totalMm,
    skeins,
    leastSkeins: own + Math.max(bySum, byLong),
    wasteMm: skeins * skeinMm - totalMm,
    tooLong: long.length,
  };
}
