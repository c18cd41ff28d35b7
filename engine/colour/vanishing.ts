/** Neighbouring knots whose colours run into each other. */
import type { Board, ColourId } from '../pattern/index.ts';
import { walkMeetings } from '../weave/index.ts';
import { checkedThreshold, differences, labInEachSight, type SightDifferences } from './palette-check.ts';
import { SIGHTS, type Sight } from './sight.ts';

/** Two knots that touch: the lower one hangs under one side of the upper one. */
interface VanishingPlace {
  readonly row: number;
  readonly k: number;
  readonly belowRow: number;
  readonly belowK: number;
}

/** Two palette colours that meet somewhere in the picture and are hard to tell apart. */
export interface VanishingPair {
  /** In palette order. */
  readonly colours: readonly [ColourId, ColourId];
  readonly deltaE: SightDifferences;
  /** Sights in which the difference is below the threshold, `normal` first; never empty. */
  readonly hardFor: readonly Sight[];
  /** How often the two meet. */
  readonly count: number;
  /** The first of those places, row by row, at most the limit asked for. */
  readonly places: readonly VanishingPlace[];
}

/** What {@link vanishingNeighbours} counts as vanishing. */
export interface VanishingOptions {
  /** CIEDE2000 difference below which two colours run into each other; default as for `checkPalette`. */
  readonly thresholdDeltaE?: number;
  /** Most places listed for each pair, 0 or more; default 200. */
  readonly limit?: number;
}

/**
 * Neighbouring shown knots of different palette colours that cannot be told apart, in normal or simulated sight. Neighbours are the knots
 * that share an edge in the picture: a knot and the two that hang under it in the next row. One pass of the rows as they
 * stand; for the meeting of two repeats tile the pattern first.
 * @returns pairs that meet most often first
 * @throws RangeError when a hex, the threshold or the limit is out of range, or a string's colour is not in the palette
 * O(rows x strings + colours²). Rule C6.
 */
export function vanishingNeighbours(board: Board, options: VanishingOptions = {}): readonly VanishingPair[] {
  const { pattern, palette } = board;
  const threshold = checkedThreshold(options.thresholdDeltaE);
  const limit = options.limit ?? 200;
  if (!(Number.isSafeInteger(limit) && limit >= 0)) throw new RangeError(`limit ${limit} is not 0 or more`);
  const colourOf = pattern.colours.map((id) => {
    const index = palette.findIndex((colour) => colour.id === id);
    if (index < 0) throw new RangeError(`colour ${id} of a string is not in the palette`);
    return index;
  });
  const hard = hardPairs(board, threshold);
  walkMeetings(pattern, (upper, lower, row, k, belowK) => {
    const found = hard.get(keyOf(colourOf[upper]!, colourOf[lower]!, palette.length));
    if (found === undefined) return;
    found.count += 1;
    if (found.places.length < limit) found.places.push({ row, k, belowRow: row + 1, belowK });
  });
  return [...hard.values()].filter(({ count }) => count > 0).sort((one, two) => two.count - one.count);
}

interface Meeting {
  readonly colours: readonly [ColourId, ColourId];
  readonly deltaE: SightDifferences;
  readonly hardFor: readonly Sight[];
  count: number;
  readonly places: VanishingPlace[];
}

function hardPairs({ palette }: Board, threshold: number): ReadonlyMap<number, Meeting> {
  const labs = palette.map(({ hex }) => labInEachSight(hex));
  const hard = new Map<number, Meeting>();
  for (let i = 0; i < palette.length; i++)
    for (let j = i + 1; j < palette.length; j++) {
      const deltaE = differences(labs[i]!, labs[j]!);
      const hardFor = SIGHTS.filter((sight) => deltaE[sight] < threshold);
      if (hardFor.length === 0) continue;
      const colours = [palette[i]!.id, palette[j]!.id] as const;
      hard.set(keyOf(i, j, palette.length), { colours, deltaE, hardFor, count: 0, places: [] });
    }
  return hard;
}

/** A number for two palette indices, whichever comes first. */
function keyOf(one: number, two: number, size: number): number {
  return one < two ? one * size + two : two * size + one;
}
