/** Which colours lie side by side in the picture. */
import { type ColourId, type Pattern, rowParity } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';

/** How often two different palette colours meet in neighbouring knots. */
export type ColourMeetings = (one: ColourId, two: ColourId) => number;

/**
 * Counts the neighbours of a pattern once, for any number of colourways. Neighbours are a knot and the two that hang under it, as in
 * `vanishingNeighbours`. O(rows x strings). Rule E4.
 */
export function colourMeetings(pattern: Pattern): ColourMeetings {
  const ids = [...new Set(pattern.colours)];
  const number = new Map(ids.map((id, i) => [id, i]));
  const colourOf = pattern.colours.map((id) => number.get(id)!);
  const size = ids.length;
  const counts = new Uint32Array(size * size);
  const { shown } = weave(pattern);
  for (let row = 0; row + 1 < pattern.rows; row++) {
    const upper = shown[row]!;
    const lower = shown[row + 1]!;
    // Under a row of parity 0 hang the knots k - 1 and k, under one of parity 1 the knots k and k + 1.
    const shift = rowParity(pattern.start, row) === 0 ? -1 : 0;
    for (let k = 0; k < upper.length; k++) {
      if (upper[k]! < 0) continue;
      const one = colourOf[upper[k]!]!;
      for (let below = Math.max(0, k + shift); below <= k + shift + 1 && below < lower.length; below++) {
        if (lower[below]! < 0) continue;
        const two = colourOf[lower[below]!]!;
        if (one === two) continue;
        counts[one * size + two]! += 1;
        counts[two * size + one]! += 1;
      }
    }
  }
  return (one, two) => {
    const [i, j] = [number.get(one), number.get(two)];
    return i === undefined || j === undefined ? 0 : counts[i * size + j]!;
  };
}
