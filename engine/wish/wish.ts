/**
 * A wish: for each knot of a band the colour that should show, or none in particular. It has the shape of a target of `solvePicture`, so a
 * wish is solved as it is.
 *
 * Coordinates are those of a pattern: `rows[row][k]` is the knot that ties the places `2k + parity` and the next, rows from the top.
 */
import {
  type Board,
  knotsInRow,
  type PaletteColour,
  type Pattern,
  rowParity,
  sizeFault,
} from '../pattern/index.ts';
import type { SolveTarget } from '../solve/index.ts';
import { weave } from '../weave/index.ts';

/** Any colour may show. */
export const OPEN = -1;

/** What should show: index into `palette`, or {@link OPEN}, for each row and each of its knots. */
export type Wish = SolveTarget;

/** Strings, stagger and rows of a band. */
type WishSize = Pick<Wish, 'strings' | 'start'> & { readonly rows: number };

/**
 * A wish for a band of this size in which nothing is wanted yet.
 * @throws RangeError for strings, rows or a start that no pattern has. O(knots). Rule J50.
 */
export function openWish({ strings, start, rows }: WishSize, palette: readonly PaletteColour[]): Wish {
  return wishBy({ strings, start, rows }, palette, () => OPEN);
}

/**
 * What a board shows now, as a wish; of a block of it only, where `isIn` is given. Untied pairs are open.
 * O(knots). Rule J51.
 */
export function wishFrom(
  { pattern, palette }: Pick<Board, 'pattern' | 'palette'>,
  isIn: (row: number, place: number) => boolean = () => true,
): Wish {
  const { shown } = weave(pattern);
  const indexOf = new Map(palette.map(({ id }, index) => [id, index]));
  return wishBy(sizeOf(pattern), palette, (row, place) => {
    const string = isIn(row, place) ? shown[row]![place >> 1]! : -1;
    return string < 0 ? OPEN : indexOf.get(pattern.colours[string]!)!;
  });
}

/**
 * The wish moved by rows (down) and places (right). What leaves the band is lost, and what comes in is open.
 * @throws RangeError when rows and places together are odd: the stagger would not fit. O(knots). Rule J52.
 */
export function shiftWish(wish: Wish, rows: number, places: number): Wish {
  if (!Number.isInteger(rows) || !Number.isInteger(places) || ((rows + places) & 1) === 1)
    throw new RangeError(`a wish cannot go ${rows} rows and ${places} places: it would leave the stagger`);
  return wishBy(wishSize(wish), wish.palette, (row, place) => wantedAt(wish, row - rows, place - places));
}

/**
 * The wish on a band of another size, cell by cell from the top left corner; where the other band begins at the other place, from its second place.
 * @throws RangeError for a size that no pattern has. O(knots). Rule J52.
 */
export function fitWish(wish: Wish, size: WishSize): Wish {
  const off = wish.start === size.start ? 0 : 1;
  return wishBy(size, wish.palette, (row, place) => wantedAt(wish, row, place - off));
}

/** How many cells want a colour. O(knots). */
export function wantedCells({ rows }: Wish): number {
  return rows.reduce((count, row) => count + row.filter((cell) => cell !== OPEN).length, 0);
}

/** What is wanted of the knot that ties this place and the next; open outside the band. */
function wantedAt(wish: Wish, row: number, place: number): number {
  const cells = wish.rows[row];
  return cells?.[(place - rowParity(wish.start, row)) / 2] ?? OPEN;
}

function wishSize({ strings, start, rows }: Wish): WishSize {
  return { strings, start, rows: rows.length };
}

function sizeOf({ colours, start, rows }: Pattern): WishSize {
  return { strings: colours.length, start, rows };
}

function wishBy(
  { strings, start, rows }: WishSize,
  palette: readonly PaletteColour[],
  wantedOf: (row: number, place: number) => number,
): Wish {
  const fault = sizeFault(strings, rows);
  if (fault !== null) throw new RangeError(`${fault.field}: ${fault.message}`);
  if (start !== 0 && start !== 1) throw new RangeError(`${start} is neither 0 nor 1`);
  return {
    strings,
    start,
    palette,
    rows: Array.from({ length: rows }, (_, row) => {
      const parity = rowParity(start, row);
      return Array.from({ length: knotsInRow(strings, parity) }, (_cell, k) => wantedOf(row, 2 * k + parity));
    }),
  };
}
