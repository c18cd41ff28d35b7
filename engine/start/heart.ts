/** A heart, as it lies on lozenges: a square on its corner without the corner at the top. */

/** Where a heart lies, seen from its upper corner: `x` to the right, `y` down. */
export interface Heart {
  readonly size: number;
  /** Lozenges of the notch along its edge. */
  readonly notch: number;
  /** Rows from the top of its lobes to its tip, both included. */
  readonly rows: number;
}

/** @param size lozenges along the straight edge, 3 or more */
export function heartOf(size: number): Heart {
  const notch = Math.max(1, Math.round(size * 0.45));
  return { size, notch, rows: 2 * size - 1 - notch };
}

/**
 * How deep inside the heart a lozenge lies: 0 at its edge, -1 outside.
 * @param x places from its middle line, to either side
 * @param y rows from the corner that is cut off; the first row of the heart is `notch`
 * Only where x + y is even there is a lozenge. O(1).
 */
export function depthInHeart({ size, notch }: Heart, x: number, y: number): number {
  const i = (y + x) / 2;
  const j = (y - x) / 2;
  if (i < 0 || j < 0 || i >= size || j >= size || (i < notch && j < notch)) return -1;
  const inSquare = Math.min(i, j, size - 1 - i, size - 1 - j);
  // From the two edges of the notch, or from its corner.
  const fromNotch = Math.max(i, j) - notch;
  return Math.min(inSquare, Math.max(0, fromNotch));
}
