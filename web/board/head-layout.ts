/** How high the arcs of the folded strings rise above the bar, so that an outer one lies above those inside it. */
import type { Fold } from '../../engine/index.ts';

/** Pixels from the first row up to where the arcs begin: pegs and bar. */
export const PEG_HEIGHT = 44;
const FIRST_RISE = 14;
const MOST_RISE = 150;
const LEVEL_STEP = 24;

/** Rises of arcs that are folded to a strip. */
const FIRST_FOLDED = 6;
const MOST_FOLDED = 18;
/** A stage that is narrower or lower has no room for more than the strip. */
const ROOMY = { width: 640, height: 500 };

export interface HeadLayout {
  /** Rise of each fold's arc above the pegs, in px; by index of the folds. */
  readonly rises: readonly number[];
  /** Whether there is room for a number between an arc and the next one above it. */
  readonly hasRoomBetween: boolean;
}

/** Of a plan that is not known yet. */
export const UNKNOWN_LAYOUT: HeadLayout = { rises: [], hasRoomBetween: true };

/** Whether the arcs are folded to a strip on a stage of this size. */
export function isStrip({ width, height }: { readonly width: number; readonly height: number }): boolean {
  return width <= ROOMY.width || height < ROOMY.height;
}

/**
 * Height of everything above the first row, in px: kept free for the highest arcs that so many strings can have, so that nothing moves when
 * they are folded otherwise.
 */
export function headHeight(strings: number, isFolded: boolean): number {
  if (isFolded) return PEG_HEIGHT + MOST_FOLDED + 8;
  const levels = Math.max(0, (strings >> 1) - 1);
  return PEG_HEIGHT + Math.min(MOST_RISE, FIRST_RISE + levels * LEVEL_STEP) + 28;
}

/**
 * Level of a fold: one above the highest narrower fold that shares a place between its ends with it. Beside each other: level 0.
 * @param isFolded whether the arcs are folded to a strip
 * O(folds^2); of 100 folds 10,000 steps.
 */
export function headLayout(folds: readonly Fold[], isFolded = false): HeadLayout {
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
  const [first, most] = isFolded ? [FIRST_FOLDED, MOST_FOLDED] : [FIRST_RISE, MOST_RISE];
  const step = Math.min(LEVEL_STEP, (most - first) / Math.max(1, top));
  return {
    rises: levels.map((level) => first + level * step),
    hasRoomBetween: top === 0 || step >= 22,
  };
}
