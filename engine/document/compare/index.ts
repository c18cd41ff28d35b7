/** Comparing two designs by ids, three-way merging, and applying what was found. */
export { type Applied, applyChanges } from './apply.ts';
export { type BroughtBack, bringBack } from './bring-back.ts';
export {
  type Change,
  type ColourwayHead,
  type Conflict,
  changeKey,
  type Extent,
  neededBy,
  type PieceField,
  type Shade,
} from './change.ts';
export type { Merge } from './found.ts';
export { type Ends, isShown, type KeyedDesign } from './keyed.ts';
export { compareDesigns, mergeDesigns } from './merge.ts';
export { longestCommon } from './order.ts';
export { keyedFrom, readKeyed, readKeyedUpdate, readWhole } from './read-keyed.ts';
