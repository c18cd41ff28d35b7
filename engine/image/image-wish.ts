/** From an image to a wish. */
import { ciede2000, hexToLab, linearToLab } from '../colour/index.ts';
import type { PaletteColour } from '../pattern/index.ts';
import type { Wish } from '../wish/index.ts';
import { chooseThreads } from './choose-threads.ts';
import { flattened } from './flat-areas.ts';
import { knotColours } from './knot-colours.ts';
import type { Frame, Pixels } from './pixels.ts';

/** How an image is brought to threads. */
export interface ImageOptions {
  /** At most so many colours, 1 or more. */
  readonly colours: number;
  /** How much flatter areas are made: what a knot that differs from a neighbour counts, as a CIEDE2000 difference; 0 to 20, default 4. */
  readonly flat?: number;
}

const FLAT = 4;
const MOST_FLAT = 20;

/**
 * A wish that shows what lies under a frame: each knot by its median colour, in at most so many colours of the palette, those that differ
 * least by CIEDE2000. A knot takes the colour of its neighbours where it differs from that little more than from its own. Knots beside the
 * image, or where it is clear, are open.
 * @throws RangeError for an empty palette and for numbers that make no sense
 * Same image, same wish. Rules J80 to J84.
 */
export function imageWish(
  pixels: Pixels,
  frame: Frame,
  palette: readonly PaletteColour[],
  { colours, flat = FLAT }: ImageOptions,
): Wish {
  if (palette.length === 0) throw new RangeError('a picture takes one colour at least');
  if (!(Number.isInteger(colours) && colours >= 1)) throw new RangeError(`${colours} colours are none`);
  if (!(flat >= 0 && flat <= MOST_FLAT)) throw new RangeError(`flat ${flat} is not 0 to ${MOST_FLAT}`);
  const labs = palette.map(({ hex }) => hexToLab(hex));
  const apart = knotColours(pixels, frame).map((row) =>
    row.map((light) => {
      if (light === null) return null;
      const lab = linearToLab(light);
      return Float64Array.from(labs, (one) => ciede2000(lab, one));
    }),
  );
  const known = apart.flat().filter((row) => row !== null);
  const threads = chooseThreads(known, palette.length, colours);
  const rows = flattened(apart, threads, { start: frame.start, flat });
  return { strings: frame.strings, start: frame.start, palette, rows };
}
