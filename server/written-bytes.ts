/**
 * How much each share may have stored in an hour: edits, board files, archives, remarks, and what the server copies for them. Counted on
 * each node for itself, when it was taken, so the last one may go beyond the limit.
 *
 * Rates by the second have to allow what a person does in a moment, and let a patient one fill any disk. What fills it is what is kept: an
 * edit counts when a room found it new, so joining again costs nothing; deletions count, since their rows are kept. Who is beyond the limit
 * stays in and reads: a page that is closed comes back at once.
 */
import { PerSpan, type Share } from './shares.ts';

const HOUR_MS = 60 * 60 * 1000;
/** A person alone has so small a part of what all who are new or unknown at an address have together. */
const ONE_PART = 16;

/** By those at one address who are new or unknown: 40 who are new may each write 100 MiB, and a knot takes some 25 bytes. */
export const DEFAULT_WRITTEN_BYTES = 4 * 1024 * 1024 * 1024;

export class WrittenBytes {
  readonly #perHour: PerSpan;
  readonly #now: () => number;

  /** @param most bytes in an hour of all who are new or unknown at an address */
  constructor(most: number, now: () => number) {
    const one = Math.ceil(most / ONE_PART);
    this.#perHour = new PerSpan({ person: one, newcomer: one, newcomers: most, strangers: most }, HOUR_MS);
    this.#now = now;
  }

  /** @returns ms to wait until more may be written; 0 = now */
  waitMs(share: Share): number {
    return this.#perHour.waitMs(share, this.#now());
  }

  count(share: Share, bytes: number): void {
    this.#perHour.count(share, this.#now(), bytes);
  }
}
