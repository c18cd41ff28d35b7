/**
 * Which of many lines of a kind are written: the first, and one a minute from then on. A client that is refused as fast as it may ask
 * cannot fill a disk with what the server says of it.
 */

const SPAN_MS = 60_000;

export class FewLines {
  readonly #elapsed: () => number;
  readonly #kinds = new Map<string, { writtenAt: number; unwritten: number }>();

  /** @param elapsed ms on a clock that nobody sets back */
  constructor(elapsed: () => number) {
    this.#elapsed = elapsed;
  }

  /**
   * To be asked before each line. Kinds must come from a small fixed set.
   * @returns how many of the kind were not written since the last that was; null when this is not to be written either
   */
  next(kind: string): number | null {
    const at = this.#elapsed();
    const last = this.#kinds.get(kind);
    if (last !== undefined && at - last.writtenAt < SPAN_MS) {
      last.unwritten += 1;
      return null;
    }
    this.#kinds.set(kind, { writtenAt: at, unwritten: 0 });
    return last?.unwritten ?? 0;
  }
}
