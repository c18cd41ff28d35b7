/** The chart for paper: rows of lozenges with their strokes and numbers, cut into pieces that fit a page. */
import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import {
  type Board,
  HITCH_STROKES,
  inkOn,
  rowParity,
  rowStride,
  TEXTURE_MARKS,
  weave,
} from '../../engine/index.ts';
import { chosenTextures } from '../board/index.ts';

/** What fits: width and height of the printed area that A4 and Letter share, less a heading, in mm. */
const FIT_WIDTH_MM = 180;
const FIT_HEIGHT_MM = 225;
/** Width of a place at most, and room for the numbers at the side, in mm. */
const PLACE_MM = 5;
const NUMBERS_MM = 11;
/** A row is this much of a place high. */
const SLENDERNESS = 0.8;
/** Least height of a row that is numbered, in mm. */
const LEAST_NUMBER_MM = 2;

export interface ChartPiece {
  /** First row and the row after the last, from 0. */
  readonly from: number;
  readonly to: number;
}

/** Width of a place in mm, so that all strings fit the width of the paper. */
function placeOf(strings: number): number {
  return Math.min(PLACE_MM, (FIT_WIDTH_MM - NUMBERS_MM) / strings);
}

/** The rows cut into pieces that are no higher than a page; their lengths differ by one row at most. O(pieces). */
export function chartPieces(strings: number, rows: number): readonly ChartPiece[] {
  const most = Math.floor(FIT_HEIGHT_MM / (placeOf(strings) * SLENDERNESS)) - 1;
  const count = Math.max(1, Math.ceil(rows / most));
  return Array.from({ length: count }, (_, i) => ({
    from: Math.floor((i * rows) / count),
    to: Math.floor(((i + 1) * rows) / count),
  }));
}

/** Draws pieces of one board's chart; weaves once. @throws RangeError when a string's colour is not in the palette */
export function chartOf({ pattern, palette }: Board): (piece: ChartPiece, label: string) => TemplateResult {
  const strings = pattern.colours.length;
  const hexes = pattern.colours.map((id) => {
    const colour = palette.find((one) => one.id === id);
    if (colour === undefined) throw new RangeError(`colour ${JSON.stringify(id)} is not in the palette`);
    return colour.hex;
  });
  const textures = chosenTextures(palette);
  const { shownFlat, orderFlat } = weave(pattern);
  const stride = rowStride(strings);
  const w = placeOf(strings);
  const h = w * SLENDERNESS;
  const width = NUMBERS_MM + strings * w;
  // Numbers smaller than this cannot be read; of low rows only every so many bear one.
  const every = Math.ceil(LEAST_NUMBER_MM / h);

  const knot = (row: number, k: number, place: number, y: number): SVGTemplateResult => {
    const code = pattern.knots[row * stride + k]!;
    const x = NUMBERS_MM + (place + 1) * w;
    if (code === 0) {
      const cord = (side: 0 | 1): SVGTemplateResult =>
        svg`<path d="M${x + (side - 0.5) * w} ${y - h}v${2 * h}" stroke=${hexes[orderFlat[row * strings + place + side]!]!} stroke-width=${w * 0.2} />`;
      return svg`${cord(0)}${cord(1)}`;
    }
    const string = shownFlat[row * stride + k]!;
    const hex = hexes[string]!;
    const texture = textures?.get(pattern.colours[string]!) ?? 0;
    const strokes = HITCH_STROKES[code]!.map(
      ([x0, y0, x1, y1]) => `M${x + x0 * w} ${y + y0 * h}L${x + x1 * w} ${y + y1 * h}`,
    ).join('');
    return svg`<path d="M${x} ${y - h}l${w} ${h} ${-w} ${h} ${-w} ${-h}z" fill=${hex} stroke="#777" stroke-width="0.1" />${texture > 0 ? marks(texture, x, y, inkOn(hex)) : ''}<path d=${strokes} stroke=${inkOn(hex)} stroke-width=${w * 0.1} />`;
  };

  /** A texture inside the lozenge around (x, y). */
  const marks = (texture: number, x: number, y: number, ink: string): SVGTemplateResult => {
    const { lines, dots, width: wide } = TEXTURE_MARKS[texture]!;
    const at = (mx: number, my: number): string => `${x + mx * w} ${y + my * h}`;
    const d = [
      ...lines.map(([x0, y0, x1, y1]) => `M${at(x0, y0)}L${at(x1, y1)}`),
      ...dots.map(([mx, my]) => `M${at(mx, my)}h0`),
    ].join('');
    return svg`<path class="texture" d=${d} stroke=${ink} stroke-opacity="0.55" stroke-width=${w * wide * (dots.length > 0 ? 1.5 : 1)} />`;
  };

  return ({ from, to }, label) => {
    const height = (to - from + 1) * h;
    const rows: SVGTemplateResult[] = [];
    for (let row = from; row < to; row++) {
      const y = (row - from + 1) * h;
      const parity = rowParity(pattern.start, row);
      for (let k = 0, place = parity; place + 1 < strings; k++, place += 2) rows.push(knot(row, k, place, y));
      if (row === from || (row + 1) % every === 0)
        rows.push(
          svg`<text x=${NUMBERS_MM - 2} y=${y + 0.8} text-anchor="end" font-size=${Math.min(2.6, h * every * 0.95)} fill="#000">${row + 1}</text>`,
        );
    }
    return html`<svg class="chart" style="width: ${width}mm; height: ${height}mm" viewBox="0 0 ${width} ${height}" role="img" aria-label=${label} fill="none" stroke-linecap="round">${rows}</svg>`;
  };
}
