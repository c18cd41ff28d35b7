/** The board that shows a wish and hangs neatly. */
import { solvePicture } from '../solve/index.ts';
import type { Wish } from '../wish/index.ts';

type Answer = ReturnType<typeof solvePicture>;
type Options = NonNullable<Parameters<typeof solvePicture>[1]>;

/** A board for a wish, with what the solver says of it. */
type HungWish = Extract<Answer, { readonly ok: true }>;

/** What may be told and asked meanwhile; see `solvePicture`. */
type HangWatch = Pick<Options, 'onProgress' | 'isCancelled' | 'onBest'>;

/** Steps for each of the two ways to hang. Own choice: about a second. */
const STEPS = 30_000_000;

/**
 * A board that shows the wish and mounts without a crossing: of cords that are all folded where that shows it all, with one lead-in row at
 * most; else with a single for each colour of odd count, if that shows more of it.
 * @returns of equals the one with fewer singles; or what is wrong with the wish. The piece is the band once.
 * Same wish, same board. Rule J78.
 */
export function hangWish(wish: Wish, { onProgress, ...watch }: HangWatch = {}): Answer {
  const half = (from: number) => (share: number) => onProgress?.(from + share / 2);
  const folded = solvePicture(wish, {
    ...watch,
    order: 'nested',
    even: true,
    leadInRows: 1,
    steps: STEPS,
    onProgress: half(0),
  });
  if (folded.ok && folded.wrongWeight === 0) return once(folded);
  const loose = solvePicture(wish, { ...watch, order: 'nested', steps: STEPS, onProgress: half(0.5) });
  if (!loose.ok) return folded.ok ? once(folded) : loose;
  return once(folded.ok && folded.wrongWeight <= loose.wrongWeight ? folded : loose);
}

function once(answer: HungWish): HungWish {
  return { ...answer, board: { ...answer.board, piece: { ...answer.board.piece, repeats: 1 } } };
}
