/** Counts events in windows of ten seconds; enough to tell people from machines, and one number to keep. */
const WINDOW_MS = 10_000;

export class Rate {
  readonly #perWindow: number;
  #windowAt = 0;
  #count = 0;

  /** @param perSecond the average over ten seconds that is allowed */
  constructor(perSecond: number) {
    this.#perWindow = perSecond * (WINDOW_MS / 1000);
  }

  /** Adds to the count. @returns whether it is still within the limit. */
  allows(now: number, amount = 1): boolean {
    // A clock that was set back would keep a window open until it is where it was.
    if (now - this.#windowAt >= WINDOW_MS || now < this.#windowAt) {
      this.#windowAt = now;
      this.#count = 0;
    }
    this.#count += amount;
    return this.#count <= this.#perWindow;
  }
}
