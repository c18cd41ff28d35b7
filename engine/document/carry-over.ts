/**
 * Carries what is in hand from a document over to the next generation of it. Whoever does this holds all that the ended generation
 * held, and knows that the next one begins with just that: so what differs between the two is what was done here and is not known elsewhere
 * yet, and nothing has to be merged. Where that is not known, copies are merged: `server/sync/renewal/bring-over.ts`.
 */
import type * as Y from 'yjs';
import { readKeyed } from './compare/index.ts';
import { placesOf, putWholeBoard } from './compact.ts';
import { BareDesign } from './design.ts';
import { becomeCommand } from './prepare-apply.ts';
import { isShownAlike, readDesign } from './read-design.ts';
import { type IdSource, readScope, rootsOf } from './schema.ts';
import { applyWrites, set } from './writes.ts';

/**
 * @param from a document of the ended generation
 * @param into the next one as it began; shows what `from` does afterwards, under the same ids
 * @returns false when it could not be made to, and must not be used any more
 * O(document). Rule W1040 in web/RULES.md.
 */
export function carryOver(from: Y.Doc, into: Y.Doc, newId: IdSource): boolean {
  const held = readKeyed(from);
  if (held === null) return false;
  if (putWholeBoard(from, into)) return isShownAlike(held, readDesign(into));
  const design = new BareDesign(into, { makerId: 'carry-over', newId, isUndoable: false });
  const result = design.run(becomeCommand(held));
  if (result.ok) keepPlaces(from, into);
  const { snapshot } = design;
  design.dispose();
  return result.ok && isShownAlike(held, snapshot);
}

/** Places among colourways keep their numbers, which the maker's steps know. Rule D365. */
function keepPlaces(from: Y.Doc, into: Y.Doc): void {
  const [was, { colourways }] = [rootsOf(from), rootsOf(into)];
  const scope = readScope(was.meta.get('generation'));
  if (scope === null) return;
  const writes = [...placesOf(was, scope.board)].flatMap(([key, place]) => {
    const now = colourways.get(key);
    return typeof now === 'number' && now !== place ? [set(colourways, key, place)] : [];
  });
  if (writes.length > 0) into.transact(() => applyWrites(writes));
}
