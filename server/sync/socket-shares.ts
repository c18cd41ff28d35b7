/** How many sockets each share has open, and how fast it opens them. */
import { InUse, PerSpan, type Share, type ShareLimits } from '../shares.ts';
import type { SyncLimits } from './limits.ts';

const SPAN_MS = 10_000;
/** Twice as many may be opened in the span as may be open: everybody comes back at once, and once more. */
const TRIES = 2;
/** Somebody new has so small a part of what a person has. */
const NEW_PART = 4;

export class SocketShares {
  readonly #open: InUse;
  readonly #tries: PerSpan;

  constructor(limits: SyncLimits) {
    const person = limits.connectionsPerPerson;
    const most: ShareLimits = {
      person,
      newcomer: Math.ceil(person / NEW_PART),
      newcomers: limits.connectionsOfNewcomers,
      strangers: limits.connectionsOfStrangers,
    };
    this.#open = new InUse(most);
    const { newcomer, newcomers, strangers } = most;
    this.#tries = new PerSpan(
      {
        person: TRIES * person,
        newcomer: TRIES * newcomer,
        newcomers: TRIES * newcomers,
        strangers: TRIES * strangers,
      },
      SPAN_MS,
    );
  }

  /** Counts one that somebody wants to open. @returns whether it is not too fast */
  mayTry(share: Share, now: number): boolean {
    return this.#tries.add(share, now) === 0;
  }

  hasRoomFor(share: Share): boolean {
    return this.#open.hasRoomFor(share);
  }

  enter(share: Share): void {
    this.#open.enter(share);
  }

  leave(share: Share): void {
    this.#open.leave(share);
  }
}
