/** The picture of a pattern in as few bytes as shows what it is: for the moment before the board itself is there. */
import { type PaletteColour, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';

/** Knots that a glance shows at most: some 8 KB compressed. */
const MOST_KNOTS = 2_500;

/**
 * SVG text of the first rows of a pattern, as many as it may show: a path for each colour, lozenges where knots are tied, strings where none
 * are. Its box is board space as in `cells.ts`, from half a place left of the first to half a place right of the last, all rows high, and
 * is stretched to whatever it is laid out in.
 * @throws RangeError when a string's colour is not in the palette
 * O(rows shown x strings); about 12 characters a knot.
 */
export function glanceSvg(pattern: Pattern, palette: readonly PaletteColour[]): string {
  const strings = pattern.colours.length;
  const hexes = new Map(palette.map(({ id, hex }) => [id, hex]));
  const hexOf = (string: number): string => {
    const id = pattern.colours[string] as string;
    const hex = hexes.get(id);
    if (hex === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return hex;
  };
  const stride = rowStride(strings);
  const { shownFlat, orderFlat } = weave(pattern);
  const rows = Math.min(pattern.rows, Math.max(1, Math.floor((2 * MOST_KNOTS) / strings)));
  const knots = new Map<string, string[]>();
  const hanging = new Map<string, string[]>();
  const add = (to: Map<string, string[]>, hex: string, d: string): void => {
    const known = to.get(hex);
    if (known === undefined) to.set(hex, [d]);
    else known.push(d);
  };
  const hang = (row: number, place: number): void =>
    add(hanging, hexOf(orderFlat[row * strings + place] as number), `M${place} ${row}v2`);
  for (let row = 0; row < rows; row++) {
    const parity = rowParity(pattern.start, row);
    if (parity === 1) hang(row, 0);
    if ((strings - parity) % 2 === 1) hang(row, strings - 1);
    for (let k = 0, place = parity; place + 1 < strings; k++, place += 2) {
      if (pattern.knots[row * stride + k] === 0) {
        hang(row, place);
        hang(row, place + 1);
      } else add(knots, hexOf(shownFlat[row * stride + k] as number), `M${place + 0.5} ${row}l1 1-1 1-1-1z`);
    }
  }
  const paths = [
    ...[...hanging].map(([hex, d]) => `<path d="${d.join('')}" stroke="${hex}"/>`),
    ...[...knots].map(([hex, d]) => `<path d="${d.join('')}" fill="${hex}"/>`),
  ];
  const box = `-0.5 0 ${strings} ${pattern.rows + 1}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box}" preserveAspectRatio="none" fill="none" stroke-width=".2">${paths.join('')}</svg>`;
}
