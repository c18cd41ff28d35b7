export { blankBoard } from './blank-board.ts';
export { type BoardSummary, Boards, encodeBoard, newBoardId, newDocumentId } from './boards.ts';
export { makeDemoBoards } from './demo-boards.ts';
