/** Beginnings that take a search, each with what it comes to. */
import {
  type Board,
  boardsFromDrawer,
  type DrawerThread,
  hangWish,
  lessonBoards,
  moreLike,
  type PaletteColour,
  type Piece,
  type Shape,
  type StartDifference,
  type Tally,
  tallyOf,
  type Wish,
} from '../../engine/index.ts';

/** What is asked for; `piece` is what is to be made of each. */
export type StartAsk =
  | { readonly of: 'these'; readonly boards: readonly Board[] }
  | {
      readonly of: 'more';
      readonly shape: Shape;
      readonly palette: readonly PaletteColour[];
      readonly piece: Piece;
      readonly seed: number;
    }
  | {
      readonly of: 'drawer';
      readonly drawer: readonly DrawerThread[];
      readonly piece: Piece;
      readonly seed: number;
    }
  | { readonly of: 'wish'; readonly wish: Wish }
  | {
      readonly of: 'lesson';
      readonly strings: number;
      readonly palette: readonly PaletteColour[];
      readonly piece: Piece;
      readonly seed: number;
    };

/** One beginning. */
export interface Started {
  readonly board: Board;
  readonly tally: Tally;
  /** Null where it is no shape of one figure. */
  readonly shape: Shape | null;
  /** From what it is like; empty where it is like nothing. */
  readonly differs: readonly StartDifference[];
  /** Knots that show another colour than was wished. */
  readonly wrong: number;
}

/** @throws FieldRangeError when a field of a piece is out of range */
export function runStart(ask: StartAsk): readonly Started[] {
  switch (ask.of) {
    case 'these':
      return ask.boards.map((board) => started(board, null));
    case 'more':
      return moreLike(ask.shape, ask.palette, { seed: ask.seed }).map(({ board, shape, differs }) =>
        started({ ...board, piece: ask.piece }, shape, differs),
      );
    case 'drawer':
      return boardsFromDrawer(ask.drawer, { piece: ask.piece, seed: ask.seed }).map(({ board, shape }) =>
        started(board, shape),
      );
    case 'wish':
      return wished(ask.wish);
    case 'lesson':
      return lessonBoards(ask.strings, ask.palette, { seed: ask.seed, colours: ask.palette.length }).map(
        (board) => started({ ...board, piece: ask.piece }, null),
      );
  }
}

function started(board: Board, shape: Shape | null, differs: readonly StartDifference[] = []): Started {
  return { board, tally: tallyOf(board), shape, differs, wrong: 0 };
}

/** The board for a wish, with the threads that its strings have; none where none was found. */
function wished(wish: Wish): readonly Started[] {
  const found = hangWish(wish);
  if (!found.ok) return [];
  const { board, wrong } = found;
  const palette = board.palette.filter(({ id }) => board.pattern.colours.includes(id));
  return [{ ...started({ ...board, palette }, null), wrong }];
}
