/**
 * All open rooms. A room opens with the first who needs it and is gone when the last has left and everything is stored.
 */
import { type BoardPart, DOCUMENT_PARTS, roomName } from '../../engine/document/index.ts';
import { pause } from '../clock.ts';
import { FewAtATime } from '../few-at-a-time.ts';
import type { BoardRecord, DocumentAddress } from '../store/index.ts';
import { unattended } from '../unattended.ts';
import { ByteBudget } from '../work/index.ts';
import type { Connection } from './connection.ts';
import { tellPeers } from './peer-messages.ts';
import { RecentLogs } from './recent-logs.ts';
import { Room } from './room.ts';
import type { RoomDeps, WatchOf } from './room-deps.ts';
import { UnsavedBytes } from './unsaved.ts';

/** Who wants to know of the edits that come in. */
export type RoomWatch = WatchOf<Room>;

/** What rooms are given by all together; the rest they get here. */
export type RoomsDeps = Pick<
  RoomDeps<Room>,
  'store' | 'relay' | 'log' | 'metrics' | 'limits' | 'clock' | 'trials' | 'work' | 'watch' | 'onPast'
>;

/** A room kept open until `release` is called, once. */
export interface RoomHold {
  readonly room: Room;
  readonly release: () => void;
}

interface Entry {
  readonly room: Room;
  opening: Promise<void>;
  holds: number;
  isClosing: boolean;
}

/** More rooms are open than the server allows. */
export class TooManyRooms extends Error {}

const OPEN = Promise.resolve();
const TICK_MS = 5_000;
/** How long a shutdown waits for clients to answer the close. */
const GOODBYE_MS = 500;
/** Documents read anew at once; the store has edits to take meanwhile. */
const REREAD_AT_ONCE = 4;
/** Presence of so long goes out as one frame. */
const PRESENCE_MS = 30;

export class Rooms {
  readonly #deps: RoomsDeps;
  readonly #roomDeps: RoomDeps<Room>;
  readonly #entries = new Map<string, Entry>();
  readonly connections = new Set<Connection>();
  readonly #presenceDirty = new Set<Room>();
  /** Takes back the frame of presence to come; null = nothing was shown. */
  #forgetPresence: (() => void) | null = null;
  #removals = 0;
  readonly #stopTicking: () => void;

