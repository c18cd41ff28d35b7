/** All steps of one repeat as text to keep or print. */
import { type Board, describeStep } from '../../engine/index.ts';
import { sayWorkOrderError, stepWords } from '../words/index.ts';
import { runWorkOrder, stepAt } from '../worker/index.ts';

export type StepsText =
  | { readonly ok: true; readonly lines: readonly string[] }
  | { readonly ok: false; readonly why: string };

/** One line a step, row by row. O(knots log knots). */
export function stepLines(board: Board): StepsText {
  const answer = runWorkOrder({
    kind: 'work-order',
    board,
    method: 'rows',
    covers: 'pattern',
    rowsFirst: 0,
  });
  if (!answer.ok) return { ok: false, why: sayWorkOrderError(answer.error) };
  const table = answer.value;
  const words = stepWords();
  return {
    ok: true,
    lines: Array.from(
      { length: table.count },
      (_, i) => `${i + 1}. ${describeStep(stepAt(table, i), board, { words })}`,
    ),
  };
}
