/** The mounting that a board's makers chose. */
import type { Board, Half } from '../pattern/index.ts';
import type { MountPlan } from './mount-plan.ts';
import { planMount } from './plan-mount.ts';

/** `planMount` of the order at the top of a board, by the rule for singles that its piece names. Costs and errors as there. Rule M17. */
export function planBoard(
  { pattern, piece }: Pick<Board, 'pattern' | 'piece'>,
  firstHalf: Half = 'left',
): MountPlan {
  return planMount(pattern.colours, { singles: piece.singles ?? 'forced', firstHalf });
}
