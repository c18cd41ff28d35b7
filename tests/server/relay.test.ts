import { expect, it } from 'vitest';
import { MemoryRelayHub } from '../../server/relay/index.ts';
import { MemoryStore } from '../../server/store/index.ts';
import { RawClient } from './raw-client.ts';
import { relayContract } from './relay-contract.ts';
import { makeBoard, startTestServer, until } from './test-server.ts';

relayContract('in memory', async () => {
  const hub = new MemoryRelayHub();
  const nodes = [hub.node(), hub.node(), hub.node()] as const;
  return {
    nodes,
    cut: async () => {
      for (const node of nodes) node.setUp(false);
    },
    mend: async () => {
      for (const node of nodes) node.setUp(true);
    },
    dispose: async () => {
      await Promise.all(nodes.map((node) => node.close()));
    },
  };
});

it('[V95] edits made while a node was cut off from the relay reach both sides when it is back', async () => {
  const hub = new MemoryRelayHub();
  const store = new MemoryStore();
  const [relay, other] = [hub.node(), hub.node()];
  const here = await startTestServer({ store, relay });
  const there = await startTestServer({ store, relay: other });
  const board = await makeBoard(here);
  const a = await new RawClient(`${here.ws}/${board}/design`).join();
  const b = await new RawClient(`${there.ws}/${board}/design`).join();
  relay.setUp(false);
  a.edit((doc) => doc.getMap('meta').set('from a', 1));
  b.edit((doc) => doc.getMap('meta').set('from b', 1));
  a.mark(1);
  b.mark(1);
  await Promise.all([a.savedMark(1), b.savedMark(1)]);
  expect(a.doc.getMap('meta').has('from b')).toBe(false);
  expect(b.doc.getMap('meta').has('from a')).toBe(false);
  relay.setUp(true);
  await until('both have both', () =>
    [a, b].every(({ doc }) => doc.getMap('meta').has('from a') && doc.getMap('meta').has('from b')),
  );
  a.close();
  b.close();
  await here.close();
  await there.close();
});
