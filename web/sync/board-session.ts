/**
 * One open board: its design, who else is there, and whether what was edited here is on the server's disk.
 *
 * Saved is what the server has confirmed to be on its disk, see {@link BoardLine}. What is edited while the connection is
 * down is kept in IndexedDB and goes out when it is back. When another tab wants the copy there, what this one holds is put
 * aside and kept there from then on, see `copies.ts`.
 *
 * When the server begins the next generation of the document the session goes on in that: the design, who is there and all that holds on to
 * either stay the same.
 */
import type { IndexeddbPersistence } from 'y-indexeddb';
import * as Y from 'yjs';
import {
  BareDesign,
  type CloseReason,
  type Design,
  type Presence,
  roomName,
} from '../../engine/document/index.ts';
import { Subject } from '../context/index.ts';
import { fetchPart } from '../parts/index.ts';
import { BoardLine, type SavedState } from './board-line.ts';
import { asideName, bringsMore, copyNames, emptyCopy, renewedName } from './copies.ts';
import { keepCopy } from './keep-copy.ts';
import type { NextGeneration } from './next-generation.ts';
import type { PersonHere, PersonLeft } from './people-here.ts';
import { newId, type Person } from './person.ts';

/** What tells the others of who sits here, and this page of them. It is fetched later: see `join-company.ts`. */
export interface Companion {
  /** Something is to be said of oneself. */
  tell(): void;
  /** Somebody else may go by the name here. */
  settle(): void;
  /** Whether somebody else here, or of those whom the board knows, goes by this name. */
  isNameTaken(name: string): boolean;
  dispose(): void;
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
  readonly people: Subject<readonly PersonHere[]>;
  /** Who was here a while ago, the last first. */
  readonly left = new Subject<readonly PersonLeft[]>([]);
  /** Who has spoken at the board. */
  spoken: readonly { readonly id: string; readonly name: string }[] = [];
  #company: Companion | null = null;
  #doc = new Y.Doc();
  readonly #line: BoardLine;
  /** What is kept here; null until it is known under which name. */
  #offline: IndexeddbPersistence | null = null;
  /** Where what was put aside lies. */
  readonly #names: Promise<readonly string[]>;
  /** The former generation, and where it is kept until the server has all of it. */
  #former: { readonly doc: Y.Doc; readonly name: string } | null = null;
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
    const { isNamed, ...person } = options.person;
    // Where it stays until it is known who is there already.
    const seat = { since: 0, isNamed };
    this.#presence = { person, cursor: null, selection: null, view: null, seat };
    this.saw(this.#doc.clientID, person);
    this.people = new Subject<readonly PersonHere[]>([
      { clientId: this.#doc.clientID, presence: this.#presence, self: true },
    ]);
    this.design = new BareDesign(this.#doc, { makerId: options.person.id, newId, now: Date.now });
    this.#line = new BoardLine({
      doc: this.#doc,
      room: roomName(options.boardId, 'design'),
      server: options.server,
      canEdit: this.keepsEdits,
      onChange: () => {
        this.#dropFormer();
        this.#changed();
      },
      renewal: {
        fetch: async () => {
          const fetched = await fetchPart('renewal');
          return fetched.ok ? fetched.value.nextGeneration : null;
        },
        onRenewed: (next) => this.#goOn(next),
      },
      onProposals: () => {
        for (const listener of [...this.#proposalListeners]) listener();
      },
    });
    // Nobody hears of somebody who does not know yet who is there.
    this.#line.provider.awareness.setLocalState(null);
    this.design.subscribe(() => this.#changed());
    this.#letGoOnEdit();
    this.#names = this.#begin();
  }

  /** Opens what this browser keeps. @returns names of what was put aside */
  async #begin(): Promise<readonly string[]> {
    const { main, aside } = await copyNames(this.boardId);
    if (!this.#ended.signal.aborted && !this.#isSketched) this.#offline = this.#keep(main);
    return aside;
  }

  /** Names of what other tabs put aside of the board, or this browser kept of earlier generations, when the session began. */
  asideNames(): Promise<readonly string[]> {
    return this.#names;
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

  /** Notes who somebody is who is at the board, by the Yjs client as which they write. */
  saw(client: number, person: Presence['person']): void {
    this.#seen.set(client, person);
  }

  /** Where what people say of themselves comes and goes. */
  get provider(): BoardLine['provider'] {
    return this.#line.provider;
  }

  /** What one says of oneself. */
  get presence(): Presence {
    return this.#presence;
  }

  setPresence(patch: Partial<Presence>): void {
    this.#presence = { ...this.#presence, ...patch };
    this.#company?.tell();
  }

  /** Who sits here calls themselves otherwise. */
  introduce({ isNamed, ...person }: Person): void {
    this.setPresence({ person, seat: { since: this.#presence.seat?.since ?? 0, isNamed } });
  }

  /** From now on the others hear of who sits here, and this page of them. */
  join(company: Companion): void {
    this.#company = company;
  }

  /** Hears who has spoken here, so that no name is proposed that is one of theirs. */
  hearOf(people: typeof this.spoken): void {
    this.spoken = people;
    this.#company?.settle();
  }

  /** Whether somebody else goes by this name, as far as is known. */
  isNameTaken(name: string): boolean {
    return this.#company?.isNameTaken(name) === true;
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
    await this.#names;
    const [offline, former] = [this.#offline, this.#former];
    this.#former = null;
    if (former !== null && !this.#isCopyLost) await emptyCopy(former.name, former.doc);
    if (offline === null) return;
    await offline.destroy();
    if (!this.#isCopyLost) await emptyCopy(offline.name, this.#doc);
  }

  dispose(): void {
    this.#ended.abort();
    this.#listeners.clear();
    this.#proposalListeners.clear();
    this.#company?.dispose();
    const isAsideDone = this.#isAside && this.saved === 'saved';
    this.#line.destroy();
    if (isAsideDone) void this.#offline?.clearData();
    else void this.#offline?.destroy();
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

  /** Goes on in the next generation, which holds all that is in hand. */
  #goOn({ doc, generation, began }: NextGeneration): void {
    const former = this.#doc;
    this.#doc = doc;
    this.#letGoOnEdit();
    this.design.moveTo(doc, began);
    const kept = this.#offline;
    if (kept !== null) {
      void kept.destroy();
      // Of two that follow each other before all is saved the earlier one stays, as put aside.
      this.#former = this.#isCopyLost ? null : { doc: former, name: kept.name };
    }
    this.#isAside = false;
    this.#offline = this.#keep(renewedName(this.boardId, generation));
  }

  #dropFormer(): void {
    if (this.#former === null || this.#line.saved !== 'saved') return;
    const { name, doc } = this.#former;
    this.#former = null;
    void emptyCopy(name, doc);
  }

  /** Before the edit, so that neither the server, which would close the line for it, nor the browser's copy gets it. */
  #letGoOnEdit(): void {
    if (!this.isSketch) return;
    this.#doc.on('beforeTransaction', ({ local }: Y.Transaction) => {
      if (!local || this.#isSketched) return;
      this.#isSketched = true;
      this.#line.destroy();
      void this.#offline?.destroy();
    });
  }

  #changed(): void {
    for (const listener of [...this.#listeners]) listener();
  }
}
