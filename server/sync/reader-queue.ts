/** What one reader has still to read: written, counted, and looked at for whether any of it goes. */
import type { Duplex } from 'node:stream';
import type { Account, Outgoing } from './outgoing.ts';

/** What Node tells of a socket's own queue, and goes by for its own time limits: bytes that the system has not taken yet. */
interface Below {
  readonly _handle?: { readonly writeQueueSize?: number } | null;
}

export class ReaderQueue {
  readonly #raw: Duplex;
  readonly #outgoing: Outgoing;
  readonly #account: Account;
  /** What of the queue stands in the account: all of a queue long enough for the socket to say when it is empty again. */
  #counted = 0;
  /** Since when nothing has gone; null = nothing waits. */
  #stuckSince: number | null = null;
  /** Since when something waits without the queue having been empty. */
  #heldSince = 0;
  #leftBelow = -1;
  /** Takes back the wait for room; null = it waits for none. */
  #forgetWait: (() => void) | null = null;

  constructor(raw: Duplex, outgoing: Outgoing, account: Account) {
    this.#raw = raw;
    this.#outgoing = outgoing;
    this.#account = account;
  }

  /** Bytes that the reader has still to take. */
  get bytes(): number {
    return this.#raw.writableLength;
  }

  /** Whether it waits for room, for no fault of the reader's. */
  get isWaiting(): boolean {
    return this.#forgetWait !== null;
  }

  write(frame: Buffer): void {
    this.#raw.write(frame);
    // Mostly the system takes it at once: then nothing waited before, nor does now.
    if (this.#raw.writableLength !== this.#counted) this.count();
  }

  /** Brings the account up to date. */
  count(): void {
    const queued = this.#raw.destroyed ? 0 : this.#raw.writableLength;
    // Of a shorter queue the socket does not say when it is empty.
    const counted = queued >= this.#raw.writableHighWaterMark ? queued : 0;
    const more = counted - this.#counted;
    this.#counted = counted;
    if (more !== 0) this.#outgoing.add(this.#account, more);
  }

  /** All of it has gone. */
  drained(): void {
    this.#stuckSince = null;
    this.count();
  }

  /** Whether the reader should get no more now. @param most bytes that may wait for one reader */
  isLong(most: number): boolean {
    const queued = this.#raw.writableLength;
    return queued > most || (this.#counted > 0 && this.#outgoing.isFull(this.#account));
  }

  /** Whether so many bytes more may be written now; if not, calls when they may, in place of what was to be called before. */
  hasRoomFor(bytes: number, later: () => void): boolean {
    this.#forgetWait?.();
    this.#forgetWait = null;
    if (this.#outgoing.hasRoomFor(this.#account, bytes)) return true;
    this.#forgetWait = this.#outgoing.whenRoomFor(this.#account, bytes, () => {
      this.#forgetWait = null;
      later();
    });
    return false;
  }

  /**
   * Looked at every few seconds: whether the reader has taken nothing for so long; or not all, while others wait for the room
   * that it holds.
   */
  isStuck(now: number, mostMs: number): boolean {
    this.count();
    if (this.#raw.writableLength === 0) {
      this.#stuckSince = null;
      return false;
    }
    const below = (this.#raw as Below)._handle?.writeQueueSize ?? this.#raw.writableLength;
    // What lies in a time to come was before the clock was set back.
    this.#heldSince = this.#stuckSince === null ? now : Math.min(this.#heldSince, now);
    if (this.#stuckSince === null || below !== this.#leftBelow || this.#stuckSince > now)
      this.#stuckSince = now;
    this.#leftBelow = below;
    const isInTheWay = this.#counted > 0 && this.#outgoing.isAwaited;
    return now - (isInTheWay ? this.#heldSince : this.#stuckSince) > mostMs;
  }

  /** The socket has ended. */
  end(): void {
    this.#forgetWait?.();
    this.#forgetWait = null;
    const counted = this.#counted;
    this.#counted = 0;
    if (counted !== 0) this.#outgoing.add(this.#account, -counted);
    this.#outgoing.close(this.#account);
  }
}
