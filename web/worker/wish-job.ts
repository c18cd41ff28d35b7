/** Boards for a wish, each with what it comes to. */
import {
  type Block,
  type Board,
  FieldRangeError,
  mendToWish,
  type Tally,
  type Trial,
  tallyOf,
  tryWish,
  type WishMend,
} from '../../engine/index.ts';
import type { WishAnswer, WishJob } from './jobs.ts';

/** @param onBest told all boards so far with each that comes */
export function runWish(
  { board, wish, seamless, part }: WishJob,
  onProgress: (share: number) => void,
  onBest: (answers: readonly WishAnswer[]) => void,
): readonly WishAnswer[] {
  const known = new Map<Trial | WishMend, WishAnswer>();
  const told = (found: readonly (Trial | WishMend)[]): readonly WishAnswer[] =>
    found.map((one) => {
      const answer = known.get(one) ?? answerOf(one);
      known.set(one, answer);
      return answer;
    });
  if (part === null)
    return told(tryWish(board, wish, { seamless, onProgress, onTrial: (trials) => onBest(told(trials)) }));
  const onMend = (mends: readonly WishMend[]): void => onBest(told(mends));
  return told(mendToWish(board, wish, (row, place) => isIn(part, row, place), { onProgress, onMend }));
}

/** Whether both places of a knot lie in the block. */
function isIn({ fromRow, toRow, fromPlace, toPlace }: Block, row: number, place: number): boolean {
  return row >= fromRow && row <= toRow && place >= fromPlace && place < toPlace;
}

function answerOf(one: Trial | WishMend): WishAnswer {
  const tally = tallyIn(one.board);
  if (!('reach' in one)) return { ...one, changed: null, tally };
  const { reach, board, wrongCells, proven, changed, isFewest } = one;
  const count = changed.length;
  return {
    kind: reach,
    board,
    newRows: 0,
    wrongCells,
    proven,
    joined: null,
    changed: { count, isFewest },
    tally,
  };
}

/** Null where a field of piece or gauge is out of range: the panels say which. */
function tallyIn(board: Board): Tally | null {
  try {
    return tallyOf(board);
  } catch (error) {
    if (!(error instanceof FieldRangeError)) throw error;
    return null;
  }
}
