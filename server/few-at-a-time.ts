/** Lets only so many of many pieces of work run at once, in the order in which they were given. */
export class FewAtATime {
  readonly #most: number;
  readonly #waiting: (() => void)[] = [];
  #running = 0;

  constructor(most: number) {
    this.#most = most;
  }

  /** Does it when it is its turn. Fulfils and rejects as the work does. */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.#running >= this.#most) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    else this.#running += 1;
    try {
      return await work();
    } finally {
      // Whoever is next takes this place, so that nobody slips in between.
      const next = this.#waiting.shift();
      if (next) next();
      else this.#running -= 1;
    }
  }
}
