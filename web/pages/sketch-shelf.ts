/** What was changed on demo boards and could not become a board yet, kept in the browser until it can. */
import { type Board, formatBoard, parseBoard } from '../../engine/index.ts';

/** What was kept at one visit to a demo board. */
export interface KeptSketch {
  readonly visit: string;
  /** The text of a board file. */
  readonly file: string;
}

const startOf = (boardId: string): string => `larkboard.sketch.${boardId}.`;
const textOf = (board: Board): string => JSON.stringify(formatBoard(board));

export class SketchShelf {
  readonly #storage: Storage;

  constructor(storage: Storage) {
    this.#storage = storage;
  }

  /**
   * Each visit has a place of its own, so that none overwrites what was kept at another.
   * @returns whether there was room to keep it
   */
  keep(boardId: string, visit: string, board: Board): boolean {
    try {
      this.#storage.setItem(startOf(boardId) + visit, textOf(board));
      return true;
    } catch (error) {
      // Full, or not allowed: whoever asked says so.
      if (!(error instanceof DOMException)) throw error;
      return false;
    }
  }

  /** What is kept of a demo board; null when there is nothing that can be read. */
  find(boardId: string): KeptSketch | null {
    const start = startOf(boardId);
    for (const key of Object.keys(this.#storage)) {
      const file = key.startsWith(start) ? this.#storage.getItem(key) : null;
      if (file !== null && parseBoard(file).ok) return { visit: key.slice(start.length), file };
    }
    return null;
  }

  /** @param only forgets it only if it is still this */
  forget(boardId: string, visit: string, only?: Board): void {
    const key = startOf(boardId) + visit;
    if (only === undefined || this.#storage.getItem(key) === textOf(only)) this.#storage.removeItem(key);
  }
}
