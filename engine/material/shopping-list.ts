/** One shopping list for pieces in any of the colourways, and what they cost. */
import { threadKey } from '../files/index.ts';
import { type Board, type Colourway, dressBoard } from '../pattern/index.ts';
import {
  type CutList,
  cutListOf,
  type FoldCut,
  type MountedStrings,
  needOf,
  type SingleCut,
} from './cut-list.ts';
import { gaugeDoubt } from './gauge-doubt.ts';
import { addMinutes, estimatedMinutes, type Minutes, minutesOf } from './minutes.ts';
import { doubtOf, type Sensitivity, sumOf } from './need-doubt.ts';
import { type PartToBuy, partsOf } from './parts.ts';
import { type Price, priceOf, sumKnown, timesRate } from './price.ts';
import { joinThreads, namedThread, type ThreadName, threadOfKey } from './same-thread.ts';
import type { SkeinCount } from './skeins.ts';
import { type BoughtThread, boughtThread } from './thread-stock.ts';
import type { Doubt } from './uncertainty.ts';

/** A thread to buy: all that the maker says is one, whoever uses it. */
export interface ThreadToBuy extends SkeinCount, BoughtThread {
  /** `#rrggbb`, lower case. */
  readonly hex: string;
  /** The names it goes by, each once, in order of first use. */
  readonly names: readonly string[];
  /** Those of which it is made up as one, in order of first use. */
  readonly threads: readonly ThreadName[];
  /** Cords. */
  readonly pieces: number;
  /** What of it each colourway takes that uses it, in the order of the colourways. */
  readonly shares: readonly ThreadShare[];
  /** Sum of what its strings need, unrounded and without margins. */
  readonly needMm: number;
  /** How sure that sum is; null where the gauge does not tell. */
  readonly doubt: Doubt | null;
}

/** What one colourway takes of a thread, in all its pieces. */
interface ThreadShare {
  /** Its id; null = the board's own colours. */
  readonly colourway: string | null;
  readonly pieces: number;
  readonly totalMm: number;
}

/** Equal pieces in one colourway, and what one of them costs. */
interface BatchCost {
  /** Its id; null = the board's own colours. */
  readonly colourway: string | null;
  readonly pieces: number;
  readonly minutes: Minutes;
  /** Thread that one piece is cut from. */
  readonly usedMm: number;
  /** Of one piece. */
  readonly price: Price;
}

/** What to buy for a pattern in some colourways, and what the pieces cost. */
export interface ShoppingList {
  readonly pieces: number;
  /** In order of first mention. */
  readonly batches: readonly BatchCost[];
  /** In order of first use: colourway by colourway, left to right. */
  readonly threads: readonly ThreadToBuy[];
  /** To be bought. */
  readonly skeins: number;
  /** Thread that is used, and that is bought. */
  readonly totalMm: number;
  readonly boughtMm: number;
  readonly parts: readonly PartToBuy[];
  readonly knots: number;
  /** Of all pieces. */
  readonly minutes: Minutes;
  /** Of all pieces; the sum of what they cost one by one. */
  readonly price: Price;
  /** What has to be paid in the shop; null where nothing has a price. */
  readonly toPay: {
    readonly thread: number | null;
    readonly parts: number | null;
    readonly all: number | null;
  };
  /** Whether the price leaves out a thread or a part that has none, though others have. */
  readonly isPartial: boolean;
  /** Paths of what was estimated about the minutes, such as `piece.cutMinutes`. */
  readonly estimates: readonly string[];
}

interface Batch {
  readonly colourway: Colourway | null;
  pieces: number;
}

interface Thread {
  readonly threads: Map<string, ThreadName>;
  readonly cords: Map<number, number>;
  readonly sensitivities: Sensitivity[];
  needMm: number;
  readonly shares: Map<string | null, { pieces: number; totalMm: number }>;
}

/** How many pieces are made in a colourway; null = in the board's own colours. Rule L71. */
export function piecesIn({ piece }: Pick<Board, 'piece'>, colourway: Colourway | null): number {
  return (colourway === null ? piece.pieces : colourway.pieces) ?? 1;
}

