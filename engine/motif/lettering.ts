/** From a text to a wish: which knots show it, in one colour on another. */
import { knotsInRow, MAX_ROWS, MAX_STRINGS, type PaletteColour, rowParity } from '../pattern/index.ts';
import type { Wish } from '../wish/index.ts';
import { isDrawn, type PlacedSign, placeSign, type Run, signsOf } from './signs.ts';

/** What is to be written. */
interface Lettering {
  readonly text: string;
  readonly run: Run;
  /** 2 to 200. */
  readonly strings: number;
  /** How large: 1 as drawn, 2 each lozenge as two by two, and so on; absent, the largest that these strings take. */
  readonly size?: number;
}

/** Why a text cannot be laid out. */
type LetteringError =
  /** Nothing to write. */
  | { readonly kind: 'empty' }
  /** Signs that are not drawn, each once. */
  | { readonly kind: 'not-drawn'; readonly signs: readonly string[] }
  /** The band is too narrow for a sign; so many strings would do. */
  | { readonly kind: 'too-narrow'; readonly sign: string; readonly strings: number; readonly needs: number }
  /** It would be longer than a pattern can be. */
  | { readonly kind: 'too-long'; readonly rows: number; readonly most: number };

/** A text on a band. */
interface LaidLettering {
  readonly ok: true;
  /** Ground is the first colour of the palette, the signs are the second. */
  readonly wish: Wish;
  readonly size: number;
  /** For each sign but spaces the row and the place of its drawing's zero. */
  readonly signs: readonly { readonly sign: string; readonly row: number; readonly place: number }[];
}

/** Rows of ground between two signs, for a space, and above and below all. */
const GAP: Readonly<Record<Run, number>> = { upright: 3, along: 2 };
const SPACE_ROWS = 5;
const EDGE_ROWS = 3;

/**
 * Lays a text out from the top of the band.
 * @param palette ground, then signs; further colours are not used
 * @returns the wish, each knot of it wanted, or why not; same text, same wish. O(knots).
 * @throws RangeError when the palette has fewer than two colours, or size or strings are none. Rules J70 to J74.
 */
export function layLettering(
  { text, run, strings, size }: Lettering,
  palette: readonly PaletteColour[],
): LaidLettering | { readonly ok: false; readonly error: LetteringError } {
  if (palette.length < 2) throw new RangeError('letters take two colours');
  if (size !== undefined && !(Number.isInteger(size) && size >= 1))
    throw new RangeError(`size ${size} is not 1 or more`);
  const signs = signsOf(text);
  if (signs.length === 0) return { ok: false, error: { kind: 'empty' } };
  const unknown = [...new Set(signs.filter((sign) => sign !== ' ' && !isDrawn(sign)))];
  if (unknown.length > 0) return { ok: false, error: { kind: 'not-drawn', signs: unknown } };
  const taken = size ?? largestSize(signs, run, strings);
  const widest = widestOf(signs, run, taken);
  if (widest.places > strings - 1)
    return { ok: false, error: { kind: 'too-narrow', sign: widest.sign, strings, needs: widest.places + 1 } };
  return layOut(signs, { run, strings, size: taken }, palette);
}

/** The sign that takes most places, the first of equals. */
function widestOf(signs: readonly string[], run: Run, size: number): PlacedSign & { readonly sign: string } {
  return signs
    .filter((sign) => sign !== ' ')
    .map((sign) => ({ sign, ...placeSign(sign, run, size) }))
    .reduce((widest, one) => (one.places > widest.places ? one : widest));
}

function largestSize(signs: readonly string[], run: Run, strings: number): number {
  let size = 1;
  while (strings <= MAX_STRINGS && widestOf(signs, run, size + 1).places <= strings - 1) size++;
  return size;
}

function layOut(
  signs: readonly string[],
  { run, strings, size }: Required<Omit<Lettering, 'text'>>,
  palette: readonly PaletteColour[],
): LaidLettering | { readonly ok: false; readonly error: LetteringError } {
  const start = 0;
  const laid: { readonly sign: string; readonly row: number; readonly place: number }[] = [];
  const inked = new Set<number>();
  const keyOf = (row: number, place: number): number => row * MAX_STRINGS + place;
  let row = EDGE_ROWS;
  for (const sign of signs) {
    if (sign === ' ') {
      row += SPACE_ROWS * size;
      continue;
    }
    const { drawing, middle } = placeSign(sign, run, size);
    const place = Math.floor((strings - 2) / 2 - middle);
    // Knots lie where row and place together are even, as lozenges do; so the drawing moves by an even sum.
    const down = row - drawing.top + ((((row - drawing.top + place + start) % 2) + 2) % 2);
    for (const { x, y } of drawing.lozenges) inked.add(keyOf(y + down, x + place));
    laid.push({ sign, row: down, place });
    row = drawing.bottom + down + 1 + GAP[run] * size;
  }
  const used = row - GAP[run] * size + EDGE_ROWS;
  // An even number of rows, so that the band can be worked again and again without an untied row between.
  const rows = used + (used % 2);
  if (rows > MAX_ROWS) return { ok: false, error: { kind: 'too-long', rows, most: MAX_ROWS } };
  return {
    ok: true,
    size,
    signs: laid,
    wish: {
      strings,
      start,
      palette,
      rows: Array.from({ length: rows }, (_, at) => {
        const parity = rowParity(start, at);
        return Array.from({ length: knotsInRow(strings, parity) }, (_cell, k) =>
          inked.has(keyOf(at, 2 * k + parity)) ? 1 : 0,
        );
      }),
    },
  };
}
