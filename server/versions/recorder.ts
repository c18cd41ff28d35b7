/**
 * Takes versions by itself, from rooms in which somebody edits: before edits that call for it (`keeper.ts`), after a quiet time, now and then
 * while edits go on, and when the last has left. Rules V135 to V139.
 *
 * What is due by time is looked for every few seconds, one room after the other. Every node watches its own rooms; an edit counts where it came in.
 */
import { atMost } from '../clock.ts';
import { StoreError } from '../store/index.ts';
import type { ComingEdit, Guard, Room, RoomWatch } from '../sync/index.ts';
import { answeredByLog, unattended } from '../unattended.ts';
import { Keeper, type KeeperDeps } from './keeper.ts';

export interface RecorderTimes {
  /** So long after the last edit. */
  readonly quietMs: number;
  /** So long after the first one that no version holds, while edits go on. */
  readonly busyMs: number;
  /** After so many turns of edits, but never twice within `leastMs`. */
  readonly edits: number;
  readonly leastMs: number;
  /** How often it looks. */
  readonly sweepMs: number;
}

/** In ms, but for `edits`, which counts turns of them. */
export const RECORDER_TIMES: RecorderTimes = {
  quietMs: 2 * 60_000,
  busyMs: 2 * 60_000,
  edits: 300,
  leastMs: 60_000,
  sweepMs: 5_000,
};

export interface RecorderDeps extends KeeperDeps {
  readonly times?: RecorderTimes;
}

interface Watched {
  keeper: Keeper;
  /** Turns of edits that no version holds. */
  edits: number;
  since: number;
  last: number;
  takenAt: number;
}

export class Recorder implements RoomWatch {
  readonly #deps: RecorderDeps;
  readonly #times: RecorderTimes;
  readonly #rooms = new WeakMap<Room, Watched>();
  /** Rooms with edits that no version holds. */
  readonly #dirty = new Set<Room>();
  readonly #stopTicking: () => void;
  #sweeping: Promise<void> = Promise.resolve();

  constructor(deps: RecorderDeps) {
    this.#deps = deps;
    this.#times = deps.times ?? RECORDER_TIMES;
    const answerable = answeredByLog(deps.log);
    this.#stopTicking = deps.clock.every(this.#times.sweepMs, () =>
      unattended(answerable, 'versions', () => this.sweep()),
    );
  }

  coming(room: Room, edit: ComingEdit): Guard | null {
    return room.address.part === 'design' ? this.#watch(room).keeper.coming(edit) : null;
  }

  async beforeBringing(room: Room): Promise<void> {
    if (room.address.part === 'design') await this.#watch(room).keeper.beforeAll();
  }

  #watch(room: Room): Watched {
    let watched = this.#rooms.get(room);
    if (watched === undefined) {
      const at = this.#deps.clock.now();
      const keeper = new Keeper(room, this.#deps);
      watched = { keeper, edits: 0, since: at, last: at, takenAt: Number.NEGATIVE_INFINITY };
      this.#rooms.set(room, watched);
    }
    return watched;
  }

  /** Of a document that begins anew it is known as little as of one that was opened. */
  renewed(room: Room): void {
    const watched = this.#rooms.get(room);
    if (watched !== undefined) watched.keeper = new Keeper(room, this.#deps);
  }

  edited(room: Room): void {
    const watched = this.#rooms.get(room);
    if (watched === undefined) return;
    const now = this.#deps.clock.now();
    if (watched.edits === 0) watched.since = now;
    watched.edits += 1;
    watched.last = now;
    this.#dirty.add(room);
  }

  async emptied(room: Room): Promise<void> {
    if (this.#dirty.has(room)) await this.#take(room);
    else await this.#rooms.get(room)?.keeper.idle();
  }

  /** Keeps a late copy as a version of its own. */
  async leftOver(room: Room, copy: Uint8Array): Promise<boolean> {
    const { snapshots, versions, log, metrics, clock } = this.#deps;
    try {
      const snapshot = await snapshots.read([copy]);
      if (snapshot !== null) await versions.take(room.address.board, snapshot, 'late', clock.now());
      return true;
    } catch (cause) {
      log.error('version-failed', { room: room.name, message: (cause as Error).message });
      metrics.count('larkboard_version_failures_total', 'Versions that could not be kept.');
      return false;
    }
  }

  /** Takes what is due. Fulfils when it is taken; a second call meanwhile waits for the first. */
  sweep(): Promise<void> {
    this.#sweeping = this.#sweeping.then(() => this.#sweep());
    return this.#sweeping;
  }

  /** Takes all there is, for the end of the process, as far as the time allows. */
  async finish(mostMs: number): Promise<void> {
    this.#stopTicking();
    const all = this.#sweeping.then(() => Promise.all([...this.#dirty].map((room) => this.#take(room))));
    await atMost(this.#deps.clock, mostMs, all);
  }

  async #sweep(): Promise<void> {
    const { quietMs, busyMs, edits, leastMs } = this.#times;
    for (const room of [...this.#dirty]) {
      const now = this.#deps.clock.now();
      const watched = this.#rooms.get(room)!;
      // What lies in a time to come was before the clock was set back.
      for (const moment of ['since', 'last', 'takenAt'] as const)
        watched[moment] = Math.min(watched[moment], now);
      const isQuiet = now - watched.last >= quietMs;
      const isLong = now - watched.since >= busyMs;
      const isMuch = watched.edits >= edits && now - watched.takenAt >= leastMs;
      if (!(isQuiet || isLong || isMuch)) continue;
      await this.#take(room);
      // Others have their turn between two rooms.
      await new Promise((resolve) => setImmediate(resolve));
    }
  }

  /** Of edits that come meanwhile the next is told of. */
  async #take(room: Room): Promise<void> {
    if (!this.#dirty.delete(room)) return;
    const watched = this.#rooms.get(room)!;
    const { log, metrics, clock } = this.#deps;
    watched.edits = 0;
    watched.takenAt = clock.now();
    try {
      await watched.keeper.take();
    } catch (cause) {
      // The board itself is not touched by this. What no version holds is tried again with the next edits, or, once the
      // room was left, with the first edit in it: that looks at the state before it.
      log[cause instanceof StoreError ? 'warn' : 'error']('version-failed', {
        room: room.name,
        message: (cause as Error).message,
      });
      metrics.count('larkboard_version_failures_total', 'Versions that could not be kept.');
      watched.last = clock.now();
      if (room.members.size > 0) this.#dirty.add(room);
    }
  }
}
