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
  MAX_STRINGS,
  MIN_STRINGS,
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

/**
 * Puts rows in before row `at`. The picture above stays; below it is the picture of the old rows begun with the strings as
 * the new rows leave them.
 * @param inserted an even number of rows, so that the stagger below stays; same number of strings, begun at the stagger of `at`
 * @throws RangeError when the numbers do not fit
 */
export function insertRows(pattern: Pattern, at: number, inserted: Pattern): Pattern {
  if (!(Number.isInteger(at) && at >= 0 && at <= pattern.rows))
    throw new RangeError(`row ${at} is outside 0 to ${pattern.rows}`);
  if (inserted.colours.length !== pattern.colours.length)
    throw new RangeError(`rows of ${inserted.colours.length} strings do not fit ${pattern.colours.length}`);
  if (inserted.rows % 2 !== 0)
    throw new RangeError(`${inserted.rows} rows would shift the stagger; rows go in by pairs`);
  if (inserted.rows > 0 && inserted.start !== rowParity(pattern.start, at))
    throw new RangeError(
      `the rows begin at ${inserted.start}, but row ${at} begins at ${rowParity(pattern.start, at)}`,
    );
  const rows = pattern.rows + inserted.rows;
  if (rows > MAX_ROWS) throw new RangeError(`${rows} rows are more than ${MAX_ROWS}`);
  const stride = rowStride(pattern.colours.length);
  const knots = new Uint8Array(rows * stride);
  knots.set(pattern.knots.subarray(0, at * stride));
  knots.set(inserted.knots, at * stride);
  knots.set(pattern.knots.subarray(at * stride), at * stride + inserted.knots.length);
  return { ...pattern, rows, knots };
}

/**
 * Another number of strings: strings are added at the right in `colour`, untied, or taken away from the right with the knots
 * that tie them. What is left of the band keeps its picture where no string of the lost part had come in.
 * @throws RangeError when `strings` is not 2 to 200
 */
export function changeStringCount(pattern: Pattern, strings: number, colour: string): Pattern {
  if (!(Number.isInteger(strings) && strings >= MIN_STRINGS && strings <= MAX_STRINGS))
    throw new RangeError(`strings must be ${MIN_STRINGS} to ${MAX_STRINGS}, not ${strings}`);
  const old = pattern.colours.length;
  const colours = Array.from({ length: strings }, (_, place) => pattern.colours[place] ?? colour);
  const knots = new Uint8Array(pattern.rows * rowStride(strings));
  for (let row = 0; row < pattern.rows; row++) {
    const parity = rowParity(pattern.start, row);
    const kept = Math.min(knotsInRow(old, parity), knotsInRow(strings, parity));
    const from = row * rowStride(old);
    knots.set(pattern.knots.subarray(from, from + kept), row * rowStride(strings));
  }
  return { colours, start: pattern.start, rows: pattern.rows, knots };
}

/**
 * Puts pairs of strings in before the string at place `at`, tied to nothing. Knots that tied the strings on either side of
 * `at` to each other are gone, so the band is now the part left of it, the new strings, and the part right of it; each part
 * keeps the picture that it has with those knots untied.
 * @param at      an even place, 0 to the number of strings, so that the stagger beside the new strings stays
 * @param colours colours of the new strings, left to right; an even number
 * @throws RangeError when the numbers do not fit
 */
export function insertStrings(pattern: Pattern, at: number, colours: readonly string[]): Pattern {
  const old = pattern.colours.length;
  if (!(Number.isInteger(at) && at >= 0 && at <= old && at % 2 === 0))
    throw new RangeError(`place ${at} is no even one from 0 to ${old}`);
  if (colours.length % 2 !== 0)
    throw new RangeError(`${colours.length} strings would shift the stagger; strings go in by pairs`);
  if (old + colours.length > MAX_STRINGS)
    throw new RangeError(`${old + colours.length} strings are more than ${MAX_STRINGS}`);
  return withStrings(
    pattern,
    [...pattern.colours.slice(0, at), ...colours, ...pattern.colours.slice(at)],
    (place) => (place < at ? place : place + colours.length),
  );
}

/**
 * Takes away `count` strings from place `from` on, with the knots that tie them; those beside them become neighbours, untied.
 * The part left of them and the part right of them keep the picture that they have with those knots untied.
 * @param from  an even place, and `count` an even number, so that the stagger stays
 * @throws RangeError when the numbers do not fit, or fewer than 2 strings would be left
 */
export function removeStrings(pattern: Pattern, from: number, count: number): Pattern {
  const old = pattern.colours.length;
  if (!(Number.isInteger(from) && from >= 0 && from % 2 === 0))
    throw new RangeError(`place ${from} is no even one of 0 or more`);
  if (!(Number.isInteger(count) && count >= 0 && count % 2 === 0 && from + count <= old))
    throw new RangeError(`${count} strings from ${from} on are no pairs of the ${old}`);
  if (old - count < MIN_STRINGS) throw new RangeError(`${old - count} strings are fewer than ${MIN_STRINGS}`);
  return withStrings(
    pattern,
    [...pattern.colours.slice(0, from), ...pattern.colours.slice(from + count)],
    (place) => (place < from ? place : place < from + count ? -1 : place - count),
  );
}

/** The pattern with other strings; knots stay where both their places go on as neighbours. @param goesTo -1: nowhere */
function withStrings(
  pattern: Pattern,
  colours: readonly string[],
  goesTo: (place: number) => number,
): Pattern {
  const { start, rows } = pattern;
  const oldStride = rowStride(pattern.colours.length);
  const stride = rowStride(colours.length);
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++) {
    const parity = rowParity(start, row);
    for (let k = 0; k < knotsInRow(pattern.colours.length, parity); k++) {
      const left = goesTo(2 * k + parity);
      if (left < 0 || goesTo(2 * k + parity + 1) !== left + 1) continue;
      knots[row * stride + ((left - parity) >> 1)] = pattern.knots[row * oldStride + k]!;
    }
  }
  return { colours, start, rows, knots };
}
