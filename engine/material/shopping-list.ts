/** One shopping list for a set of colourways. */
import { type Board, type Colourway, dressBoard } from '../pattern/index.ts';
import { type CostParts, priceOf } from './cost.ts';
import {
  type CutList,
  cutListOf,
  type FoldCut,
  type MountedStrings,
  needOf,
  type SingleCut,
} from './cut-list.ts';
import { gaugeDoubt } from './gauge-doubt.ts';
import { doubtOf, type Sensitivity, sumOf } from './need-doubt.ts';
import { countSkeins, type SkeinCount } from './skeins.ts';
import type { Doubt } from './uncertainty.ts';
import { SKEIN_MM } from './units.ts';

/** A thread to buy: everything of one hex, whoever uses it. */
export interface ThreadToBuy extends SkeinCount {
  /** `#rrggbb`, lower case. */
  readonly hex: string;
  /** The names it goes by, each once, in order of first use. */
  readonly names: readonly string[];
  readonly pieces: number;
  /** What of it each colourway takes that uses it, in the order of the colourways. */
  readonly shares: readonly ThreadShare[];
  /** Sum of what its strings need, unrounded and without margins. */
  readonly needMm: number;
  /** How sure that sum is; null where the gauge does not tell. */
  readonly doubt: Doubt | null;
}

/** What one colourway takes of a thread. */
interface ThreadShare {
  /** Its id; null = the board's own colours. */
  readonly colourway: string | null;
  readonly pieces: number;
  readonly totalMm: number;
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
  readonly sensitivities: Sensitivity[];
  needMm: number;
  readonly shares: Map<string | null, { pieces: number; totalMm: number }>;
}

/**
 * What to buy for one piece in each of the colourways, each cut by its own cutting list; null = the board's own colours. Threads are told
 * apart by hex, so skeins are shared between makers; a palette colour that a colourway does not mention keeps the board's own hex and name.
 * @param planOf how a colourway's board is mounted, as by `planBoard`
 * @throws FieldRangeError as `cutListOf`
 * @throws RangeError when two colourways have one id, or a string's colour is not in the palette
 * O(cutListOf for each different order of threads + colourways x strings). Rules L10, L14.
 */
export function shoppingList(
  board: Board,
  colourways: readonly (Colourway | null)[],
  planOf: (dressed: Board) => MountedStrings,
): ShoppingList {
  const threads = new Map<string, Thread>();
  const ids = new Set<string | null>();
  const lists = new Map<string, CutList>();
  const listOf = (dressed: Board): CutList => {
    // Names of colours do not matter to lengths, only which places have the same one.
    const key = dressed.pattern.colours.map((id) => dressed.pattern.colours.indexOf(id)).join();
    const list = lists.get(key) ?? cutListOf(dressed, planOf(dressed));
    lists.set(key, list);
    return list;
  };
  for (const colourway of colourways) {
    const id = colourway?.id ?? null;
    if (ids.has(id)) throw new RangeError(`two colourways have the id ${id ?? 'of the board itself'}`);
    ids.add(id);
    const dressed = dressBoard(board, colourway);
    const looks = new Map(dressed.palette.map((colour) => [colour.id, colour]));
    for (const { place, cutMm, sensitivity, whole } of piecesOf(listOf(dressed))) {
      const { hex, name } = looks.get(dressed.pattern.colours[place]!)!;
      const thread: Thread = threads.get(hex) ?? {
        names: new Set(),
        lengthsMm: [],
        sensitivities: [],
        needMm: 0,
        shares: new Map(),
      };
      threads.set(hex, thread);
      thread.names.add(name);
      thread.lengthsMm.push(cutMm);
      thread.sensitivities.push(sensitivity);
      thread.needMm += whole;
      const share = thread.shares.get(id) ?? { pieces: 0, totalMm: 0 };
      thread.shares.set(id, share);
      share.pieces += 1;
      share.totalMm += cutMm;
    }
  }
  const skeinMm = board.piece.skeinMm ?? SKEIN_MM;
  const doubts = gaugeDoubt(board.gauge);
  const bought = [...threads].map(
    ([hex, thread]): ThreadToBuy => ({
      hex,
      names: [...thread.names],
      pieces: thread.lengthsMm.length,
      shares: [...thread.shares].map(([colourway, share]) => ({ colourway, ...share })),
      ...countSkeins(thread.lengthsMm, skeinMm),
      needMm: thread.needMm,
      doubt: doubtOf(doubts, sumOf(thread.sensitivities)),
    }),
  );
  const pieces = colourways.length;
  const skeins = bought.reduce((sum, thread) => sum + thread.skeins, 0);
  // Knots are the pattern's and not the colours'.
  const knots = lists.values().next().value?.knots ?? 0;
  const { cost, costParts, minutes } = priceOf(board.piece, skeins, knots, pieces);
  return {
    pieces,
    threads: bought,
    skeins,
    totalMm: bought.reduce((sum, thread) => sum + thread.totalMm, 0),
    parts: pieces,
    cost,
    costParts,
    knots: knots * pieces,
    minutes,
  };
}

/** A string to cut, where its left end hangs and what all of it needs. */
interface Piece extends Pick<FoldCut | SingleCut, 'cutMm' | 'sensitivity'> {
  readonly place: number;
  readonly whole: number;
}

/** Strings to cut, left to right. */
function piecesOf({ folds, singles }: CutList): readonly Piece[] {
  return [...folds.map((fold) => ({ ...fold, place: fold.left })), ...singles]
    .map((cut) => ({ place: cut.place, cutMm: cut.cutMm, sensitivity: cut.sensitivity, whole: needOf(cut) }))
    .sort((one, two) => one.place - two.place);
}
