export { Boards, newBoardId } from './boards.ts';
export { makeDemoBoards } from './demo-boards.ts';
export { BOARD_JOBS } from './board-jobs.ts';
export { BEING_MADE, HalfMade, saysBeingMade } from './half-made.ts';
export type { Sent } from './sent-boards.ts';
