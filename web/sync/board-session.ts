/**
 * One open board: its design, who else is there, and whether what was edited here is on the server's disk.
 *
 * Saved. Every local change counts a mark up; the mark is sent behind the changes, and only its return means saved. What
 * is edited while the connection is down is kept in IndexedDB and goes out when it is back, before a new mark.
 */
import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import {
  CLOSE_CODES,
  type CloseReason,
  Design,
  encodeSavedMark,
  MESSAGE_NOTICE,
  MESSAGE_SAVED_MARK,
  type Presence,
  readNotice,
  readPresence,
  readSavedMark,
  roomName,
  SYNC_PATH,
} from '../../engine/document/index.ts';
import { newId, type Person } from './person.ts';

export type SavedState = 'saved' | 'saving' | 'offline' | 'read-only';

export interface PersonHere {
  readonly clientId: number;
  readonly presence: Presence;
  readonly self: boolean;
}

export interface SessionOptions {
  readonly boardId: string;
  readonly canEdit: boolean;
  readonly person: Person;
  /** Where the sockets are, such as `ws://127.0.0.1:8080`. */
  readonly server: string;
}

/** After these the same socket would be closed again; after any other the provider connects anew. */
const FINAL: ReadonlySet<number> = new Set(
  (['malformed', 'forbidden', 'unknownBoard', 'tooLarge', 'revoked', 'outdated', 'deleted'] as const).map(
    (reason) => CLOSE_CODES[reason],
  ),
);

/** Name under which this browser keeps a board. */
export function localName(boardId: string): string {
  return `larkboard-${boardId}`;
}

/** Drops what this browser keeps of a board that is not open. */
export function forgetLocalCopy(boardId: string): Promise<void> {
  return clearDocument(localName(boardId));
}

export class BoardSession {
  readonly boardId: string;
  readonly server: string;
  readonly canEdit: boolean;
  readonly design: Design;
  readonly #doc = new Y.Doc();
  readonly #provider: WebsocketProvider;
  readonly #offline: IndexeddbPersistence;
  readonly #listeners = new Set<() => void>();
  #presence: Presence;
  #people: readonly PersonHere[] = [];
  #sentMark = 0;
  #savedMark = 0;
  #isMarkPending = false;
  #isStoreReadOnly = false;
  #closeReason: CloseReason | null = null;

  constructor(options: SessionOptions) {
    this.boardId = options.boardId;
    this.server = options.server;
    this.canEdit = options.canEdit;
    this.#presence = { person: options.person, cursor: null, selection: null, view: null };
    this.design = new Design(this.#doc, { makerId: options.person.id, newId });
    this.#offline = new IndexeddbPersistence(localName(options.boardId), this.#doc);
    this.#provider = new WebsocketProvider(
      `${options.server}${SYNC_PATH}`,
      roomName(options.boardId, 'design'),
      this.#doc,
      {
        disableBc: true,
        connect: false,
        maxBackoffTime: 5000,
        shouldReconnect: ({ code }: CloseEvent) => !FINAL.has(code),
      },
    );
    const handlers = this.#provider.messageHandlers;
    handlers[MESSAGE_SAVED_MARK] = (_encoder, decoder) => {
      const mark = readSavedMark(decoder);
      if (mark === null) throw new Error('the server sent a saved mark that is none');
      this.#savedMark = Math.max(this.#savedMark, mark);
      this.#changed();
    };
    handlers[MESSAGE_NOTICE] = (_encoder, decoder) => {
      this.#isStoreReadOnly = readNotice(decoder) === 'store-read-only';
      if (!this.#isStoreReadOnly && this.#sentMark > this.#savedMark) this.#sendMark();
      this.#changed();
    };
    this.#doc.on('update', (_update: Uint8Array, origin: unknown) => {
      if (origin === this.#provider) return;
      this.#markLater();
    });
    this.#provider.on('sync', (isSynced: boolean) => {
      // Only now has the server asked for and been sent what it lacked; the mark goes behind it.
      if (isSynced && this.canEdit) this.#markLater();
      this.#changed();
    });
    this.#provider.on('status', () => this.#changed());
    this.#provider.on('connection-close', (event: { code: number } | null) => {
      const reason = Object.entries(CLOSE_CODES).find(([, code]) => code === event?.code)?.[0];
      this.#closeReason = (reason as CloseReason | undefined) ?? null;
      this.#changed();
    });
    this.#provider.awareness.on('change', () => this.#readPeople());
    this.#provider.awareness.setLocalState(this.#presence as unknown as Record<string, unknown>);
    this.design.subscribe(() => this.#changed());
    void this.#offline.whenSynced.then(() => {
      this.#provider.connect();
      this.#changed();
    });
  }

  /** Whether there is a board to show: from the server or, offline, from this browser. */
  get isOpen(): boolean {
    return this.design.state.kind !== 'empty';
  }

  get isConnected(): boolean {
    return this.#provider.wsconnected && this.#provider.synced;
  }

  get saved(): SavedState {
    if (!this.isConnected) return 'offline';
    if (this.#isStoreReadOnly) return 'read-only';
    return this.#isMarkPending || this.#savedMark < this.#sentMark ? 'saving' : 'saved';
  }

  /** Why the server last closed the socket; null when it did not, or connected again since. */
  get closeReason(): CloseReason | null {
    return this.#provider.wsconnected ? null : this.#closeReason;
  }

  get people(): readonly PersonHere[] {
    return this.#people;
  }

  setPresence(patch: Partial<Presence>): void {
    this.#presence = { ...this.#presence, ...patch };
    this.#provider.awareness.setLocalState(this.#presence as unknown as Record<string, unknown>);
  }

  /** Calls the listener after every change of anything here. @returns stops it */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Drops what this browser keeps of the board; the server has it. The session is to be disposed of then. */
  async forgetLocal(): Promise<void> {
    await this.#offline.clearData();
  }

  dispose(): void {
    this.#listeners.clear();
    this.#provider.destroy();
    void this.#offline.destroy();
    this.design.dispose();
    this.#doc.destroy();
  }

  /** One mark for all changes of this turn of the event loop. */
  #markLater(): void {
    if (this.#isMarkPending) return;
    this.#isMarkPending = true;
    queueMicrotask(() => {
      this.#isMarkPending = false;
      this.#sendMark();
      this.#changed();
    });
  }

  #sendMark(): void {
    this.#sentMark += 1;
    const socket = this.#provider.ws;
    // Without a socket the changes have not gone out either; the next sync sends both.
    if (socket !== null && socket.readyState === socket.OPEN && this.#provider.synced)
      socket.send(encodeSavedMark(this.#sentMark) as Uint8Array<ArrayBuffer>);
  }

  #readPeople(): void {
    const self = this.#provider.awareness.clientID;
    const people: PersonHere[] = [];
    for (const [clientId, state] of this.#provider.awareness.getStates()) {
      const presence = readPresence(state);
      if (presence !== null) people.push({ clientId, presence, self: clientId === self });
    }
    this.#people = people.sort((a, b) => Number(b.self) - Number(a.self) || a.clientId - b.clientId);
    this.#changed();
  }

  #changed(): void {
    for (const listener of [...this.#listeners]) listener();
  }
}
