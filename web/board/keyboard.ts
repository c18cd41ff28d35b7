/** Moves of the keyboard cursor after the APG data grid: arrows by one and stop at the edges, Home and End, Page Up and Down. */
import { type Cell, cellOfPlace, knotsIn, placeOfCell, type Stagger } from '../../engine/index.ts';
import type { KeyPress } from './action-keys.ts';
import type { Spot } from './spot.ts';

const PAGE_ROWS = 10;

/** The spot that the keys lead to; null when they move nothing. */
export function spotAfter(stagger: Stagger, spot: Spot, press: KeyPress): Spot | null {
  if (press.altKey) return null;
  const isFar = press.ctrlKey || press.metaKey;
  return spot.on === 'peg'
    ? fromPeg(stagger, spot.place, press.key, isFar)
    : fromKnot(stagger, spot, press.key, isFar);
}

function knot(stagger: Stagger, row: number, place: number): Spot {
  const target = Math.max(0, Math.min(stagger.rows - 1, row));
  const parity = (stagger.start + target) & 1;
  const k = Math.round((place - parity) / 2);
  return { on: 'knot', row: target, k: Math.max(0, Math.min(knotsIn(stagger, target) - 1, k)) };
}

function fromKnot(stagger: Stagger, cell: Cell, key: string, isFar: boolean): Spot | null {
  const { row, k } = cell;
  const last = knotsIn(stagger, row) - 1;
  const along = (to: number): Spot => ({ on: 'knot', row, k: Math.max(0, Math.min(last, to)) });
  const place = placeOfCell(stagger, cell);
  switch (key) {
    case 'ArrowLeft':
      return along(k - 1);
    case 'ArrowRight':
      return along(k + 1);
    case 'ArrowUp':
      return row === 0 ? { on: 'peg', place } : byOneRow(stagger, cell, -1);
    case 'ArrowDown':
      return byOneRow(stagger, cell, 1);
    case 'Home':
      return isFar ? knot(stagger, 0, 0) : along(0);
    case 'End':
      return isFar ? knot(stagger, stagger.rows - 1, stagger.strings) : along(last);
    case 'PageUp':
      return knot(stagger, row - PAGE_ROWS, place);
    case 'PageDown':
      return knot(stagger, row + PAGE_ROWS, place);
    default:
      return null;
  }
}

/** Up and down keep to the same index, so that going down and up again comes back. */
function byOneRow(stagger: Stagger, { row, k }: Cell, by: 1 | -1): Spot {
  const target = Math.max(0, Math.min(stagger.rows - 1, row + by));
  return { on: 'knot', row: target, k: Math.max(0, Math.min(knotsIn(stagger, target) - 1, k)) };
}

function fromPeg(stagger: Stagger, place: number, key: string, isFar: boolean): Spot | null {
  const along = (to: number): Spot => ({ on: 'peg', place: Math.max(0, Math.min(stagger.strings - 1, to)) });
  switch (key) {
    case 'ArrowLeft':
      return along(place - 1);
    case 'ArrowRight':
      return along(place + 1);
    case 'Home':
      return along(0);
    case 'End':
      return isFar && stagger.rows > 0
        ? knot(stagger, stagger.rows - 1, stagger.strings)
        : along(stagger.strings - 1);
    case 'ArrowDown': {
      if (stagger.rows === 0) return null;
      const under = cellOfPlace(stagger, 0, place) ?? cellOfPlace(stagger, 0, place - 1);
      return under === null ? knot(stagger, 0, place) : { on: 'knot', ...under };
    }
    case 'PageDown':
      return stagger.rows === 0 ? null : knot(stagger, PAGE_ROWS - 1, place);
    default:
      return null;
  }
}
