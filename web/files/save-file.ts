/** Hands a file to the person at the browser. */
import { type Board, formatBoard } from '../../engine/index.ts';

/** A name for a file, made of a board's title; letters and digits of any script stay. */
export function fileName(title: string, ending: string): string {
  return `${title.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || 'board'}.${ending}`;
}

/** Offers the content as a download of this name. */
export function saveFile(name: string, content: Blob): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // The browser reads the address only after this turn.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

const BOARD_TYPE = 'application/json';

function boardText(board: Board): string {
  return `${JSON.stringify(formatBoard(board), null, 1)}\n`;
}

/** Saves a board as the file that opens again here. */
export function saveBoardFile(board: Board): void {
  saveFile(fileName(board.title, 'json'), new Blob([boardText(board)], { type: BOARD_TYPE }));
}

/**
 * Lets a board be dragged out of the page: as a file where the browser can (Chromium), and everywhere as the text of the file, which a text
 * field takes. @returns what frees the file once the drag has ended
 */
export function dragBoardFile(board: Board, transfer: DataTransfer): () => void {
  const text = boardText(board);
  const address = URL.createObjectURL(new Blob([text], { type: BOARD_TYPE }));
  transfer.effectAllowed = 'copy';
  transfer.setData('DownloadURL', `${BOARD_TYPE}:${fileName(board.title, 'json')}:${address}`);
  transfer.setData('text/plain', text);
  return () => URL.revokeObjectURL(address);
}
