/** Bytes of edits that are not on the disk yet: of all rooms together, and what one room may add to them. */
import type { Log } from '../log.ts';
import { StoreError } from '../store/index.ts';
import type { SyncLimits } from './limits.ts';

/** Who hears that it has come down. */
export interface UnsavedWaiter {
  onLess(): void;
}

/** Of all rooms together. */
export class UnsavedBytes {
  readonly #most: number;
  /** Rooms that take no edits until there is less. */
  readonly #waiting = new Set<UnsavedWaiter>();
  #bytes = 0;

  constructor(most: number) {
    this.#most = most;
  }

  get bytes(): number {
    return this.#bytes;
  }

  /** Whether it has come down so far that rooms take edits again. */
  get isLow(): boolean {
    return this.#bytes <= this.#most / 2;
  }

  /** Whether so many more may come. What alone is more than allowed may, where nothing else waits. */
  hasRoomFor(bytes: number): boolean {
    return this.#bytes === 0 || this.#bytes + bytes <= this.#most;
  }

  add(bytes: number): void {
    this.#bytes += bytes;
    if (this.#waiting.size === 0 || !this.isLow) return;
    const waiting = [...this.#waiting];
    this.#waiting.clear();
    for (const waiter of waiting) waiter.onLess();
  }

  /** Tells once it is low, with the next that changes it. */
  whenLow(waiter: UnsavedWaiter): void {
    this.#waiting.add(waiter);
  }
}

/** Who hears whether a room takes edits. */
export interface UnsavedOwner {
  readonly name: string;
  /** It takes none from now on, because too much is not on the disk; or it may again. */
  onUnsaved(isFull: boolean): void;
}

export interface UnsavedDeps {
  readonly unsaved: UnsavedBytes;
  readonly limits: Pick<SyncLimits, 'unsavedBytes'>;
  readonly log: Log;
}

/** Of one room. */
export class UnsavedShare implements UnsavedWaiter {
  readonly #deps: UnsavedDeps;
  readonly #owner: UnsavedOwner;
  #bytes = 0;
  #isFull = false;

  constructor(deps: UnsavedDeps, owner: UnsavedOwner) {
    this.#deps = deps;
    this.#owner = owner;
  }

  /** Whether the room takes no edits, because too much is not on the disk. */
  get isFull(): boolean {
    return this.#isFull;
  }

  /** It takes edits again; when that is still too early the next one shows it. */
  reopen(): void {
    this.#isFull = false;
  }

  /** Notes that more waits for the disk, or less. */
  add(bytes: number): void {
    this.#bytes += bytes;
    this.#deps.unsaved.add(bytes);
    if (bytes < 0 && this.#isFull) this.onLess();
  }

  /** Whether an edit of so many bytes may be taken. From the first that may not on none is, until the disk has caught up. */
  mayTake(bytes: number): boolean {
    const { unsaved, limits, log } = this.#deps;
    // What is larger than the limit alone is taken when nothing else waits; else it could never come.
    const hasRoom = this.#bytes === 0 || this.#bytes + bytes <= limits.unsavedBytes;
    if (hasRoom && unsaved.hasRoomFor(bytes)) return true;
    if (!this.#isFull) {
      this.#isFull = true;
      const [unsavedBytes, inAll] = [this.#bytes, unsaved.bytes];
      log.warn('store-behind', { room: this.#owner.name, unsavedBytes, inAll });
      this.#owner.onUnsaved(true);
    }
    unsaved.whenLow(this);
    return false;
  }

  /** For edits of the server's own. @throws StoreError when none may be taken */
  requireRoom(): void {
    if (!this.mayTake(0)) throw new StoreError('unavailable', 'too much waits for the disk');
  }

  onLess(): void {
    const { unsaved, limits } = this.#deps;
    if (!this.#isFull) return;
    if (!unsaved.isLow) unsaved.whenLow(this);
    else if (this.#bytes < limits.unsavedBytes / 2) {
      this.#isFull = false;
      this.#owner.onUnsaved(false);
    }
  }
}
