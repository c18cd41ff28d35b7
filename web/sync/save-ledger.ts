/**
 * What of a board's local copy the server has confirmed to be on its disk.
 *
 * A mark is a number that counts up. It is sent behind the edits it speaks of, and its return means that everything sent
 * before it is stored. A new socket puts all of the copy in question again: what the server has not got goes out
 * with the answer to its first question, and a mark behind that.
 */
export class SaveLedger {
  readonly #send: (mark: number) => void;
  #made = 0;
  #saved = 0;
  #isReady = false;
  #isDue = false;

  /** @param send sends a mark on the open socket, behind all that went before */
  constructor(send: (mark: number) => void) {
    this.#send = send;
  }

  /** Whether this copy may hold something that is not on the server's disk. */
  get isUnsaved(): boolean {
    return this.#isDue || this.#saved < this.#made;
  }

  /** The copy was changed here. @returns whether a mark is to follow, with {@link due}, at the end of this turn */
  edited(): boolean {
    if (this.#isDue) return false;
    this.#isDue = true;
    return true;
  }

  /** The end of the turn in which something was edited. */
  due(): void {
    this.#isDue = false;
    this.#mark();
  }

  /** A socket is open; the server has not yet been told what this copy holds. */
  opened(): void {
    this.#isReady = false;
    this.#made += 1;
  }

  /** The server's question was answered: all that this copy holds is on its way. */
  answered(): void {
    this.#isReady = true;
    this.#mark();
  }

  /** The socket is gone. */
  closed(): void {
    this.#isReady = false;
  }

  /** The server can store again: what waits is asked about once more. */
  recovered(): void {
    if (this.isUnsaved) this.#mark();
  }

  /** The server has answered a mark, and with it all before. */
  heard(mark: number): void {
    this.#saved = Math.max(this.#saved, Math.min(mark, this.#made));
  }

  #mark(): void {
    this.#made += 1;
    // Without a socket that knows this copy the edits have not gone out either; the next one sends both.
    if (this.#isReady) this.#send(this.#made);
  }
}
