/** Several edits as one. */
import { ComposedPlaces } from './compose-places.ts';
import { type Edit, type Held, isAlike, isListRoot, type KeyChange, LIST_ROOTS } from './key-change.ts';
import { replacedBases } from './knot-writes.ts';
import { baseOf, fillFromBase, KnotMatrix } from './knots-shown.ts';

/**
 * One edit that does what these do, in their order: of each key the first before and the last after. What says the same
 * before and after is left out. Rule D304.
 */
export function foldEdits(edits: readonly Edit[]): Edit {
  const [only] = edits;
  if (only !== undefined && edits.length === 1) return only;
  return {
    changes: foldAll(edits.map(({ changes }) => changes)),
    held: foldHeld(edits.map(({ held }) => held)),
  };
}

/** The same of changes alone, each an edit of its own. */
export function foldChanges(changes: readonly KeyChange[]): KeyChange[] {
  return foldAll(changes.map((change) => [change]));
}

function foldAll(edits: readonly (readonly KeyChange[])[]): KeyChange[] {
  const lists = new Map(LIST_ROOTS.map((root) => [root, new ComposedPlaces()]));
  const folded = new Map<string, KeyChange>();
  for (const changes of edits) {
    for (const [root, places] of lists) places.add(changes.filter((change) => change.root === root));
    for (const change of changes) {
      if (isListRoot(change.root)) continue;
      const name = `${change.root} ${change.key}`;
      const earlier = folded.get(name);
      // As if the last one.
      folded.delete(name);
      folded.set(name, earlier === undefined ? change : together(earlier, change));
    }
  }
  const listed = [...lists].flatMap(([root, places]) =>
    [...places.moves()].map(([key, { before, after }]) => ({ root, key, before, after })),
  );
  return [...listed, ...[...folded.values()].filter(({ before, after }) => !isAlike(before, after))];
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
