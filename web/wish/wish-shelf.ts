/**
 * Wishes that this browser keeps, one for each board: they stand on no server.
 *
 * A record is the wish as text with the addresses of its cells, so that it is found again on its knots. Where the browser gives no database, a wish ends with the page.
 */
import { formatWish, readWish, type Wish } from '../../engine/index.ts';
import type { WishAddresses } from './held-wish.ts';

const NAME = 'larkboard-wishes';
const WISHES = 'wishes';
const MOST_DAYS = 180;

interface Kept {
  readonly wish: string;
  readonly addresses: WishAddresses;
  readonly at: number;
}

/** A wish as it was kept. */
export interface KeptWish {
  readonly wish: Wish;
  readonly addresses: WishAddresses;
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

export class WishShelf {
  #db: IDBDatabase | null;
  readonly #boardId: string;
  readonly #now: () => number;

  /** Opens it; without a database it keeps nothing, see {@link WishShelf.keeps}. */
  static async open(boardId: string, now: () => number = Date.now): Promise<WishShelf> {
    try {
      const opening = indexedDB.open(NAME, 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore(WISHES);
      return new WishShelf(await done(opening), boardId, now);
    } catch (error) {
      // The disk is full, or the person lets sites keep nothing.
      if (!(error instanceof DOMException)) throw error;
      return new WishShelf(null, boardId, now);
    }
  }

  private constructor(db: IDBDatabase | null, boardId: string, now: () => number) {
    this.#db = db;
    this.#boardId = boardId;
    this.#now = now;
    if (db === null) return;
    db.onversionchange = () => this.close();
    db.onclose = () => this.close();
  }

  get keeps(): boolean {
    return this.#db !== null;
  }

  /** What was kept for the board; null where there is nothing, or nothing that can be read. Those of any board that are too old go. */
  async read(): Promise<KeptWish | null> {
    if (this.#db === null) return null;
    const wishes = this.#db.transaction(WISHES, 'readwrite').objectStore(WISHES);
    const oldest = this.#now() - MOST_DAYS * 24 * 3600 * 1000;
    const [keys, all] = await Promise.all([done(wishes.getAllKeys()), done(wishes.getAll())]);
    (all as readonly Kept[]).forEach(({ at }, i) => {
      if (at < oldest) wishes.delete(keys[i]!);
    });
    const kept = (all as readonly Kept[])[keys.indexOf(this.#boardId)];
    if (kept === undefined || kept.at < oldest) return null;
    const read = readWish(kept.wish);
    return read.ok ? { wish: read.value, addresses: kept.addresses } : null;
  }

  /** Keeps it in the place of what was kept before; null takes that away. */
  keep(wish: Wish | null, addresses: WishAddresses): void {
    if (this.#db === null) return;
    try {
      const writing = this.#db.transaction(WISHES, 'readwrite', { durability: 'relaxed' });
      writing.onabort = () => this.close();
      const wishes = writing.objectStore(WISHES);
      if (wish === null) wishes.delete(this.#boardId);
      else {
        const kept: Kept = { wish: formatWish(wish), addresses, at: this.#now() };
        wishes.put(kept, this.#boardId);
      }
    } catch (error) {
      // The browser has taken it away.
      if (!(error instanceof DOMException)) throw error;
      this.close();
    }
  }

  close(): void {
    this.#db?.close();
    this.#db = null;
  }
}
