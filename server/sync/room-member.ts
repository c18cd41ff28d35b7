/** What a room needs of those in it and of those around it. */
import type { CloseReason } from '../../engine/document/index.ts';
import type { Clock } from '../clock.ts';
import type { FewAtATime } from '../few-at-a-time.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import type { Relay } from '../relay/index.ts';
import type { Store } from '../store/index.ts';
import type { Identity } from './identity.ts';
import type { SyncLimits } from './limits.ts';
import type { Room } from './room.ts';
import type { Trials } from './trials.ts';
import type { UnsavedBytes } from './unsaved.ts';
import type { ByteBudget, Work } from '../work/index.ts';

/** What a room needs of a socket. */
export interface RoomMember {
  readonly openedAt: number;
  /** Of the room's presence board. */
  presenceId: number | null;
  /** Client ids that it brought into the document. */
  newClients: number;
  readonly canWrite: boolean;
  readonly isOwner: boolean;
  readonly personId: string | null;
  /** Frames of edits; a reader that is behind does not get them now but all at once later. */
  sendEdits(frame: Buffer): void;
  /** Frames that may be left out for a reader that is behind. */
  sendPresence(frame: Buffer): void;
  send(frame: Buffer): void;
  /** Frames of our own kinds, for clients that speak them. */
  sendNotice(frame: Buffer): void;
  /** It is in the room. */
  begin(): void;
  /** Asks for everything the room lacks; the answer is awaited. */
  askForAll(): void;
  /** Asks whether the client is still there, because another socket claims its presence. */
  probe(): void;
  close(reason: CloseReason, message: string): void;
  /** So many bytes that are new here were taken from it. */
  wrote(bytes: number): void;
}

/** Who wants to know of the edits that come in here; asked and told at once, so it must be quick. */
export interface RoomWatch {
  /** An edit is about to be applied. */
  beforeEdit(room: Room): void;
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

export interface RoomDeps {
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
  readonly trials: Trials;
  readonly work: Work;
  /** Of copies of other generations that wait to be brought over, in all rooms together. */
  readonly copyBytes: ByteBudget;
  /** Reads a document anew if it is open, after a room that was given up has stored something. */
  readonly readAnew: (room: string) => void;
  /** Asks for `sendPresence` in a moment. */
  readonly onPresence: (room: Room) => void;
  readonly watch?: RoomWatch;
  /** The room can't go on: it must be opened anew from the store. */
  readonly onBroken: (room: Room) => void;
}

/** Why an update was not taken. */
export type Refusal = { readonly reason: CloseReason; readonly message: string };
export type ReceiveResult =
  | 'taken'
  | 'unmet'
  | 'store-failing'
  /** It may take too long; to be tried first, see {@link Room.receiveTried}. */
  | 'costly'
  | { readonly kind: 'other-generation'; readonly of: Identity }
  | Refusal;
