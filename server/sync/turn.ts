/**
 * Gathers the edits of one turn of the event loop, or of a few ms where they come thick, so that each reader gets them as one
 * frame and the store as one update.
 */
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { mergeUpdates } from './merge-updates.ts';

/** Turns are at least so far apart. A lone edit ends its turn at once. */
const PACE_MS = 5;

/** What a turn has brought. */
export interface TurnResult {
  readonly update: Uint8Array;
  /** Whose edits these are, where all are of one; else null. */
  readonly author: unknown;
}

/** Whose turn it is. */
export interface TurnOwner extends Answerable {
  /** It is time to {@link Turn.end} the turn. */
  endTurn(): void;
}

export class Turn {
  readonly #owner: TurnOwner;
  readonly #clock: Clock;
  #updates: Uint8Array[] = [];
  #author: unknown = null;
  /** Takes back the call to come; null = none is to come. */
  #forget: (() => void) | null = null;
  #isHeld = false;
  #endedAt = Number.NEGATIVE_INFINITY;

  constructor(owner: TurnOwner, clock: Clock) {
    this.#owner = owner;
    this.#clock = clock;
  }

  get isEmpty(): boolean {
    return this.#updates.length === 0;
  }

  /** When the last turn ended, in ms of the clock's `elapsed`. */
  get endedAt(): number {
    return this.#endedAt;
  }

  add(update: Uint8Array, author: unknown): void {
    this.#author = this.isEmpty || this.#author === author ? author : null;
    if (this.isEmpty) this.#updates = [update];
    else this.#updates.push(update);
    if (this.#forget !== null || this.#isHeld) return;
    const waitMs = this.#endedAt + PACE_MS - this.#clock.elapsed();
    if (waitMs <= 0) this.#due();
    else this.#forget = this.#clock.after(waitMs, () => this.#due());
  }

  /** Runs a change, all of whose edits come into one turn. */
  together<T>(change: () => T): T {
    this.#isHeld = true;
    try {
      return change();
    } finally {
      this.#isHeld = false;
      if (!this.isEmpty) this.#forget ??= this.#clock.after(PACE_MS, () => this.#due());
    }
  }

  /** Begins the next turn. @returns what this one has brought; null when that is nothing */
  end(): TurnResult | null {
    this.stop();
    if (this.isEmpty) return null;
    const updates = this.#updates;
    this.#updates = [];
    this.#endedAt = this.#clock.elapsed();
    return {
      update: mergeUpdates(updates),
      author: this.#author,
    };
  }

  #due(): void {
    unattended(this.#owner, 'turn', () => this.#owner.endTurn());
  }

  /** Lets the turn go on until {@link end}. */
  stop(): void {
    this.#forget?.();
    this.#forget = null;
  }
}
