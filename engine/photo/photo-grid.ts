/**
 * The grid of knots laid over a photo of a band: by the four corners of the band, and bent along it.
 *
 * Band space: across 0 to 1 from the left edge to the right, down 0 to 1 from the first tip to the last. A band that lies flat, seen from
 * anywhere, is band space through a homography; one that is bent sideways is shifted across by a parabola first, which is 0 at both ends.
 */

/** A point of the photo, in pixels. */
export interface PhotoPoint {
  readonly x: number;
  readonly y: number;
}

/** Where a band lies on a photo. */
export interface PhotoGrid {
  readonly strings: number;
  readonly start: 0 | 1;
  readonly rows: number;
  /** Upper left, upper right, lower right, lower left. */
  readonly corners: readonly [PhotoPoint, PhotoPoint, PhotoPoint, PhotoPoint];
  /** How far the middle of the band lies to the right of the straight line, in widths of the band. */
  readonly bend: number;
}

/**
 * From places and rows of the board (board space) to pixels.
 * @throws RangeError when no three of the corners span a band: two are one, or three lie on a line
 * Source of the homography: P. S. Heckbert, "Fundamentals of texture mapping and image warping", 1989, 2.2.3.
 */
export function photoMap(grid: PhotoGrid): (place: number, row: number) => PhotoPoint {
  const [a, b, c, d] = grid.corners;
  const [dx1, dx2, sx] = [b.x - c.x, d.x - c.x, a.x - b.x + c.x - d.x];
  const [dy1, dy2, sy] = [b.y - c.y, d.y - c.y, a.y - b.y + c.y - d.y];
  const area = dx1 * dy2 - dx2 * dy1;
  if (!(Math.abs(area) > 1)) throw new RangeError('the corners span no band');
  const g = (sx * dy2 - dx2 * sy) / area;
  const h = (dx1 * sy - sx * dy1) / area;
  const [m00, m01, m02] = [b.x - a.x + g * b.x, d.x - a.x + h * d.x, a.x];
  const [m10, m11, m12] = [b.y - a.y + g * b.y, d.y - a.y + h * d.y, a.y];
  const { strings, rows, bend } = grid;
  return (place, row) => {
    const down = row / (rows + 1);
    const across = (place + 0.5) / strings + bend * 4 * down * (1 - down);
    const w = g * across + h * down + 1;
    return { x: (m00 * across + m01 * down + m02) / w, y: (m10 * across + m11 * down + m12) / w };
  };
}
