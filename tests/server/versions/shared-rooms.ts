/**
 * Rooms of several nodes in this process, over one store, without sockets and on a clock turned by hand; a node may be killed at any
 * moment: what it has not stored by then is gone.
 */
import * as Y from 'yjs';
import { Design, readKeyed, writeBoard } from '../../../engine/document/index.ts';
import { type Board, type KnotCode, rowStride } from '../../../engine/pattern/index.ts';
import { Log, Metrics } from '../../../server/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { Store } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/limits.ts';
import type { Room } from '../../../server/sync/room.ts';
import type { RoomMember } from '../../../server/sync/room-member.ts';
import { type RoomHold, Rooms } from '../../../server/sync/rooms.ts';
import type { Trials } from '../../../server/sync/trials.ts';
import { Recorder, Snapshots, Versions } from '../../../server/versions/index.ts';
import { Work } from '../../../server/work/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { countingIds } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { readMessages } from '../raw-client.ts';
import { takeFrame } from '../trace/wire-line.ts';

export const KITES = { board: 'kites', part: 'design' } as const;

/** Nothing is costly. */
const NO_TRIALS = { try: async () => 'fine', count: () => {} } as unknown as Trials;

/** What is tied on a board, by places that stay whatever is put in between. */
export type Knots = ReadonlyMap<string, number>;

export function knotsOf(doc: Y.Doc): Knots {
  const keyed = readKeyed(doc);
  const knots = new Map<string, number>();
  if (keyed === null) return knots;
  const { pattern } = keyed.board;
  const stride = rowStride(pattern.colours.length);
  for (let row = 0; row < pattern.rows; row += 1)
    for (let k = 0; k < (pattern.colours.length - (row & 1)) >> 1; k += 1) {
      const knot = pattern.knots[row * stride + k]!;
      const place = `${keyed.rowPairIds[row >> 1]}:${keyed.stringPairIds[k]!.split('.')[1]}`;
      if (knot !== 0) knots.set(`${place}:${row & 1 ? 's' : 'i'}`, knot);
    }
  return knots;
}

export function docOf(updates: readonly Uint8Array[]): Y.Doc {
  const doc = new Y.Doc();
  for (const update of updates) Y.applyUpdate(doc, update);
  return doc;
}

export class Node {
  readonly rooms: Rooms;
  readonly recorder: Recorder;
  /** What was written to the store, in order. */
  readonly writes: string[] = [];
  readonly metrics = new Metrics();
  readonly lines: string[] = [];
  readonly #relay: ReturnType<MemoryRelayHub['node']>;
  readonly #held = new WeakSet<Room>();
  isKilled = false;

  constructor(store: Store, hub: MemoryRelayHub, clock: HandClock, snapshots: Snapshots | null) {
    const log = new Log((line) => this.lines.push(line), clock.now, 'info');
    const { metrics } = this;
    const work = new Work(null, clock);
    const mortal = this.#mortal(store);
    const versions = new Versions({ store: mortal, now: clock.now });
    this.recorder = new Recorder({
      versions,
      snapshots: snapshots ?? new Snapshots(work),
      log,
      metrics,
      clock,
    });
    this.#relay = hub.node();
    this.rooms = new Rooms({
      store: mortal,
      relay: this.#relay,
      log,
      metrics,
      limits: DEFAULT_SYNC_LIMITS,
      clock,
      trials: NO_TRIALS,
      work,
      watch: this.recorder,
    });
  }

  /** Whether a room is one of its. */
  has(room: Room): boolean {
    return this.#held.has(room);
  }

  async hold(): Promise<RoomHold> {
    const hold = await this.rooms.hold(KITES);
    this.#held.add(hold.room);
    return hold;
  }

  /** Nothing of it is heard any more. */
  kill(): void {
    this.isKilled = true;
    this.#relay.setUp(false);
  }

  /** The same store: once the node is killed it does nothing and never answers. */
  #mortal(store: Store): Store {
    const calls = store as unknown as Record<string, (...args: unknown[]) => Promise<unknown>>;
    const never = new Promise<never>(() => {});
    const call =
      (name: string) =>
      async (...args: unknown[]): Promise<unknown> => {
        // So that there are moments between the steps.
        await turnsOfTheLoop();
        if (this.isKilled) return never;
        const value = await calls[name]!.apply(store, args);
        if (name === 'append' || name === 'putRecord') this.writes.push(name);
        await turnsOfTheLoop();
        return this.isKilled ? never : value;
      };
    return new Proxy(store, { get: (_target, name) => call(String(name)) });
  }
}

export class SharedRooms {
  readonly clock = new HandClock();
  readonly store = new MemoryStore();
  readonly versions = new Versions({ store: this.store, now: this.clock.now });
  readonly #hub = new MemoryRelayHub();

  /** Makes the board. */
  async begin(board: Board): Promise<void> {
    const doc = new Y.Doc();
    doc.clientID = 1;
    writeBoard(doc, board, countingIds('w'));
    const bytes = Y.encodeStateAsUpdate(doc);
    await this.store.addBoard({ id: KITES.board, kind: 'board', createdAt: 0 }, [{ part: 'design', bytes }]);
  }

