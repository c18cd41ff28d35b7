/** What of the pattern must be drawn anew when the view changes: nothing, everything, or strips. */
import type { Size, Viewport } from './viewport.ts';

/** In CSS px of the canvas. */
export interface Strip {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export type Repaint =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'all' }
  /** Move what is there by (dx, dy), then draw the strips that came into sight. */
  | { readonly kind: 'scroll'; readonly dx: number; readonly dy: number; readonly strips: readonly Strip[] };

/** What to draw for a view that follows another on a canvas that still holds the other's picture. */
export function findRepaint(before: Viewport, after: Viewport, { width, height }: Size): Repaint {
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
