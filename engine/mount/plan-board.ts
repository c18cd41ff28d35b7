/** The mounting that a board's makers chose. */
import { type Board, type Half, isHung } from '../pattern/index.ts';
import type { MountPlan } from './mount-plan.ts';
import { planMount } from './plan-mount.ts';
import { NOTHING_MOUNTED } from './without-ring.ts';

/**
 * `planMount` of the order at the top of a board, by the rule for singles that its piece names; without a ring nothing is mounted. Costs and errors as
 * there. Rules M17, X110.
 */
export function planBoard(
  { pattern, piece }: Pick<Board, 'pattern' | 'piece'>,
  firstHalf: Half = 'left',
): MountPlan {
  if (!isHung(piece)) return NOTHING_MOUNTED;
  return planMount(pattern.colours, { singles: piece.singles ?? 'forced', firstHalf });
}
