/**
 * Who became a person a short time ago, on this node. Cookies cost nothing, so until they have been in use for a while they have
 * a smaller share of the server. Kept in memory: after a restart nobody is new.
 */

const NEW_MS = 60 * 60 * 1000;
/** People remembered at most; beyond it the oldest count as known. */
const MOST_PEOPLE = 50_000;

export class NewPeople {
  readonly #now: () => number;
  /** When each came, oldest first. */
  readonly #since = new Map<string, number>();

  constructor(now: () => number) {
    this.#now = now;
  }

  add(personId: string): void {
    this.#since.set(personId, this.#now());
    for (const [oldest, since] of this.#since) {
      if (this.#since.size <= MOST_PEOPLE && this.#now() - since < NEW_MS) break;
      this.#since.delete(oldest);
    }
  }

  has(personId: string): boolean {
    const since = this.#since.get(personId);
    if (since === undefined) return false;
    // The hour begins anew where the clock was set back: else they would be new until it is where it was.
    if (since > this.#now()) this.#since.set(personId, this.#now());
    return this.#now() - since < NEW_MS;
  }
}
