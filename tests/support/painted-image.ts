/** Images made for tests: pixel by pixel, by what lies at a point. */
import type { Frame, Pixels } from '../../engine/image/pixels.ts';

export type Colour = readonly [red: number, green: number, blue: number, opacity?: number];

/** An image whose pixel is what `colourAt` says of its middle. */
export function paintedImage(
  width: number,
  height: number,
  colourAt: (x: number, y: number) => Colour,
): Pixels {
  const rgba = new Uint8ClampedArray(4 * width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [red, green, blue, opacity = 255] = colourAt(x + 0.5, y + 0.5);
      rgba.set([red, green, blue, opacity], 4 * (y * width + x));
    }
  return { width, height, rgba };
}

/** The knot whose lozenge a point of the image lies in, by row and left place; plain geometry, step by step. */
export function knotUnder(frame: Frame, x: number, y: number): { row: number; place: number } {
  const turn = (-frame.turnDegrees * Math.PI) / 180;
  const [dx, dy] = [x - frame.middleX, y - frame.middleY];
  const across = (dx * Math.cos(turn) - dy * Math.sin(turn)) / frame.pxPerPlace + (frame.strings - 1) / 2;
  const down =
    (dx * Math.sin(turn) + dy * Math.cos(turn)) / (frame.pxPerPlace * frame.rowPerCord) +
    (frame.rows + 1) / 2;
  // The nearest middle of a lozenge, of those around.
  let nearest = { row: 0, place: 0 };
  let least = Infinity;
  for (let row = Math.floor(down) - 3; row <= down + 3; row++)
    for (let place = Math.floor(across) - 3; place <= across + 3; place++) {
      if (((row + frame.start - place) & 1) !== 0) continue;
      const away = Math.abs(across - place - 0.5) + Math.abs(down - row - 1);
      if (away < least) {
        least = away;
        nearest = { row, place };
      }
    }
  return nearest;
}

/** `#rrggbb` as bytes. */
export function bytesOf(hex: string): [number, number, number] {
  const value = Number.parseInt(hex.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
}
