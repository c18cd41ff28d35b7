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

/** Rows and places that look different, ends included. */
export interface ChangedPart {
  readonly from: number;
  readonly to: number;
  readonly fromPlace: number;
  readonly toPlace: number;
}

/**
 * The part that looks different; null when none does, 'all' when the shapes differ.
 * Compared are the knots, the strings that show and the strings that hang. O(knots).
 */
export function changedRows(before: WovenRows, after: WovenRows): ChangedPart | 'all' | null {
  if (before.strings !== after.strings || before.rows !== after.rows || before.start !== after.start)
    return 'all';
  const { strings, rows, start } = after;
  const stride = strings >> 1;
  let [from, to, fromPlace, toPlace] = [rows, -1, strings, -1];
  const note = (row: number, left: number, right: number): void => {
    from = Math.min(from, row);
    to = Math.max(to, row);
    fromPlace = Math.min(fromPlace, left);
    toPlace = Math.max(toPlace, right);
  };
  for (let row = 0; row < rows; row++) {
    const parity = (start + row) & 1;
    for (let k = 0, i = row * stride; k < stride; k++, i++)
      if (before.knots[i] !== after.knots[i] || before.shown[i] !== after.shown[i])
        note(row, 2 * k + parity, Math.min(strings - 1, 2 * k + parity + 1));
  }
  for (let row = 0; row <= rows; row++)
    for (let place = 0, i = row * strings; place < strings; place++, i++)
      if (before.order[i] !== after.order[i]) note(Math.min(row, rows - 1), place, place);
  return to < 0 ? null : { from, to, fromPlace, toPlace };
}
