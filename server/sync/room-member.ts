/** What a room needs of those in it. */
import type { CloseReason } from '../../engine/document/index.ts';
import type { Identity } from './identity.ts';

/** What a room needs of a socket. */
export interface RoomMember {
  readonly openedAt: number;
  /** Of the room's presence board. */
  presenceId: number | null;
  /** Client ids that it brought into the document. */
  newClients: number;
  readonly canWrite: boolean;
  /** To what share of its limit they may fill the document. */
  readonly quota: number;
  readonly personId: string | null;
  /** Whether its client goes over to the next generation while it is connected. */
  readonly isFollower: boolean;
  /** The next generation begins: it is told so by these frames, or put out where it cannot go over. */
  handOver(frames: readonly Buffer[]): void;
  /** Asks for everything the room lacks, if something that it sent was passed over. */
  askIfLacking(): void;
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
