/**
 * Reads a room's log anew, as often as somebody asks: one reading at a time, and each only for those who asked before it began. What
 * they ask about is in the store by then, so whoever has their answer has it in the document too.
 */
import { type Clock, pause } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';

/** How a reading went: it was applied; the store could not be read, so that it is tried again; or there is no room any more. */
export type ReadingResult = 'applied' | 'failed' | 'over';

const RETRY_MS = 1_000;
const MOST_MS = 10_000;

export class Rereading {
  readonly #clock: Clock;
  readonly #owner: Answerable;
  readonly #read: () => Promise<ReadingResult>;
  /** Those who asked since the present reading began, and those it is for. */
  #next: ((isApplied: boolean) => void)[] = [];
  #present: ((isApplied: boolean) => void)[] = [];
  #isReading = false;
  #isOver = false;

  /** @param read reads and applies once; never rejects */
  constructor(clock: Clock, owner: Answerable, read: () => Promise<ReadingResult>) {
    this.#clock = clock;
    this.#owner = owner;
    this.#read = read;
  }

  /** Fulfils with true once a reading begun after this call was applied, however long that takes; with false when the room is over. */
  ask(): Promise<boolean> {
    if (this.#isOver) return Promise.resolve(false);
    return new Promise((resolve) => {
      this.#next.push(resolve);
      if (!this.#isReading) unattended(this.#owner, 'reread', () => this.#readOn());
    });
  }

  /** Fulfils as {@link ask} does, and with false when that takes more than 10 s. */
  async inTime(): Promise<boolean> {
    let forget = (): void => {};
    const late = new Promise<boolean>((resolve) => {
      forget = this.#clock.after(MOST_MS, () => resolve(false));
    });
    try {
      return await Promise.race([this.ask(), late]);
    } finally {
      forget();
    }
  }

  /** The room is over: nothing will be applied any more. */
  end(): void {
    this.#isOver = true;
    this.#tell(false);
    this.#present = this.#next;
    this.#next = [];
    this.#tell(false);
  }

  async #readOn(): Promise<void> {
    this.#isReading = true;
    while (this.#next.length > 0 && !this.#isOver) {
      this.#present = this.#next;
      this.#next = [];
      const result = await this.#read();
      if (result === 'applied') this.#tell(true);
      else if (result === 'over') this.end();
      else {
        this.#next = [...this.#present, ...this.#next];
        this.#present = [];
        await pause(this.#clock, RETRY_MS);
      }
    }
    this.#isReading = false;
  }

  #tell(isApplied: boolean): void {
    const told = this.#present;
    this.#present = [];
    for (const tell of told) tell(isApplied);
  }
}
