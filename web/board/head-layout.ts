/** How high the arcs of the folded strings rise above the bar, so that an outer one lies above those inside it. */
import type { Fold } from '../../engine/index.ts';

/** Pixels from the first row up to where the arcs begin: pegs and bar. */
export const PEG_HEIGHT = 44;
const FIRST_RISE = 14;
const MOST_RISE = 150;
const LEVEL_STEP = 24;

export interface HeadLayout {
  /** Height of everything above the first row, in px. */
  readonly height: number;
  /** Rise of each fold's arc above the pegs, in px; by index of the folds. */
  readonly rises: readonly number[];
  /** Whether there is room for a number between an arc and the next one above it. */
  readonly hasRoomBetween: boolean;
}

/** Of a plan that is not known yet: room for the highest arcs, so that nothing moves once it is. */
export const UNKNOWN_LAYOUT: HeadLayout = {
  height: PEG_HEIGHT + MOST_RISE + 28,
  rises: [],
  hasRoomBetween: true,
};

/**
 * Level of a fold: one above the highest narrower fold that shares a place between its ends with it. Beside each other: level 0.
 * O(folds^2); of 100 folds 10,000 steps.
 */
export function headLayout(folds: readonly Fold[]): HeadLayout {
  const widthOf = ({ left, right }: Fold): number => right - left;
  const byWidth = folds
    .map((_, i) => i)
    .sort((a, b) => widthOf(folds[a] as Fold) - widthOf(folds[b] as Fold) || a - b);
  const levels = new Array<number>(folds.length).fill(0);
  byWidth.forEach((i, position) => {
    const fold = folds[i] as Fold;
    for (const j of byWidth.slice(0, position)) {
      const other = folds[j] as Fold;
      if (other.left < fold.right && fold.left < other.right)
        levels[i] = Math.max(levels[i] as number, (levels[j] as number) + 1);
    }
  });
  const top = Math.max(0, ...levels);
  const step = Math.min(LEVEL_STEP, (MOST_RISE - FIRST_RISE) / Math.max(1, top));
  const rises = levels.map((level) => FIRST_RISE + level * step);
  return {
    height: PEG_HEIGHT + Math.max(FIRST_RISE, ...rises) + 28,
    rises,
    hasRoomBetween: top === 0 || step >= 22,
  };
}
