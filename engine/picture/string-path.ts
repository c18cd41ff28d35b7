/** The way of one string through the band: where it hangs, where it shows, where it is hidden. */
import { knotsInRow, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import type { Weave } from '../weave/index.ts';
import type { Cell } from './cells.ts';

/** What a string does in a row: it hangs on untied, knots (its colour shows), or is the carrier (hidden). */
type PathPart = 'hangs' | 'knots' | 'carries';

/** The way of one string down the band. */
export interface StringPath {
  /** Index of the string, from 0 at the left of the bar. */
  readonly string: number;
  /** Its place before each row, and after the last: rows + 1 places. */
  readonly places: Int16Array;
  /** What it does in each row. */
  readonly parts: readonly PathPart[];
  /** The knots in which it shows. */
  readonly shown: readonly Cell[];
}

/**
 * Follows a string from the bar to its end.
 * @throws RangeError when there is no such string
 * O(rows x strings): the weave holds the strings of each row, not the row's place of each string.
 */
export function stringPath(pattern: Pattern, weave: Weave, string: number): StringPath {
  const strings = pattern.colours.length;
  if (!(Number.isInteger(string) && string >= 0 && string < strings))
    throw new RangeError(`string ${string} is outside 0 to ${strings - 1}`);
  const places = new Int16Array(pattern.rows + 1);
  const parts: PathPart[] = [];
  const shown: Cell[] = [];
  const stride = rowStride(strings);
  let place = string;
  for (let row = 0; row <= pattern.rows; row++) {
    place = whereabouts(weave.orderFlat, row * strings, place, string, strings);
    places[row] = place;
    if (row === pattern.rows) break;
    const parity = rowParity(pattern.start, row);
    const k = (place - parity) >> 1;
    const isTied =
      k >= 0 && k < knotsInRow(strings, parity) && (pattern.knots[row * stride + k] as number) !== 0;
    if (!isTied) parts.push('hangs');
    else if (weave.shownFlat[row * stride + k] === string) {
      parts.push('knots');
      shown.push({ row, k });
    } else parts.push('carries');
  }
  return { string, places, parts, shown };
}

/** A string moves one place a row at most. */
function whereabouts(order: Int16Array, from: number, near: number, string: number, strings: number): number {
  for (let place = Math.max(0, near - 1); place <= Math.min(strings - 1, near + 1); place++)
    if (order[from + place] === string) return place;
  throw new RangeError(
    `the weave does not belong to the pattern: string ${string} is not near place ${near}`,
  );
}
