/** Edits as data: what a transaction changed, several as one, taking one back, and keeping them. */
export { changesOf } from './changes-of.ts';
export { foldChanges, foldEdits } from './fold.ts';
export { heldBy } from './held.ts';
export {
  type Edit,
  type Held,
  isListRoot,
  type KeyChange,
  type ListPlace,
  NOTHING_HELD,
  type RootName,
} from './key-change.ts';
export { encodeEdit, readEdit } from './stored-edit.ts';
export { takeBack } from './take-back.ts';
export { shownAt } from './knot-writes.ts';
export { knotPlaceOf } from './knots-shown.ts';
export { UNDO_KIT, type UndoKit } from './undo-kit.ts';
export { writerOf } from './writer-of.ts';
