/** The picture of a pattern as SVG text: for files, print and previews. */
import { type ColourId, type PaletteColour, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { HITCH_STROKES } from './hitches.ts';
import { inkOn } from './ink.ts';
import { TEXTURE_MARKS } from './texture-marks.ts';

/** How {@link pictureSvg} draws; lengths in px. */
export interface PictureOptions {
  /** Title that a screen reader speaks. */
  readonly title: string;
  /** Width of a place in px; default 16. */
  readonly placePx?: number;
  /** Height of a row in px; default 12. */
  readonly rowPx?: number;
  /** Whether the half hitches are drawn; default true. */
  readonly strokes?: boolean;
  /** Number of the texture of each palette colour, 0 for none; default none. */
  readonly textures?: ReadonlyMap<ColourId, number>;
}

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

/**
 * SVG text of the pattern: a lozenge of the colour that shows for each knot, its half hitches as strokes, untied strings as lines.
 * @throws RangeError when a string's colour is not in the palette
 * O(rows x strings); about 120 characters a knot.
 */
export function pictureSvg(
  pattern: Pattern,
  palette: readonly PaletteColour[],
  options: PictureOptions,
): string {
  const { placePx = 16, rowPx = 12, strokes = true, textures } = options;
  const hexes = pattern.colours.map((id) => {
    const entry = palette.find((colour) => colour.id === id);
    if (entry === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return entry.hex;
  });
  const strings = hexes.length;
  const stride = rowStride(strings);
  const { shownFlat, orderFlat } = weave(pattern);
  const width = strings * placePx;
  const height = tidy((pattern.rows + 1) * rowPx);
  const parts: string[] = [];
  const line = (place: number, row: number, string: number): void => {
    const x = (place + 0.5) * placePx;
    parts.push(
      `<path d="M${x} ${tidy(row * rowPx)}V${tidy(Math.min(height, (row + 2) * rowPx))}" stroke="${hexes[string]}" stroke-width="${placePx * 0.16}"/>`,
    );
  };
  for (let row = 0; row < pattern.rows; row++) {
    const parity = rowParity(pattern.start, row);
    const order = row * strings;
    if (parity === 1) line(0, row, orderFlat[order] as number);
    if ((strings - parity) % 2 === 1) line(strings - 1, row, orderFlat[order + strings - 1] as number);
    for (let k = 0, place = parity; place + 1 < strings; k++, place += 2) {
      if (pattern.knots[row * stride + k] !== 0) continue;
      line(place, row, orderFlat[order + place] as number);
      line(place + 1, row, orderFlat[order + place + 1] as number);
    }
  }
  for (let row = 0; row < pattern.rows; row++) {
    const parity = rowParity(pattern.start, row);
    for (let k = 0, place = parity; place + 1 < strings; k++, place += 2) {
      const knot = pattern.knots[row * stride + k] as number;
      if (knot === 0) continue;
      const hex = hexes[shownFlat[row * stride + k] as number] as string;
      const x = (place + 1) * placePx;
      const y = tidy((row + 1) * rowPx);
      const tall = tidy(rowPx);
      parts.push(
        `<path d="M${x} ${tidy(y - tall)}l${placePx} ${tall} ${-placePx} ${tall} ${-placePx} ${-tall}z" fill="${hex}"/>`,
      );
      const texture = textures?.get(pattern.colours[shownFlat[row * stride + k] as number] as string) ?? 0;
      if (texture > 0) parts.push(textureOf(texture, x, y, placePx, rowPx, inkOn(hex)));
      if (!strokes) continue;
      const d = HITCH_STROKES[knot]
        ?.map(
          ([x0, y0, x1, y1]) =>
            `M${tidy(x + x0 * placePx)} ${tidy(y + y0 * rowPx)}L${tidy(x + x1 * placePx)} ${tidy(y + y1 * rowPx)}`,
        )
        .join('');
      parts.push(`<path d="${d}" stroke="${inkOn(hex)}" stroke-width="${tidy(placePx * 0.1)}"/>`);
    }
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" fill="none" stroke-linecap="round"><title>${escaped(options.title)}</title>${parts.join('')}</svg>`;
}

/** A texture's marks in the lozenge around (x, y). */
function textureOf(texture: number, x: number, y: number, half: number, tall: number, ink: string): string {
  const marks = TEXTURE_MARKS[texture];
  if (marks === undefined) throw new RangeError(`there is no texture ${texture}`);
  const at = (mx: number, my: number): string => `${tidy(x + mx * half)} ${tidy(y + my * tall)}`;
  const lines = marks.lines.map(([x0, y0, x1, y1]) => `M${at(x0, y0)}L${at(x1, y1)}`);
  // A line of no length with round ends is a dot.
  const dots = marks.dots.map(([mx, my]) => `M${at(mx, my)}h0`);
  const wide = tidy(half * marks.width * (dots.length > 0 ? 1.5 : 1));
  return `<path class="texture" d="${[...lines, ...dots].join('')}" stroke="${ink}" stroke-opacity="0.55" stroke-width="${wide}"/>`;
}

function tidy(value: number): number {
  return Math.round(value * 100) / 100;
}