  constructor(deps: RoomsDeps) {
    this.#deps = deps;
    const unsaved = new UnsavedBytes(deps.limits.unsavedBytesInAll);
    deps.metrics.gauge('larkboard_unsaved_bytes', 'Bytes not on the disk yet.', () => unsaved.bytes);
    this.#roomDeps = {
      ...deps,
      rereading: new FewAtATime(REREAD_AT_ONCE),
      unsaved,
      recent: new RecentLogs(),
      copyBytes: new ByteBudget(deps.limits.copyBytesInAll),
      readAnew: (name) => {
        const room = this.#entries.get(name)?.room;
        if (room) unattended(room, 'read-anew', () => room.reload());
      },
      onPresence: (shown) => this.#onPresence(shown),
      onBroken: (broken) => {
        if (this.#entries.get(broken.name)?.room === broken) this.#entries.delete(broken.name);
        setImmediate(() => {
          unattended(broken, 'closing', () => broken.closeAll('restarted'));
          unattended(broken, 'destroying', () => broken.destroy());
        });
      },
    };
    this.#stopTicking = deps.clock.every(TICK_MS, () => this.#tick());
    deps.relay.onGap((room) => {
      for (const [name, entry] of this.#entries)
        if (room === null || room === name) {
          unattended(entry.room, 'gap', async () => {
            // What this node stored meanwhile, the others may not have heard of either.
            if (room === null) tellPeers(deps.relay, name, { kind: 'reload' });
            await entry.room.reload();
          });
        }
    });
    deps.metrics.gauge('larkboard_rooms', 'Open rooms.', () => this.#entries.size);
    deps.metrics.gauge('larkboard_connections', 'Open sockets.', () => this.connections.size);
  }

  get size(): number {
    return this.#entries.size;
  }

  /** Whether a document is open here. */
  isOpen(board: string, part: BoardPart): boolean {
    return this.#entries.has(roomName(board, part));
  }

  /** The record of a board that has people in this document, so that the store need not be asked for those who follow. */
  recordOf(address: DocumentAddress): BoardRecord | null {
    return this.#entries.get(roomName(address.board, address.part))?.room.record ?? null;
  }

  /** Opens a document, or joins those who have it open. Rejects as the store does, or with {@link TooManyRooms}. */
  async hold(address: DocumentAddress): Promise<RoomHold> {
    const name = roomName(address.board, address.part);
    let entry = this.#entries.get(name);
    if (!entry) {
      if (this.#entries.size >= this.#deps.limits.rooms)
        throw new TooManyRooms(`${this.#deps.limits.rooms} boards are open`);
      entry = this.#open(name, address);
    }
    entry.holds += 1;
    const held = entry;
    let isHeld = true;
    const release = (): void => {
      if (!isHeld) return;
      isHeld = false;
      held.holds -= 1;
      // A fault there must neither end the process nor leave a room behind that nobody can close.
      if (held.holds === 0) unattended(held.room, 'leave', () => this.#close(name, held));
    };
    try {
      await held.opening;
    } catch (cause) {
      release();
      throw cause;
    }
    return { room: held.room, release };
  }

  #open(name: string, address: DocumentAddress): Entry {
    const room = new Room(name, address, this.#roomDeps);
    const opening = room.open();
    const entry: Entry = { room, opening, holds: 0, isClosing: false };
    this.#entries.set(name, entry);
    unattended(room, 'open', async () => {
      try {
        await opening;
        // What the opening held on to is not needed any more.
        entry.opening = OPEN;
      } catch {
        // Whoever asked for the room is told, by the same promise.
        if (this.#entries.get(name) === entry) this.#entries.delete(name);
        room.destroy();
      }
    });
    return entry;
  }

  async #close(name: string, entry: Entry): Promise<void> {
    if (entry.isClosing || this.#entries.get(name) !== entry) return;
    entry.isClosing = true;
    let isOver = false;
    try {
      // While the disk does not take the edits they stay here; somebody may come back and find them.
      do {
        while (entry.holds === 0 && !(await entry.room.settle())) await pause(this.#deps.clock, 250);
        if (entry.holds === 0) await this.#deps.watch?.emptied(entry.room);
        const isLeft = entry.holds === 0 && entry.room.isSaved && this.#entries.get(name) === entry;
        if (isLeft) isOver = await entry.room.renew();
        // Somebody may have come, edited and left again meanwhile.
      } while (!isOver && entry.holds === 0 && !entry.room.isSaved);
    } finally {
      entry.isClosing = false;
    }
    if (isOver && this.#entries.get(name) === entry) {
      // Whoever came in meanwhile has joined a generation that ended; nothing of theirs was taken yet.
      this.#entries.delete(name);
      entry.room.closeAll('restarted');
      entry.room.destroy();
      return;
    }
    if (entry.holds > 0 || this.#entries.get(name) !== entry) return;
    this.#entries.delete(name);
    entry.room.destroy();
  }

  #onPresence(room: Room): void {
    this.#presenceDirty.add(room);
    this.#forgetPresence ??= this.#deps.clock.after(PRESENCE_MS, () => this.#sendPresence());
  }

  #sendPresence(): void {
    this.#forgetPresence = null;
    for (const room of this.#presenceDirty) unattended(room, 'presence', () => room.members.sendShown());
    this.#presenceDirty.clear();
  }

  #tick(): void {
    for (const connection of this.connections) unattended(connection.room, 'tick', () => connection.tick());
    for (const { room } of this.#entries.values()) unattended(room, 'tick', () => room.tick());
  }

  /** Boards that were closed because they are gone; who is being let in meanwhile is looked at again. */
  get removals(): number {
    return this.#removals;
  }

  /** Puts everybody out of one board, on every node, because it is gone. */
  closeBoard(board: string): void {
    this.#removals += 1;
    for (const part of DOCUMENT_PARTS)
      tellPeers(this.#deps.relay, roomName(board, part), { kind: 'removed' });
    for (const { room } of [...this.#entries.values()])
      if (room.address.board === board) room.closeAll('deleted');
  }

  /** Fulfils when all of a room is on the disk. */
  async #storeAll(room: Room): Promise<void> {
    try {
      while (!(await room.settle())) await pause(this.#deps.clock, 50);
    } catch (cause) {
      // The others still have theirs to store.
      room.broke('settle', cause);
    }
  }

  /**
   * Puts everybody out and stores everything.
   * @returns the rooms with edits that could not be stored within the time
   */
  async close(timeoutMs: number): Promise<number> {
    for (const connection of [...this.connections])
      unattended(connection.room, 'drain', () => connection.close('restarted', 'the server restarts'));
    const entries = [...this.#entries.values()];
    const { clock, watch } = this.#deps;
    let forgetLate = (): void => {};
    const late = new Promise<void>((resolve) => {
      forgetLate = clock.after(timeoutMs, resolve);
    });
    await Promise.race([late, Promise.all(entries.map(({ room }) => this.#storeAll(room)))]);
    const patience = clock.elapsed() + Math.min(timeoutMs, GOODBYE_MS);
    while (this.connections.size > 0 && clock.elapsed() < patience) await pause(clock, 5);
    // Who does not answer the goodbye would keep the process from ending.
    for (const connection of this.connections)
      unattended(connection.room, 'drain', () => connection.terminate('shutdown'));
    // What watches the rooms reads them a last time while they are there.
    if (watch) await Promise.race([late, Promise.all(entries.map(({ room }) => watch.emptied(room)))]);
    forgetLate();
    this.#stopTicking();
    this.#forgetPresence?.();
    // Of a room that was given up meanwhile it is not known whether all of it was stored.
    const given = entries.filter(({ room }) => room.isBroken).length;
    const left = given + [...this.#entries.values()].filter((entry) => !entry.room.isSaved).length;
    for (const { room } of this.#entries.values()) unattended(room, 'drain', () => room.destroy());
    this.#entries.clear();
    return left;
  }
}
