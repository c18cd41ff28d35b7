/** Whether an edit changes much at once: a share of the board, not a count. */
import type { ComingEdit } from '../sync/index.ts';
import type { Snapshot } from './snapshot.ts';

/** What a board has. */
export type Size = Pick<Snapshot, 'knots' | 'rows' | 'strings'>;

/** An edit is large from a twentieth of the board on. */
const LARGE_SHARE = 20;
/** Fewer knots are changed by hand: one, and what mirrors it. */
const LEAST_KNOTS = 6;

/** @param size of the board when it was last looked at; null = it never was, so that the least is enough */
export function isLargeEdit(
  { knots, rowPairs, stringPairs }: ComingEdit['effect'],
  size: Size | null,
): boolean {
  if (knots >= LEAST_KNOTS && knots * LARGE_SHARE >= (size?.knots ?? 0)) return true;
  const pairs = (count: number): number => count / 2;
  return (
    (rowPairs > 0 && rowPairs * LARGE_SHARE >= pairs(size?.rows ?? 0)) ||
    (stringPairs > 0 && stringPairs * LARGE_SHARE >= pairs(size?.strings ?? 0))
  );
}
