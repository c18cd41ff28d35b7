/**
 * The board as others have it now, as far as a keychain goes by it. Boards are values: what is worked out from one is kept with it, since
 * all of it is asked for with every step.
 */
import { type Board, dressBoard } from '../../engine/index.ts';
import { marksOf } from './keychain-shelf.ts';
import { mirrorBoard, type View } from './views.ts';

const marks = new WeakMap<Board, string>();
const dressed = new WeakMap<Board, Map<string | null, Board | null>>();
const mirrored = new WeakMap<Board, Board>();

function kept<K extends object, V>(map: WeakMap<K, V>, key: K, make: (key: K) => V): V {
  const before = map.get(key);
  if (before !== undefined) return before;
  const made = make(key);
  map.set(key, made);
  return made;
}

/** {@link marksOf}, once for each board. */
export function keptMarks(board: Board): string {
  return kept(marks, board, marksOf);
}

/** A board in a colourway of it, without the others; null where there is none of that id. @param id null = its own colours */
export function dressedBoard(board: Board, id: string | null): Board | null {
  const known = kept(dressed, board, () => new Map<string | null, Board | null>());
  if (!known.has(id)) known.set(id, dress(board, id));
  return known.get(id) ?? null;
}

/** The board of now as a keychain would follow it; null where its colourway is gone. */
export function boardToFollow(live: Board, colourway: string | null, view: View): Board | null {
  const seen = dressedBoard(live, colourway);
  return seen === null || view !== 'mirror' ? seen : kept(mirrored, seen, mirrorBoard);
}

function dress(board: Board, id: string | null): Board | null {
  const colourway = id === null ? null : board.colourways.find((one) => one.id === id);
  return colourway === undefined ? null : { ...dressBoard(board, colourway), colourways: [] };
}
