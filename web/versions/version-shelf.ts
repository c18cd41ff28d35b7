/** The boards of versions, fetched once each and a few at a time. */
import type { Board } from '../../engine/index.ts';
import { fetchVersion } from '../sync/index.ts';

const AT_ONCE = 4;

export class VersionShelf {
  readonly boardId: string;
  readonly #boards = new Map<string, Promise<Board>>();
  readonly #known = new Map<string, Board>();
  #running = 0;
  readonly #waiting: (() => void)[] = [];

  constructor(boardId: string) {
    this.boardId = boardId;
  }

  /** The board, where it was fetched before. */
  peek(id: string): Board | null {
    return this.#known.get(id) ?? null;
  }

  /** Rejects with an ApiError; a later call tries again. */
  board(id: string): Promise<Board> {
    let board = this.#boards.get(id);
    if (board === undefined) {
      board = this.#fetch(id);
      this.#boards.set(id, board);
      board.then(
        (known) => this.#known.set(id, known),
        () => this.#boards.delete(id),
      );
    }
    return board;
  }

  async #fetch(id: string): Promise<Board> {
    while (this.#running >= AT_ONCE) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    this.#running += 1;
    try {
      const design = await fetchVersion(this.boardId, id);
      const { board } = design.snapshot;
      design.dispose();
      design.doc.destroy();
      return board;
    } finally {
      this.#running -= 1;
      this.#waiting.shift()?.();
    }
  }
}
