/**
 * What this page wrote to one key, and what of it the writer of the present value did not know.
 *
 * Of two values written at once Yjs keeps one and tells nobody of the other. But each written item names the one that stood there before
 * (its origin); so who wrote the present value knew of ours exactly when ours is among the origins of theirs. What once was known may be lost
 * all the same: to a value that comes late and knows neither. So writes are remembered as long as the page is there. Rule D344.
 */
import * as Y from 'yjs';

/** A change of this page: the text before and after it. */
export interface OwnWrite {
  readonly before: string;
  readonly after: string;
}

interface Placed extends OwnWrite {
  readonly clock: number;
}

/** Of more, the two oldest become one. */
const MOST_WRITES = 100;

export class OwnWrites {
  /** Oldest first; each is among the origins of the next. */
  #writes: readonly Placed[] = [];

  /** Whether this page wrote nothing. */
  get isEmpty(): boolean {
    return this.#writes.length === 0;
  }

  /** To be called after each write of this page, with what stood there and what does now. */
  note(doc: Y.Doc, map: Y.Map<unknown>, key: string, write: OwnWrite): void {
    const item = map._map.get(key);
    if (item === undefined || item.id.client !== doc.clientID) return;
    const { clock } = item.lastId;
    if (this.#writes.at(-1)?.clock === clock) return;
    const [oldest, second, ...rest] = [...this.#writes, { ...write, clock }];
    this.#writes =
      rest.length + 2 > MOST_WRITES
        ? [{ ...second!, before: oldest!.before }, ...rest]
        : [...this.#writes, { ...write, clock }];
  }

  /** Notes what was written in hand on the next generation of the document, also where somebody else's value stands there by now. */
  noteCarried(doc: Y.Doc, map: Y.Map<unknown>, key: string, write: OwnWrite): void {
    let item: Y.Item | null = map._map.get(key) ?? null;
    while (item !== null && item.id.client !== doc.clientID) item = item.left;
    if (item !== null) this.#writes = [{ ...write, clock: item.lastId.clock }];
  }

  /**
   * Where the document of the ended generation held this text in the end: what the last write of this page is to be put on that from;
   * null where it was built on it.
   */
  baseFor(stood: string): string | null {
    const isKnown = this.#writes.some(({ before, after }) => before === stood || after === stood);
    return isKnown ? null : (this.#writes.at(-1)?.before ?? null);
  }

  /**
   * Writes that the writer of the present value did not know, oldest first; they are forgotten here, since they are to be written anew.
   * O(writes of the key since ours).
   */
  takeLost(doc: Y.Doc, map: Y.Map<unknown>, key: string): readonly OwnWrite[] {
    const present = map._map.get(key);
    if (present === undefined || this.#writes.length === 0) return [];
    const known = this.#knownBy(doc, present);
    const lost = this.#writes.slice(known);
    this.#writes = this.#writes.slice(0, known);
    return lost;
  }

  /** How many of our writes, oldest first, are the item or among its origins. */
  #knownBy(doc: Y.Doc, present: Y.Item): number {
    let item: Y.Item | null = present;
    let at = present.lastId;
    while (item !== null) {
      // Items that follow each other are kept as one; only what stands up to where it was entered came before.
      if (item.id.client === doc.clientID) {
        const { clock } = at;
        const known = this.#writes.findLastIndex((own) => own.clock <= clock);
        if (known >= 0) return known + 1;
      }
      const { origin }: Y.Item = item;
      if (origin === null) return 0;
      const before: unknown = Y.getItem(doc.store, origin);
      item = before instanceof Y.Item ? before : null;
      at = origin;
    }
    return 0;
  }
}
