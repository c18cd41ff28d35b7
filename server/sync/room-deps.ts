/** What a room needs of those around it, who know more of it than it of them. */
import type { Clock } from '../clock.ts';
import type { FewAtATime } from '../few-at-a-time.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import type { Relay } from '../relay/index.ts';
import type { Store } from '../store/index.ts';
import type { ByteBudget, Work } from '../work/index.ts';
import type { Effect } from './effect.ts';
import type { SyncLimits } from './limits.ts';
import type { RecentLogs } from './recent-logs.ts';
import type { Trials } from './trials.ts';
import type { UnsavedBytes } from './unsaved.ts';

/** Something that must be on the disk before an edit is. Rejects with a StoreError where it cannot be now, and is then called again. */
export type Guard = () => Promise<void>;

/** An edit that is about to be in a document. */
export interface ComingEdit {
  readonly effect: Effect;
  /** Whose it is: of a person, else of a socket; null = the server's own. */
  readonly by: string | object | null;
  /** Whether it is on the disk already: it comes from the store, or another node had it. */
  readonly isStored: boolean;
  /** Whether it is one client's next structs alone, as whoever makes them sends them. */
  readonly isOwn: boolean;
}

/** Who wants to know of the edits that come in here; asked and told at once, so it must be quick. */
export interface WatchOf<Room> {
  /** An edit is about to be in the document, which is still as it was. @returns what it must wait for to be stored; null = nothing */
  coming(room: Room, edit: ComingEdit): Guard | null;
  /**
   * What was made of somebody's late copy is about to be stored beside the room. Fulfils when what it may change is on the disk; rejects
   * with a StoreError where that cannot be.
   */
  beforeBringing(room: Room): Promise<void>;
  /** The room goes on with the next generation of its document: what was known of clients and clocks is of the one that has ended. */
  renewed?(room: Room): void;
  /** Edits of one turn have gone out. */
  edited(room: Room): void;
  /** The last has left and everything is stored; the room stays until this fulfils. Never rejects. */
  emptied(room: Room): Promise<void>;
  /**
   * A copy of another generation, as one update, holds edits that have no place in the present document. Never rejects.
   * @returns whether it is kept, or there is nothing in it to keep
   */
  leftOver(room: Room, copy: Uint8Array): Promise<boolean>;
}

export interface RoomDeps<Room> {
  readonly store: Store;
  readonly relay: Relay;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly limits: SyncLimits;
  readonly clock: Clock;
  /** Where documents that are open already are read anew: after a return of the relay or the database that is all of them. */
  readonly rereading: FewAtATime;
  /** Of all rooms together. */
  readonly unsaved: UnsavedBytes;
  /** Logs that were read a moment ago. */
  readonly recent: RecentLogs;
  readonly trials: Trials;
  readonly work: Work;
  /** Of copies of other generations that wait to be brought over, in all rooms together. */
  readonly copyBytes: ByteBudget;
  /** Reads a document anew if it is open, after a room that was given up has stored something. */
  readonly readAnew: (room: string) => void;
  /** Asks for `members.sendShown` in a moment. */
  readonly onPresence: (room: Room) => void;
  readonly watch?: WatchOf<Room>;
  /** Rows of a document whose past is kept have gone there. */
  readonly onPast?: (room: Room) => void;
  /** The room can't go on: it must be opened anew from the store. */
  readonly onBroken: (room: Room) => void;
}
