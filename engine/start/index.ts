/** Beginnings: boards laid out from a figure of the trade, each of which mounts neatly. */
export { beginBoard } from './begin.ts';
export type { StartDifference } from './differences.ts';
export { boardsFromDrawer, type DrawerThread } from './drawer.ts';
export { groupColourways } from './group-colourways.ts';
export { lessonBoards } from './lesson.ts';
export { moreLike } from './more-like.ts';
export { BEGINNING_KINDS, type BeginningKind, choicesOf, fitShape, type Shape } from './shape.ts';
export { type Tally, tallyOf } from './tally.ts';
