import type { Board } from '../../engine/index.ts';

/** Saves what this browser holds of a board that is gone as a file. Rejects with a TypeError when that cannot be fetched. */
export async function saveLeft(board: Board): Promise<void> {
  (await import('../files/save-file.ts')).saveBoardFile(board);
}
