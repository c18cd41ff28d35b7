/** A wish from elsewhere on this board. */
import { fitWish, type Wish, wantedCells } from '../../engine/index.ts';
import { inPalette } from './wish-cells.ts';

/** What came of it: wanted cells that fell outside, and those in colours that the palette has not. */
export interface BroughtWish {
  readonly taken: Wish;
  readonly outside: number;
  readonly strange: number;
}

/** @param open a wish for the board in which nothing is wanted */
export function fitBrought(wish: Wish, open: Wish): BroughtWish {
  const known = inPalette(wish, open.palette);
  const taken = fitWish(known, { strings: open.strings, start: open.start, rows: open.rows.length });
  const strange = wantedCells(wish) - wantedCells(known);
  return { taken, outside: wantedCells(known) - wantedCells(taken), strange };
}
