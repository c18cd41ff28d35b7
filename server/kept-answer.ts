/** An answer that costs something to find, kept for a moment for all who ask. */
import type { Clock } from './clock.ts';

const KEPT_MS = 1_000;

export class KeptAnswer<T> {
  readonly #clock: Clock;
  readonly #find: () => Promise<T>;
  #answer: Promise<T> | null = null;
  /** When it was found, by the clock's `elapsed`; null while it is being found. */
  #foundAt: number | null = null;

  /** @param find must not reject */
  constructor(clock: Clock, find: () => Promise<T>) {
    this.#clock = clock;
    this.#find = find;
  }

  /** Who asks while it is being found, or within a second after that, gets the same. */
  get(): Promise<T> {
    const isOld = this.#foundAt !== null && this.#clock.elapsed() - this.#foundAt >= KEPT_MS;
    if (this.#answer === null || isOld) this.#answer = this.#findAnew();
    return this.#answer;
  }

  async #findAnew(): Promise<T> {
    this.#foundAt = null;
    const answer = await this.#find();
    this.#foundAt = this.#clock.elapsed();
    return answer;
  }
}
