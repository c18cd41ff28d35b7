/** What an owner chose of a proposal, with all that it needs. */
import {
  type Change,
  type Conflict,
  changeKey,
  type KeyedDesign,
  type Merge,
  neededBy,
} from '../../engine/document/index.ts';

/** Which side counts in a conflict. */
export type Side = 'ours' | 'theirs';

/** Keys chosen and conflicts decided. Immutable. */
export interface Choice {
  readonly chosen: ReadonlySet<string>;
  readonly decided: ReadonlyMap<string, Side>;
}

/** Everything that can be taken as it is; no conflict decided. */
export function chooseAll({ changes }: Merge): Choice {
  return { chosen: new Set(changes.map(changeKey)), decided: new Map() };
}

/** A name for a conflict that stays while both sides go on. */
export function conflictKey({ why, changes }: Conflict): string {
  return `${why} ${changeKey(changes[0])}`;
}

/** The choice with some changes ticked, and what they need; or cleared, and what needs them. */
export function choose(
  chosen: ReadonlySet<string>,
  keys: readonly string[],
  isChosen: boolean,
  changes: readonly Change[],
  ours: KeyedDesign,
  theirs: KeyedDesign,
): ReadonlySet<string> {
  const needs = new Map(
    changes.map((change) => [changeKey(change), neededBy(change, changes, ours, theirs)] as const),
  );
  const next = new Set(chosen);
  if (isChosen) {
    const open = [...keys];
    for (let key = open.pop(); key !== undefined; key = open.pop()) {
      next.add(key);
      for (const needed of needs.get(key) ?? []) if (!next.has(needed)) open.push(needed);
    }
    return next;
  }
  const open = [...keys];
  for (let key = open.pop(); key !== undefined; key = open.pop()) {
    next.delete(key);
    for (const [other, needed] of needs) if (next.has(other) && needed.includes(key)) open.push(other);
  }
  return next;
}

/** The changes to apply: those chosen, those of conflicts decided for theirs, and the colours these need. */
export function changesOf(
  merge: Merge,
  { chosen, decided }: Choice,
  ours: KeyedDesign,
  theirs: KeyedDesign,
): readonly Change[] {
  const fromConflicts = merge.conflicts
    .filter((conflict) => decided.get(conflictKey(conflict)) === 'theirs')
    .flatMap(({ changes }) => changes);
  const wanted = new Set(chosen);
  for (const change of fromConflicts)
    for (const key of neededBy(change, merge.changes, ours, theirs)) wanted.add(key);
  return [...merge.changes.filter((change) => wanted.has(changeKey(change))), ...fromConflicts];
}

/** Conflicts that nobody has decided yet. */
export function openConflicts({ conflicts }: Merge, { decided }: Choice): readonly Conflict[] {
  return conflicts.filter((conflict) => !decided.has(conflictKey(conflict)));
}

/** Whether less than all of the proposal is taken. */
export function isPart(merge: Merge, { chosen, decided }: Choice): boolean {
  return (
    merge.changes.some((change) => !chosen.has(changeKey(change))) ||
    merge.conflicts.some((conflict) => decided.get(conflictKey(conflict)) !== 'theirs')
  );
}
