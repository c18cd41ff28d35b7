/** Where in a repeat a band may stop and look finished. */
import { type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { workedRows } from './worked-rows.ts';

/**
 * Numbers of rows of a repeat, ascending, after which the picture looks finished: all of them, always; and fewer where either what would come next
 * begins as the repeat did, so that a motif has just ended, or the lower edge mirrors the upper one. Edges are compared as deep as the band is wide,
 * or as the repeat is long. Colours are those of the first repeat.
 * O(rows x strings).
 */
export function finishedStops(pattern: Pattern, leadInRows: number): readonly number[] {
  const length = pattern.rows - leadInRows;
  if (length === 0) return [];
  const faces = facesOf(pattern, leadInRows);
  const depth = Math.min(length, pattern.colours.length);
  const stops: number[] = [];
  for (let rows = 1; rows < length; rows++) {
    // Rows of one stagger alone can look alike: an even number of rows below each other, an odd one upside down.
    const isAlike =
      rows % 2 === 0
        ? everyUpTo(depth, (row) => faces[row] === faces[rows + row])
        : rows >= depth && everyUpTo(depth, (row) => faces[row] === faces[rows - 1 - row]);
    if (isAlike) stops.push(rows);
  }
  return [...stops, length];
}

/** What each row shows, as a number: equal where two rows of one stagger look alike. As many rows as two repeats have. */
function facesOf(pattern: Pattern, leadInRows: number): readonly number[] {
  const { pattern: rows } = workedRows(pattern, { leadInRows, repeats: 2, end: 'straight' });
  const { shownFlat } = weave(rows);
  const stride = rowStride(rows.colours.length);
  const known = new Map<string, number>();
  return Array.from({ length: rows.rows - leadInRows }, (_, i) => {
    const row = i + leadInRows;
    const shown = shownFlat.subarray(row * stride, (row + 1) * stride);
    const face = `${rowParity(rows.start, row)} ${Array.from(shown, (string) => rows.colours[string] ?? '').join('\n')}`;
    const number = known.get(face) ?? known.size;
    known.set(face, number);
    return number;
  });
}

function everyUpTo(count: number, holds: (row: number) => boolean): boolean {
  for (let row = 0; row < count; row++) if (!holds(row)) return false;
  return true;
}
