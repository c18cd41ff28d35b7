/** One shopping list for a set of colourways. */
import type { Board, ColourId, Colourway } from '../pattern/index.ts';
import { type CostParts, priceOf } from './cost.ts';
import { type CutListOptions, cutList } from './cut-list.ts';
import { countSkeins, type SkeinCount } from './skeins.ts';
import { SKEIN_MM } from './units.ts';

/** A thread to buy: everything of one hex, whoever uses it. */
export interface ThreadToBuy extends SkeinCount {
  /** `#rrggbb`, lower case. */
  readonly hex: string;
  /** The names it goes by, each once, in order of first use. */
  readonly names: readonly string[];
  readonly pieces: number;
  /** Ids of the colourways that use it. */
  readonly colourways: readonly string[];
}

/** What to buy for a pattern in all its colourways. */
export interface ShoppingList {
  /** Pieces to be made: one for each colourway. */
  readonly pieces: number;
  /** In order of first use: colourway by colourway, left to right. */
  readonly threads: readonly ThreadToBuy[];
  readonly skeins: number;
  readonly totalMm: number;
  /** Bars or rings. */
  readonly parts: number;
  /** For all pieces together; null when no price was stated. */
  readonly cost: number | null;
  readonly costParts: CostParts;
  readonly knots: number;
  readonly minutes: number;
}

interface Thread {
  readonly names: Set<string>;
  readonly lengthsMm: number[];
  readonly colourways: Set<string>;
}

/**
 * What to buy for one piece in each of the colourways. Threads are told apart by hex, so skeins are shared between makers; a palette
 * colour that a colourway does not mention keeps the board's own hex and name.
 * @throws FieldRangeError as `cutList`
 * @throws RangeError when two colourways have one id
 * O(cutList + colourways x strings). Rule L10.
 */
export function shoppingList(
  board: Board,
  colourways: readonly Colourway[],
  options: CutListOptions = {},
): ShoppingList {
  const list = cutList(board, options);
  const cuts = [
    ...list.folds.map(({ left, colour, cutMm }) => ({ place: left, colour, cutMm })),
    ...list.singles,
  ].sort((one, two) => one.place - two.place);
  const threads = new Map<string, Thread>();
  const ids = new Set<string>();
  for (const colourway of colourways) {
    if (ids.has(colourway.id)) throw new RangeError(`two colourways have the id ${colourway.id}`);
    ids.add(colourway.id);
    const dressed = dress(board, colourway);
    for (const { colour, cutMm } of cuts) {
      const { hex, name } = dressed(colour);
      const thread = threads.get(hex) ?? { names: new Set(), lengthsMm: [], colourways: new Set() };
      threads.set(hex, thread);
      thread.names.add(name);
      thread.lengthsMm.push(cutMm);
      thread.colourways.add(colourway.id);
    }
  }
  const skeinMm = board.piece.skeinMm ?? SKEIN_MM;
  const bought = [...threads].map(
    ([hex, thread]): ThreadToBuy => ({
      hex,
      names: [...thread.names],
      pieces: thread.lengthsMm.length,
      colourways: [...thread.colourways],
      ...countSkeins(thread.lengthsMm, skeinMm),
    }),
  );
  const pieces = colourways.length;
  const skeins = bought.reduce((sum, thread) => sum + thread.skeins, 0);
  const { cost, costParts, minutes } = priceOf(board.piece, skeins, list.knots, pieces);
  return {
    pieces,
    threads: bought,
    skeins,
    totalMm: bought.reduce((sum, thread) => sum + thread.totalMm, 0),
    parts: pieces,
    cost,
    costParts,
    knots: list.knots * pieces,
    minutes,
  };
}

/** What a palette id looks like in the colourway. */
function dress(board: Board, colourway: Colourway): (id: ColourId) => { hex: string; name: string } {
  const own = new Map(board.palette.map((colour) => [colour.id, colour]));
  const theirs = new Map(colourway.colours.map((colour) => [colour.id, colour]));
  return (id) => {
    const colour = theirs.get(id) ?? own.get(id);
    if (colour === undefined)
      throw new RangeError(`colour ${id} is neither in the colourway ${colourway.id} nor in the palette`);
    return { hex: colour.hex.toLowerCase(), name: colour.name };
  };
}