/** Each of the colourways as often as pieces are made in it. */
export function lotOf(
  board: Pick<Board, 'piece'>,
  colourways: readonly (Colourway | null)[],
): readonly (Colourway | null)[] {
  return colourways.flatMap((colourway) =>
    Array<Colourway | null>(piecesIn(board, colourway)).fill(colourway),
  );
}

/**
 * What to buy for some pieces, each cut by its own cutting list, and what they cost.
 * @param colourways one for each piece, null = the board's own colours; pieces that are equal come once for each, see {@link lotOf}
 * @param planOf how a colourway's board is mounted, as by `planBoard`
 * @throws FieldRangeError as `cutListOf`, and when a rate or something about a thread or part is out of range
 * @throws RangeError when two different colourways have one id, or a string's colour is not in the palette
 * O(cutListOf for each different order of threads + pieces + colourways x strings). Rules L10, L14, L70 to L80.
 */
export function shoppingList(
  board: Board,
  colourways: readonly (Colourway | null)[],
  planOf: (dressed: Board) => MountedStrings,
): ShoppingList {
  const batches = batchesOf(colourways).map((batch) => ({ ...batch, ...cordsOf(board, batch.colourway) }));
  const lists = new Map<string, CutList>();
  const listOf = (dressed: Board): CutList => {
    // Names of colours do not matter to lengths, only which places have the same one.
    const key = dressed.pattern.colours.map((id) => dressed.pattern.colours.indexOf(id)).join();
    const list = lists.get(key) ?? cutListOf(dressed, planOf(dressed));
    lists.set(key, list);
    return list;
  };
  const stock = board.supplies?.threads ?? [];
  const used = batches.flatMap(({ threadAt, dressed }) => dressed.pattern.colours.map((_, i) => threadAt(i)));
  const standsFor = joinThreads(used, stock);
  const threads = new Map<string, Thread>();
  const made = batches.map(({ colourway, pieces, dressed, threadAt }) => {
    const list = listOf(dressed);
    const cords = piecesOf(list).map((cord) => {
      const name = threadAt(cord.place);
      return { ...cord, name, key: standsFor(threadKey(name)) };
    });
    for (const { key, name, cutMm, sensitivity, whole } of cords) {
      const thread = threads.get(key) ?? newThread();
      threads.set(key, thread);
      thread.threads.set(threadKey(name), name);
      thread.cords.set(cutMm, (thread.cords.get(cutMm) ?? 0) + pieces);
      thread.sensitivities.push(ofAll(sensitivity, pieces));
      thread.needMm += whole * pieces;
      const share = thread.shares.get(colourway?.id ?? null) ?? { pieces: 0, totalMm: 0 };
      thread.shares.set(colourway?.id ?? null, share);
      share.pieces += pieces;
      share.totalMm += cutMm * pieces;
    }
    return { colourway, pieces, cords, minutes: minutesOf(board.piece, list.knots, cords.length), list };
  });

  const doubts = gaugeDoubt(board.gauge);
  const bought = new Map(
    [...threads].map(([key, thread]): [string, ThreadToBuy] => {
      const { hex, name } = threadOfKey(key);
      const names = [...thread.threads.values()].map((one) => one.name);
      const all = [...new Set(names.includes(name) ? names : [name, ...names])].filter((one) => one !== '');
      const total = sumOf(thread.sensitivities);
      return [
        key,
        {
          hex,
          names: all,
          threads: [...thread.threads.values()],
          pieces: [...thread.cords.values()].reduce((sum, count) => sum + count, 0),
          shares: [...thread.shares].map(([colourway, share]) => ({ colourway, ...share })),
          ...boughtThread(board, key, standsFor, thread.cords),
          needMm: thread.needMm,
          doubt: doubtOf(doubts, total),
        },
      ];
    }),
  );
  const list = [...bought.values()];
  const pieces = colourways.length;
  const parts = partsOf(board, pieces);
  const minutes = addMinutes(made);
  const partsPrice = sumKnown([
    ...parts.map(({ usedPrice }) => usedPrice),
    timesRate(board.piece.partsPrice, pieces),
  ]);
  const toPay = {
    thread: sumKnown(list.map(({ buyPrice }) => buyPrice)),
    parts: sumKnown([...parts.map(({ buyPrice }) => buyPrice), timesRate(board.piece.partsPrice, pieces)]),
  };
  const isPartial = (prices: readonly (number | null)[]): boolean =>
    prices.includes(null) && prices.some((price) => price !== null);
  return {
    pieces,
    batches: made.map(({ colourway, pieces: count, minutes: own, cords }) => ({
      colourway: colourway?.id ?? null,
      pieces: count,
      minutes: own,
      usedMm: cords.reduce((sum, { cutMm }) => sum + cutMm, 0),
      price: onePrice(board, {
        thread: sumKnown(
          cords.map(({ key, cutMm }) => {
            const { price, skeinMm } = bought.get(key)!;
            return timesRate(price, cutMm / skeinMm);
          }),
        ),
        parts: partsPrice === null ? null : partsPrice / pieces,
        minutes: own.all,
        pieces,
      }),
    })),
    threads: list,
    skeins: list.reduce((sum, { skeins }) => sum + skeins, 0),
    totalMm: list.reduce((sum, { totalMm }) => sum + totalMm, 0),
    boughtMm: list.reduce((sum, { skeins, skeinMm }) => sum + skeins * skeinMm, 0),
    parts,
    knots: made.reduce((sum, { list: { knots }, pieces: count }) => sum + knots * count, 0),
    minutes,
    price: priceOf(board.piece, {
      thread: sumKnown(list.map(({ usedPrice }) => usedPrice)),
      parts: partsPrice,
      minutes: minutes.all,
      pieces,
    }),
    toPay: { ...toPay, all: sumKnown([toPay.thread, toPay.parts]) },
    isPartial:
      isPartial(list.map(({ price }) => price)) ||
      isPartial(parts.filter(({ id, count }) => id !== null && count > 0).map(({ price }) => price)),
    estimates: estimatedMinutes(board.piece),
  };
}

