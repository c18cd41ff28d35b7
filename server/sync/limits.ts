/** What the sync server takes at most. Defaults that a class of 40, three sockets each, behind one address, never meets. */
import { LIMITS } from '../../engine/document/index.ts';

export interface SyncLimits {
  /** Sockets in all, and from one address, whoever is there: a school is one. */
  readonly connections: number;
  readonly connectionsPerAddress: number;
  /**
   * Sockets of one person whom a link let in, a quarter of it while they are new; of all who are new on one board from one address,
   * or, where there are no links, of everybody there; of all from one address whom no link let in. In any ten seconds twice as
   * many may be opened.
   */
  readonly connectionsPerPerson: number;
  readonly connectionsOfNewcomers: number;
  readonly connectionsOfStrangers: number;
  /** New sockets from one address in any ten seconds; who was let in before may open more. */
  readonly newPerAddress: number;
  readonly rooms: number;
  readonly messageBytes: number;
  /** Messages and bytes from one socket, a second, averaged over ten. */
  readonly messagesPerSecond: number;
  readonly bytesPerSecond: number;
  readonly presenceBytes: number;
  /** Encoded size of a document, of which each role may use its share: see `quotaOf` in `engine/document/roles.ts`. */
  readonly documentBytes: number;
  /** Client ids new to the document that one socket may bring: in edits, and in all, an answer to a step 1 included. */
  readonly newClients: number;
  readonly newClientsInCopy: number;
  /** Steps that it may take to place the structs of a document, beyond two a struct: see `placing.ts`. A step is some 0.2 µs. */
  readonly steps: number;
  /** Edits of a room not yet on the disk; beyond it the room takes no more until they are. */
  readonly unsavedBytes: number;
  /** The same of all rooms together. */
  readonly unsavedBytesInAll: number;
  /** Copies of ended generations that wait to be brought over, or come in, in all rooms together; one alone may be as large as a document. */
  readonly copyBytesInAll: number;
  /** Bytes waiting for a reader; beyond it the reader gets no more until they have gone, then all at once. */
  readonly readerBytes: number;
  /**
   * Bytes waiting for readers: of all; of the sockets of one person whom a link let in; of those from one address whom none did.
   * Whoever asks for more gets it when others have read. Half of all is for those whom a link let in, or, where there are no
   * links, the most that one address gets.
   */
  readonly queuedBytes: number;
  readonly queuedBytesPerPerson: number;
  readonly queuedBytesPerAddress: number;
  /**
   * Encoded size from which a design is renewed when most of it is its past, with people in it or when the last has left; 0 = never. A
   * client that is closed as `outdated` drops its copy once everything in it is saved.
   */
  readonly renewBytes: number;
  /** Quiet after which a room keeps only the encoded state of its document. */
  readonly asideMs: number;
  /** How long a reader may stay behind, or take nothing of what waits for it, and how long a client may take to send what its edits build on. */
  readonly readerMs: number;
  readonly resyncMs: number;
}

/** A class of 40, three sockets each, behind one address stays far below all of them (V55). */
export const DEFAULT_SYNC_LIMITS: SyncLimits = {
  connections: 10_000,
  connectionsPerAddress: 2_000,
  connectionsPerPerson: 60,
  connectionsOfNewcomers: 400,
  connectionsOfStrangers: 100,
  newPerAddress: 3_000,
  rooms: 5_000,
  messageBytes: LIMITS.messageBytes,
  messagesPerSecond: 300,
  bytesPerSecond: 1024 * 1024,
  presenceBytes: LIMITS.presenceBytes,
  documentBytes: 32 * 1024 * 1024,
  newClients: 16,
  // The copies in the fixture bring 3 at most, and hold 26.
  newClientsInCopy: 4_000,
  steps: 300_000,
  unsavedBytes: 8 * 1024 * 1024,
  unsavedBytesInAll: 256 * 1024 * 1024,
  copyBytesInAll: 64 * 1024 * 1024,
  readerBytes: 1024 * 1024,
  queuedBytes: 256 * 1024 * 1024,
  queuedBytesPerPerson: 64 * 1024 * 1024,
  queuedBytesPerAddress: 16 * 1024 * 1024,
  renewBytes: 32 * 1024,
  asideMs: 15_000,
  readerMs: 20_000,
  resyncMs: 5_000,
};
