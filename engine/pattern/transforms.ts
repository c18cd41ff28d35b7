/**
 * Transforms of a pattern that keep its picture honest: each says what it does to the picture, and the tests hold it to that.
 * All give new patterns and leave their argument as it is. O(knots).
 */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  FORWARD,
  FORWARD_BACKWARD,
  knotsInRow,
  MAX_ROWS,
  NONE,
  type Pattern,
  rowParity,
  rowStride,
} from './pattern.ts';

/** The knot as it is seen in a mirror that exchanges left and right; index = code. */
export const MIRRORED_KNOT = [NONE, BACKWARD, FORWARD, BACKWARD_FORWARD, FORWARD_BACKWARD] as const;
/** The knot worked from the other end of the band; index = code. Strings that stay on their side stay so. */
export const REVERSED_KNOT = [NONE, BACKWARD, FORWARD, FORWARD_BACKWARD, BACKWARD_FORWARD] as const;

/** The strings' order after all rows: index of the string at each place. */
function orderBelow(pattern: Pattern): Int16Array {
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const order = Int16Array.from({ length: strings }, (_, place) => place);
  for (let row = 0; row < pattern.rows; row++) {
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const knot = pattern.knots[row * stride + k]!;
      if (knot !== FORWARD && knot !== BACKWARD) continue;
      const place = 2 * k + parity;
      const left = order[place]!;
      order[place] = order[place + 1]!;
      order[place + 1] = left;
    }
  }
  return order;
}

/** Colours of the strings, left to right, after all rows. */
export function coloursBelow(pattern: Pattern): readonly string[] {
  return Array.from(orderBelow(pattern), (string) => pattern.colours[string]!);
}

/** The pattern seen in a mirror: place p becomes N - 1 - p. The picture is mirrored left to right. */
export function mirrorPattern(pattern: Pattern): Pattern {
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const knots = new Uint8Array(pattern.knots.length);
  for (let row = 0; row < pattern.rows; row++) {
    const count = knotsInRow(strings, rowParity(pattern.start, row));
    for (let k = 0; k < count; k++)
      knots[row * stride + count - 1 - k] = MIRRORED_KNOT[pattern.knots[row * stride + k]!]!;
  }
  // Under an odd number of strings the mirror exchanges the two staggers.
  const start = strings % 2 === 0 ? pattern.start : ((1 - pattern.start) as 0 | 1);
  return { colours: [...pattern.colours].reverse(), start, rows: pattern.rows, knots };
}

/**
 * The same band worked from its other end: begins with the order in which the strings hang at the bottom, rows in reverse,
 * forward and backward exchanged. The picture is turned upside down, left and right stay.
 */
export function reversePattern(pattern: Pattern): Pattern {
  const stride = rowStride(pattern.colours.length);
  const { rows } = pattern;
  const knots = new Uint8Array(pattern.knots.length);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < stride; k++)
      knots[(rows - 1 - row) * stride + k] = REVERSED_KNOT[pattern.knots[row * stride + k]!]!;
  const start = rows === 0 ? pattern.start : rowParity(pattern.start, rows - 1);
  return { colours: coloursBelow(pattern), start, rows, knots };
}

/**
 * `times` repeats as one pattern. An odd number of rows is closed by an untied row between repeats, so that each begins at
 * the same places; the picture is the picture of the band that many repeats long.
 * @throws RangeError when `times` is not a whole number of 1 or more, or the rows would be more than 20,000
 */
export function tilePattern(pattern: Pattern, times: number): Pattern {
  if (!(Number.isInteger(times) && times >= 1)) throw new RangeError(`times must be 1 or more, not ${times}`);
  const stride = rowStride(pattern.colours.length);
  const perRepeat = pattern.rows + (pattern.rows & 1);
  const rows = times === 1 ? pattern.rows : perRepeat * (times - 1) + pattern.rows;
  if (rows > MAX_ROWS)
    throw new RangeError(`${times} repeats of ${pattern.rows} rows are more than ${MAX_ROWS} rows`);
  const knots = new Uint8Array(rows * stride);
  for (let i = 0; i < times; i++) knots.set(pattern.knots, i * perRepeat * stride);
  return { colours: [...pattern.colours], start: pattern.start, rows, knots };
}

/**
 * Rows `from` to `to - 1` as a pattern of their own, begun with the strings as they hang there. The picture is that part.
 * @throws RangeError when the rows do not lie in the pattern
 */
export function cropPattern(pattern: Pattern, from: number, to: number): Pattern {
  if (!(Number.isInteger(from) && Number.isInteger(to) && from >= 0 && from <= to && to <= pattern.rows))
    throw new RangeError(`rows ${from} to ${to} do not lie in 0 to ${pattern.rows}`);
  const stride = rowStride(pattern.colours.length);
  const above: Pattern = { ...pattern, rows: from };
  return {
    colours: coloursBelow(above),
    start: rowParity(pattern.start, from),
    rows: to - from,
    knots: pattern.knots.slice(from * stride, to * stride),
  };
}

/**
 * The same endless band begun at row `row` of the repeat: the rows from there on, then the rows before it, with the strings
 * as they hang there. An odd number of rows is closed by its untied row first. The picture of the endless band is the same,
 * shifted up by `row` rows.
 * @throws RangeError when `row` is not a row of the repeat
 */
export function shiftStart(pattern: Pattern, row: number): Pattern {
  if (!(Number.isInteger(row) && row >= 0 && row <= Math.max(0, pattern.rows - 1)))
    throw new RangeError(`row ${row} is outside 0 to ${pattern.rows - 1}`);
  const closed = closeRepeat(pattern);
  const below = cropPattern(closed, row, closed.rows);
  const stride = rowStride(pattern.colours.length);
  const knots = new Uint8Array(closed.knots.length);
  knots.set(below.knots);
  knots.set(closed.knots.subarray(0, row * stride), below.knots.length);
  return { ...below, rows: closed.rows, knots };
}

/** The pattern with an even number of rows: an odd one gets its untied row at the end. */
export function closeRepeat(pattern: Pattern): Pattern {
  if (pattern.rows % 2 === 0) return pattern;
  const knots = new Uint8Array(pattern.knots.length + rowStride(pattern.colours.length));
  knots.set(pattern.knots);
  return { ...pattern, rows: pattern.rows + 1, knots };
}
