/** The designs of versions under their ids, fetched once each and a few at a time. */
import { type KeyedDesign, readKeyed } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { ApiError, fetchVersion } from '../sync/index.ts';

const AT_ONCE = 4;

export class VersionShelf {
  readonly boardId: string;
  readonly #designs = new Map<string, Promise<KeyedDesign>>();
  readonly #known = new Map<string, KeyedDesign>();
  #running = 0;
  readonly #waiting: (() => void)[] = [];

  constructor(boardId: string) {
    this.boardId = boardId;
  }

  /** The board, where it was fetched before. */
  peek(id: string): Board | null {
    return this.#known.get(id)?.board ?? null;
  }

  /** The design, where it was fetched before. */
  peekDesign(id: string): KeyedDesign | null {
    return this.#known.get(id) ?? null;
  }

  /** Rejects with an ApiError; a later call tries again. */
  design(id: string): Promise<KeyedDesign> {
    let design = this.#designs.get(id);
    if (design === undefined) {
      design = this.#fetch(id);
      this.#designs.set(id, design);
      design.then(
        (known) => this.#known.set(id, known),
        () => this.#designs.delete(id),
      );
    }
    return design;
  }

  async #fetch(id: string): Promise<KeyedDesign> {
    while (this.#running >= AT_ONCE) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    this.#running += 1;
    try {
      const design = await fetchVersion(this.boardId, id);
      const keyed = readKeyed(design.doc);
      design.dispose();
      design.doc.destroy();
      if (keyed === null) throw new ApiError('bad-version', 'the document holds no board');
      return keyed;
    } finally {
      this.#running -= 1;
      this.#waiting.shift()?.();
    }
  }
}
