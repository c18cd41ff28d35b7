/**
 * Few crossings from left to right over rows of open folds, of which after each place only the most promising are kept. It shares nothing with
 * the engine's search of large orders, and proves nothing, since what it drops may have been better; but each number it
 * gives is that of a plan.
 */
import { OpenBound } from './mount-open-bound.ts';

/** Colour 0 as a letter. */
const BASE = 33;

/**
 * Crossings of the best plan found that leaves one single for each colour of odd count.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param width   rows kept after each place; where that is all of them the crossings are the fewest
 */
export function foldInRow(colours: readonly number[], width: number): number {
  const bounds = new OpenBound(colours);
  const left = new Int32Array(Math.max(...colours) + 1);
  for (const colour of colours) left[colour]!++;
  const isOdd = Array.from(left, (count) => count % 2 === 1);
  /** By the colours of the open folds in their order: crossings so far. */
  let rows = new Map<string, number>([['', 0]]);
  for (const [place, colour] of colours.entries()) {
    const letter = String.fromCharCode(BASE + colour);
    const toCome = --left[colour]!;
    const next = new Map<string, number>();
    const offer = (row: string, crossings: number): void => {
      if (crossings < (next.get(row) ?? Number.POSITIVE_INFINITY)) next.set(row, crossings);
    };
    for (const [row, crossings] of rows) {
      const open = row.split(letter).length - 1;
      // Every fold that is open must still find its end.
      if (open + 1 <= toCome) offer(row + letter, crossings);
      const latest = row.lastIndexOf(letter);
      if (latest >= 0)
        offer(row.slice(0, latest) + row.slice(latest + 1), crossings + row.length - 1 - latest);
      const hasSingle = isOdd[colour]! && (open + toCome + 1) % 2 === 1;
      if (hasSingle && open <= toCome) offer(row, crossings);
    }
    rows = next.size > width ? mostPromising(next, width, bounds, place + 1) : next;
  }
  return rows.get('')!;
}

/** Those that have crossed least, with what pairs of colours prove of the rest and half a crossing for each fold that is open. */
function mostPromising(
  rows: ReadonlyMap<string, number>,
  width: number,
  bounds: OpenBound,
  from: number,
): Map<string, number> {
  const rank = ([row, crossings]: readonly [string, number]): number =>
    crossings + bounds.at(row, BASE, from) + row.length / 2;
  return new Map(
    [...rows]
      .map((entry) => ({ entry, rank: rank(entry) }))
      .sort((a, b) => a.rank - b.rank)
      .slice(0, width)
      .map(({ entry }) => entry),
  );
}
