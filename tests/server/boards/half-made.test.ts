/** Boards whose making fails on the way, or is cut off. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { BEING_MADE } from '../../../server/boards/index.ts';
import { machineClock } from '../../../server/index.ts';
import { type BoardRecord, type Store, StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { startChild } from '../child-server.ts';
import { makeBoard, startTestServer, temporaryFolder } from '../test-server.ts';

const HOUR_MS = 60 * 60 * 1000;

/** Links that cannot be written, or not yet, when told so. */
class WilfulLinks extends SqliteAccessStore {
  isFailing = false;
  /** Those that wait to be written. */
  held: (() => void)[] | null = null;
  /** Boards of which links were written. */
  readonly linked: string[] = [];

  override async addLink(...args: Parameters<SqliteAccessStore['addLink']>): Promise<void> {
    if (this.isFailing) throw new Error('the disk is full');
    if (this.held) await new Promise<void>((resolve) => this.held?.push(resolve));
    this.linked.push(args[0].boardId);
    return super.addLink(...args);
  }
}

/** A store from which some boards cannot be removed, or none. */
class StickyStore extends MemoryStore {
  stuck: (board: string) => boolean = () => false;

  override removeBoard(id: string): Promise<boolean> {
    return this.stuck(id) ? Promise.reject(new StoreError('unavailable', 'stuck')) : super.removeBoard(id);
  }
}

/** A store that is read and takes nothing, when told so. */
class FullStore extends MemoryStore {
  isFull = false;

  override putRecord(...args: Parameters<MemoryStore['putRecord']>): Promise<boolean> {
    return this.isFull ? Promise.reject(new StoreError('full', 'no room')) : super.putRecord(...args);
  }
}

async function boardsIn(store: Store): Promise<readonly string[]> {
  return (await store.boardsOfKind('board')).map((board: BoardRecord) => board.id);
}

test('[V1] a board that nobody could be made the owner of is not kept', async () => {
  const store = new MemoryStore();
  const links = new WilfulLinks(':memory:');
  const server = await startAccessServer({ store }, links);
  const maker = new Person(server);
  const { id } = await maker.makeBoard();
  links.isFailing = true;
  for (const path of ['/api/boards', `/api/boards/${id}/copy`]) {
    const answer = await maker.ask('POST', path, {});
    expect([path, answer.status, answer.json.error]).toMatchObject([path, 500, { kind: 'internal' }]);
  }
  expect(await boardsIn(store)).toEqual([id]);
  links.isFailing = false;
  expect((await maker.ask('POST', `/api/boards/${id}/copy`, {})).status).toBe(201);
  await closeAccessServer(server);
});

test('[V338] killed between making a board and giving its owner link: it is swept, and nothing else', async () => {
  const folder = temporaryFolder();
  const env = { DATA_DIR: folder.path, LOG_LEVEL: 'info' };
  const server = await startChild(env);
  const made = await ask(`${server.http}/api/boards`, { method: 'POST', body: '{}' });
  const { id: whole } = (await made.json()) as { id: string };
  // Nobody can be made an owner while another program holds the file of the links.
  const links = new Database(join(folder.path, 'access.db'));
  links.exec('BEGIN EXCLUSIVE');
  const boards = new Database(join(folder.path, 'larkboard.db'));
  const ids = (): string[] =>
    (
      boards.prepare("SELECT id FROM boards WHERE kind = 'board' ORDER BY created_at").all() as BoardRecord[]
    ).map(({ id }) => id);
  const cutOff = ask(`${server.http}/api/boards`, { method: 'POST', body: '{}' }).catch(() => 'cut off');
  await until('the board is stored', () => ids().length === 2);
  await server.stop('SIGKILL');
  expect(await cutOff).toBe('cut off');
  links.exec('ROLLBACK');
  links.close();
  const early = await startChild(env);
  expect(ids().length).toBe(2);
  await early.stop('SIGTERM');
  // Two hours go by.
  boards.prepare('UPDATE boards SET created_at = created_at - ?').run(2 * HOUR_MS);
  const late = await startChild(env);
  expect(ids()).toEqual([whole]);
  expect(late.output()).toContain('"boards-swept","count":1');
  await late.stop('SIGTERM');
  boards.close();
  folder.remove();
});

test('[V338] a board that is being made on another node is not swept, until that has taken an hour', async () => {
  const [store, links, clock] = [new MemoryStore(), new WilfulLinks(':memory:'), new HandClock(machineClock)];
  const server = await startAccessServer({ store, clock }, links);
  const maker = new Person(server);
  const { id } = await maker.makeBoard();
  expect(await store.records(id, 'making')).toEqual([]);
  links.held = [];
  const answer = maker.ask('POST', `/api/boards/${id}/copy`, {});
  await until('its link waits', () => links.held?.length === 1);
  const other = await startAccessServer({ store, clock }, new SqliteAccessStore(':memory:'));
  expect(await boardsIn(store)).toHaveLength(2);
  clock.turn(HOUR_MS + 1);
  await until('it was swept', async () => (await boardsIn(store)).length === 1);
  expect(await boardsIn(store)).toEqual([id]);
  for (const write of links.held ?? []) write();
  links.held = null;
  // Who was still waiting hears that there is none.
  expect([(await answer).status, await boardsIn(store)]).toEqual([503, [id]]);
  expect(links.linked.filter((board) => board !== id)).toHaveLength(1);
  for (const board of links.linked) expect((await links.links(board)).length).toBe(board === id ? 1 : 0);
  await other.close();
  await closeAccessServer(server);
});

