/** Which colours lie side by side in the picture. */
import type { ColourId, Pattern } from '../pattern/index.ts';
import { walkMeetings } from '../weave/index.ts';

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
  walkMeetings(pattern, (upper, lower) => {
    const [one, two] = [colourOf[upper]!, colourOf[lower]!];
    if (one === two) return;
    counts[one * size + two]! += 1;
    counts[two * size + one]! += 1;
  });
  return (one, two) => {
    const [i, j] = [number.get(one), number.get(two)];
    return i === undefined || j === undefined ? 0 : counts[i * size + j]!;
  };
}
