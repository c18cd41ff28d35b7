/** Where the keyboard is, and the places about it. */
import { type Block, blockOf, type Cell, knotsIn, placeOfCell } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';

type Stagger = BoardModel['stagger'];

/** Where the keyboard is: on a knot, or on a peg above the band. */
export type Spot = ({ readonly on: 'knot' } & Cell) | { readonly on: 'peg'; readonly place: number };

/** Where a spot is after rows or strings came or went: with its knot if that was found again, else at the nearest one left. */
export function nearestSpot(stagger: Stagger, spot: Spot, found: Cell | null): Spot {
  if (spot.on === 'peg') return { on: 'peg', place: Math.min(spot.place, stagger.strings - 1) };
  if (found !== null) return { on: 'knot', ...found };
  const row = Math.max(0, Math.min(spot.row, stagger.rows - 1));
  return { on: 'knot', row, k: Math.max(0, Math.min(spot.k, knotsIn(stagger, row) - 1)) };
}

/** Place of the peg, or of the left string of the knot at the cursor; 0 without either. */
export function placeOfSpot(stagger: Stagger, spot: Spot, cursor: Cell | null): number {
  if (spot.on === 'peg') return spot.place;
  return cursor === null ? 0 : placeOfCell(stagger, cursor);
}

/** The knot so many rows below and places to the right; null off the stagger or outside the pattern. */
export function cellBeside(stagger: Stagger, from: Cell, rows: number, places: number): Cell | null {
  const place = placeOfCell(stagger, from) + places;
  const row = from.row + rows;
  const k = (place - ((stagger.start + row) & 1)) / 2;
  const isInside =
    Number.isInteger(k) && row >= 0 && row < stagger.rows && k >= 0 && k < knotsIn(stagger, row);
  return isInside ? { row, k } : null;
}

/** The block of a knot's row, or of its places, from edge to edge. */
export function blockAlong(stagger: Stagger, cell: Cell, direction: 'row' | 'places'): Block {
  const own = blockOf(stagger, cell, cell);
  return direction === 'row'
    ? { ...own, fromPlace: 0, toPlace: stagger.strings - 1 }
    : { ...own, fromRow: 0, toRow: stagger.rows - 1 };
}

/** Whether the knot is one of the block's. */
export function isInBlock(stagger: Stagger, block: Block, cell: Cell): boolean {
  const place = placeOfCell(stagger, cell);
  return (
    cell.k >= 0 &&
    cell.k < knotsIn(stagger, cell.row) &&
    cell.row >= block.fromRow &&
    cell.row <= block.toRow &&
    place >= block.fromPlace &&
    place < block.toPlace
  );
}
