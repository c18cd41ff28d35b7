/** Comparing two designs by ids, three-way merging, and applying what was found. */
export { type Applied, applyChanges } from './apply.ts';
export { bringBack } from './bring-back.ts';
export { type Change, type Conflict, changeKey, type Extent, neededBy } from './change.ts';
export type { Merge } from './found.ts';
export { isShown, type KeyedDesign } from './keyed.ts';
export { compareDesigns, mergeDesigns } from './merge.ts';
export { longestCommon } from './order.ts';
export { keyedFrom, readKeyed, readKeyedUpdate, readWhole } from './read-keyed.ts';
