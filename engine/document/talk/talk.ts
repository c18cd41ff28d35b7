/** The talk about a board as one person takes part in it. Written once computed whole, like the design. */
import type * as Y from 'yjs';
import { type IdSource, takeId } from '../schema.ts';
import { wellFormed } from '../text.ts';
import { applyWrites, set, type Write } from '../writes.ts';
import { type Pin, readNewPin } from './pin.ts';
import { readOrder, readTalk, type Speaker, type TalkSnapshot } from './read-talk.ts';
import {
  MAX_MENTIONS,
  MAX_REMARK_CHARACTERS,
  MAX_REMARKS,
  MAX_THREADS,
  TALK_VERSION,
  type TalkRoots,
  talkRootsOf,
} from './talk-schema.ts';

/** What a person may do in the talk. */
export type TalkCommand =
  | {
      readonly kind: 'open-thread';
      readonly pin: Pin;
      readonly text: string;
      readonly mentions?: readonly string[];
    }
  | {
      readonly kind: 'answer';
      readonly thread: string;
      readonly text: string;
      readonly mentions?: readonly string[];
    }
  /** Only the person's own remarks. */
  | {
      readonly kind: 'change-remark';
      readonly thread: string;
      readonly remark: string;
      readonly text: string;
      readonly mentions?: readonly string[];
    }
  /** The person's own remarks; an owner's, everybody's. */
  | { readonly kind: 'take-back-remark'; readonly thread: string; readonly remark: string }
  | { readonly kind: 'set-done'; readonly thread: string; readonly done: boolean };

/** Why a command of the talk was not done; nothing was changed then. */
export interface TalkError {
  readonly kind:
    | 'unknown-thread'
    | 'unknown-remark'
    | 'not-yours'
    | 'out-of-range'
    | 'limit'
    | 'unknown-pin'
    | 'newer-version';
  readonly path: string;
  readonly message: string;
}
/** Whether a command of the talk was done, and in which thread. */
export type TalkResult =
  | { readonly ok: true; readonly thread: string }
  | { readonly ok: false; readonly error: TalkError };

/** Who talks. */
export interface TalkOptions {
  readonly person: Speaker;
  readonly newId: IdSource;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** Whether the person owns the board, and so may take back what others said; default: not. */
  readonly isOwner?: boolean;
}

type Prepared =
  | { readonly ok: true; readonly thread: string; readonly writes: readonly Write[] }
  | { readonly ok: false; readonly error: TalkError };

function refuse(
  kind: TalkError['kind'],
  path: string,
  message: string,
): { readonly ok: false; readonly error: TalkError } {
  return { ok: false, error: { kind, path, message: path === '' ? message : `${path}: ${message}` } };
}

/** Façade over a talk document for one person, for the server who writes it. Call {@link Talk.dispose} when done. */
export class Talk {
  readonly doc: Y.Doc;
  readonly #roots: TalkRoots;
  readonly #options: TalkOptions;
  readonly #listeners = new Set<(snapshot: TalkSnapshot) => void>();
  readonly #onTransaction: (transaction: Y.Transaction) => void;
  #snapshot: TalkSnapshot;