test('[V338] a board without an owner by design, or with one, stays; one of which it was settled goes', async () => {
  const [store, clock] = [new MemoryStore(), new HandClock(machineClock)];
  // Where there are no links, and from a release that knew of no such record.
  const open = await startTestServer({ store, clock });
  const ownerless = await makeBoard(open);
  const links = new SqliteAccessStore(':memory:');
  const restarted = (): Promise<AccessServer> => startAccessServer({ store, clock }, links);
  const server = await restarted();
  const maker = new Person(server);
  const [{ id: owned }, { id: going }] = [await maker.makeBoard(), await maker.makeBoard()];
  // As where the process ended just before the record went, and in the middle of sweeping.
  await store.putRecord({ ...BEING_MADE, board: owned });
  await store.putRecord({ ...BEING_MADE, board: going, about: 'swept' });
  clock.turn(2 * HOUR_MS);
  await until('it was swept', async () => (await boardsIn(store)).length === 2);
  expect([...(await boardsIn(store))].sort()).toEqual([ownerless, owned].sort());
  await until('the record is gone', async () => (await store.records(owned, 'making')).length === 0);
  expect((await maker.ask('GET', `/api/boards/${owned}`)).status).toBe(200);
  await closeAccessServer(server);
  await open.close();
});

test('[V338] a store that takes nothing keeps no server from starting; what is half made goes later', async () => {
  const [store, clock] = [new FullStore(), new HandClock(machineClock)];
  const record = { id: 'half', kind: 'board', createdAt: clock.now() - 2 * HOUR_MS } as const;
  await store.addBoard(record, [], [BEING_MADE]);
  store.isFull = true;
  const server = await startAccessServer({ store, clock });
  expect(await boardsIn(store)).toEqual(['half']);
  store.isFull = false;
  clock.turn(HOUR_MS);
  await until('it was swept', async () => (await boardsIn(store)).length === 0);
  await closeAccessServer(server);
});

test('[V338] one that cannot be removed keeps none of the others, and no server from starting', async () => {
  const [store, clock] = [new StickyStore(), new HandClock(machineClock)];
  const createdAt = clock.now() - 2 * HOUR_MS;
  for (const id of ['a', 'b', 'c']) {
    await store.addBoard({ id, kind: 'board', createdAt }, [], [BEING_MADE]);
    await store.addBoard({ id: `branch-${id}`, kind: 'branch', createdAt }, []);
  }
  const branches = async (): Promise<readonly string[]> =>
    (await store.boardsOfKind('branch')).map(({ id }) => id);
  store.stuck = (id) => id.endsWith('a');
  const server = await startAccessServer({ store, clock });
  expect([await boardsIn(store), await branches()]).toEqual([['a'], ['branch-a']]);
  expect(server.lines.filter((line) => line.includes('"unattended-failed"'))).toHaveLength(2);
  store.stuck = () => false;
  clock.turn(HOUR_MS);
  await until('it was swept', async () => (await boardsIn(store)).length === 0);
  await closeAccessServer(server);
});

test('[V1] [V338] whoever hears that nothing was made hears why, also where it cannot be removed; it is swept', async () => {
  const [store, links, clock] = [new StickyStore(), new WilfulLinks(':memory:'), new HandClock(machineClock)];
  const server = await startAccessServer({ store, clock }, links);
  const maker = new Person(server);
  const { id } = await maker.makeBoard();
  store.stuck = () => true;
  links.isFailing = true;
  const answer = await maker.ask('POST', `/api/boards/${id}/copy`, {});
  expect([answer.status, answer.json.error]).toMatchObject([500, { kind: 'internal' }]);
  expect(server.lines.some((line) => line.includes('the disk is full'))).toBe(true);
  expect(await boardsIn(store)).toHaveLength(2);
  store.stuck = () => false;
  clock.turn(2 * HOUR_MS);
  await until('it was swept', async () => (await boardsIn(store)).length === 1);
  expect(await boardsIn(store)).toEqual([id]);
  await closeAccessServer(server);
});

test('[V338] [V163] an archive says nothing of how its board was made', async () => {
  const store = new MemoryStore();
  const server = await startAccessServer({ store });
  const maker = new Person(server);
  const { id } = await maker.makeBoard();
  await store.putRecord({ ...BEING_MADE, board: id });
  const archive = await ask(`${server.http}/api/boards/${id}/archive`, { headers: { cookie: maker.cookie } });
  expect(archive.status).toBe(200);
  expect(Buffer.from(await archive.arrayBuffer()).includes('making')).toBe(false);
  await closeAccessServer(server);
});
