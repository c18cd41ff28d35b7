import { expect, it } from 'vitest';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { DocumentAddress, StoredRow } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';
import { RawClient } from '../raw-client.ts';
import { relayContract } from '../relay-contract.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

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

/** A store whose reading can be held up. */
class SlowStore extends MemoryStore {
  held: Promise<void> | null = null;

  override async load(address: DocumentAddress): Promise<readonly StoredRow[]> {
    await this.held;
    return super.load(address);
  }
}

it('[V95] people go on editing while a node waits for what the relay lost', async () => {
  const hub = new MemoryRelayHub();
  const store = new SlowStore();
  const other = hub.node();
  const here = await startTestServer({ store, relay: hub.node() });
  const there = await startTestServer({ store, relay: other });
  const board = await makeBoard(here);
  const a = await new RawClient(`${here.ws}/${board}/design`).join();
  const b = await new RawClient(`${there.ws}/${board}/design`).join();
  const edit = async (client: RawClient, key: string, mark: number): Promise<void> => {
    client.edit((doc) => doc.getMap('meta').set(key, mark));
    client.mark(mark);
    await client.savedMark(mark);
  };
  let letGo = (): void => {};
  other.setUp(false);
  await edit(a, 'lost on the way', 1);
  store.held = new Promise((resolve) => {
    letGo = resolve;
  });
  other.setUp(true);
  // Builds on the lost one, so the other node can't place it yet.
  await edit(a, 'after it', 2);
  await edit(b, 'meanwhile', 1);
  await edit(b, 'meanwhile too', 2);
  expect(b.doc.getMap('meta').has('after it')).toBe(false);
  letGo();
  const keys = ['lost on the way', 'after it', 'meanwhile', 'meanwhile too'];
  await until('both have all', () =>
    [a, b].every(({ doc }) => keys.every((key) => doc.getMap('meta').has(key))),
  );
  expect(b.closeCode).toBeNull();
  a.close();
  b.close();
  await here.close();
  await there.close();
});

/** What one node reads of a store: counted, and held up. */
class CountedStore extends FaultyStore {
  held: Promise<void> | null = null;
  running = 0;
  most = 0;
  read = 0;

  override load: FaultyStore['load'] = async (address) => {
    this.running += 1;
    this.read += 1;
    this.most = Math.max(this.most, this.running);
    await this.held;
    this.running -= 1;
    return this.inner.load(address);
  };
}

it('[V308] after a return four documents at a time are read anew, on every node, and edits are stored meanwhile', async () => {
  const hub = new MemoryRelayHub();
  const shared = new MemoryStore();
  const stores = [new CountedStore(shared), new CountedStore(shared)] as const;
  const relays = [hub.node(), hub.node()] as const;
  const here = await startTestServer({ store: stores[0], relay: relays[0] });
  const there = await startTestServer({ store: stores[1], relay: relays[1] });
  const boards: string[] = [];
  const clients: RawClient[] = [];
  for (let i = 0; i < 12; i += 1) {
    const board = await makeBoard(here);
    boards.push(board);
    for (const server of [here, there])
      clients.push(await new RawClient(`${server.ws}/${board}/design`).join());
  }
  let letGo = (): void => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  relays[0].setUp(false);
  for (const store of stores) {
    store.held = held;
    store.most = 0;
    store.read = 0;
  }
  relays[0].setUp(true);
  // The node that was away reads anew, and has told the other to.
  await until('both read', () => stores.every(({ running }) => running >= 4));
  await turnsOfTheLoop(20);
  expect(stores.map(({ running }) => running)).toEqual([4, 4]);
  for (const client of clients.slice(-2)) {
    client.edit((doc) => doc.getMap('meta').set('meanwhile', 1));
    client.mark(1);
    await client.savedMark(1);
  }
  for (const store of stores) store.held = null;
  letGo();
  await until('all are read', () =>
    stores.every(({ read, running }) => read >= boards.length && running === 0),
  );
  expect(stores.map(({ most }) => most)).toEqual([4, 4]);
  for (const client of clients) client.close();
  await here.close();
  await there.close();
});
