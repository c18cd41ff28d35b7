/** Lets what is done under one key be done one after the other, so that who looks first and then writes is not overtaken. */
export class OneByOne {
  /** The last under each key. */
  readonly #last = new Map<string, Promise<unknown>>();

  /** Does it when all that was given before under this key has ended, well or badly. */
  async run<T>(key: string, act: () => Promise<T>): Promise<T> {
    const before = this.#last.get(key) ?? Promise.resolve();
    const acted = before.then(act);
    const done = acted.then(
      () => {},
      () => {},
    );
    this.#last.set(key, done);
    try {
      return await acted;
    } finally {
      if (this.#last.get(key) === done) this.#last.delete(key);
    }
  }
}
