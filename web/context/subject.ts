/** A value that others are told of whenever it is another one. */
export class Subject<T> {
  #value: T;
  readonly #listeners = new Set<(value: T, before: T) => void>();

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
    for (const listener of [...this.#listeners]) listener(value, before);
  }

  /** Calls the listener after every change. @returns stops it */
  subscribe(listener: (value: T, before: T) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}
