/** A way on below a mistake, and what it comes to. */
import { ifTiedSo, mendPiece, type MendedPiece } from '../../engine/index.ts';
import type { MendAnswer, MendJob } from './jobs.ts';

/** Steps after which the best found is given: some fifteen seconds. */
const MOST_STEPS = 400_000_000;

/** @param onBest told each better way, the first one at once */
export function runMend(
  { board, kinds, tied }: MendJob,
  onProgress: (share: number) => void,
  onBest: (answer: MendAnswer) => void,
): MendAnswer {
  const told = (mended: MendedPiece): MendAnswer => ({ ...mended, comes: ifTiedSo(board, mended.kinds) });
  return told(
    mendPiece(board, kinds, tied, {
      steps: MOST_STEPS,
      onProgress,
      onBest: (mended) => onBest(told(mended)),
    }),
  );
}
