/** The colour that an image has where a knot would lie. */
import type { Rgb } from '../colour/index.ts';
import { knotsInRow, rowParity, sizeFault } from '../pattern/index.ts';
import { type Frame, mapOf, type Pixels } from './pixels.ts';

/** Points along an edge of a lozenge at which the image is read: about one a pixel, within these. */
const FEWEST_POINTS = 4;
const MOST_POINTS = 20;
/** From this opacity on a point shows something. */
const SHOWS_FROM = 128;

/**
 * For each knot of the band the colour under it: the median of red, of green and of blue, in linear light (0 to 1), over the points of its
 * lozenge that lie on the image and are not clear; null where half of them or more do not.
 * @returns shaped as the rows of a wish
 * @throws RangeError for a band that no pattern has, and for pixels that are not as many as width and height say
 * O(knots x pixels of a lozenge, at most 400). Rules J80 and J81.
 */
export function knotColours(pixels: Pixels, frame: Frame): readonly (readonly (Rgb | null)[])[] {
  const { width, height, rgba } = pixels;
  if (rgba.length !== 4 * width * height)
    throw new RangeError(`${rgba.length} bytes are no image of ${width} by ${height}`);
  const fault = sizeFault(frame.strings, frame.rows);
  if (fault !== null) throw new RangeError(`${fault.field}: ${fault.message}`);
  const { ax, bx, cx, ay, by, cy } = mapOf(frame);
  const along = frame.pxPerPlace * Math.sqrt(2 * frame.rowPerCord);
  const points = Math.min(MOST_POINTS, Math.max(FEWEST_POINTS, Math.ceil(along)));
  const seen = [0, 1, 2].map(() => new Uint8Array(points * points));
  const colourAt = (place: number, row: number): Rgb | null => {
    let count = 0;
    for (let i = 0; i < points; i++)
      for (let j = 0; j < points; j++) {
        // Along the two edges of the lozenge, from its upper tip.
        const [u, v] = [(i + 0.5) / points, (j + 0.5) / points];
        const [p, r] = [place + 0.5 + u - v, row + u + v];
        const x = Math.floor(ax * p + bx * r + cx);
        const y = Math.floor(ay * p + by * r + cy);
        if (x < 0 || y < 0 || x >= width || y >= height) continue;
        const at = 4 * (y * width + x);
        if (rgba[at + 3]! < SHOWS_FROM) continue;
        for (let channel = 0; channel < 3; channel++) seen[channel]![count] = rgba[at + channel]!;
        count += 1;
      }
    if (2 * count <= points * points) return null;
    const [red, green, blue] = seen.map((values) => medianLight(values.subarray(0, count)));
    return [red!, green!, blue!];
  };
  return Array.from({ length: frame.rows }, (_, row) => {
    const parity = rowParity(frame.start, row);
    return Array.from({ length: knotsInRow(frame.strings, parity) }, (_knot, k) =>
      colourAt(2 * k + parity, row),
    );
  });
}

/** Linear light of each byte; IEC 61966-2-1. */
const LIGHT = Float64Array.from({ length: 256 }, (_, byte) => {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
});

/** The median, of an even number the middle between the two in the middle. Sorts what it is given. */
function medianLight(bytes: Uint8Array): number {
  bytes.sort();
  const half = bytes.length >> 1;
  const upper = LIGHT[bytes[half]!]!;
  return bytes.length % 2 === 1 ? upper : (upper + LIGHT[bytes[half - 1]!]!) / 2;
}
