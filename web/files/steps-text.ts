/** All steps of one repeat as text to keep or print. */
import { type Board, describeStep, workOrder } from '../../engine/index.ts';
import { stepWords } from '../words/index.ts';

/** One line a step, row by row. O(knots log knots). */
export function stepLines(board: Board): readonly string[] {
  const words = stepWords();
  const { steps } = workOrder(board, { method: 'rows' });
  return steps.map((step, i) => `${i + 1}. ${describeStep(step, board, { words })}`);
}
