/** Beginnings: boards laid out from a figure of the trade, each of which mounts neatly. */
export { beginBoard } from './begin.ts';
export { boardsFromDrawer } from './drawer.ts';
export { groupColourways } from './group-colourways.ts';
export { lessonBoards } from './lesson.ts';
export { moreLike } from './more-like.ts';
export { type BeginningKind, choicesOf, fitShape } from './shape.ts';
export { tallyOf } from './tally.ts';