  constructor(doc: Y.Doc, options: TalkOptions) {
    this.doc = doc;
    this.#roots = talkRootsOf(doc);
    const { id, name, hex } = options.person;
    this.#options = { ...options, person: { id, name: wellFormed(name), hex } };
    this.#snapshot = readTalk(doc);
    this.#onTransaction = ({ changed }) => {
      if (![...changed.keys()].some((type) => Object.values(this.#roots).includes(type))) return;
      this.#snapshot = readTalk(doc);
      for (const listener of [...this.#listeners]) listener(this.#snapshot);
    };
    doc.on('afterTransaction', this.#onTransaction);
  }

  /** The talk now; the same object until something is written. */
  get snapshot(): TalkSnapshot {
    return this.#snapshot;
  }

  /** Calls the listener after every change. @returns stops it */
  subscribe(listener: (snapshot: TalkSnapshot) => void): () => void {
    const own = (snapshot: TalkSnapshot): void => listener(snapshot);
    this.#listeners.add(own);
    return () => this.#listeners.delete(own);
  }

  /**
   * Computes the command, then writes it in one transaction; or writes nothing and says why. Rules K10 to K14.
   * @returns the thread that was written to
   * @throws TypeError when called inside a transaction of the document, or when the id source gives no id
   */
  run(command: TalkCommand): TalkResult {
    if (this.doc._transaction !== null) throw new TypeError('a command cannot run inside a transaction');
    if (this.#snapshot.isNewer) return refuse('newer-version', '', 'the talk was written by a later version');
    const prepared = this.#prepare(command);
    if (!prepared.ok) return prepared;
    const isNew = this.#roots.meta.get('version') !== TALK_VERSION;
    const writes = isNew
      ? [set(this.#roots.meta, 'version', TALK_VERSION), ...prepared.writes]
      : prepared.writes;
    this.doc.transact(() => applyWrites(writes), this);
    return { ok: true, thread: prepared.thread };
  }

  dispose(): void {
    this.doc.off('afterTransaction', this.#onTransaction);
    this.#listeners.clear();
  }

  #prepare(command: TalkCommand): Prepared {
    const { threads } = this.#snapshot;
    if (command.kind === 'open-thread') {
      const pin = readNewPin(command.pin);
      if (pin === null) return refuse('unknown-pin', 'pin', 'is no pin');
      if (threads.length >= MAX_THREADS)
        return refuse('limit', '', `a talk has at most ${MAX_THREADS} threads`);
      const fault = checkSays(command);
      if (fault !== null) return fault;
      const thread = takeId(this.#options.newId);
      const order = 1 + Math.max(-1, ...threads.map(({ id }) => readOrder(this.#roots.threads.get(id))));
      const head = set(this.#roots.threads, thread, { pin, order });
      return { ok: true, thread, writes: [head, ...this.#remarkWrites(thread, 0, command)] };
    }
    const thread = threads.find(({ id }) => id === command.thread);
    if (thread === undefined) return refuse('unknown-thread', 'thread', 'there is no such thread');
    const done = (writes: readonly Write[]): Prepared => ({ ok: true, thread: thread.id, writes });
    if (command.kind === 'set-done') {
      const { person, now } = this.#options;
      const value = command.done ? { by: person, at: now() } : null;
      return done(
        (thread.done !== null) === command.done ? [] : [set(this.#roots.threads, `${thread.id}:done`, value)],
      );
    }
    if (command.kind === 'answer') {
      if (thread.remarks.length >= MAX_REMARKS)
        return refuse('limit', '', `a thread has at most ${MAX_REMARKS} remarks`);
      const fault = checkSays(command);
      if (fault !== null) return fault;
      const orders = thread.remarks.map(({ id }) => readOrder(this.#roots.remarks.get(`${thread.id}:${id}`)));
      return done(this.#remarkWrites(thread.id, 1 + Math.max(...orders), command));
    }
    const remark = thread.remarks.find(({ id }) => id === command.remark);
    if (remark === undefined) return refuse('unknown-remark', 'remark', 'there is no such remark');
    const { person, isOwner } = this.#options;
    const isTakenBack = command.kind === 'take-back-remark';
    if (remark.by.id !== person.id && !(isTakenBack && isOwner === true))
      return refuse('not-yours', 'remark', 'was written by somebody else');
    const key = `${thread.id}:${remark.id}:says`;
    // Once is enough: it is taken in a talk that is full, too, and may not make that grow without end.
    if (isTakenBack) return done(remark.text === null ? [] : [set(this.#roots.remarks, key, null)]);
    return checkSays(command) ?? done([set(this.#roots.remarks, key, says(command))]);
  }

  #remarkWrites(thread: string, order: number, spoken: Spoken): Write[] {
    const { person, newId, now } = this.#options;
    const key = `${thread}:${takeId(newId)}`;
    return [
      set(this.#roots.remarks, key, { by: person, at: now(), order }),
      set(this.#roots.remarks, `${key}:says`, says(spoken)),
    ];
  }
}

interface Spoken {
  readonly text: string;
  readonly mentions?: readonly string[];
}

function says({ text, mentions }: Spoken): { text: string; mentions: string[] } {
  return { text: wellFormed(text), mentions: [...new Set(mentions ?? [])] };
}

function checkSays({ text, mentions }: Spoken): ReturnType<typeof refuse> | null {
  if (typeof text !== 'string' || text.trim() === '' || text.length > MAX_REMARK_CHARACTERS)
    return refuse('out-of-range', 'text', `must be text of 1 to ${MAX_REMARK_CHARACTERS} characters`);
  if ((mentions?.length ?? 0) > MAX_MENTIONS)
    return refuse('limit', 'mentions', `a remark speaks to at most ${MAX_MENTIONS} people`);
  return null;
}
