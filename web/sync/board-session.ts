/**
 * One open board: its design, who else is there, and whether what was edited here is on the server's disk.
 *
 * Saved is what the server has confirmed to be on its disk, see {@link BoardLine}. What is edited while the connection is
 * down is kept in IndexedDB and goes out when it is back. When another tab wants the copy there, what this one holds is put
 * aside and kept there from then on, see `copies.ts`.
 */
import type { IndexeddbPersistence } from 'y-indexeddb';
import * as Y from 'yjs';
import {
  type CloseReason,
  Design,
  type Presence,
  readPresence,
  roomName,
} from '../../engine/document/index.ts';
import { Subject } from '../context/index.ts';
import { BoardLine, type SavedState } from './board-line.ts';
import { asideName, bringsMore, emptyCopy, localName } from './copies.ts';
import { keepCopy } from './keep-copy.ts';
import { newId, type Person } from './person.ts';

export interface PersonHere {
  readonly clientId: number;
  readonly presence: Presence;
  readonly self: boolean;
}

export interface SessionOptions {
  readonly boardId: string;
  readonly canEdit: boolean;
  /** Whether edits stay in this page: at the first one the line to the server and this browser's copy are let go. */
  readonly isSketch?: boolean;
  readonly person: Person;
  /** Where the sockets are, such as `ws://127.0.0.1:8080`. */
  readonly server: string;
}

export class BoardSession {
  readonly boardId: string;
  readonly server: string;
  readonly canEdit: boolean;
  /** Whether nothing that is edited here is kept anywhere, see {@link SessionOptions}. */
  readonly isSketch: boolean;
  readonly design: Design;
  /** Under which the person is known to others. */
  readonly personId: string;
  /** Who is at the board, oneself first. It changes with every pointer: to subscribe to, not to render; {@link subscribe} tells nothing of it. */
  readonly people = new Subject<readonly PersonHere[]>([]);
  readonly #doc = new Y.Doc();
  readonly #line: BoardLine;
  #offline: IndexeddbPersistence;
  readonly #listeners = new Set<() => void>();
  readonly #proposalListeners = new Set<() => void>();
  /** Everybody who was seen here, by the Yjs client as which they wrote. */
  readonly #seen = new Map<number, Presence['person']>();
  readonly #ended = new AbortController();
  #presence: Presence;
  #isSketched = false;
  #isCopyLost = false;
  /** Whether what is kept here is a copy of this tab's own. */
  #isAside = false;

