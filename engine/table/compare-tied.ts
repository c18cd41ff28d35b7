/** What is tied already, on a board that has changed since. */
import type { Board, KnotToken } from '../pattern/index.ts';
import { type WorkStep, workOrder } from '../work/index.ts';
import { knotKey, knotOf, type PieceKnot, stepKey, type TiedKeys } from './piece-knot.ts';

/** A tied knot that the board of now has otherwise. */
interface TiedChange {
  readonly was: PieceKnot;
  /** Where it is now; null when nothing is tied there, or the row is gone. */
  readonly now: PieceKnot | null;
  readonly change: 'gone' | 'kind' | 'colour';
  /** Kind that it has now. */
  readonly kind: KnotToken;
}

/** What following the board of now comes to. */
export interface FollowedBoard {
  /** Whether as many strings hang as were mounted; else there is nothing to follow. */
  readonly canFollow: boolean;
  readonly changes: readonly TiedChange[];
  /** Knots of now that are not tied and lie above tied ones: what has to be undone for them is told by `undoKnot`. */
  readonly missing: readonly PieceKnot[];
  /** What is tied by the names that the board of now has for it. */
  readonly tied: TiedKeys;
  /** Those names by the names begun; without what is gone. */
  readonly names: ReadonlyMap<string, string>;
}

/**
 * Which tied knots differ on the board as it is now, and what is tied there when one follows it.
 * @param begun   the board as the keychain was begun, dressed
 * @param now     the board as it is now, dressed
 * @param rowNow  row of the pattern of now for a row of the pattern begun, null when it is gone; default the same number
 * @throws RangeError when a piece has more than 20,000 rows
 * O(knots). Rule H17.
 */
export function compareTied(
  begun: Board,
  now: Board,
  tied: TiedKeys,
  rowNow: (row: number) => number | null = (row) => row,
): FollowedBoard {
  const before = stepsOf(begun);
  const known = before.filter((step) => tied.has(stepKey(step)));
  const canFollow = begun.pattern.colours.length === now.pattern.colours.length;
  const after = canFollow ? stepsOf(now) : [];
  const stepAt = new Map(after.map((step) => [stepKey(step), step]));
  const changes: TiedChange[] = [];
  const names = new Map<string, string>();
  for (const step of known) {
    const was = knotOf(step);
    const found = placesNow(was, now, rowNow)
      .map((knot) => stepAt.get(knotKey(knot)))
      .find((one) => one !== undefined);
    if (found === undefined) {
      changes.push({ was, now: null, change: 'gone', kind: '-' });
      continue;
    }
    const there = knotOf(found);
    names.set(stepKey(step), knotKey(there));
    const change =
      found.kind !== step.kind ? 'kind' : hexOf(begun, step) !== hexOf(now, found) ? 'colour' : null;
    if (change !== null) changes.push({ was, now: there, change, kind: found.kind });
  }
  const kept = new Set(names.values());
  return { canFollow, changes, missing: missingAbove(after, kept), tied: kept, names };
}

/** The whole piece row by row: which knots there are, whatever the order of work. */
function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new RangeError(order.error.message);
  return order.steps;
}

/** Where a knot may be now: the first repeat and the lead-in change places when the lead-in gets longer or shorter. */
function placesNow(
  { part, repeat, row, k }: PieceKnot,
  { piece }: Board,
  rowNow: (row: number) => number | null,
): readonly PieceKnot[] {
  if (part === 'end') return [{ part, repeat, row, k }];
  const there = rowNow(row);
  if (there === null) return [];
  if (there >= (piece.leadInRows ?? 0)) return [{ part: 'band', repeat: Math.max(1, repeat), row: there, k }];
  return repeat <= 1 ? [{ part: 'lead-in', repeat: 0, row: there, k }] : [];
}

function hexOf({ pattern, palette }: Board, step: WorkStep): string | undefined {
  return palette.find(({ id }) => id === pattern.colours[step.knotting])?.hex.toLowerCase();
}

function missingAbove(steps: readonly WorkStep[], tied: TiedKeys): readonly PieceKnot[] {
  const under = new Set<number>();
  const missing: PieceKnot[] = [];
  for (const step of [...steps].reverse()) {
    const isTied = tied.has(stepKey(step));
    if (!isTied && !under.has(step.knotting) && !under.has(step.carrier)) continue;
    if (!isTied) missing.push(knotOf(step));
    under.add(step.knotting).add(step.carrier);
  }
  return missing.reverse();
}
