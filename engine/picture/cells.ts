/**
 * Where knots lie in the picture.
 *
 * Board space: x in places, y in rows. Place p hangs at x = p. The knot of row r between the places p and p + 1 has its middle
 * at (p + 0.5, r + 1); its lozenge is |dx| + |dy| <= 1, so the lozenges of staggered rows fill the band without gaps, from
 * y = 0 to y = rows + 1. What lies above y = 0 is no part of the band.
 */
import { knotsInRow, type Pattern, rowParity } from '../pattern/index.ts';

/** A knot by its row and its index in the row, both from 0. */
export interface Cell {
  readonly row: number;
  readonly k: number;
}

/** A point in board space. */
export interface BoardPoint {
  readonly x: number;
  readonly y: number;
}

/** What the geometry needs of a pattern. */
export type Stagger = Pick<Pattern, 'start' | 'rows'> & { readonly strings: number };

/** The stagger of a pattern. */
export function staggerOf(pattern: Pattern): Stagger {
  return { start: pattern.start, rows: pattern.rows, strings: pattern.colours.length };
}

/** Number of knots in a row; 0 outside the pattern. */
export function knotsIn({ start, rows, strings }: Stagger, row: number): number {
  return row >= 0 && row < rows ? knotsInRow(strings, rowParity(start, row)) : 0;
}

/** Left one of the two places a knot ties. */
export function placeOfCell(stagger: Stagger, { row, k }: Cell): number {
  return 2 * k + rowParity(stagger.start, row);
}

/** The knot of a row that ties this place and the next; null when the row has none there. */
export function cellOfPlace(stagger: Stagger, row: number, place: number): Cell | null {
  const k = (place - rowParity(stagger.start, row)) / 2;
  return Number.isInteger(k) && k >= 0 && k < knotsIn(stagger, row) ? { row, k } : null;
}

/** Middle of a knot. */
export function cellToPoint(stagger: Stagger, cell: Cell): BoardPoint {
  return { x: placeOfCell(stagger, cell) + 0.5, y: cell.row + 1 };
}

/** The knot whose lozenge holds the point; null outside all of them. A shared edge belongs to the upper knot. */
export function pointToCell(stagger: Stagger, { x, y }: BoardPoint): Cell | null {
  const low = Math.floor(y) - 1;
  let best: Cell | null = null;
  let least = 1 + 1e-9;
  for (let row = low; row <= low + 1; row++) {
    // Adding 0 turns the -0 that rounding may give into 0.
    const k = Math.round((x - 0.5 - rowParity(stagger.start, row)) / 2) + 0;
    if (k < 0 || k >= knotsIn(stagger, row)) continue;
    const middle = cellToPoint(stagger, { row, k });
    const distance = Math.abs(x - middle.x) + Math.abs(y - middle.y);
    if (distance < least) {
      least = distance;
      best = { row, k };
    }
  }
  return best;
}

/** The knots that a straight line between the middles of two knots runs through, both included, in order. */
export function cellsOnLine(stagger: Stagger, from: Cell, to: Cell): readonly Cell[] {
  const a = cellToPoint(stagger, from);
  const b = cellToPoint(stagger, to);
  const steps = 4 * Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y));
  const cells: Cell[] = [from];
  for (let i = 1; i <= steps; i++) {
    const at = i / steps;
    const cell = pointToCell(stagger, { x: a.x + (b.x - a.x) * at, y: a.y + (b.y - a.y) * at });
    const last = cells[cells.length - 1];
    if (cell !== null && (cell.row !== last?.row || cell.k !== last.k)) cells.push(cell);
  }
  return cells;
}

/** Rows and places of a block, ends included. A knot belongs to it when both its places do. */
export interface Block {
  readonly fromRow: number;
  readonly toRow: number;
  readonly fromPlace: number;
  readonly toPlace: number;
}

/** The block that two knots at opposite corners span. */
export function blockOf(stagger: Stagger, a: Cell, b: Cell): Block {
  const left = placeOfCell(stagger, a);
  const right = placeOfCell(stagger, b);
  return {
    fromRow: Math.min(a.row, b.row),
    toRow: Math.max(a.row, b.row),
    fromPlace: Math.min(left, right),
    toPlace: Math.max(left, right) + 1,
  };
}

/** The knots of a block, row by row. */
export function cellsInBlock(stagger: Stagger, block: Block): readonly Cell[] {
  const cells: Cell[] = [];
  for (let row = Math.max(0, block.fromRow); row <= Math.min(stagger.rows - 1, block.toRow); row++) {
    const parity = rowParity(stagger.start, row);
    const first = Math.max(0, Math.ceil((block.fromPlace - parity) / 2));
    const last = Math.min(knotsIn(stagger, row) - 1, Math.floor((block.toPlace - 1 - parity) / 2));
    for (let k = first; k <= last; k++) cells.push({ row, k });
  }
  return cells;
}

/** The up to four knots that share an edge with this one. */
export function neighboursOf(stagger: Stagger, cell: Cell): readonly Cell[] {
  const place = placeOfCell(stagger, cell);
  return [
    cellOfPlace(stagger, cell.row - 1, place - 1),
    cellOfPlace(stagger, cell.row - 1, place + 1),
    cellOfPlace(stagger, cell.row + 1, place - 1),
    cellOfPlace(stagger, cell.row + 1, place + 1),
  ].filter((neighbour) => neighbour !== null);
}
