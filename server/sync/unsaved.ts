/** Bytes of edits that are not on the disk yet: of all rooms together, and what one room may add to them. */
import type { Log } from '../log.ts';
import { StoreError } from '../store/index.ts';
import type { SyncLimits } from './limits.ts';

/** Of all rooms together. */
export class UnsavedBytes {
  readonly #most: number;
  /** Rooms that take no edits until there is less. */
  readonly #waiting = new Set<() => void>();
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
    const calls = [...this.#waiting];
    this.#waiting.clear();
    for (const call of calls) call();
  }

  /** Calls once it is low, with the next that changes it. */
  whenLow(call: () => void): void {
    this.#waiting.add(call);
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
export class UnsavedShare {
  readonly #all: UnsavedBytes;
  readonly #most: number;
  readonly #log: Log;
  readonly #owner: UnsavedOwner;
  readonly #look = (): void => this.#onLess();
  #bytes = 0;
  #isFull = false;

  constructor({ unsaved, limits, log }: UnsavedDeps, owner: UnsavedOwner) {
    this.#all = unsaved;
    this.#most = limits.unsavedBytes;
    this.#log = log;
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
    this.#all.add(bytes);
    if (bytes < 0 && this.#isFull) this.#onLess();
  }

  /** Whether an edit of so many bytes may be taken. From the first that may not on none is, until the disk has caught up. */
  mayTake(bytes: number): boolean {
    // What is larger than the limit alone is taken when nothing else waits; else it could never come.
    if ((this.#bytes === 0 || this.#bytes + bytes <= this.#most) && this.#all.hasRoomFor(bytes)) return true;
    if (!this.#isFull) {
      this.#isFull = true;
      const [unsavedBytes, inAll] = [this.#bytes, this.#all.bytes];
      this.#log.warn('store-behind', { room: this.#owner.name, unsavedBytes, inAll });
      this.#owner.onUnsaved(true);
    }
    this.#all.whenLow(this.#look);
    return false;
  }

  /** For edits of the server's own. @throws StoreError when none may be taken */
  requireRoom(): void {
    if (!this.mayTake(0)) throw new StoreError('unavailable', 'too much waits for the disk');
  }

  #onLess(): void {
    if (!this.#isFull) return;
    if (!this.#all.isLow) this.#all.whenLow(this.#look);
    else if (this.#bytes < this.#most / 2) {
      this.#isFull = false;
      this.#owner.onUnsaved(false);
    }
  }
}
