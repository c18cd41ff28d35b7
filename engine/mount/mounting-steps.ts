/** A mounting plan as the steps of the maker's hands, without words. */
import type { MountPlan } from './mount-plan.ts';

/** One thing to do at the bar. */
export interface MountingStep {
  /** Number of the step, from 1; for a fold its turn. */
  readonly turn: number;
  readonly colour: string;
  /** Places of its two ends, left first; of a single one place. */
  readonly places: readonly number[];
  /** Index into `plan.folds`, or null for a single. */
  readonly fold: number | null;
  /** Whether its ends are spread, because others hang between them. */
  readonly spread: boolean;
  /** Turns of the folds that go on over its middle piece, rising; direct and indirect. */
  readonly encloses: readonly number[];
  /** Turns of the folds it crosses, rising. */
  readonly crosses: readonly number[];
}

/**
 * The steps in the order in which to mount: all folds by their turns, then the singles from the left.
 * A single goes on last because its short end is hidden behind the first knots, not under another string (common practice,
 * no source).
 * @param colours the order that was planned
 * @throws RangeError when the plan is for another number of places. O(folds^2). Rule M15.
 */
export function mountingSteps(
  plan: MountPlan,
  colours: readonly (string | number)[],
): readonly MountingStep[] {
  const planned = 2 * plan.folds.length + plan.singles.length;
  if (planned !== colours.length)
    throw new RangeError(`a plan for ${planned} places does not fit ${colours.length} colours`);
  const { folds } = plan;
  const crosses = folds.map((): number[] => []);
  for (const [i, j] of plan.crossings) {
    crosses[i]!.push(folds[j]!.turn);
    crosses[j]!.push(folds[i]!.turn);
  }
  const rising = (turns: number[]): number[] => turns.sort((a, b) => a - b);
  const steps = folds.map(
    ({ left, right, turn, spread }, fold): MountingStep => ({
      turn,
      colour: String(colours[left]),
      places: [left, right],
      fold,
      spread,
      encloses: rising(folds.filter((f) => left < f.left && f.right < right).map((f) => f.turn)),
      crosses: rising(crosses[fold]!),
    }),
  );
  const singles = plan.singles.map(
    (place, i): MountingStep => ({
      turn: folds.length + 1 + i,
      colour: String(colours[place]),
      places: [place],
      fold: null,
      spread: false,
      encloses: [],
      crosses: [],
    }),
  );
  return [...steps.sort((a, b) => a.turn - b.turn), ...singles];
}
