/**
 * Gathers the edits of one turn of the event loop, or of a few ms where they come thick, so that each reader gets them as one
 * frame and the store as one update.
 */
import * as Y from 'yjs';

/** Turns are at least so far apart. A lone edit ends its turn at once. */
const PACE_MS = 5;

/** What a turn has brought. */
export interface TurnResult {
  readonly update: Uint8Array;
  /** Whose edits these are, where all are of one; else null. */
  readonly author: unknown;
}

export class Turn {
  readonly #onDue: () => void;
  #updates: Uint8Array[] = [];
  #author: unknown = null;
  #timer: NodeJS.Timeout | null = null;
  #isHeld = false;
  #endedAt = Number.NEGATIVE_INFINITY;

  /** @param onDue is called when it is time to {@link end} the turn */
  constructor(onDue: () => void) {
    this.#onDue = onDue;
  }

  get isEmpty(): boolean {
    return this.#updates.length === 0;
  }

  /** When the last turn ended, in ms of `performance.now`. */
  get endedAt(): number {
    return this.#endedAt;
  }

  add(update: Uint8Array, author: unknown): void {
    this.#author = this.isEmpty || this.#author === author ? author : null;
    this.#updates.push(update);
    if (this.#timer !== null || this.#isHeld) return;
    const waitMs = this.#endedAt + PACE_MS - performance.now();
    if (waitMs <= 0) this.#onDue();
    else this.#timer = setTimeout(this.#onDue, waitMs);
  }

  /** Runs a change, all of whose edits come into one turn. */
  together<T>(change: () => T): T {
    this.#isHeld = true;
    try {
      return change();
    } finally {
      this.#isHeld = false;
      if (!this.isEmpty) this.#timer ??= setTimeout(this.#onDue, PACE_MS);
    }
  }

  /** Begins the next turn. @returns what this one has brought; null when that is nothing */
  end(): TurnResult | null {
    this.stop();
    if (this.isEmpty) return null;
    const updates = this.#updates;
    this.#updates = [];
    this.#endedAt = performance.now();
    return {
      update: updates.length === 1 ? updates[0]! : Y.mergeUpdates(updates),
      author: this.#author,
    };
  }

  /** Lets the turn go on until {@link end}. */
  stop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }
}
