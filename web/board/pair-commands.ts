/** Commands that insert and delete pairs of rows and of strings where the maker is. */
import type { Command } from '../../engine/document/index.ts';
import type { Block } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';

/** A new pair of rows above the pair of the block's first row, or below that of its last; `here` null: at the top. */
export function insertRowPair(model: BoardModel, here: Block | null, side: 'above' | 'below'): Command {
  const pairOf = (row: number): number => (row + model.start) >> 1;
  const at = here === null ? 0 : side === 'above' ? pairOf(here.fromRow) : pairOf(here.toRow) + 1;
  return { kind: 'insert-row-pairs', at, count: 1 };
}

/** The pairs in which the block's rows lie. */
export function deleteRowPairs(model: BoardModel, here: Block): Command {
  const from = (here.fromRow + model.start) >> 1;
  const to = (here.toRow + model.start) >> 1;
  return { kind: 'delete-row-pairs', from, count: to - from + 1 };
}

/** A new pair of strings left or right of the pair of this place; with `isMirrored` also on the other side. */
export function insertStringPair(place: number, side: 'left' | 'right', isMirrored: boolean): Command {
  const at = (place >> 1) + (side === 'right' ? 1 : 0);
  return { kind: 'insert-string-pairs', at, count: 1, ...(isMirrored ? { mirrored: true } : {}) };
}

/** The pairs in which the places lie, ends included. */
export function deleteStringPairs(fromPlace: number, toPlace: number): Command {
  const from = fromPlace >> 1;
  return { kind: 'delete-string-pairs', from, count: (toPlace >> 1) - from + 1 };
}
