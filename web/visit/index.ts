export {
  boardHeaderStyles,
  emptyVisit,
  savedSign,
  savedStrip,
  undoButtons,
  visitNotices,
} from './board-header.ts';
export { BoardVisit } from './board-visit.ts';
export { emptyStateStyles } from './empty-state.ts';
export { goTo, isForThisTab } from './go-to.ts';
export type { OpenedBoard } from './open-board.ts';
export { signOf } from './sign.ts';
