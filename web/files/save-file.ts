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

/** Saves a board as the file that opens again here. */
export function saveBoardFile(board: Board): void {
  const text = `${JSON.stringify(formatBoard(board), null, 1)}\n`;
  saveFile(fileName(board.title, 'json'), new Blob([text], { type: 'application/json' }));
}
