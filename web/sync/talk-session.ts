/** The talk of a board as this browser reads it: from the server, or what it kept of it. It never writes. */
import type { IndexeddbPersistence } from 'y-indexeddb';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import {
  CLOSE_CODES,
  readTalk,
  roomName,
  SYNC_PATH,
  type TalkSnapshot,
} from '../../engine/document/index.ts';
import { keepCopy } from './keep-copy.ts';

const FINAL: ReadonlySet<number> = new Set(
  (['malformed', 'forbidden', 'unknownBoard', 'tooLarge', 'revoked', 'outdated', 'roleChanged'] as const).map(
    (reason) => CLOSE_CODES[reason],
  ),
);

export class TalkSession {
  readonly #doc = new Y.Doc();
  readonly #provider: WebsocketProvider;
  readonly #offline: IndexeddbPersistence;
  readonly #listeners = new Set<() => void>();
  #snapshot: TalkSnapshot;
  #hasSynced = false;

  /** @param server where the sockets are, such as `ws://127.0.0.1:8080` */
  constructor(server: string, boardId: string) {
    this.#snapshot = readTalk(this.#doc);
    // Without the copy the talk is as good, as long as the server answers.
    this.#offline = keepCopy(`larkboard-${boardId}-talk`, this.#doc, () => {});
    this.#provider = new WebsocketProvider(`${server}${SYNC_PATH}`, roomName(boardId, 'talk'), this.#doc, {
      disableBc: true,
      connect: false,
      maxBackoffTime: 5000,
      shouldReconnect: ({ code }: CloseEvent) => !FINAL.has(code),
    });
    // Who is there is shown at the design's socket.
    this.#provider.awareness.setLocalState(null);
    this.#provider.on('sync', (isSynced: boolean) => {
      this.#hasSynced ||= isSynced;
      this.#changed();
    });
    this.#doc.on('update', () => {
      this.#snapshot = readTalk(this.#doc);
      this.#changed();
    });
    void this.#offline.whenSynced.then(() => this.#provider.connect());
  }

  get snapshot(): TalkSnapshot {
    return this.#snapshot;
  }

  /** Whether the server has told all there was: what comes now is news. */
  get hasSynced(): boolean {
    return this.#hasSynced;
  }

  get isConnected(): boolean {
    return this.#provider.wsconnected && this.#provider.synced;
  }

  /** Calls the listener after every change. @returns stops it */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Drops what this browser keeps of the talk, and ends the session. */
  async forget(): Promise<void> {
    await this.#offline.clearData();
    this.dispose();
  }

  dispose(): void {
    this.#listeners.clear();
    this.#provider.destroy();
    void this.#offline.destroy();
    this.#doc.destroy();
  }

  #changed(): void {
    for (const listener of [...this.#listeners]) listener();
  }
}
