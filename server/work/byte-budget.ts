/** Bytes that something may hold at once, taken and given back. */
export class ByteBudget {
  readonly #most: number;
  #taken = 0;

  constructor(most: number) {
    this.#most = most;
  }

  /** @returns whether there was room. What alone is more than there is may be taken where nothing else is. */
  take(bytes: number): boolean {
    if (this.#taken > 0 && this.#taken + bytes > this.#most) return false;
    this.#taken += bytes;
    return true;
  }

  give(bytes: number): void {
    this.#taken -= bytes;
  }
}
