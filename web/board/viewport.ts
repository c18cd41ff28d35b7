/**
 * Where the board lies on the canvas.
 *
 * Board space is that of engine/picture: x in places, y in rows. Pixel space: CSS pixels of the canvas, origin at its top left.
 * `pixel x = x * unit + view.x`, `pixel y = y * row + view.y`. All four numbers are whole device pixels, so that knots are sharp
 * and the picture can be moved by copying pixels. Pegs and arcs stand above y = 0, `head` pixels high.
 */
import type { BoardPoint } from '../../engine/index.ts';

export interface Viewport {
  /** CSS pixels from one place to the next. */
  readonly unit: number;
  /** CSS pixels from one row to the next. */
  readonly row: number;
  /** Pixel of board point (0, 0). */
  readonly x: number;
  readonly y: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface PixelPoint {
  readonly px: number;
  readonly py: number;
}

/** What is to be shown: strings, rows, height of a row in places, pixels above and below the band. */
export interface Extent {
  readonly strings: number;
  readonly rows: number;
  readonly rowPerPlace: number;
  readonly head: number;
  readonly foot: number;
}

const MIN_UNIT = 3;
const MAX_UNIT = 96;
/** Height of a row of the chart, in places: lozenges a little wider than high. */
export const CHART_ROW = 0.78;
/** Room beside the band for row numbers, in px. */
const SIDES = 46;
/** Room below the band, in px. */
export const FOOT = 64;
/** Largest unit that fitting chooses. */
const COMFORTABLE_UNIT = 40;
/** Smallest unit that a board begins with. */
const LEAST_FIRST_UNIT = 16;

/** A viewport of this scale whose numbers are whole device pixels. */
export function snapped(unit: number, rowPerPlace: number, x: number, y: number, ratio: number): Viewport {
  const whole = (value: number): number => Math.round(value * ratio) / ratio;
  const sharp = Math.max(1 / ratio, whole(Math.min(MAX_UNIT, Math.max(MIN_UNIT, unit))));
  return { unit: sharp, row: Math.max(1 / ratio, whole(sharp * rowPerPlace)), x: whole(x), y: whole(y) };
}

/** Board point under a pixel of the canvas, in CSS px from its corner; the inverse of {@link pointToPixel}. */
export function pixelToPoint(view: Viewport, { px, py }: PixelPoint): BoardPoint {
  return { x: (px - view.x) / view.unit, y: (py - view.y) / view.row };
}

/** Pixel of the canvas at a board point: x in places, y in rows. */
export function pointToPixel(view: Viewport, { x, y }: BoardPoint): PixelPoint {
  return { px: x * view.unit + view.x, py: y * view.row + view.y };
}

/** Another scale; the board point under the pixel stays there, to a device pixel. */
export function zoomTo(
  view: Viewport,
  at: PixelPoint,
  unit: number,
  rowPerPlace: number,
  ratio: number,
): Viewport {
  const scaled = snapped(unit, rowPerPlace, 0, 0, ratio);
  const { x, y } = pixelToPoint(view, at);
  return snapped(scaled.unit, rowPerPlace, at.px - x * scaled.unit, at.py - y * scaled.row, ratio);
}

/** Moves the board by pixels. */
export function panBy(view: Viewport, dx: number, dy: number, ratio: number): Viewport {
  const whole = (value: number): number => Math.round(value * ratio) / ratio;
  return { ...view, x: whole(view.x + dx), y: whole(view.y + dy) };
}

/**
 * Keeps the board on the canvas: where it is smaller it hangs from its bar in the middle, else without more than a margin beside it.
 * @param was where it was before it was moved: what lies further out already, because others changed the board, does not jump back
 */
export function keepInSight(
  view: Viewport,
  size: Size,
  extent: Extent,
  ratio: number,
  was: Viewport | null = null,
): Viewport {
  const whole = (value: number): number => Math.round(value * ratio) / ratio;
  const side = SIDES + view.unit / 2;
  const slackX = size.width - 2 * side - (extent.strings - 1) * view.unit;
  const slackY = size.height - extent.head - (extent.rows + 1) * view.row - extent.foot;
  const along = (at: number, before: number, slack: number, rest: number, from = rest): number =>
    Math.min(
      Math.max(slack >= 0 ? rest : before, from),
      Math.max(Math.min(slack >= 0 ? rest : before + slack, from), at),
    );
  const x = along(view.x, side, slackX, slackX >= 0 ? side + slackX / 2 : side, was?.x);
  const y = along(view.y, extent.head, slackY, extent.head, was?.y);
  return { ...view, x: whole(x), y: whole(y) };
}

/** Whether a part of the band is on the canvas. */
export function isOnCanvas({ unit, row, x, y }: Viewport, size: Size, { strings, rows }: Extent): boolean {
  return x < size.width && y < size.height && x + (strings - 1) * unit > 0 && y + rows * row > 0;
}

/** The whole width, at a comfortable scale at most, and the head of the board in sight. */
export function fitWidth(size: Size, extent: Extent, ratio: number): Viewport {
  const byWidth = (size.width - 2 * SIDES) / extent.strings;
  const unit = Math.min(COMFORTABLE_UNIT, byWidth);
  return keepInSight(snapped(unit, extent.rowPerPlace, 0, extent.head, ratio), size, extent, ratio);
}

/** The whole board, where that is possible at a legible scale; else its width. */
export function fitAll(size: Size, extent: Extent, ratio: number): Viewport {
  const byHeight = (size.height - extent.head - extent.foot) / ((extent.rows + 1) * extent.rowPerPlace);
  const byWidth = (size.width - 2 * SIDES) / extent.strings;
  const unit = Math.min(COMFORTABLE_UNIT, byWidth, byHeight);
  if (unit < MIN_UNIT) return fitWidth(size, extent, ratio);
  // Rounded down: a scale rounded up would push the last rows out of sight.
  const sharp = Math.max(MIN_UNIT, Math.floor(unit * ratio) / ratio);
  return keepInSight(snapped(sharp, extent.rowPerPlace, 0, extent.head, ratio), size, extent, ratio);
}

/** The view that a board begins with: its whole width, but no knots too small to tell apart or to tap, and from the bar. */
export function fitFirst(size: Size, extent: Extent, ratio: number): Viewport {
  const wide = fitWidth(size, extent, ratio);
  const unit = Math.max(LEAST_FIRST_UNIT, wide.unit);
  return keepInSight(snapped(unit, extent.rowPerPlace, size.width, extent.head, ratio), size, extent, ratio);
}

/** Moves as little as needed to bring a board point into sight, with room around it. */
export function reveal(view: Viewport, size: Size, point: BoardPoint, head: number, ratio: number): Viewport {
  const { px, py } = pointToPixel(view, point);
  const roomX = Math.min(size.width / 3, 2 * view.unit + 20);
  const roomY = Math.min(size.height / 3, 2 * view.row + 28);
  const top = Math.min(head, size.height / 3) * (point.y <= 2 ? 1 : 0) + roomY;
  const dx = px < roomX ? roomX - px : px > size.width - roomX ? size.width - roomX - px : 0;
  const dy = py < top ? top - py : py > size.height - roomY ? size.height - roomY - py : 0;
  return panBy(view, dx, dy, ratio);
}

/** Rows of which something can be seen between two pixel heights; `to` < `from` when none. */
export function rowsBetween(
  view: Viewport,
  top: number,
  bottom: number,
  rows: number,
): { readonly from: number; readonly to: number } {
  return {
    from: Math.max(0, Math.floor((top - view.y) / view.row) - 2),
    to: Math.min(rows - 1, Math.ceil((bottom - view.y) / view.row)),
  };
}

/** First and last of so many rows that a picture of this height shows, in part at least; null where there are none. */
export function rowsInSight(
  { y, row }: Viewport,
  height: number,
  rows: number,
): { readonly fromRow: number; readonly toRow: number } | null {
  const rowAt = (py: number): number => Math.min(rows - 1, Math.max(0, Math.floor((py - y) / row)));
  return rows === 0 ? null : { fromRow: rowAt(0), toRow: rowAt(height) };
}
