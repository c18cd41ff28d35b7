/** What something would make of a board, in words. */
import { type Board, isHung, type MountPlan, planAtOnce } from '../../engine/index.ts';
import { t } from '../text/index.ts';

/** How a board mounts; null where nothing is mounted, or where that takes a search. */
export function planOfBoard({ pattern, piece }: Board): MountPlan | null {
  return isHung(piece) ? planAtOnce(pattern.colours, { singles: piece.singles ?? 'forced' }) : null;
}

/** Folds that cross another one. */
function crossingFolds({ crossings }: MountPlan): number {
  return new Set(crossings.flat()).size;
}

/** "Recolours 3 strings, changes 12 knots; then 2 folds cross." */
export function sayOutcome(before: Board, after: Board, plan: MountPlan | null, isSameBand: boolean): string {
  const [from, to] = [before.pattern, after.pattern];
  const rows = to.rows - from.rows;
  const isSameShape = rows === 0 && from.start === to.start && from.colours.length === to.colours.length;
  const strings = to.colours.filter((colour, place) => colour !== from.colours[place]).length;
  const knots = to.knots.reduce((sum, knot, i) => sum + (knot === from.knots[i] ? 0 : 1), 0);
  const changes = isSameBand
    ? []
    : isSameShape
      ? [
          ...(strings === 0 ? [] : [t('outcome.recolours', { count: strings })]),
          ...(knots === 0 ? [] : [t('outcome.knots', { count: knots })]),
        ]
      : rows > 0
        ? [t('outcome.rows', { count: rows })]
        : [];
  return [...(changes.length === 0 ? [] : [changes.join(', ')]), ...verdict(after, plan)].join('; ');
}

function verdict({ piece }: Board, plan: MountPlan | null): readonly string[] {
  if (!isHung(piece)) return [];
  if (plan === null) return [t('outcome.search')];
  return [plan.neat ? t('outcome.neat') : t('outcome.cross', { count: crossingFolds(plan) })];
}
