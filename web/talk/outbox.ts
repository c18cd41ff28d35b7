/**
 * What was said here and is not on the server's disk yet. Each sending is an entry of its own in the browser's storage, so that several
 * tabs never write over each other's; the same sending from two of them is one remark, because the server knows it by its id.
 *
 * Sendings go out one after the other. What the server cannot take now is tried again; what it refuses stays, with the reason,
 * until it is taken back or tried again.
 */
import { readTalkSend, type TalkSend } from '../../engine/document/index.ts';

/** One sending that waits. */
export interface Waiting {
  readonly send: TalkSend;
  /** Milliseconds since 1970 on this browser's clock. */
  readonly at: number;
  /** Why the server refused it; null while it is only waiting. */
  readonly refused: string | null;
}

/** What came of a try: done, to be tried again, or refused for a reason. */
export type Tried = 'done' | 'later' | { readonly refused: string };

/** Kinds of refusal that pass by themselves. */
const PASSING = /^(unreachable|too-fast|too-much-written|busy|internal|store-.*|status-5\d\d)$/;

/** What came of a try that the server refused for this reason. */
export function triedAfter(kind: string): Tried {
  return PASSING.test(kind) ? 'later' : { refused: kind };
}

/** The browser's storage, as far as it is used. */
export type Shelf = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

export interface OutboxOptions {
  readonly boardId: string;
  readonly shelf: Shelf;
  readonly now: () => number;
  readonly post: (send: TalkSend) => Promise<Tried>;
  readonly onChange: () => void;
}

const RETRY_FROM_MS = 2_000;
const RETRY_TO_MS = 60_000;

export class Outbox {
  readonly #options: OutboxOptions;
  readonly #prefix: string;
  #items: readonly Waiting[] = [];
  #inFlight: string | null = null;
  #retryMs = RETRY_FROM_MS;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #isOver = false;

  constructor(options: OutboxOptions) {
    this.#options = options;
    this.#prefix = `larkboard.outbox.${options.boardId}.`;
    this.#items = this.#read();
  }

  /** In the order in which they were said. */
  get items(): readonly Waiting[] {
    return this.#items;
  }

  /** Whether this sending is on its way now: it cannot be taken back then. */
  isOnItsWay(id: string): boolean {
    return this.#inFlight === id;
  }

  /** Keeps a sending and sends it. Throws as the storage does when it is full; nothing is kept then. */
  add(send: TalkSend): void {
    this.#write({ send, at: this.#options.now(), refused: null });
    this.#retryMs = RETRY_FROM_MS;
    void this.#sendNext();
  }

  /** Takes a sending back, unless it is on its way. @returns it, so that its words are not lost; null when it went out */
  takeBack(id: string): Waiting | null {
    const item = this.#items.find(({ send }) => send.id === id);
    if (item === undefined || this.#inFlight === id) return null;
    this.#drop(id);
    return item;
  }

  /** Tries everything now, also what was refused. */
  retry(): void {
    for (const item of this.#items) if (item.refused !== null) this.#write({ ...item, refused: null });
    this.#retryMs = RETRY_FROM_MS;
    void this.#sendNext();
  }

  /** Reads again what other tabs keep. */
  refresh(): void {
    this.#items = this.#read();
    this.#options.onChange();
  }

  dispose(): void {
    this.#isOver = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
  }

  async #sendNext(): Promise<void> {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    if (this.#inFlight !== null || this.#isOver) return;
    const item = this.#items.find(({ refused }) => refused === null);
    if (item === undefined) return;
    const { id } = item.send;
    this.#inFlight = id;
    this.#options.onChange();
    const tried = await this.#options.post(item.send);
    this.#inFlight = null;
    if (tried === 'done') this.#drop(id);
    else if (tried === 'later') {
      if (!this.#isOver) this.#timer = setTimeout(() => void this.#sendNext(), this.#retryMs);
      this.#retryMs = Math.min(this.#retryMs * 2, RETRY_TO_MS);
      this.#options.onChange();
      return;
    } else this.#write({ ...item, refused: tried.refused });
    this.#retryMs = RETRY_FROM_MS;
    await this.#sendNext();
  }

  #write(item: Waiting): void {
    this.#options.shelf.setItem(this.#prefix + item.send.id, JSON.stringify(item));
    this.refresh();
  }

  #drop(id: string): void {
    this.#options.shelf.removeItem(this.#prefix + id);
    this.refresh();
  }

  #read(): readonly Waiting[] {
    const { shelf } = this.#options;
    const items: Waiting[] = [];
    for (let i = 0; i < shelf.length; i++) {
      const key = shelf.key(i);
      if (key?.startsWith(this.#prefix) !== true) continue;
      const item = readWaiting(shelf.getItem(key));
      if (item !== null) items.push(item);
    }
    return items.sort((a, b) => a.at - b.at || (a.send.id < b.send.id ? -1 : 1));
  }
}

/** Reads an entry of the storage; null when it is none of ours. */
function readWaiting(text: string | null): Waiting | null {
  if (text === null) return null;
  let value: Partial<Record<keyof Waiting, unknown>> | null;
  try {
    value = JSON.parse(text) as Partial<Record<keyof Waiting, unknown>> | null;
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return null;
  }
  const send = readTalkSend(value?.send);
  if (!send.ok || typeof value?.at !== 'number') return null;
  return {
    send: send.value,
    at: value.at,
    refused: typeof value.refused === 'string' ? value.refused : null,
  };
}
