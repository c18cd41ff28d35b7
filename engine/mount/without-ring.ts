/** Which places each cord serves where nothing is mounted. */
import { type Board, isHung } from '../pattern/index.ts';
import { type Fold, type MountPlan, planOf } from './mount-plan.ts';

/** The plan of a band that hangs from no ring: nothing is mounted, so nothing crosses either. Rule X110. */
export const NOTHING_MOUNTED: MountPlan = /* @__PURE__ */ planOf([], []);

/**
 * The cords of a band without a ring; null where it hangs from one, and a plan says which they are.
 * With a loop all cords are folded in one bundle, below which any string hangs at any place: those of one colour are folded two by two from the left, and
 * the last of an odd number is a cord with one long end. Their turn is 0, since none is mounted before another. Loose ends, over a stick or not, are a cord each.
 * O(places). Rule X111.
 */
export function cordsWithoutRing({
  pattern: { colours },
  piece,
}: Pick<Board, 'pattern' | 'piece'>): Pick<MountPlan, 'folds' | 'singles'> | null {
  if (isHung(piece)) return null;
  if (piece.begin !== 'loop') return { folds: [], singles: colours.map((_, place) => place) };
  const folds: Fold[] = [];
  const waiting = new Map<string, number>();
  colours.forEach((colour, right) => {
    const left = waiting.get(colour);
    if (left === undefined) {
      waiting.set(colour, right);
      return;
    }
    waiting.delete(colour);
    folds.push({ left, right, turn: 0, spread: false });
  });
  folds.sort((one, two) => one.left - two.left);
  return { folds, singles: [...waiting.values()].sort((one, two) => one - two) };
}
