/** What nodes say to each other, as data and as the bytes that a relay carries. Nodes of two versions may talk during an update: what is there never changes. */
import { ACCESS_CHANNEL, type Relay, type RelayMessage } from '../relay/index.ts';
import { decodePresence, encodePresence, type PresenceEntry } from './presence-bytes.ts';

const NOTHING = new Uint8Array(0);

/** About one document. */
export type PeerMessage =
  /** It was stored. */
  | { readonly kind: 'update'; readonly update: Uint8Array }
  | { readonly kind: 'presence'; readonly entries: readonly PresenceEntry[] }
  /** A generation has begun. */
  | { readonly kind: 'renewed'; readonly generation: number }
  /** Asks who is there; has the log read anew; says that the board is gone; asks whether somebody is in; says so. */
  | { readonly kind: 'present?' | 'reload' | 'removed' | 'open?' | 'open' };

/** About a board: somebody's rights there became less, or its proposals are others. */
export interface BoardNews {
  readonly kind: 'narrowed' | 'proposals';
  readonly board: string;
}

/** Tells the other nodes that have the document open. */
export function tellPeers(relay: Relay, room: string, message: PeerMessage): void {
  relay.send(room, { kind: message.kind, bytes: bytesOf(message) });
}

function bytesOf(message: PeerMessage): Uint8Array {
  switch (message.kind) {
    case 'update':
      return message.update;
    case 'presence':
      return encodePresence(message.entries);
    case 'renewed':
      return Buffer.from(String(message.generation));
    default:
      return NOTHING;
  }
}

/** What another node says of a document; null where it is nothing that one says of documents. @throws Error when its bytes are cut off */
export function readPeerMessage({ kind, bytes }: RelayMessage): PeerMessage | null {
  switch (kind) {
    case 'update':
      return { kind, update: bytes };
    case 'presence':
      return { kind, entries: decodePresence(bytes) };
    case 'renewed':
      return { kind, generation: Number(Buffer.from(bytes).toString()) };
    case 'narrowed':
    case 'proposals':
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
    if (kind === 'narrowed' || kind === 'proposals') hear({ kind, board: Buffer.from(bytes).toString() });
  });
}
