/** What a board comes to at the table: mounting, thread, price, symmetry. */
import { type Board, cutList, FieldRangeError, planBoard, symmetry } from '../../engine/index.ts';
import type { Consequences } from './jobs.ts';

/** O(knots) and what mounting and symmetry take: seconds for the largest boards. */
export function consequencesOf(board: Board): Consequences {
  const { neat, crossings, singles } = planBoard(board);
  const { mirror, frieze } = symmetry(board.pattern);
  return { plan: { neat, crossings, singles }, cut: cutOf(board), symmetry: { mirror, frieze } };
}

function cutOf(board: Board): Consequences['cut'] {
  try {
    return cutList(board);
  } catch (error) {
    if (!(error instanceof FieldRangeError)) throw error;
    return null;
  }
}
