/** Who wrote what stands there, over renewals: the server writes a renewed document, and says of nothing whose it was. Rule D318. */
import type * as Y from 'yjs';
import type { Roots } from '../schema.ts';
import type { KeyChange } from './key-change.ts';
import { writerOf } from './writer-of.ts';

type Place = Pick<KeyChange, 'root' | 'key'>;

/** Keys that are remembered, at most. */
const MOST_WRITERS = 20_000;

export class FormerWriters {
  /** By root and key: the client that stands there, and for whom. */
  #known: ReadonlyMap<string, readonly [stand: number, writer: number]> = new Map();

  /** The Yjs client whose it is; null where nobody can be named. */
  of({ root, key }: Place, roots: Roots): number | null {
    const client = writerOf({ root, key }, roots);
    const former = this.#known.get(`${root} ${key}`);
    return former !== undefined && former[0] === client ? former[1] : client;
  }

  /** Goes on in the next generation. @param places of which it may be asked; from one document to another */
  move(places: Iterable<Place>, from: Roots, doc: Y.Doc, to: Roots): void {
    const known = new Map<string, readonly [number, number]>();
    for (const place of places) {
      const [stand, writer] = [writerOf(place, to), this.of(place, from)];
      // Whoever was in the former document wrote here themselves.
      if (stand !== null && writer !== null && !doc.store.clients.has(stand))
        known.set(`${place.root} ${place.key}`, [stand, writer]);
      if (known.size >= MOST_WRITERS) break;
    }
    this.#known = known;
  }
}
