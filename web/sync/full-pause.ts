/**
 * When a page comes back to a board that is full. The server refuses the same copy each time, with all of it sent anew, until somebody
 * has made room: so the pauses grow. Whoever edits here may just have made room, and does not wait for the end of a long one.
 */

/** So long after the first refusal, and after an edit. */
export const FIRST_PAUSE_MS = 3_000;
export const LONGEST_PAUSE_MS = 5 * 60_000;

export class FullPause {
  readonly #after: (ms: number, call: () => void) => () => void;
  readonly #knock: () => void;
  #pauseMs = FIRST_PAUSE_MS;
  /** Length of the pause that is under way; null = none is. */
  #waitsMs: number | null = null;
  #stopWaiting = (): void => {};

  /**
   * @param after calls once, so much later; returns what calls that off
   * @param knock tries again whether the board takes what this page holds
   */
  constructor(after: (ms: number, call: () => void) => () => void, knock: () => void) {
    this.#after = after;
    this.#knock = knock;
  }

  /** The board was full. */
  refused(): void {
    this.#wait(this.#pauseMs);
    this.#pauseMs = Math.min(2 * this.#pauseMs, LONGEST_PAUSE_MS);
  }

  /** Something was edited here. */
  edited(): void {
    this.#pauseMs = FIRST_PAUSE_MS;
    if (this.#waitsMs !== null && this.#waitsMs > FIRST_PAUSE_MS) this.#wait(FIRST_PAUSE_MS);
  }

  /** The board has taken all that this page holds. */
  taken(): void {
    this.#pauseMs = FIRST_PAUSE_MS;
  }

  /** Comes back no more. */
  stop(): void {
    this.#stopWaiting();
    this.#waitsMs = null;
  }

  #wait(ms: number): void {
    this.#stopWaiting();
    this.#waitsMs = ms;
    this.#stopWaiting = this.#after(ms, () => {
      this.#waitsMs = null;
      this.#knock();
    });
  }
}
