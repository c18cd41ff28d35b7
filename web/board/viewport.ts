/**
 * Where things are on the canvas.
 *
 * Board space: unit 1 = the distance between two places. Place p hangs at x = p. The knots of row r have their middle at
 * y = (r + 1) ROW and reach ROW up and down, so that staggered lozenges fill the band without gaps; a knot between the
 * places p and p + 1 has its middle at x = p + 0.5. Everything above y = 0 is pegs and arcs.
 * Pixel space: CSS pixels of the canvas, origin at its top left. `pixel = board * scale + offset`, with rows `ROW` high.
 */

/** Height of a row in board units. */
export const ROW = 0.8;

export interface Viewport {
  /** CSS pixels per board unit. */
  readonly scale: number;
  /** Pixel position of board point (0, 0). */
  readonly x: number;
  readonly y: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export const MIN_SCALE = 4;
export const MAX_SCALE = 120;

/** Keeps the board point under pixel (px, py) where it is while the scale changes by `factor`. */
export function zoomAt(view: Viewport, px: number, py: number, factor: number): Viewport {
  const scale = Math.min(MAX_SCALE, Math.max(MIN_SCALE, view.scale * factor));
  const real = scale / view.scale;
  return { scale, x: px - (px - view.x) * real, y: py - (py - view.y) * real };
}

/** Keeps at least a part of the board on the canvas. */
export function keepInSight(view: Viewport, size: Size, strings: number, rows: number): Viewport {
  const width = strings * view.scale;
  const height = (rows + 1) * ROW * view.scale;
  const margin = 60;
  return {
    scale: view.scale,
    x: Math.min(size.width - margin, Math.max(margin - width, view.x)),
    y: Math.min(size.height - margin, Math.max(margin - height, view.y)),
  };
}

/** The whole width, and as many rows as fit at a scale that is still comfortable. */
export function fitBoard(size: Size, strings: number, rows: number, head: number): Viewport {
  const sides = 44;
  const byWidth = (size.width - 2 * sides) / Math.max(1, strings - 1);
  const byHeight = (size.height - head - 40) / ((rows + 1) * ROW);
  const scale = Math.min(56, MAX_SCALE, Math.max(MIN_SCALE, Math.min(byWidth, Math.max(byHeight, 30))));
  return { scale, x: (size.width - (strings - 1) * scale) / 2, y: head };
}

/** First and last row of which something can be seen, within the pattern. */
export function visibleRows(view: Viewport, size: Size, rows: number): { from: number; to: number } {
  const perRow = ROW * view.scale;
  return {
    from: Math.max(0, Math.floor(-view.y / perRow) - 2),
    to: Math.min(rows - 1, Math.ceil((size.height - view.y) / perRow)),
  };
}

/**
 * The knot whose lozenge holds the pixel; null outside the band.
 * The lozenge around (p + 0.5, r + 1): |x - p - 0.5| + |y - r - 1| <= 1, in units of half a lozenge.
 */
export function knotAtPixel(
  view: Viewport,
  px: number,
  py: number,
  strings: number,
  rows: number,
  start: 0 | 1,
): { row: number; k: number } | null {
  const x = (px - view.x) / view.scale;
  const y = (py - view.y) / (view.scale * ROW);
  let best: { row: number; k: number } | null = null;
  let least = 1.0001;
  for (let row = Math.floor(y) - 1; row <= Math.floor(y); row++) {
    if (row < 0 || row >= rows) continue;
    const parity = (start + row) & 1;
    const k = Math.round((x - 0.5 - parity) / 2);
    if (k < 0 || k >= (strings - parity) >> 1) continue;
    const distance = Math.abs(x - 0.5 - parity - 2 * k) + Math.abs(y - row - 1);
    if (distance < least) {
      least = distance;
      best = { row, k };
    }
  }
  return best;
}

/** Pixel of the middle of a knot. */
export function knotToPixel(view: Viewport, row: number, k: number, start: 0 | 1): { x: number; y: number } {
  const parity = (start + row) & 1;
  return { x: view.x + (2 * k + parity + 0.5) * view.scale, y: view.y + (row + 1) * ROW * view.scale };
}

/** Index of the peg under the pixel; null when there is none. Pegs stand above y = 0 at each place. */
export function pegAtPixel(view: Viewport, px: number, py: number, strings: number): number | null {
  const place = Math.round((px - view.x) / view.scale);
  const isPegHigh = py < view.y + 6 && py > view.y - 40;
  return isPegHigh && place >= 0 && place < strings ? place : null;
}
