export { FileDrop } from './file-drop.ts';
export type { LoadBoardEvent } from './load-board-event.ts';
export { fileName, saveFile } from './save-file.ts';
export { stepLines } from './steps-text.ts';
export { deleteBoard } from './whole-board.ts';
