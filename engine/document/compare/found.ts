/** Gathers what a three-way comparison finds. */
import { type Change, type Conflict, changeKey, coloursUsedBy } from './change.ts';
import type { KeyedDesign } from './keyed.ts';

/** What theirs has changed that ours can take, and what stands against ours. */
export interface Merge {
  /** Each can be taken as it is. In a fixed order: pattern, colours, the rest. */
  readonly changes: readonly Change[];
  readonly conflicts: readonly Conflict[];
}

/** Whether two plain values say the same. */
export function isSame(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

/** Changes and conflicts, as they are found. */
export class Found {
  readonly #changes: Change[] = [];
  readonly #conflicts: Conflict[] = [];

  change(change: Change): void {
    this.#changes.push(change);
  }

  conflict(why: Conflict['why'], change: Change): void {
    this.#conflicts.push({ why, changes: [change] });
  }

  /** A value that either side may have changed: nothing, a change or a conflict. */
  value(base: unknown, ours: unknown, theirs: unknown, change: () => Change): void {
    this.sides(isSame(ours, theirs), isSame(base, theirs), isSame(base, ours), change);
  }

  /** The same where equality is known. */
  sides(isAgreed: boolean, isOurs: boolean, isTheirs: boolean, change: () => Change): void {
    if (isAgreed || isOurs) return;
    if (isTheirs) this.change(change());
    else this.conflict('both-changed', change());
  }

  /**
   * Looks at what goes together. Changes that name a colour which ours removed cannot be had without it: they wait for the
   * question whether it comes back. A colour that theirs removed cannot go while a string of ours keeps it.
   */
  settle(ours: KeyedDesign, theirs: KeyedDesign): Merge {
    const { changes, conflicts } = this.#groupLost(ours, theirs);
    const kept = usedAfter(ours, changes);
    const isKept = (change: Change): boolean =>
      change.kind === 'colour-removed' && kept.has(change.colour.id);
    return {
      changes: changes.filter((change) => !isKept(change)),
      conflicts: [
        ...conflicts,
        ...changes.filter(isKept).map((change): Conflict => ({ why: 'theirs-removed', changes: [change] })),
      ],
    };
  }

  #groupLost(ours: KeyedDesign, theirs: KeyedDesign): Merge {
    const known = new Set(ours.board.palette.map(({ id }) => id));
    for (const change of this.#changes) if (change.kind === 'colour-added') known.add(change.colour.id);
    const missing = (change: Change): readonly string[] =>
      coloursUsedBy(change, theirs).filter((id) => !known.has(id));

    const changes: Change[] = [];
    const groups = new Groups();
    for (const change of this.#changes) {
      const colours = missing(change);
      if (colours.length === 0) changes.push(change);
      else groups.add(change, colours);
    }
    const lost = new Map<string, Change>();
    for (const colour of theirs.board.palette)
      if (!known.has(colour.id)) lost.set(colour.id, { kind: 'colour-added', colour });

    const conflicts = this.#conflicts.map((conflict): Conflict => {
      const own = new Set(conflict.changes.map(changeKey));
      const colours = [...new Set(conflict.changes.flatMap(missing))].map((id) => lost.get(id)!);
      const [first, ...rest] = conflict.changes;
      return {
        why: conflict.why,
        changes: [first, ...rest, ...colours.filter((change) => !own.has(changeKey(change)))],
      };
    });
    for (const { colours, changes: users } of groups.list()) {
      const [first, ...others] = colours.map((id) => lost.get(id)!);
      const keys = new Set(colours);
      // A colour that stands against us already takes its users with it.
      const at = conflicts.findIndex(
        ({ changes: [head] }) => head.kind === 'colour-added' && keys.has(head.colour.id),
      );
      if (at < 0) conflicts.push({ why: 'ours-removed', changes: [first!, ...others, ...users] });
      else {
        const {
          why,
          changes: [head, ...rest],
        } = conflicts[at]!;
        conflicts[at] = { why, changes: [head, ...rest, ...others, ...users] };
      }
    }
    return { changes, conflicts };
  }
}

/** Colours that strings of ours, as shown, keep when all changes are applied. */
function usedAfter(ours: KeyedDesign, changes: readonly Change[]): ReadonlySet<string> {
  if (changes.some(({ kind }) => kind === 'pattern')) return new Set();
  const leaving = new Set<string>();
  for (const change of changes) {
    if (change.kind === 'strings-removed') for (const side of [0, 1]) leaving.add(`${change.pair} ${side}`);
    else if (change.kind === 'string-colour')
      leaving.add(`${change.address.stringPair} ${change.address.side}`);
  }
  return new Set(
    ours.board.pattern.colours.filter(
      (_, string) => !leaving.has(`${ours.stringPairIds[string >> 1]} ${string & 1}`),
    ),
  );
}

/** Changes joined by the colours they need. */
class Groups {
  #groups: { readonly colours: Set<string>; readonly changes: Change[] }[] = [];

  add(change: Change, colours: readonly string[]): void {
    const joined = { colours: new Set(colours), changes: [] as Change[] };
    this.#groups = this.#groups.filter((group) => {
      if (!colours.some((id) => group.colours.has(id))) return true;
      for (const id of group.colours) joined.colours.add(id);
      joined.changes.push(...group.changes);
      return false;
    });
    joined.changes.push(change);
    this.#groups.push(joined);
  }

  list(): readonly { readonly colours: readonly string[]; readonly changes: readonly Change[] }[] {
    return this.#groups.map(({ colours, changes }) => ({ colours: [...colours], changes }));
  }
}
