/** What one socket writes, as far as its share allows. */
import { acrossBoards, type Share } from '../shares.ts';
import type { WrittenBytes } from '../written-bytes.ts';
import { isEmptyUpdate } from './check-update.ts';

/** Where a socket comes from, and the share that it counts for. */
export interface Writer {
  readonly address: string;
  readonly share: Share;
}

export class Writing {
  readonly #written: WrittenBytes;
  readonly #writer: Writer;
  #known: Share | null = null;
  /** Whether something was not taken since it last might write, and whether that was said. */
  #state: 'free' | 'over' | 'told' = 'free';

  constructor(written: WrittenBytes, writer: Writer) {
    this.#written = written;
    this.#writer = writer;
  }

  get #share(): Share {
    // Not before something is written: most sockets only read.
    this.#known ??= acrossBoards(this.#writer.share, this.#writer.address);
    return this.#known;
  }

  /** Whether an edit may be taken. Once one may not, none is until {@link isOverNoMore}. */
  mayTake(update: Uint8Array): boolean {
    if (isEmptyUpdate(update)) return true;
    if (this.#state === 'free' && this.#written.waitMs(this.#share) > 0) this.#state = 'over';
    return this.#state === 'free';
  }

  /** Whether it has to be said that something was not taken; once, since a page of an earlier release answers each time. */
  isToBeTold(): boolean {
    const isToBeTold = this.#state === 'over';
    if (isToBeTold) this.#state = 'told';
    return isToBeTold;
  }

  /** Something else was said of what is taken, which the page holds for the last word. */
  toldOther(): void {
    if (this.#state === 'told') this.#state = 'over';
  }

  /** Whether it may write again, after something was not taken; once. */
  isOverNoMore(): boolean {
    if (this.#state === 'free' || this.#written.waitMs(this.#share) > 0) return false;
    this.#state = 'free';
    return true;
  }

  count(bytes: number): void {
    this.#written.count(this.#share, bytes);
  }
}
