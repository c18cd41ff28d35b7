/** How far a keychain under way is: a set of tied knots, and what an order of work makes of it. */
import type { WorkStep } from '../work/index.ts';
import { stepKey, type TiedKeys } from './piece-knot.ts';

/** The steps that are left, as an order of its own: pick-ups are counted anew, since the hand is empty. O(steps). Rule H2. */
export function stepsLeft(steps: readonly WorkStep[], tied: TiedKeys): readonly WorkStep[] {
  const left: WorkStep[] = [];
  let run = 0;
  for (const step of steps) {
    if (tied.has(stepKey(step))) continue;
    const isPickUp = step.knotting !== left.at(-1)?.knotting;
    if (isPickUp) run++;
    left.push({ ...step, isPickUp, run });
  }
  return left;
}

/** Index of the first step whose knot is not tied; the number of steps when all are. O(steps). Rule H2. */
export function nextStep(steps: readonly WorkStep[], tied: TiedKeys): number {
  const next = steps.findIndex((step) => !tied.has(stepKey(step)));
  return next < 0 ? steps.length : next;
}

/**
 * What is tied once all steps up to one are, that one included: for whoever jumps on and says that all of it is tied.
 * @throws RangeError when there is no such step
 * O(steps). Rule H3.
 */
export function tieThrough(steps: readonly WorkStep[], tied: TiedKeys, last: number): TiedKeys {
  if (!(Number.isInteger(last) && last >= 0 && last < steps.length))
    throw new RangeError(`step ${last} is outside 0 to ${steps.length - 1}`);
  return new Set([...tied, ...steps.slice(0, last + 1).map(stepKey)]);
}

/**
 * What is left tied when one knot is undone, and the knots to undo for it, the one that hangs on all of them first. None when the knot is
 * not tied. O(steps). Rules H3, H10.
 */
export function undoKnot(
  steps: readonly WorkStep[],
  tied: TiedKeys,
  key: string,
): { readonly undo: readonly WorkStep[]; readonly tied: TiedKeys } {
  const held = new Set<number>();
  const undo: WorkStep[] = [];
  const left = new Set(tied);
  // In any order of work a knot that hangs on another comes after it, on one of the strings that it holds.
  for (const step of steps) {
    const own = stepKey(step);
    const hangs = own === key || held.has(step.knotting) || held.has(step.carrier);
    if (!hangs || !tied.has(own)) continue;
    held.add(step.knotting).add(step.carrier);
    undo.push(step);
    left.delete(own);
  }
  return { undo: undo.reverse(), tied: left };
}

/**
 * Tied knots that cannot be: they hang on one that is not tied, or the order knows none of that name. Empty for what was marked by steps
 * of any order of the same piece. O(steps). Rule H4.
 */
export function looseKnots(steps: readonly WorkStep[], tied: TiedKeys): readonly string[] {
  const open = new Set<number>();
  const known = new Set<string>();
  const loose: string[] = [];
  for (const step of steps) {
    const key = stepKey(step);
    known.add(key);
    const isOpen = open.has(step.knotting) || open.has(step.carrier);
    if (tied.has(key) && !isOpen) continue;
    if (tied.has(key)) loose.push(key);
    open.add(step.knotting).add(step.carrier);
  }
  return [...loose, ...[...tied].filter((key) => !known.has(key))];
}
