/** Where a maker left a board: kept in this browser, so that it opens there the next time. */
import { type Extent, keepInSight, type Size, snapped, type Viewport } from './viewport.ts';

/** A view whatever the size of the stage. */
export interface KeptView {
  readonly unit: number;
  /** Place at the middle of the stage. */
  readonly middle: number;
  /** Row at its upper edge; null = the bar is in sight. */
  readonly top: number | null;
}

/** What begins so goes when the board is forgotten. */
const keyOf = (boardId: string): string => `larkboard.work.${boardId}.view`;

export function keptOf({ unit, row, x, y }: Viewport, { width }: Size): KeptView {
  return { unit, middle: (width / 2 - x) / unit, top: y > 0 ? null : -y / row };
}

/** The view on a stage that may be another, of a board that may be another by now. */
export function viewOf({ unit, middle, top }: KeptView, size: Size, extent: Extent, ratio: number): Viewport {
  const { unit: sharp, row } = snapped(unit, extent.rowPerPlace, 0, 0, ratio);
  const y = top === null ? extent.head : -top * row;
  return keepInSight(
    snapped(sharp, extent.rowPerPlace, size.width / 2 - middle * sharp, y, ratio),
    size,
    extent,
    ratio,
  );
}

/** Null where none was kept that can be read. */
export function readView(boardId: string): KeptView | null {
  const kept = /^\[([\d.]+),(-?[\d.]+),([\d.]+|null)\]$/.exec(localStorage.getItem(keyOf(boardId)) ?? '');
  if (kept === null) return null;
  const [, unit, middle, top] = kept;
  return { unit: Number(unit), middle: Number(middle), top: top === 'null' ? null : Number(top) };
}

/** Where the storage is full, the board opens from its bar the next time. */
export function keepView(boardId: string, { unit, middle, top }: KeptView): void {
  try {
    localStorage.setItem(keyOf(boardId), JSON.stringify([unit, middle, top]));
  } catch (cause) {
    if (!(cause instanceof DOMException)) throw cause;
  }
}
