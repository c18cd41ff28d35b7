/**
 * Where the board lies in the window before there is a page to measure, and how it is first shown: so that a picture of it stands where the
 * board will. A test holds the numbers against the page itself.
 */
import { headHeight, isStrip } from './head-layout.ts';
import { type KeptView, viewOf } from './kept-view.ts';
import { CHART_ROW, type Extent, fitFirst, FOOT, type Size, type Viewport } from './viewport.ts';

/** A box in CSS px of the window. */
interface Box extends Size {
  readonly left: number;
  readonly top: number;
}

export interface FirstBoard {
  readonly strings: number;
  readonly rows: number;
}

/** Header of the page, in px. */
function headerOf(width: number): number {
  return width <= 860 ? 45 : 53;
}

/** The stage of the board in a window of this size. */
export function firstStage({ width, height }: Size): Box {
  const isStacked = width <= 860;
  const header = headerOf(width);
  // A phone has one row below the board, or where it is turned one column beside it.
  if (width <= 640) return { left: 0, top: header, width, height: Math.max(0, height - header - 49) };
  if (isStacked && height <= 500)
    return { left: 100, top: header, width: width - 100, height: height - header };
  const beside = isStacked ? 0 : Math.min(600, Math.max(430, width * 0.32));
  const isLow = height <= 860;
  // Tools stand beside the board where it has the room, else below it.
  const isWide = width - beside > 640;
  const left = isWide ? (isLow ? 51 : 57) : 0;
  const looks = 42;
  const below = isWide ? 49 : 98;
  const top = header + looks;
  return { left, top, width: width - beside - left, height: Math.max(0, height - top - below) };
}

/**
 * How the board is shown first on a stage of this size.
 * @param ratio device px of a CSS px
 * @param kept where the maker left it
 */
export function firstView(
  { width, height }: Size,
  { strings, rows }: FirstBoard,
  ratio: number,
  kept: KeptView | null,
): Viewport {
  const whole = (px: number): number => Math.round(px * ratio) / ratio;
  const size = { width: whole(width), height: whole(height) };
  const head = headHeight(strings, isStrip(size));
  const extent: Extent = { strings, rows, rowPerPlace: CHART_ROW, head, foot: FOOT };
  return kept === null ? fitFirst(size, extent, ratio) : viewOf(kept, size, extent, ratio);
}
