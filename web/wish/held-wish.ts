/** A wish that stays with the knots it was painted on, whoever puts rows or strings in or takes them out. */
import type { Design, KnotAddress } from '../../engine/document/index.ts';
import { fitWish, OPEN, openWish, type Wish } from '../../engine/index.ts';
import { belowRows, inPalette, type WantedCell, withCells } from './wish-cells.ts';
import type { WishEditor } from './wish-editor.ts';

/** What a wish needs of a design to be held to its knots. */
export type WishDesign = Pick<Design, 'snapshot' | 'addressOf' | 'placeOf'>;

/** Address of each cell, by row and knot. */
export type WishAddresses = readonly (readonly (KnotAddress | null)[])[];

/** How a wish was brought along: with its knots, or, where all of those are others, by rows and places. */
export interface Brought {
  readonly bring: (wish: Wish) => Wish;
  readonly isByPlace: boolean;
  /** Of cells that had an address, how many have no knot any more. */
  readonly lost: number;
}

/** A wish for the board as it is, in which nothing is wanted. */
export function openWishFor({ snapshot: { board } }: Pick<WishDesign, 'snapshot'>): Wish {
  const { colours, start, rows } = board.pattern;
  return openWish({ strings: colours.length, start, rows }, board.palette);
}

function addressesOf(design: WishDesign, wish: Wish): WishAddresses {
  return wish.rows.map((cells, row) => cells.map((_, k) => design.addressOf(row, k)));
}

/**
 * How wishes of one size come onto the board as it is now.
 * @param addresses of their cells, when they were painted
 */
export function broughtTo(design: WishDesign, addresses: WishAddresses): Brought {
  const open = openWishFor(design);
  const places = addresses.map((row) => row.map((address) => address && design.placeOf(address)));
  const all = places.flat();
  const found = all.filter((place) => place !== null).length;
  const isByPlace = found === 0 && all.length > 0;
  const size = { strings: open.strings, start: open.start, rows: open.rows.length };
  const bring = (wish: Wish): Wish => {
    const own = inPalette(wish, open.palette);
    if (isByPlace) return fitWish(own, size);
    const cells: WantedCell[] = [];
    own.rows.forEach((row, r) => {
      row.forEach((wanted, k) => {
        const place = places[r]?.[k];
        if (wanted !== OPEN && place) cells.push({ ...place, wanted });
      });
    });
    return withCells(open, cells);
  };
  return { bring, isByPlace, lost: isByPlace ? 0 : all.length - found };
}

/** Keeps the wish of an editor on its knots, on one board. */
export class HeldWish {
  readonly #design: WishDesign;
  readonly #editor: WishEditor;
  /** On bands that were replaced since: who takes that back has their knots again. */
  readonly #former: { readonly addresses: WishAddresses; readonly newRows: number }[] = [];
  #addresses: WishAddresses;

  constructor(design: WishDesign, editor: WishEditor) {
    this.#design = design;
    this.#editor = editor;
    this.#addresses = addressesOf(design, editor.wish);
  }

  get addresses(): WishAddresses {
    return this.#addresses;
  }

  /** After rows or strings came or went, or another pattern. @param newRows put above the others by this maker's own doing */
  follow(newRows = 0): Brought {
    const before = this.#addresses;
    const brought = broughtTo(this.#design, before);
    if (!brought.isByPlace) this.#take(brought.bring);
    else {
      // A pattern that was there before is back: so are its knots.
      const index = this.#former.findLastIndex(
        ({ addresses }) => !broughtTo(this.#design, addresses).isByPlace,
      );
      const back = this.#former[index]?.newRows ?? 0;
      this.#former.splice(index < 0 ? this.#former.length : index);
      if (index < 0) this.#former.push({ addresses: before, newRows });
      this.#take((wish) => brought.bring(index < 0 ? belowRows(wish, newRows) : withoutRows(wish, back)));
    }
    return brought;
  }

  /** The palette is another one. */
  recolour(): void {
    this.#editor.follow(broughtTo(this.#design, this.#addresses).bring);
  }

  #take(bring: (wish: Wish) => Wish): void {
    this.#editor.follow(bring);
    this.#addresses = addressesOf(this.#design, this.#editor.wish);
  }
}

/** Without the first rows. */
function withoutRows(wish: Wish, rows: number): Wish {
  return { ...wish, rows: wish.rows.slice(rows), start: ((wish.start + rows) & 1) as 0 | 1 };
}
