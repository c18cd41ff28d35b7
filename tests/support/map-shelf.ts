/** What a page keeps in its browser, in memory; full when told so. */
export class MapShelf {
  readonly kept = new Map<string, string>();
  isFull = false;

  get length(): number {
    return this.kept.size;
  }
  key(index: number): string | null {
    return [...this.kept.keys()][index] ?? null;
  }
  getItem(key: string): string | null {
    return this.kept.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    if (this.isFull) throw new DOMException('full', 'QuotaExceededError');
    this.kept.set(key, value);
  }
  removeItem(key: string): void {
    this.kept.delete(key);
  }
}

/** The same as browsers give it: its keys are those of what is kept. */
export function storageOf(shelf: MapShelf): Storage {
  return new Proxy(shelf, {
    ownKeys: ({ kept }) => [...kept.keys()],
    getOwnPropertyDescriptor: ({ kept }, key) => ({
      value: kept.get(key as string),
      enumerable: true,
      configurable: true,
    }),
  }) as unknown as Storage;
}
