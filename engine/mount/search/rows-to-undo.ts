/** How few rows of exchanges crossings allow. */

/**
 * Rows that so many crossings need. An exchange takes two neighbouring ends past each other: the folding with the fewest crossings after it
 * has one more or less before it, so the fewest crossings change by one at most. A neat order has none; so there are as many
 * exchanges as crossings, and a row has as many as pairs.
 */
export function rowsToUndo(crossings: number, strings: number, start: 0 | 1): number {
  let rows = 0;
  for (let undone = 0; undone < crossings; ) {
    rows++;
    undone += (strings - ((start + rows) & 1)) >> 1;
  }
  return rows;
}
