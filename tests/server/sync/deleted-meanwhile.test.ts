import { afterEach, describe, expect, it } from 'vitest';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, sqliteStore, startTestServer, type TestServer, temporaryFolder } from '../test-server.ts';

/** A store that reads a document only once it is told to. */
class HeldStore extends FaultyStore {
  isHeld = false;
  waiting = 0;

  override load: FaultyStore['load'] = async (address) => {
    this.waiting += 1;
    await until('the reading may go on', () => !this.isHeld);
    return this.inner.load(address);
  };
}

const servers: TestServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.close();
});

async function start(options: Parameters<typeof startTestServer>[0]): Promise<TestServer> {
  const server = await startTestServer(options);
  servers.push(server);
  return server;
}

/** As deleting does it: first the store, then the sockets. */
async function remove(server: TestServer, board: string): Promise<void> {
  expect(await server.store.removeBoard(board)).toBe(true);
  server.rooms.closeBoard(board);
}

describe('a board that is deleted while somebody is let in', () => {
  it('[V191] is closed to them, and no room is left open', async () => {
    const store = new HeldStore(new MemoryStore());
    const server = await start({ store });
    const board = await makeBoard(server);
    store.isHeld = true;
    store.waiting = 0;
    const client = new RawClient(`${server.ws}/${board}/design`);
    await until('the document is being read', () => store.waiting === 1);
    await remove(server, board);
    store.isHeld = false;
    expect(await client.closed).toBe(CLOSE_CODES.unknownBoard);
    await until('the room is gone', () => !server.rooms.isOpen(board, 'design'));
    expect(server.rooms.recordOf({ board, part: 'design' })).toBe(null);
  });

  it('[V191] is closed to them also where it was another node that deleted it', async () => {
    const hub = new MemoryRelayHub();
    const shared = new MemoryStore();
    const store = new HeldStore(shared);
    const here = await start({ store, relay: hub.node() });
    const there = await start({ store: shared, relay: hub.node() });
    const board = await makeBoard(there);
    // The board is known here before it goes; nobody hears of its going, since nobody is in the room.
    store.isHeld = true;
    store.waiting = 0;
    store.board = async (id) => {
      const record = await shared.board(id);
      if (store.waiting === 0 && record !== null) await remove(there, id);
      return record;
    };
    const client = new RawClient(`${here.ws}/${board}/design`);
    await until('the document is being read', () => store.waiting === 1);
    store.isHeld = false;
    expect(await client.closed).toBe(CLOSE_CODES.unknownBoard);
    await until('the room is gone', () => !here.rooms.isOpen(board, 'design'));
  });

  it('[V191] is closed to those who come while the last of it is still being left', async () => {
    const store = new HeldStore(new MemoryStore());
    const server = await start({ store });
    const board = await makeBoard(server);
    const inside = await new RawClient(`${server.ws}/${board}/design`).join();
    await remove(server, board);
    const late = new RawClient(`${server.ws}/${board}/design`);
    expect(await inside.closed).toBe(CLOSE_CODES.deleted);
    expect(await late.closed).toBe(CLOSE_CODES.unknownBoard);
    await until('the room is gone', () => !server.rooms.isOpen(board, 'design'));
  });
});

it('[V65] a board that was looked up a moment ago is not there once it is removed', async () => {
  const folder = temporaryFolder();
  const store = sqliteStore(folder.path);
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 1 }, []);
  expect(await store.board('kites')).toEqual({ id: 'kites', kind: 'board', createdAt: 1 });
  const looking = [store.board('kites'), store.removeBoard('kites'), store.board('kites')];
  await Promise.all(looking);
  expect(await store.board('kites')).toBe(null);
  await store.close();
  await expect(store.board('kites')).rejects.toMatchObject({ kind: 'closed' });
  folder.remove();
});
