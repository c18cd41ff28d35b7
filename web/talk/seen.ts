/**
 * How much of each thread this person has looked at, kept in the browser: a person is a browser's cookie, so no other browser is the
 * same person, and who has read what is nobody else's business.
 *
 * Remarks never leave a thread (one that was taken back keeps its place), so a number for each thread is enough.
 */
import type { Remark, Thread } from '../../engine/document/index.ts';

type Shelf = Pick<Storage, 'getItem' | 'setItem'>;

export class Seen {
  readonly #shelf: Shelf;
  readonly #key: string;
  readonly #personId: string;
  #counts: Readonly<Record<string, number>> = {};

  constructor(shelf: Shelf, boardId: string, personId: string) {
    this.#shelf = shelf;
    this.#key = `larkboard.seen.${boardId}.${personId}`;
    this.#personId = personId;
    this.refresh();
  }

  /** Reads again what other tabs noted. */
  refresh(): void {
    this.#counts = readCounts(this.#shelf.getItem(this.#key));
  }

  /** Remarks of others that were not looked at yet. */
  unreadIn(thread: Thread): readonly Remark[] {
    return thread.remarks
      .slice(this.#counts[thread.id] ?? 0)
      .filter(({ by, text }) => by.id !== this.#personId && text !== null);
  }

  /** Notes that the first so many remarks of a thread were looked at. @returns whether that is news */
  note(thread: string, count: number): boolean {
    this.refresh();
    if ((this.#counts[thread] ?? 0) >= count) return false;
    this.#counts = { ...this.#counts, [thread]: count };
    this.#shelf.setItem(this.#key, JSON.stringify(this.#counts));
    return true;
  }
}

function readCounts(text: string | null): Readonly<Record<string, number>> {
  if (text === null) return {};
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null) return {};
    return Object.fromEntries(
      Object.entries(value).filter((entry): entry is [string, number] => Number.isSafeInteger(entry[1])),
    );
  } catch (cause) {
    // What cannot be read counts as not looked at: then something is shown as new twice, and nothing is missed.
    if (!(cause instanceof SyntaxError)) throw cause;
    return {};
  }
}
