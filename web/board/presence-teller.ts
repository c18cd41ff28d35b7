/** Tells the others where this maker is, at most a few times a second: the server drops those who talk too fast. */
import type { Presence } from '../../engine/document/index.ts';
import { type Block, type Cell, cellsInBlock, type Stagger } from '../../engine/index.ts';
import type { BoardSession } from '../sync/index.ts';

const PAUSE_MS = 70;

export class PresenceTeller {
  readonly #session: BoardSession;
  #pending: Partial<Presence> = {};
  #timer = 0;
  #selected: Block | null = null;

  constructor(session: BoardSession) {
    this.#session = session;
  }

  dispose(): void {
    clearTimeout(this.#timer);
  }

  tellCursor(cell: Cell | null): void {
    this.#tell({ cursor: cell && this.#session.design.addressOf(cell.row, cell.k) });
  }

  tellView(view: Presence['view']): void {
    this.#tell({ view });
  }

  tellSelection(block: Block | null, stagger: Stagger): void {
    if (block === this.#selected) return;
    this.#selected = block;
    const cells = block === null ? [] : cellsInBlock(stagger, block);
    const [first, last] = [cells[0], cells[cells.length - 1]];
    const from = first === undefined ? null : this.#session.design.addressOf(first.row, first.k);
    const to = last === undefined ? null : this.#session.design.addressOf(last.row, last.k);
    this.#tell({ selection: from !== null && to !== null ? { from, to } : null });
  }

  #tell(patch: Partial<Presence>): void {
    this.#pending = { ...this.#pending, ...patch };
    if (this.#timer !== 0) return;
    this.#timer = window.setTimeout(() => {
      this.#timer = 0;
      const pending = this.#pending;
      this.#pending = {};
      this.#session.setPresence(pending);
    }, PAUSE_MS);
  }
}
