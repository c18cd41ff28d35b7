/** Where rows come or go the lead-in stays with its own. */
import { scoped } from './schema.ts';
import type { CommandContext } from './write-set.ts';
import { set, type Write } from './writes.ts';

/**
 * Lets the lead-in stay with its rows; it is never longer than the pattern. Rule Y32.
 * @param wanted how many rows it has then
 * @param rows   how many the pattern has then
 */
export function leadInWrites({ roots, board, scope }: CommandContext, wanted: number, rows: number): Write[] {
  const { leadInRows } = board.piece;
  const next = Math.max(0, Math.min(wanted, rows));
  return leadInRows === undefined || leadInRows === next
    ? []
    : [set(roots.meta, scoped(scope.board, 'piece.leadInRows'), next)];
}
