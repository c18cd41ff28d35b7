/**
 * A value that others are told of whenever it is another one.
 *
 * All hear the latest last: a listener that sets it anew ends the telling of the value before. Who has stopped listening is told no more,
 * also while others are being told.
 */
export class Subject<T> {
  #value: T;
  #told = 0;
  readonly #listeners = new Set<{ readonly tell: (value: T, before: T) => void }>();

  constructor(value: T) {
    this.#value = value;
  }

  get value(): T {
    return this.#value;
  }

  set(value: T): void {
    const before = this.#value;
    if (Object.is(value, before)) return;
    this.#value = value;
    this.#told += 1;
    const telling = this.#told;
    for (const listener of [...this.#listeners]) {
      if (this.#listeners.has(listener)) listener.tell(value, before);
      if (this.#told !== telling) return;
    }
  }

  /** Calls the listener after every change, until that is stopped. @returns stops it */
  subscribe(listener: (value: T, before: T) => void): () => void {
    const own = { tell: listener };
    this.#listeners.add(own);
    return () => this.#listeners.delete(own);
  }
}