  /** @param snapshots reads its versions; null = as the server does */
  node(snapshots: Snapshots | null = null): Node {
    return new Node(this.store, this.#hub, this.clock, snapshots);
  }

  /** Lets time go on until all that these have made is answered saved. */
  async saved(...makers: readonly Maker[]): Promise<void> {
    await until('all is saved', () => {
      this.clock.turn(1);
      return makers.every(({ made, saved }) => saved === made);
    });
  }

  /** Lets time go on, and all that is due then be done. */
  async wait(ms: number): Promise<void> {
    this.clock.turn(ms);
    await turnsOfTheLoop(60);
  }

  /** The design as the store has it. */
  async stored(): Promise<Y.Doc> {
    return docOf((await this.store.load(KITES)).map(({ bytes }) => bytes));
  }

  /** What is tied in each version, oldest first. */
  async kept(): Promise<{ readonly kind: string; readonly knots: Knots }[]> {
    const list = await this.versions.list(KITES.board);
    return Promise.all(
      list.map(async ({ id, kind }) => {
        const state = (await this.versions.state(KITES.board, id)) as Uint8Array;
        return { kind, knots: knotsOf(docOf([state])) };
      }),
    );
  }
}

/** Somebody with a copy of the board. */
export class Maker implements RoomMember {
  readonly personId: string;
  readonly canWrite = true;
  readonly isFollower = false;
  readonly quota = 1;
  readonly openedAt = 0;
  presenceId = null;
  newClients = 0;
  /** Hears what the room says later, in its order. */
  isSlow = false;
  /** Edits that were answered saved, of those made. */
  saved = 0;
  made = 0;
  readonly notices: Uint8Array[] = [];
  doc!: Y.Doc;
  design!: Design;
  /** An edit is about to come to the room. */
  onComing: (room: Room) => void = () => {};
  /** It came. */
  onCame: (room: Room) => void = () => {};
  #hold: RoomHold | null = null;
  #heard: Buffer[] = [];

  readonly #newClient: () => number;

  /** @param newClient numbers the copies, so that a seed does the same again */
  constructor(personId: string, newClient: () => number) {
    this.personId = personId;
    this.#newClient = newClient;
    this.reload();
  }

  /** Another page, which holds nothing yet. */
  reload(): void {
    this.doc = new Y.Doc();
    this.doc.clientID = this.#newClient();
    this.design = new Design(this.doc, {
      makerId: this.personId,
      newId: countingIds(`${this.personId}-${this.doc.clientID}-`),
      captureMs: 0,
    });
    this.doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'room') this.#say(update);
    });
  }

  get room(): Room | null {
    return this.#hold?.room ?? null;
  }

  /** Comes to a node, and brings what it holds. */
  async come(node: Node): Promise<void> {
    this.#hold = await node.hold();
    const { room } = this.#hold;
    room.members.join(this);
    this.#heard = [];
    for (const frame of room.answerStep1(Y.encodeStateVector(this.doc))) this.#hear(frame);
    this.listen();
    this.#bringAll();
  }

  leave(): void {
    this.#hold?.room.members.leave(this);
    this.#hold?.release();
    this.#hold = null;
  }

  /** The node is gone. */
  isLeft(): void {
    this.#hold = null;
  }

  /** Takes what was said while it was slow. */
  listen(): void {
    for (const frame of this.#heard.splice(0))
      for (const one of readMessages(takeFrame(frame)!.frame.payload))
        if (one.kind === 'update' || one.kind === 'step2') Y.applyUpdate(this.doc, one.bytes, 'room');
  }

  tie(knots: readonly { readonly row: number; readonly k: number; readonly knot: KnotCode }[]): void {
    const result = this.design.run({ kind: 'set-knots', knots });
    if (!result.ok) throw new Error(result.error.message);
  }

  #say(update: Uint8Array): void {
    const room = this.#hold?.room;
    if (room === undefined) return;
    this.made += 1;
    const { made } = this;
    this.onComing(room);
    const result = room.receive(update, this, false);
    if (result === 'unmet' || result === 'store-failing') this.#bringAll();
    else if (result !== 'taken') throw new Error(`an edit was not taken: ${JSON.stringify(result)}`);
    this.onCame(room);
    room.whenSaved(() => {
      this.saved = Math.max(this.saved, made);
    });
  }

  #bringAll(): void {
    const room = this.#hold!.room;
    this.onComing(room);
    const result = room.receive(Y.encodeStateAsUpdate(this.doc, room.stateVector()), this, true);
    if (result !== 'taken') throw new Error(`a copy was not taken: ${JSON.stringify(result)}`);
    this.onCame(room);
    const { made } = this;
    room.whenSaved(() => {
      this.saved = Math.max(this.saved, made);
    });
  }

  #hear(frame: Buffer): void {
    this.#heard.push(frame);
  }

  // --- what the room says ---

  sendEdits(frame: Buffer): void {
    this.#hear(frame);
    if (!this.isSlow) queueMicrotask(() => this.listen());
  }
  send(): void {}
  sendPresence(): void {}
  sendNotice(frame: Buffer): void {
    this.notices.push(takeFrame(frame)!.frame.payload);
  }
  begin(): void {}
  askIfLacking(): void {}

  handOver(): void {}

  askForAll(): void {
    queueMicrotask(() => {
      if (this.#hold !== null) this.#bringAll();
    });
  }
  probe(): void {}
  close(): void {
    throw new Error('was put out');
  }
  wrote(): void {}
}
