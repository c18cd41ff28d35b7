/** Everything the page knows of the talk about one board: what was said, what waits to be sent, what was looked at. */
import {
  type Design,
  type Pin,
  type PinPlace,
  placeOfPin,
  type Speaker,
  type TalkCommand,
  type Thread,
} from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import type { TalkHere, TalkSpot } from '../board/index.ts';
import { ApiError, type BoardSession, newId, post, readPerson, type TalkSession } from '../sync/index.ts';
import { EntriesOf, entryKey } from './entry-words.ts';
import { Outbox, type Tried, triedAfter } from './outbox.ts';
import { Seen } from './seen.ts';
import { type ShownThread, shownTalk, speakersIn } from './shown-talk.ts';

const PINS_KEY = 'larkboard.pins';
const NOBODY: ReadonlySet<string> = new Set();

/** What the desk needs of the talk as it is read. */
type ReadTalk = Pick<
  TalkSession,
  'snapshot' | 'hasSynced' | 'isConnected' | 'subscribe' | 'forget' | 'dispose'
>;

export interface NewRemark {
  readonly thread: Thread;
  readonly by: Speaker;
  readonly text: string;
  readonly isForMe: boolean;
}

export class TalkDesk {
  readonly personId: string;
  readonly canTalk: boolean;
  /** Whether this person may take back what others said. */
  readonly isOwner: boolean;
  readonly design: Design;
  /** What the next new thread is to be about, as it was last asked for on the board. */
  spot: TalkSpot | null = null;
  /** What the board asks of the talk; a new object after each change. */
  here: TalkHere;
  readonly #session: BoardSession;
  readonly #talk: ReadTalk;
  readonly #outbox: Outbox;
  readonly #seen: Seen;
  readonly #listeners = new Set<() => void>();
  readonly #news = new Set<(remarks: readonly NewRemark[]) => void>();
  readonly #known = new Set<string>();
  readonly #stops: (() => void)[];
  #threads: readonly ShownThread[] = [];
  #aboutEntries: ReadonlyMap<string, readonly ShownThread[]> = new Map();
  #entries: { readonly board: Board; readonly of: EntriesOf } | null = null;
  #hasHeard = false;
  #speakers: ReadonlyMap<string, Speaker> = new Map();
  #unreadIn: ReadonlyMap<string, ReadonlySet<string>> = new Map();
  #unread = 0;

