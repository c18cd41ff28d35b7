/** What should show: a colour, or none in particular, for each knot of a band. */
import {
  knotsInRow,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  type PaletteColour,
  rowParity,
} from '../pattern/index.ts';
import { answerOrError, asFields, asList, asWhole, Refusal, type SolveError } from './solve-error.ts';

/** A picture to solve. */
export interface SolveTarget {
  /** Number of strings, 2 to 200. */
  readonly strings: number;
  /** Place at which the first row's first knot begins. */
  readonly start: 0 | 1;
  /** For each row, from the top, and each of its knots: index into `palette`, or -1 where any colour may show. */
  readonly rows: readonly (readonly number[])[];
  readonly palette: readonly PaletteColour[];
}

/** Most colours of a palette: one for each string of the widest band. */
const MOST_COLOURS = MAX_STRINGS;

/**
 * Checks a target, which may come from anywhere.
 * @throws Refusal naming the first field that is wrong
 */
export function readTarget(value: unknown): SolveTarget {
  const fields = asFields(value, '');
  const strings = asWhole(fields.strings, 'strings', MIN_STRINGS, MAX_STRINGS);
  if (fields.start !== 0 && fields.start !== 1)
    throw new Refusal('out-of-range', 'start', { be: 'one-of', choices: '0, 1' }, fields.start);
  const start = fields.start;
  const palette = readPalette(fields.palette);
  const rows = asList(fields.rows, 'rows');
  if (rows.length > MAX_ROWS)
    throw new Refusal('out-of-range', 'rows', { be: 'most-rows', most: MAX_ROWS }, rows.length);
  return {
    strings,
    start,
    palette,
    rows: rows.map((row, r) => {
      const cells = asList(row, `rows[${r}]`);
      const count = knotsInRow(strings, rowParity(start, r));
      if (cells.length !== count)
        throw new Refusal('wrong-count', `rows[${r}]`, { be: 'knots', count, strings }, cells.length);
      return cells.map((cell, k) => asWhole(cell, `rows[${r}][${k}]`, -1, palette.length - 1));
    }),
  };
}

/** As {@link readTarget}, with what is wrong as data. */
export function checkTarget(
  value: unknown,
): { readonly ok: true; readonly value: SolveTarget } | { readonly ok: false; readonly error: SolveError } {
  return answerOrError(() => ({ ok: true as const, value: readTarget(value) }));
}

function readPalette(value: unknown): readonly PaletteColour[] {
  const list = asList(value, 'palette');
  if (list.length < 1 || list.length > MOST_COLOURS)
    throw new Refusal(
      'out-of-range',
      'palette',
      { be: 'entries', least: 1, most: MOST_COLOURS },
      list.length,
    );
  const seen = new Set<string>();
  return list.map((entry, i) => {
    const path = `palette[${i}]`;
    const { id, name = '', hex } = asFields(entry, path);
    if (typeof id !== 'string' || id === '')
      throw new Refusal('wrong-type', `${path}.id`, { be: 'text' }, id);
    if (seen.has(id)) throw new Refusal('duplicate-id', `${path}.id`, `${id} is there twice`);
    seen.add(id);
    if (typeof name !== 'string') throw new Refusal('wrong-type', `${path}.name`, { be: 'text' }, name);
    if (typeof hex !== 'string' || !/^#[0-9a-fA-F]{6}$/.test(hex))
      throw new Refusal('out-of-range', `${path}.hex`, { be: 'hex' }, hex);
    return { id, name, hex: hex.toLowerCase() };
  });
}
