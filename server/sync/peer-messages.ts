/** What nodes say to each other, as data and as the bytes that a relay carries. Nodes of two versions may talk during an update: what is there never changes. */
import { ACCESS_CHANNEL, type Relay, type RelayMessage } from '../relay/index.ts';
import { decodePresence, encodePresence, type PresenceEntry } from './presence-bytes.ts';

const NOTHING = new Uint8Array(0);

/** About one document. */
export type PeerMessage =
  /** It was stored, as a row of this generation; null where a node of an earlier release says so, which does not tell. */
  | { readonly kind: 'update'; readonly update: Uint8Array; readonly generation: number | null }
  | { readonly kind: 'presence'; readonly entries: readonly PresenceEntry[] }
  /** A generation has begun. */
  | { readonly kind: 'renewed'; readonly generation: number }
  /** Asks who is there; has the log read anew; says that the board is gone; asks whether somebody is in; says so. */
  | { readonly kind: 'present?' | 'reload' | 'removed' | 'open?' | 'open' }
  /** A generation is about to begin, so that nothing should be taken; it does not after all. */
  | { readonly kind: 'pausing' | 'going-on' };

/** About a board: somebody's rights there became less, or its proposals are others. About a lesson: what is kept of it is other. */
export interface BoardNews {
  readonly kind: 'narrowed' | 'proposals' | 'lesson';
  readonly board: string;
}

/** Tells the other nodes that have the document open. */
export function tellPeers(relay: Relay, room: string, message: PeerMessage): void {
  relay.send(room, { kind: message.kind, bytes: bytesOf(message) });
}

function bytesOf(message: PeerMessage): Uint8Array {
  switch (message.kind) {
    case 'update':
      return withGeneration(message.update, message.generation);
    case 'presence':
      return encodePresence(message.entries);
    case 'renewed':
      return Buffer.from(String(message.generation));
    default:
      return NOTHING;
  }
}

/** Stands behind an update, before the generation in four bytes. Yjs reads no further than the update goes, so nodes of earlier releases take no harm. */
const MARK = [0x6c, 0x62, 0x67, 0x31] as const;
const FOOTER_BYTES = MARK.length + 4;

function withGeneration(update: Uint8Array, generation: number | null): Uint8Array {
  if (generation === null) return update;
  const bytes = new Uint8Array(update.length + FOOTER_BYTES);
  bytes.set(update);
  bytes.set(MARK, update.length);
  new DataView(bytes.buffer).setUint32(bytes.length - 4, generation, true);
  return bytes;
}

function splitGeneration(bytes: Uint8Array): { update: Uint8Array; generation: number | null } {
  const at = bytes.length - FOOTER_BYTES;
  if (at < 0 || MARK.some((byte, i) => bytes[at + i] !== byte)) return { update: bytes, generation: null };
  const generation = new DataView(bytes.buffer, bytes.byteOffset + at + MARK.length).getUint32(0, true);
  return { update: bytes.subarray(0, at), generation };
}

/** What another node says of a document; null where it is nothing that one says of documents. @throws Error when its bytes are cut off */
export function readPeerMessage({ kind, bytes }: RelayMessage): PeerMessage | null {
  switch (kind) {
    case 'update':
      return { kind, ...splitGeneration(bytes) };
    case 'presence':
      return { kind, entries: decodePresence(bytes) };
    case 'renewed':
      return { kind, generation: Number(Buffer.from(bytes).toString()) };
    case 'narrowed':
    case 'proposals':
    case 'lesson':
      return null;
    default:
      return { kind };
  }
}

/** Tells all other nodes. */
export function tellNodes(relay: Relay, { kind, board }: BoardNews): void {
  relay.send(ACCESS_CHANNEL, { kind, bytes: Buffer.from(board) });
}

/** Hears what {@link tellNodes} says on the others, once the promise fulfils. */
export async function hearNodes(relay: Relay, hear: (news: BoardNews) => void): Promise<void> {
  await relay.join(ACCESS_CHANNEL, ({ kind, bytes }) => {
    if (kind === 'narrowed' || kind === 'proposals' || kind === 'lesson')
      hear({ kind, board: Buffer.from(bytes).toString() });
  });
}