/** Of post and fee that are paid once a piece bears its part. */
function onePrice(
  { piece }: Board,
  outlay: { thread: number | null; parts: number | null; minutes: number; pieces: number },
): Price {
  const { postPrice, fixedFee, soldAs, ...rest } = piece;
  const among = soldAs === 'together' ? outlay.pieces : 1;
  return priceOf(
    {
      ...rest,
      ...(postPrice === undefined ? {} : { postPrice: postPrice / among }),
      ...(fixedFee === undefined ? {} : { fixedFee: fixedFee / among }),
    },
    { ...outlay, pieces: 1 },
  );
}

/** What equal cords need together: they share the gauge's error, and each has its own knots. */
function ofAll(sensitivity: Sensitivity, count: number): Sensitivity {
  return Object.fromEntries(
    Object.entries(sensitivity).map(([cause, value]) => [cause, value * count]),
  ) as unknown as Sensitivity;
}

function newThread(): Thread {
  return { threads: new Map(), cords: new Map(), sensitivities: [], needMm: 0, shares: new Map() };
}

function batchesOf(colourways: readonly (Colourway | null)[]): readonly Batch[] {
  const batches = new Map<string | null, Batch>();
  for (const colourway of colourways) {
    const id = colourway?.id ?? null;
    const batch = batches.get(id);
    if (batch === undefined) batches.set(id, { colourway, pieces: 1 });
    else if (batch.colourway === colourway) batch.pieces += 1;
    else throw new RangeError(`two colourways have the id ${id}`);
  }
  return [...batches.values()];
}

/** The board as one piece, and the thread of the string at each place. */
function cordsOf(board: Board, colourway: Colourway | null) {
  const dressed = dressBoard(board, colourway);
  const looks = new Map(dressed.palette.map((colour) => [colour.id, colour]));
  const threadAt = (place: number): ThreadName => {
    const { hex, name } = looks.get(dressed.pattern.colours[place]!)!;
    return namedThread(hex, name);
  };
  return { dressed, threadAt };
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
