/**
 * Where the board lies in the window before there is a page to measure, and how it is first shown: so that a picture of it stands where the
 * board will. A test holds the numbers against the page itself.
 */
import type { Fold } from '../../engine/index.ts';
import { headLayout, UNKNOWN_LAYOUT } from './head-layout.ts';
import { CHART_ROW, type Extent, fitFirst, FOOT, type Size, type Viewport } from './viewport.ts';

/** A box in CSS px of the window. */
interface Box extends Size {
  readonly left: number;
  readonly top: number;
}

export interface FirstBoard {
  readonly strings: number;
  readonly rows: number;
  readonly folds: readonly (readonly [left: number, right: number])[];
  /** Whether the folds are known. */
  readonly isPlanned: boolean;
}

/** Header of the page, in px: one row, or two where its buttons have no room for their names. */
function headerOf(width: number): number {
  if (width <= 600) return 45;
  return width <= 800 ? 97 : 53;
}

/** What stands between header and board: what speaks of proposals, or of a demo board being one. */
export type FirstBar = 'none' | 'proposals' | 'demo';

/** Its height in px. */
function barOf(bar: FirstBar, width: number): number {
  if (bar === 'none') return 0;
  if (width > 860) return 53;
  if (bar === 'proposals') return width > 430 ? 62 : 106;
  if (width > 800) return 87.5;
  return width > 410 ? 110 : 132.5;
}

/** The stage of the board in a window of this size. */
export function firstStage({ width, height }: Size, bar: FirstBar): Box {
  const isStacked = width <= 860;
  const beside = isStacked ? 0 : Math.min(600, Math.max(430, width * 0.32));
  const isLow = height <= 860;
  // Tools stand beside the board where it has the room, else below it.
  const isWide = width - beside > 600;
  const left = isWide ? (isLow ? 51 : 57) : 0;
  const looks = width < 376 ? 78 : 42;
  const below = isWide ? 49 : 98;
  const top = headerOf(width) + barOf(bar, width) + looks;
  const least = width <= 640 ? 376 : 330;
  const high = isStacked ? Math.max(least, height * 0.72) - looks - below : height - top - below;
  return { left, top, width: width - beside - left, height: Math.max(0, high) };
}

/** How the board is shown first on a stage of this size. @param ratio device px of a CSS px */
export function firstView(
  { width, height }: Size,
  { strings, rows, folds, isPlanned }: FirstBoard,
  ratio: number,
): Viewport {
  const whole = (px: number): number => Math.round(px * ratio) / ratio;
  const head = isPlanned
    ? headLayout(folds.map(([left, right]) => ({ left, right }) as Fold)).height
    : UNKNOWN_LAYOUT.height;
  const extent: Extent = { strings, rows, rowPerPlace: CHART_ROW, head, foot: FOOT };
  return fitFirst({ width: whole(width), height: whole(height) }, extent, ratio);
}
