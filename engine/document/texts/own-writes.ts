/**
 * What this page wrote to one key, and whether who wrote there last knew of it.
 *
 * Of two values written at once Yjs keeps one and tells nobody of the other. But each written item names the one that stood there before
 * (its origin); so who wrote the present value knew of ours exactly when ours is among the origins of theirs. Rule D344.
 */
import * as Y from 'yjs';

interface OwnWrite {
  readonly client: number;
  readonly clock: number;
  /** What stood there before it. */
  readonly before: string;
}

/** Of older ones only what stood before them is kept. */
const MOST_WRITES = 100;

export class OwnWrites {
  /** Oldest first. */
  #writes: readonly OwnWrite[] = [];

  /** To be called after each write of this page. @param before what stood there, as it was shown */
  note(doc: Y.Doc, map: Y.Map<unknown>, key: string, before: string): void {
    const item = map._map.get(key);
    if (item === undefined || item.id.client !== doc.clientID) return;
    const { clock } = item.lastId;
    if (this.#writes.at(-1)?.clock === clock) return;
    const writes = [...this.#writes, { client: item.id.client, clock, before }];
    const [oldest, second, ...rest] = writes;
    this.#writes = writes.length > MOST_WRITES ? [{ ...second!, before: oldest!.before }, ...rest] : writes;
  }

  /**
   * What of ours the writer of the present value did not know: null = nothing, else what stood there before the first such write. From then on
   * nothing is awaited any more, unless the present value is ours.
   * O(writes of the key since ours).
   */
  takeUnknown(doc: Y.Doc, map: Y.Map<unknown>, key: string): string | null {
    const present = map._map.get(key);
    const last = this.#writes.at(-1);
    if (present === undefined || last === undefined) return null;
    if (present.lastId.client === last.client && present.lastId.clock === last.clock) return null;
    const known = this.#knownBy(doc, present);
    const unknown = this.#writes[known];
    this.#writes = [];
    return unknown?.before ?? null;
  }

  /** How many of our writes, oldest first, are among the origins of an item. */
  #knownBy(doc: Y.Doc, present: Y.Item): number {
    let item: Y.Item | null = present;
    let at = present.lastId;
    while (item !== null) {
      const { client, clock } = item.id;
      for (let i = this.#writes.length - 1; i >= 0; i--) {
        const own = this.#writes[i]!;
        // Items that follow each other are kept as one; only what stands up to where it was entered came before.
        if (own.client === client && own.clock >= clock && own.clock <= at.clock) return i + 1;
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
