/** Where marks beside the picture stand, in each look of the board. */
import { cellToPoint, knotsIn, type Stagger } from '../../engine/index.ts';
import { pointToPixel, type Size, type Viewport } from './viewport.ts';

/** What a mark is about. */
export type PinnedAt =
  | { readonly kind: 'knot'; readonly row: number; readonly k: number }
  | { readonly kind: 'row'; readonly row: number }
  | { readonly kind: 'string'; readonly string: number };

/** A picture of the board as marks on it see it. */
export interface PinView {
  readonly width: number;
  readonly height: number;
  /** Middle of the mark, in px of the picture; null where the picture does not show what it is about. */
  pointOf(at: PinnedAt): { readonly x: number; readonly y: number } | null;
}

/** Room for a mark, in px. */
export const MARK = 14;

/** Marks on the chart and the paths: beside the upper right edge of a knot, before a row's number, above a peg. */
export function boardPinView(view: Viewport, { width, height }: Size, stagger: Stagger): PinView {
  return {
    width,
    height,
    pointOf: (at) => {
      if (at.kind === 'string') return { x: view.x + at.string * view.unit, y: view.y - 46 };
      if (at.kind === 'row') {
        if (at.row >= stagger.rows) return null;
        const x = Math.max(MARK, view.x - view.unit * 0.5 - 44);
        return { x, y: view.y + (at.row + 1) * view.row };
      }
      if (at.row >= stagger.rows || at.k >= knotsIn(stagger, at.row)) return null;
      const { px, py } = pointToPixel(view, cellToPoint(stagger, at));
      return { x: px + view.unit * 0.42, y: py - view.row * 0.42 };
    },
  };
}

/** The picture moved, or is another. */
export const PIN_VIEW_EVENT = 'lb-pin-view';
