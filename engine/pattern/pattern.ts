/**
 * The pattern: colours of the strings at the top, and the knots below them.
 *
 * Coordinates. Strings and places are counted from 0, left to right. Rows are counted from 0 downwards.
 * Row `r` has parity `(start + r) & 1`: its knot `k` ties the strings that hang at places
 * `2k + parity` and `2k + parity + 1`. Knots lie flat in `knots[r * stride + k]` with
 * `stride = strings >> 1`; a row of parity 1 under an even number of strings has one knot fewer and
 * leaves its last cell 0. Flat, so that weaving is one pass and an edit copies at most one small buffer.
 */

/** A knot as stored: 0 untied, 1 forward, 2 backward, 3 forward-backward, 4 backward-forward. */
export type KnotCode = 0 | 1 | 2 | 3 | 4;

/** Code of an untied pair: both hang on, nothing shows. */
export const NONE = 0;
/** Code of a forward knot: the left string shows, the two change places. */
export const FORWARD = 1;
/** Code of a backward knot: the right string shows, the two change places. */
export const BACKWARD = 2;
/** Code of a forward-backward knot: the left string shows, each stays where it is. */
export const FORWARD_BACKWARD = 3;
/** Code of a backward-forward knot: the right string shows, each stays where it is. */
export const BACKWARD_FORWARD = 4;

/** A knot as written in text and board files; index = code. */
export const KNOT_TOKENS = ['-', 'f', 'b', 'fb', 'bf'] as const;
/** One of the five tokens of {@link KNOT_TOKENS}. */
export type KnotToken = (typeof KNOT_TOKENS)[number];

/** Fewest strings of a pattern. */
export const MIN_STRINGS = 2;
/** Most strings of a pattern. */
export const MAX_STRINGS = 200;
/** Most rows of a pattern. */
export const MAX_ROWS = 20_000;

/** Id of a palette entry. */
export type ColourId = string;

/** A flat band: colours of the strings at the top, and the knots below them. The picture follows from these alone. */
export interface Pattern {
  /** Palette id of each string at the top, left to right; length = number of strings N, 2 to 200. */
  readonly colours: readonly ColourId[];
  /** Place at which the first row's first knot begins. */
  readonly start: 0 | 1;
  /** Number of rows, 0 to 20,000. */
  readonly rows: number;
  /** Knot codes, `rows * (N >> 1)` bytes, laid out as described at the top of this file. */
  readonly knots: Uint8Array;
}

/** From which side one begins: to mount, or to tie a row. */
export type Half = 'left' | 'right';

/** Parity of a row: the place at which its first knot begins, 0 or 1. */
export function rowParity(start: 0 | 1, row: number): 0 | 1 {
  return ((start + row) & 1) as 0 | 1;
}

/** Number of knots in a row of the given parity under `strings` strings. */
export function knotsInRow(strings: number, parity: 0 | 1): number {
  return (strings - parity) >> 1;
}

/** Cells kept for each row in `Pattern.knots`. */
export function rowStride(strings: number): number {
  return strings >> 1;
}

/**
 * Knot at row `row`, index `k`.
 * @throws RangeError when the row or the index lies outside the pattern.
 */
export function knotAt(pattern: Pattern, row: number, k: number): KnotCode {
  const strings = pattern.colours.length;
  if (!(row >= 0 && row < pattern.rows))
    throw new RangeError(`row ${row} is outside 0 to ${pattern.rows - 1}`);
  const count = knotsInRow(strings, rowParity(pattern.start, row));
  if (!(k >= 0 && k < count)) throw new RangeError(`knot ${k} is outside 0 to ${count - 1} in row ${row}`);
  return pattern.knots[row * rowStride(strings) + k] as KnotCode;
}

/** What about the shape of a pattern is wrong; the message is for logs. */
export interface ShapeFault {
  readonly kind: 'out-of-range' | 'wrong-count';
  readonly field: 'colours' | 'rows' | 'start' | 'knots';
  readonly message: string;
}

/** What is wrong with so many strings and rows; null when nothing is. */
export function sizeFault(strings: number, rows: number): ShapeFault | null {
  const outside = (field: 'colours' | 'rows', message: string): ShapeFault => ({
    kind: 'out-of-range',
    field,
    message,
  });
  if (!(Number.isInteger(strings) && strings >= MIN_STRINGS && strings <= MAX_STRINGS))
    return outside('colours', `${strings} strings are outside ${MIN_STRINGS} to ${MAX_STRINGS}`);
  if (!(Number.isInteger(rows) && rows >= 0 && rows <= MAX_ROWS))
    return outside('rows', `${rows} is outside 0 to ${MAX_ROWS}`);
  return null;
}

/** Why the parts of a pattern do not fit together; null when they do. What the knots are is not looked at. */
export function shapeFault({ colours, start, rows, knots }: Pattern): ShapeFault | null {
  const strings = colours.length;
  const ofSize = sizeFault(strings, rows);
  if (ofSize !== null) return ofSize;
  if (start !== 0 && start !== 1)
    return { kind: 'out-of-range', field: 'start', message: `${start} is neither 0 nor 1` };
  const cells = rows * rowStride(strings);
  if (knots.length === cells) return null;
  const message = `${knots.length} cells are not the ${cells} of ${rows} rows of ${strings} strings`;
  return { kind: 'wrong-count', field: 'knots', message };
}

/** Refuses a pattern whose parts do not fit together. @throws RangeError naming the part; see {@link shapeFault} */
export function assertPattern(pattern: Pattern): void {
  const fault = shapeFault(pattern);
  if (fault !== null) throw new RangeError(`${fault.field}: ${fault.message}`);
}

/** Whether the knot makes its two strings change places. */
export function isCrossing(knot: KnotCode): boolean {
  return knot === FORWARD || knot === BACKWARD;
}

/** Whether the knotting string (the one whose colour shows) is the left one of the two. False for 0. */
export function isLeftShown(knot: KnotCode): boolean {
  return knot === FORWARD || knot === FORWARD_BACKWARD;
}
