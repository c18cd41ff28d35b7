/** What waits for what another node has stored. */
import { afterEach, expect, test } from 'vitest';
import * as Y from 'yjs';
import { Design } from '../../../engine/document/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import type { Relay } from '../../../server/relay/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { type Store, type StoredRow, StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/limits.ts';
import type { Room } from '../../../server/sync/room.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { countingIds } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { KITES, openBareRoom } from '../bare-room.ts';
import { FaultyStore } from '../faulty-store.ts';

/** A store whose readings end when told to, each with what was there when it began. */
class SlowReads extends MemoryStore {
  readonly reads: (() => void)[] = [];
  isSlow = false;

  override load: MemoryStore['load'] = async (...args) => {
    const rows = await super.load(...args);
    if (!this.isSlow) return rows;
    return new Promise<readonly StoredRow[]>((resolve) => this.reads.push(() => resolve(rows)));
  };
}

const edit = (key: string): Uint8Array => {
  const doc = new Y.Doc();
  doc.getMap('meta').set(key, 'x');
  return Y.encodeStateAsUpdate(doc);
};

async function openRoom(store: Store, clock: HandClock, limits = DEFAULT_SYNC_LIMITS): Promise<Room> {
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  return openBareRoom(store, clock, { limits });
}

test('[V330] each who asks has what was stored before they asked, also while somebody else’s reading is under way', async () => {
  const store = new SlowReads();
  const room = await openRoom(store, new HandClock());
  store.isSlow = true;
  const has = (key: string): boolean => room.doc.getMap('meta').get(key) === 'x';
  const seen: (readonly [string, boolean, boolean])[] = [];
  const first = room.catchUp().then(() => seen.push(['first', has('one'), has('two')]));
  await until('a reading is under way', () => store.reads.length === 1);
  // Stored after that reading looked, so it does not hold them.
  await store.append(KITES, edit('one'));
  await store.append(KITES, edit('two'));
  const second = room.catchUp().then(() => seen.push(['second', has('one'), has('two')]));
  const third = room.catchUp().then(() => seen.push(['third', has('one'), has('two')]));
  await turnsOfTheLoop(3);
  expect(seen).toEqual([]);
  store.reads.shift()!();
  await until('the next reading is under way', () => store.reads.length === 1);
  expect(seen).toEqual([['first', false, false]]);
  store.reads.shift()!();
  await Promise.all([first, second, third]);
  expect(seen.slice(1)).toEqual([
    ['second', true, true],
    ['third', true, true],
  ]);
  expect(store.reads).toEqual([]);
  room.destroy();
});

test('[V330] who waits ten seconds is refused, and so is who waits for a room that is over', async () => {
  const store = new FaultyStore(new MemoryStore());
  const clock = new HandClock();
  const room = await openRoom(store, clock);
  store.fault = { kind: 'unavailable', when: 'before' };
  const outcome = (): Promise<unknown> => room.catchUp().catch((cause: unknown) => cause);
  const late = outcome();
  clock.turn(9_999);
  await turnsOfTheLoop(3);
  const over = outcome();
  clock.turn(1);
  const refusal = await late;
  expect(refusal).toBeInstanceOf(StoreError);
  expect(refusal).toMatchObject({ kind: 'unavailable' });
  room.destroy();
  expect(await over).toMatchObject({ kind: 'unavailable' });
});

test('[V330] [V103] a room in which nobody is ends, not renewed, where the store cannot be read', async () => {
  const store = new FaultyStore(new MemoryStore());
  const clock = new HandClock();
  const room = await openRoom(store, clock, { ...DEFAULT_SYNC_LIMITS, renewBytes: 1 });
  store.fault = { kind: 'unavailable', when: 'before' };
  let isRenewed: boolean | null = null;
  const renewing = room.renew().then((done) => {
    isRenewed = done;
  });
  clock.turn(500);
  await turnsOfTheLoop(3);
  expect(isRenewed).toBeNull();
  clock.turn(10_000);
  await renewing;
  expect(isRenewed).toBe(false);
  room.destroy();
});

/** A relay on which nothing that is sent arrives, as when it is down and has not been noticed yet. */
function deaf(relay: Relay): Relay {
  return {
    isShared: true,
    isUp: true,
    join: (room, hear) => relay.join(room, hear),
    send: () => {},
    onGap: (listener) => relay.onGap(listener),
    close: () => relay.close(),
  };
}

const servers: AccessServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await closeAccessServer(server);
});

/** An owner who is at two nodes that do not hear of each other's edits. */
async function atTwoNodes(): Promise<{ owner: Person; there: Person; board: string }> {
  const [store, links, hub] = [new MemoryStore(), new MemoryAccessStore(), new MemoryRelayHub()];
  for (let node = 0; node < 2; node += 1)
    servers.push(await startAccessServer({ store, relay: deaf(hub.node()) }, links));
  const [owner, there] = [new Person(servers[0]!), new Person(servers[1]!)];
  const { id: board } = await owner.makeBoard();
  there.cookie = owner.cookie;
  return { owner, there, board };
}

/** Names the design as that person, on their node. */
async function title(person: Person, on: string, text: string): Promise<void> {
  const client = await person.socket(on, 'design').join();
  const design = new Design(client.doc, { makerId: 'x', newId: countingIds('x') });
  client.edit(() => expect(design.run({ kind: 'set-title', title: text })).toEqual({ ok: true }));
  design.dispose();
  client.mark(1);
  await client.savedMark(1);
}

test('[V330] [V180] a version named on one node holds what another node has stored', async () => {
  const { owner, there, board } = await atTwoNodes();
  await there.socket(board, 'design').join();
  await title(owner, board, 'reeds');
  const made = await there.ask('POST', `/api/boards/${board}/versions`, { name: 'first', person: 'Wren' });
  expect([made.status, made.json.title]).toEqual([201, 'reeds']);
});

test('[V330] [V-P13] a proposal that was changed on another node is not accepted as it was seen here', async () => {
  const { owner, there, board } = await atTwoNodes();
  const at = `/api/boards/${board}/proposals`;
  const { id } = (await owner.ask('POST', at, { title: 'warmer edge', name: 'Wren' })).json as { id: string };
  expect((await owner.ask('POST', `${at}/${id}/hand-in`)).status).toBe(200);
  await there.socket(id, 'design').join();
  const { seen } = (await there.ask('GET', `${at}/${id}/states`)).json;
  await title(owner, id, 'reeds');
  const answer = await there.ask('POST', `${at}/${id}/accept`, { seen, word: '', isPart: false });
  expect([answer.status, answer.json.error]).toMatchObject([409, { kind: 'proposal-moved' }]);
});
