/** Several edits as one. */
import { type Edit, type Held, isAlike, isListRoot, type KeyChange, type ListPlace } from './key-change.ts';
import { replacedBases } from './changes-of.ts';
import { baseOf, fillFromBase, KnotMatrix } from './knots-shown.ts';

/**
 * One edit that does what these do, in their order: of each key the first before and the last after. What says the same
 * before and after is left out. Rule D304.
 */
export function foldEdits(edits: readonly Edit[]): Edit {
  const [only] = edits;
  if (only !== undefined && edits.length === 1) return only;
  const changes = foldChanges(edits.flatMap((edit) => edit.changes));
  return { changes, held: foldHeld(edits.map(({ held }) => held)) };
}

/** The same of changes alone. */
export function foldChanges(changes: readonly KeyChange[]): KeyChange[] {
  const folded = new Map<string, KeyChange>();
  for (const change of changes) {
    const name = `${change.root} ${change.key}`;
    const earlier = folded.get(name);
    if (earlier === undefined) folded.set(name, change);
    else {
      // As if the last one: what it hangs on, such as a neighbour in a list, came before it.
      folded.delete(name);
      folded.set(name, together(earlier, change));
    }
  }
  return [...folded.values()].filter((change) => !isNothing(change));
}

function together(first: KeyChange, last: KeyChange): KeyChange {
  const { root, key } = first;
  const [earlier, later] = [replacedBases(first), replacedBases(last)];
  if (earlier === null || later === null) return { root, key, before: first.before, after: last.after };
  // Matrices of different pairs: what the one does not know the other says.
  const bases = [...earlier, ...later].map(baseOf);
  const rows = [...new Set(bases.flatMap((base) => base.rows))];
  const strings = [...new Set(bases.flatMap((base) => base.strings))];
  const [before, after] = [new KnotMatrix(rows, strings), new KnotMatrix(rows, strings)];
  for (const at of [2, 0]) fillFromBase(before, bases[at]!);
  for (const at of [1, 3]) fillFromBase(after, bases[at]!);
  return { root, key, before: before.toBase(), after: after.toBase() };
}

function isNothing({ root, before, after }: KeyChange): boolean {
  if (!isListRoot(root)) return isAlike(before, after);
  if (before === null || after === null) return before === after;
  const [was, is] = [before as ListPlace, after as ListPlace];
  return was.behind === is.behind && was.before === is.before;
}

/** What hung there first counts. */
function foldHeld(all: readonly Held[]): Held {
  const values = new Map<string, Held['values'][number]>();
  for (const { values: some } of all)
    for (const value of some) {
      const name = `${value[0]} ${value[1]}`;
      if (!values.has(name)) values.set(name, value);
    }
  return {
    lists: all.flatMap(({ lists }) => lists),
    values: [...values.values()],
    bases: all.flatMap(({ bases }) => bases),
  };
}
