/** What nodes say to each other comes over as it was said; bytes that are cut off are said to be. */
import { expect, it } from 'vitest';
import type { RelayMessage } from '../../../server/relay/index.ts';
import {
  hearNodes,
  type PeerMessage,
  readPeerMessage,
  tellNodes,
  tellPeers,
} from '../../../server/sync/peer-messages.ts';

/** A relay on which each hears what it says itself. */
function echo() {
  const said: (readonly [room: string, message: RelayMessage])[] = [];
  const hearers = new Map<string, (message: RelayMessage) => void>();
  const relay = {
    isShared: true,
    isUp: true,
    join: async (room: string, hear: (message: RelayMessage) => void) => {
      hearers.set(room, hear);
      return () => hearers.delete(room);
    },
    send: (room: string, message: RelayMessage) => {
      said.push([room, message]);
      hearers.get(room)?.(message);
    },
    onGap: () => {},
    close: async () => {},
  };
  return { relay, said };
}

it.each<PeerMessage>([
  { kind: 'update', update: Uint8Array.of(1, 2, 3), generation: 70_000 },
  { kind: 'update', update: Uint8Array.of(1, 2, 3), generation: null },
  { kind: 'pausing' },
  { kind: 'going-on' },
  { kind: 'renewed', generation: 12 },
  { kind: 'present?' },
  { kind: 'reload' },
  { kind: 'removed' },
  { kind: 'open?' },
  { kind: 'open' },
])('a message of a document comes over: $kind', (message) => {
  const { relay, said } = echo();
  tellPeers(relay, 'kites/design', message);
  expect(said[0]?.[0]).toBe('kites/design');
  expect(readPeerMessage(said[0]![1])).toEqual(message);
});

it('what is said of boards is no message of a document, and the other way round', async () => {
  const { relay, said } = echo();
  const heard: unknown[] = [];
  await hearNodes(relay, (news) => heard.push(news));
  tellNodes(relay, { kind: 'narrowed', board: 'kites' });
  tellNodes(relay, { kind: 'proposals', board: 'Drachen für Ada' });
  expect(heard).toEqual([
    { kind: 'narrowed', board: 'kites' },
    { kind: 'proposals', board: 'Drachen für Ada' },
  ]);
  expect(said.map(([, message]) => readPeerMessage(message))).toEqual([null, null]);
  relay.send(said[0]![0], { kind: 'reload', bytes: new Uint8Array(0) });
  expect(heard).toHaveLength(2);
});

it('presence whose bytes are cut off is said to be', () => {
  expect(() => readPeerMessage({ kind: 'presence', bytes: Uint8Array.of(1, 5) })).toThrow(Error);
});
