/** What a socket in a room is given: the two layers of it, who is at the other end, and who answers and pays for it. */
import type { Duplex } from 'node:stream';
import type { WebSocket } from 'ws';
import type { CloseReason } from '../../engine/document/index.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import type { SyncLimits } from './limits.ts';
import type { Account, Outgoing } from './outgoing.ts';
import type { Room } from './room.ts';
import type { Writing } from './writing.ts';

/** A socket, for what is said in its room beside the document. */
export interface BesideLine {
  send(frame: Buffer): void;
  /** As `send`, but may be left out for a reader that is behind. */
  sendPresence(frame: Buffer): void;
  close(reason: CloseReason, message: string): void;
}

/** Its place there. */
export interface BesideSeat {
  hear(text: string): void;
  leave(): void;
}

export interface ConnectionOptions {
  readonly id: string;
  readonly socket: WebSocket;
  /** The socket below, for frames that are already made. */
  readonly raw: Duplex;
  readonly room: Room;
  readonly canWrite: boolean;
  /** Whether to tell this person what only owners can see to. */
  readonly isOwner: boolean;
  /** To what share of its limit they may fill the document. */
  readonly quota: number;
  readonly personId: string | null;
  /** Whether its client goes over to the next generation while it is connected. */
  readonly isFollower: boolean;
  readonly limits: SyncLimits;
  readonly outgoing: Outgoing;
  /** Who pays for what waits to be read; given back when the socket has ended. */
  readonly account: Account;
  readonly writing: Writing;
  /** Takes the socket in where things are said beside the document; null where nothing is. */
  readonly beside: ((line: BesideLine) => BesideSeat) | null;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly now: () => number;
}
