/** What of the pattern must be drawn anew when the view or the design changes: nothing, everything, strips, or some rows. */
import type { Size, Viewport } from './viewport.ts';

/** In CSS px of the canvas. */
export interface Strip {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export type PaintPlan =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'all' }
  /** Move what is there by (dx, dy), then draw the strips that came into sight. */
  | { readonly kind: 'scroll'; readonly dx: number; readonly dy: number; readonly strips: readonly Strip[] };

/** Plan for a view that follows another on a canvas that still holds the other's picture. */
export function planScroll(before: Viewport, after: Viewport, { width, height }: Size): PaintPlan {
  if (before.unit !== after.unit || before.row !== after.row) return { kind: 'all' };
  const dx = after.x - before.x;
  const dy = after.y - before.y;
  if (dx === 0 && dy === 0) return { kind: 'nothing' };
  if (Math.abs(dx) >= width || Math.abs(dy) >= height) return { kind: 'all' };
  const strips: Strip[] = [];
  if (dy > 0) strips.push({ left: 0, top: 0, width, height: dy });
  if (dy < 0) strips.push({ left: 0, top: height + dy, width, height: -dy });
  if (dx > 0) strips.push({ left: 0, top: 0, width: dx, height });
  if (dx < 0) strips.push({ left: width + dx, top: 0, width: -dx, height });
  return { kind: 'scroll', dx, dy, strips };
}

/** What {@link changedRows} compares. */
export interface WovenRows {
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  readonly knots: Uint8Array;
  readonly shown: Int16Array;
  readonly order: Int16Array;
}

/**
 * First and last row that look different, both included; null when none does, 'all' when the shapes differ.
 * Compared are the knots, the strings that show and the strings that hang. O(knots), without allocation.
 */
export function changedRows(
  before: WovenRows,
  after: WovenRows,
): { readonly from: number; readonly to: number } | 'all' | null {
  if (before.strings !== after.strings || before.rows !== after.rows || before.start !== after.start)
    return 'all';
  const { strings, rows } = after;
  const stride = strings >> 1;
  const isSame = (row: number): boolean => {
    for (let i = row * stride; i < (row + 1) * stride; i++)
      if (before.knots[i] !== after.knots[i] || before.shown[i] !== after.shown[i]) return false;
    for (let i = row * strings; i < (row + 1) * strings; i++)
      if (before.order[i] !== after.order[i]) return false;
    return true;
  };
  let from = 0;
  while (from < rows && isSame(from)) from++;
  const isTailSame = isSameTail(before, after);
  if (from === rows) return isTailSame ? null : { from: rows - 1, to: rows - 1 };
  let to = rows - 1;
  while (to > from && isTailSame && isSame(to)) to--;
  return { from, to };
}

/** Whether the ends below the last row hang in the same order. */
function isSameTail(before: WovenRows, after: WovenRows): boolean {
  const { strings, rows } = after;
  for (let i = rows * strings; i < (rows + 1) * strings; i++)
    if (before.order[i] !== after.order[i]) return false;
  return true;
}