  constructor(options: SessionOptions) {
    this.boardId = options.boardId;
    this.server = options.server;
    this.canEdit = options.canEdit;
    this.isSketch = options.isSketch === true;
    this.personId = options.person.id;
    this.#presence = { person: options.person, cursor: null, selection: null, view: null };
    this.design = new Design(this.#doc, { makerId: options.person.id, newId });
    this.#offline = this.#keep(localName(options.boardId));
    this.#line = new BoardLine({
      doc: this.#doc,
      room: roomName(options.boardId, 'design'),
      server: options.server,
      canEdit: this.keepsEdits,
      onChange: () => this.#changed(),
      onProposals: () => {
        for (const listener of [...this.#proposalListeners]) listener();
      },
    });
    const { awareness } = this.#line.provider;
    awareness.on('change', this.#readPeople);
    awareness.setLocalState(this.#presence as unknown as Record<string, unknown>);
    this.design.subscribe(() => this.#changed());
    if (this.isSketch) this.#letGoOnEdit();
  }

  /** Whether what is edited here becomes part of the board. */
  get keepsEdits(): boolean {
    return this.canEdit && !this.isSketch;
  }

  /** Whether there is a board to show: from the server or, offline, from this browser. */
  get isOpen(): boolean {
    return this.design.state.kind !== 'empty';
  }

  /** Whether something was edited that is only in this page. */
  get isSketched(): boolean {
    return this.#isSketched;
  }

  get isConnected(): boolean {
    return this.#line.isConnected;
  }

  /** Aborts when the session is disposed of. */
  get ended(): AbortSignal {
    return this.#ended.signal;
  }

  /** Who writes, or wrote while this page was here, as a Yjs client; null when it cannot be said. */
  personOf(client: number): Presence['person'] | null {
    return this.#seen.get(client) ?? null;
  }

  get saved(): SavedState {
    const { saved } = this.#line;
    // All but 'saved' and 'saving' say that edits are kept here.
    return this.#isCopyLost && saved[0] !== 's' ? 'unkept' : saved;
  }

  /** Why the server has closed the line; null while it stands, or comes back by itself. See {@link BoardLine}. */
  get closeReason(): CloseReason | null {
    return this.#line.closeReason;
  }

  /** Whether the line has neither come up nor failed to yet. */
  get isComing(): boolean {
    return this.#line.isComing;
  }

  setPresence(patch: Partial<Presence>): void {
    this.#presence = { ...this.#presence, ...patch };
    this.#line.provider.awareness.setLocalState(this.#presence as unknown as Record<string, unknown>);
  }

  /** Calls the listener after every change of the design, or of whether it is saved. @returns stops it */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Calls the listener whenever the server says that the board's proposals may be others. @returns stops it */
  onProposals(listener: () => void): () => void {
    this.#proposalListeners.add(listener);
    return () => this.#proposalListeners.delete(listener);
  }

  /** Whether another copy of the board holds nothing that this one has not. */
  holds(copy: Y.Doc): boolean {
    const both = new Y.Doc();
    Y.applyUpdate(both, Y.encodeStateAsUpdate(this.#doc));
    const isKnown = !bringsMore(both, [Y.encodeStateAsUpdate(copy)]);
    both.destroy();
    return isKnown;
  }

  /**
   * Drops what this browser keeps of the board; the server has it. What other tabs wrote there and this one has not got stays.
   * The session is to be disposed of then.
   */
  async forgetLocal(): Promise<void> {
    this.#isAside = false;
    await this.#offline.destroy();
    if (!this.#isCopyLost) await emptyCopy(this.#offline.name, this.#doc);
  }

  dispose(): void {
    this.#ended.abort();
    this.#listeners.clear();
    this.#proposalListeners.clear();
    this.#line.provider.awareness.off('change', this.#readPeople);
    const isAsideDone = this.#isAside && this.saved === 'saved';
    this.#line.destroy();
    if (isAsideDone) void this.#offline.clearData();
    else void this.#offline.destroy();
    this.design.dispose();
    this.#doc.destroy();
  }

  #keep(name: string): IndexeddbPersistence {
    const lost = (): void => {
      this.#isCopyLost = true;
    };
    const kept = keepCopy(name, this.#doc, lost, () => {
      // Who has let go already may still be told.
      if (kept._destroyed || !this.keepsEdits) return;
      void kept.destroy();
      this.#isAside = true;
      this.#offline = this.#keep(asideName(this.boardId));
    });
    void kept.whenSynced.then(() => {
      if (!this.#isSketched) this.#line.connect();
      this.#changed();
    });
    return kept;
  }

  /** Before the edit, so that neither the server, which would close the line for it, nor the browser's copy gets it. */
  #letGoOnEdit(): void {
    this.#doc.on('beforeTransaction', ({ local }: Y.Transaction) => {
      if (!local || this.#isSketched) return;
      this.#isSketched = true;
      this.#line.destroy();
      void this.#offline.destroy();
    });
  }

  readonly #readPeople = (): void => {
    const { awareness } = this.#line.provider;
    const self = awareness.clientID;
    const people: PersonHere[] = [];
    for (const [clientId, state] of awareness.getStates()) {
      const presence = readPresence(state);
      if (presence === null) continue;
      people.push({ clientId, presence, self: clientId === self });
      this.#seen.set(clientId, presence.person);
    }
    this.people.set(people.sort((a, b) => Number(b.self) - Number(a.self) || a.clientId - b.clientId));
  };

  #changed(): void {
    for (const listener of [...this.#listeners]) listener();
  }
}
