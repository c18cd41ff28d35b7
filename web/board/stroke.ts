import type { Design, KnotAddress } from '../../engine/document/index.ts';
import type { Cell } from '../../engine/index.ts';

/** A press, drag and release of the pointer or of the keys; one step to undo. */
export interface Stroke {
  /** Where it began; null when that knot is gone. */
  from: Cell | null;
  /** The same, to be found again when others insert or delete. */
  readonly began: KnotAddress | null;
  /** Where it was last; null before the next move once others inserted or deleted: other knots are under the pointer then. */
  last: Cell | null;
  readonly close: () => void;
  readonly isMove: boolean;
  hasTied: boolean;
  /** Knots of this stroke, by row and k, so that a wavering hand ties each once. */
  readonly done: Set<string>;
}

/** A stroke from this knot on. */
export function strokeFrom(design: Design, cell: Cell, isMove: boolean, close: () => void): Stroke {
  const began = design.addressOf(cell.row, cell.k);
  return { from: cell, began, last: cell, close, isMove, hasTied: false, done: new Set() };
}

/** After rows or strings came or went: the stroke goes on from the knot where it began. */
export function followStroke(stroke: Stroke, design: Design): void {
  stroke.from = stroke.began && design.placeOf(stroke.began);
  stroke.last = null;
  stroke.done.clear();
}

/** Whether it would do something else than where it began. */
export function isAway({ from, last }: Stroke): boolean {
  return from !== null && last !== null && (from.row !== last.row || from.k !== last.k);
}
