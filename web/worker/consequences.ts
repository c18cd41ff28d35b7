/** What a board comes to at the table: mounting, thread, price, symmetry. */
import {
  type Board,
  cutListOf,
  FieldRangeError,
  type MountPlan,
  planBoard,
  shoppingList,
  symmetry,
} from '../../engine/index.ts';
import type { Consequences } from './jobs.ts';

/** O(knots) and what mounting and symmetry take: seconds for the largest boards. */
export function consequencesOf(board: Board): Consequences {
  const plan = planBoard(board);
  const { neat, crossings, singles } = plan;
  const { mirror, band } = symmetry(board.pattern);
  return { plan: { neat, crossings, singles }, ...madeOf(board, plan), symmetry: { mirror, band } };
}

function madeOf(board: Board, plan: MountPlan): Pick<Consequences, 'cut' | 'one'> {
  try {
    return { cut: cutListOf(board, plan), one: shoppingList(board, [null], () => plan) };
  } catch (error) {
    if (!(error instanceof FieldRangeError)) throw error;
    return { cut: null, one: null };
  }
}