  /** @param talk of the session's board; the desk ends it */
  constructor(session: BoardSession, talk: ReadTalk, canTalk: boolean, isOwner: boolean) {
    this.#session = session;
    this.#talk = talk;
    this.design = session.design;
    this.canTalk = canTalk;
    this.isOwner = isOwner;
    this.personId = readPerson().id;
    this.#seen = new Seen(localStorage, session.boardId, this.personId);
    const changed = (): void => this.#changed();
    const path = `/api/boards/${encodeURIComponent(session.boardId)}/talk`;
    this.#outbox = new Outbox({
      boardId: session.boardId,
      shelf: localStorage,
      now: Date.now,
      onChange: changed,
      post: async (send): Promise<Tried> => {
        try {
          await post(path, send);
          return 'done';
        } catch (error) {
          if (!(error instanceof ApiError)) throw error;
          return triedAfter(error.kind);
        }
      },
    });
    const onStorage = ({ key }: StorageEvent): void => {
      if (key?.startsWith('larkboard.outbox.') === true) this.#outbox.refresh();
      else if (key?.startsWith('larkboard.seen.') === true) {
        this.#seen.refresh();
        this.#changed();
      }
    };
    const onOnline = (): void => this.#outbox.retry();
    addEventListener('storage', onStorage);
    addEventListener('online', onOnline);
    let wasConnected = false;
    const onTalk = (): void => {
      if (this.#talk.isConnected && !wasConnected) this.#outbox.retry();
      wasConnected = this.#talk.isConnected;
      this.#tellNews();
      this.#changed();
    };
    this.#stops = [
      this.#talk.subscribe(onTalk),
      session.design.subscribe((_snapshot, { kind }) => {
        if (kind === 'structure' || kind === 'palette') changed();
      }),
      () => removeEventListener('storage', onStorage),
      () => removeEventListener('online', onOnline),
    ];
    this.here = this.#makeHere();
    this.#changed();
    this.#outbox.retry();
  }

  get threads(): readonly ShownThread[] {
    return this.#threads;
  }

  /** Whether marks are shown on the board; kept for all boards. */
  get hasPins(): boolean {
    return localStorage.getItem(PINS_KEY) !== 'off';
  }

  showPins(isShown: boolean): void {
    localStorage.setItem(PINS_KEY, isShown ? 'on' : 'off');
    this.#changed();
  }

  get isNewer(): boolean {
    return this.#talk.snapshot.isNewer;
  }

  /** Whether the talk was read from the server since the page was opened. */
  get hasSynced(): boolean {
    return this.#talk.hasSynced;
  }

  /** How many remarks of others were not looked at yet. */
  get unread(): number {
    return this.#unread;
  }

  /** Ids of the remarks of a thread that were not looked at yet. */
  unreadIn(threadId: string): ReadonlySet<string> {
    return this.#unreadIn.get(threadId) ?? NOBODY;
  }

  /** Everybody who has spoken, by id, as they last called themselves. */
  get speakers(): ReadonlyMap<string, Speaker> {
    return this.#speakers;
  }

  /** Open threads about a panel. */
  aboutPanel(entry: string): readonly ShownThread[] {
    return this.#threads.filter(
      ({ pin, done }) => pin.kind === 'panel' && pin.entry === entry && done === null,
    );
  }

  /** Open threads about an entry of a panel, by its {@link entryKey}. */
  aboutEntry(key: string): readonly ShownThread[] {
    return this.#aboutEntries.get(key) ?? [];
  }

  /** What the panels have of the board now. */
  get entries(): EntriesOf {
    const { board } = this.design.snapshot;
    if (this.#entries?.board !== board) this.#entries = { board, of: new EntriesOf(board) };
    return this.#entries.of;
  }

  /** Notes that a remark, and all before it in its thread, was looked at. */
  look(threadId: string, remarkId: string): void {
    const thread = this.#talk.snapshot.threads.find(({ id }) => id === threadId);
    const at = thread?.remarks.findIndex(({ id }) => id === remarkId) ?? -1;
    if (at >= 0 && this.#seen.note(threadId, at + 1)) this.#changed();
  }

  /** People who can be spoken to: who is here, and who has spoken; not oneself. */
  get people(): readonly Speaker[] {
    const people = new Map(this.#speakers);
    for (const { presence } of this.#session.people.value) people.set(presence.person.id, presence.person);
    people.delete(this.personId);
    return [...people.values()].sort((a, b) => a.name.localeCompare(b.name));
  }

  /** This person, as they call themselves now. */
  get self(): Speaker {
    const { name, hex } = readPerson();
    return { id: this.personId, name, hex };
  }

  placeOf(pin: Pin): PinPlace {
    return placeOfPin(this.design, pin);
  }

  /** Says something. Throws as the browser's storage does when there is no room to keep it until it is sent. */
  say(command: TalkCommand): void {
    const { id, name, hex } = readPerson();
    this.#outbox.add({ id: newId(), by: { id, name, hex }, command });
  }

  /** What is being written as an answer to a thread, or (null) as a new one; kept in the browser until it is said. */
  draftOf(thread: string | null): string {
    return localStorage.getItem(this.#draftKey(thread)) ?? '';
  }

  /** Throws as the browser's storage does when it is full. */
  keepDraft(thread: string | null, text: string): void {
    if (text === '') localStorage.removeItem(this.#draftKey(thread));
    else localStorage.setItem(this.#draftKey(thread), text);
  }

  #draftKey(thread: string | null): string {
    return `larkboard.draft.${this.#session.boardId}.${thread ?? ''}`;
  }

  /** Takes back what was not sent. @returns its words; null when it went out meanwhile */
  takeBack(sendId: string): string | null {
    const item = this.#outbox.takeBack(sendId);
    if (item === null) return null;
    return 'text' in item.send.command ? item.send.command.text : '';
  }

  isOnItsWay(sendId: string): boolean {
    return this.#outbox.isOnItsWay(sendId);
  }

  /** Tries to send what waits now. */
  retry(): void {
    this.#outbox.retry();
  }

  /** Calls the listener after every change. @returns stops it */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Calls the listener with what others have just said. */
  onNews(listener: (remarks: readonly NewRemark[]) => void): void {
    this.#news.add(listener);
  }

  dispose(): void {
    this.#end();
    this.#talk.dispose();
  }

  /** Ends the talk of a board that was deleted, and drops all that this browser keeps of it. */
  async forget(): Promise<void> {
    this.#end();
    const id = this.#session.boardId;
    const own = ['outbox', 'seen', 'draft', 'work'].map((what) => `larkboard.${what}.${id}.`);
    for (const key of Object.keys(localStorage))
      if (own.some((start) => key.startsWith(start))) localStorage.removeItem(key);
    await this.#talk.forget();
  }

  #end(): void {
    for (const stop of this.#stops) stop();
    this.#listeners.clear();
    this.#news.clear();
    this.#outbox.dispose();
  }

  #tellNews(): void {
    const news: NewRemark[] = [];
    for (const thread of this.#talk.snapshot.threads)
      for (const { id, by, text, mentions } of thread.remarks) {
        const key = `${thread.id}:${id}`;
        if (this.#known.has(key)) continue;
        this.#known.add(key);
        if (by.id !== this.personId && text !== null)
          news.push({ thread, by, text, isForMe: mentions.includes(this.personId) });
      }
    // What was said before the page was opened is no news, however it comes in.
    const isNews = this.#hasHeard;
    this.#hasHeard ||= this.#talk.hasSynced;
    if (isNews && news.length > 0) for (const listener of this.#news) listener(news);
  }

  #makeHere(): TalkHere {
    const places = new Map<string, number>();
    for (const { pin, done, remarks } of this.#threads) {
      if (done !== null) continue;
      const at = this.placeOf(pin);
      const count = remarks.filter(({ text }) => text !== null).length;
      const key =
        at.kind === 'knot' && at.place !== null
          ? `${at.place.row}:${at.place.k}`
          : at.kind === 'string' && at.place !== null
            ? `peg:${at.place}`
            : at.kind === 'row' && at.place !== null
              ? `row:${at.place}`
              : null;
      if (key !== null) places.set(key, (places.get(key) ?? 0) + count);
    }
    const at = (key: string): number => places.get(key) ?? 0;
    return {
      canTalk: this.canTalk,
      countAt: (spot) =>
        spot.on === 'peg' ? at(`peg:${spot.place}`) : at(`${spot.row}:${spot.k}`) + at(`row:${spot.row}`),
    };
  }

  #findEntries(): ReadonlyMap<string, readonly ShownThread[]> {
    const found = new Map<string, ShownThread[]>();
    for (const thread of this.#threads) {
      if (thread.done !== null) continue;
      const at = this.placeOf(thread.pin);
      if (at.kind !== 'entry' || at.place === null) continue;
      const key = entryKey(at.panel, at.place);
      const same = found.get(key);
      if (same === undefined) found.set(key, [thread]);
      else same.push(thread);
    }
    return found;
  }

  #changed(): void {
    const { threads } = this.#talk.snapshot;
    this.#threads = shownTalk(threads, this.#outbox.items);
    this.#speakers = speakersIn(threads);
    this.#unreadIn = new Map(
      threads.map((thread) => [thread.id, new Set(this.#seen.unreadIn(thread).map(({ id }) => id))]),
    );
    this.#unread = [...this.#unreadIn.values()].reduce((sum, { size }) => sum + size, 0);
    this.here = this.#makeHere();
    this.#aboutEntries = this.#findEntries();
    for (const listener of [...this.#listeners]) listener();
  }
}
