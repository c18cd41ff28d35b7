import { spawnSync } from 'node:child_process';
import { openSync, readFileSync, renameSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { machineClock } from '../../../server/index.ts';
import {
  type DocumentAddress,
  SqliteCore,
  SqliteStore,
  type Store,
  StoreError,
} from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import type { StoreStep } from '../../../server/store/sqlite-core.ts';
import type { StoreFailure } from '../../../server/store/store.ts';
import { ask } from '../../support/ask.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, sqliteStore, startTestServer, type TestServer, temporaryFolder } from '../test-server.ts';

/** The file that `sqliteStore` opens. */
function databaseIn(folder: string): string {
  return join(folder, 'larkboard.db');
}

const design: DocumentAddress = { board: 'a', part: 'design' };
const APPEND_STEPS: readonly StoreStep[] = [
  'append:begin',
  'append:row',
  'append:record',
  'append:commit',
  'append:done',
];
const COMPACT_STEPS: readonly StoreStep[] = [
  'compact:begin',
  'compact:snapshot',
  'compact:rows',
  'compact:done',
];

const RENEW_STEPS: readonly StoreStep[] = ['renew:former', 'renew:rows', 'renew:done'];
const ADD_STEPS: readonly StoreStep[] = ['add:records', 'add:commit'];
const STEPS = [...APPEND_STEPS, ...COMPACT_STEPS, ...RENEW_STEPS];

/** A record that goes with the rows. */
const kept = { board: 'a', kind: 'version', id: 'v', about: '{}', bytes: Buffer.of(5) };

/** What the document holds after the write of a step, where it happened. */
function bytesAfter(step: StoreStep): readonly string[] {
  if (step.startsWith('append')) return ['1', '2', '3'];
  return step.startsWith('compact') ? ['1,1'] : ['7'];
}

function bytesIn(core: SqliteCore): string[] {
  return core.load(design).map((row) => [...row.bytes].join());
}

describe('a fault between two steps of the store', () => {
  it.each(STEPS)('[V70] thrown at %s: all or nothing', (step) => {
    const folder = temporaryFolder();
    const file = join(folder.path, 'x.db');
    let isArmed = false;
    const core = new SqliteCore(file, {
      onStep: (now) => {
        if (isArmed && now === step) throw new Error(`fault at ${now}`);
      },
    });
    core.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    const [seq] = core.append([{ address: design, bytes: Uint8Array.of(1) }]);
    const one = Number(seq);
    isArmed = true;
    const attempt = (): unknown => {
      if (step.startsWith('append'))
        return core.commit(
          [
            { address: design, bytes: Uint8Array.of(2) },
            { address: design, bytes: Uint8Array.of(3) },
          ],
          [{ kind: 'put', record: kept }],
        );
      if (step.startsWith('compact')) return core.compact(design, [one], Uint8Array.of(1, 1));
      return core.renew(design, {
        seqs: [one],
        snapshot: Uint8Array.of(7),
        generation: 1,
        drawn: '',
        lastState: Uint8Array.of(1),
      });
    };
    expect(attempt).toThrow(StoreError);
    const isCommitted = step.endsWith(':done');
    const before = ['1'];
    const after = bytesAfter(step);
    expect(bytesIn(core)).toEqual(isCommitted ? after : before);
    expect(core.record('a', 'version', 'v')).toEqual(step === 'append:done' ? kept : null);
    isArmed = false;
    // The store goes on: the same bytes again do no harm.
    core.append([{ address: design, bytes: Uint8Array.of(2) }]);
    core.close();
    const again = new SqliteCore(file);
    expect(bytesIn(again)).toEqual([...(isCommitted ? after : before), '2']);
    expect(again.check().faults).toEqual([]);
    again.close();
    folder.remove();
  });

  it.each(ADD_STEPS)('[V70] [V60] thrown at %s: no board, or one with all it begins with', (step) => {
    const folder = temporaryFolder();
    let isArmed = true;
    const core = new SqliteCore(join(folder.path, 'x.db'), {
      onStep: (now) => {
        if (isArmed && now === step) throw new Error(`fault at ${now}`);
      },
    });
    const { board: _, ...first } = kept;
    const add = (): boolean =>
      core.addBoard(
        { id: 'a', kind: 'board', createdAt: 1 },
        [{ part: 'design', bytes: Buffer.of(1) }],
        [first],
      );
    expect(add).toThrow(StoreError);
    expect([core.board('a'), core.record('a', 'version', 'v'), bytesIn(core)]).toEqual([null, null, []]);
    isArmed = false;
    expect([add(), core.record('a', 'version', 'v'), bytesIn(core)]).toEqual([true, kept, ['1']]);
    core.close();
    folder.remove();
  });

  it.each(STEPS)('[V71] the process killed at %s: all or nothing', (step) => {
    const folder = temporaryFolder();
    const file = join(folder.path, 'x.db');
    const module = new URL('../../../dist/server/store/sqlite-core.js', import.meta.url).href;
    const script = `
      const { SqliteCore } = await import(${JSON.stringify(module)});
      let isArmed = false;
      const core = new SqliteCore(${JSON.stringify(file)}, {
        onStep: (now) => { if (isArmed && now === ${JSON.stringify(step)}) process.kill(process.pid, 'SIGKILL'); },
      });
      const design = { board: 'a', part: 'design' };
      core.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
      const [one] = core.append([{ address: design, bytes: Uint8Array.of(1) }]);
      isArmed = true;
      if (${step.startsWith('append')}) 
        core.commit(
          [{ address: design, bytes: Uint8Array.of(2) }, { address: design, bytes: Uint8Array.of(3) }],
          [{ kind: 'put', record: { board: 'a', kind: 'version', id: 'v', about: '{}', bytes: Uint8Array.of(5) } }],
        );
      else if (${step.startsWith('compact')}) core.compact(design, [one], Uint8Array.of(1, 1));
      else core.renew(design, { seqs: [one], snapshot: Uint8Array.of(7), generation: 1, drawn: '', lastState: Uint8Array.of(1) });
      // The step did not come: the process ends without a signal, and the test says so.`;
    const child = spawnSync(process.execPath, ['--input-type=module', '-e', script]);
    expect(child.signal, child.stderr.toString()).toBe('SIGKILL');
    const core = new SqliteCore(file);
    const after = bytesAfter(step);
    expect(bytesIn(core)).toEqual(step.endsWith(':done') ? after : ['1']);
    expect(core.lastState(design, 1)).toEqual(step === 'renew:done' ? Buffer.of(1) : null);
    expect(core.record('a', 'version', 'v')).toEqual(step === 'append:done' ? kept : null);
    expect(core.check().faults).toEqual([]);
    core.close();
    folder.remove();
  });
});

async function storedTitle(store: Store, board: string): Promise<unknown> {
  const doc = new Y.Doc();
  for (const row of await store.load({ board, part: 'design' })) Y.applyUpdate(doc, row.bytes);
  return doc.getMap('meta').get('note');
}

async function enter(server: TestServer, board: string): Promise<RawClient> {
  const client = await new RawClient(`${server.ws}/${board}/design`).join();
  client.mark(1);
  await client.savedMark(1);
  return client;
}

describe('a room whose store fails', () => {
  const kinds: readonly StoreFailure[] = ['full', 'read-only', 'locked', 'damaged', 'unavailable'];
  it.each(kinds.flatMap((kind) => [[kind, 'before'] as const, [kind, 'after'] as const]))(
    '[V72] %s %s the commit: says so, takes no edits, acknowledges nothing, and loses nothing when it recovers',
    async (kind, when) => {
      const folder = temporaryFolder();
      const store = new FaultyStore(sqliteStore(folder.path));
      const clock = new HandClock(machineClock);
      const server = await startTestServer({ store, clock });
      const board = await makeBoard(server);
      const a = await enter(server, board);
      const b = await enter(server, board);
      store.fault = { kind, when };
      a.edit((doc) => doc.getMap('meta').set('note', 'in flight'));
      a.mark(2);
      await a.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
      await b.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
      b.edit((doc) => doc.getMap('meta').set('note', 'made while it failed'));
      b.mark(2);
      // Both were read, and the disk was tried again since.
      await Promise.all([a.reached(), b.reached()]);
      for (let times = 0; times < 2; times += 1) {
        // Before the first edit of a visit stands a version, which is tried again as well.
        const tried = store.tries;
        clock.turn(2_000);
        await until('the store is tried again', () => store.tries > tried);
      }
      await Promise.all([a.reached(), b.reached()]);
      expect(a.heard.some((one) => one.kind === 'saved' && one.mark === 2)).toBe(false);
      expect(b.heard.some((one) => one.kind === 'saved' && one.mark === 2)).toBe(false);
      expect(a.doc.getMap('meta').get('note')).toBe('in flight');
      store.fault = null;
      clock.turn(2_000);
      await a.waitFor((one) => one.kind === 'notice' && one.code === 'store-ok');
      await a.savedMark(2);
      await b.savedMark(2);
      await until('all equal', () => a.doc.getMap('meta').get('note') === b.doc.getMap('meta').get('note'));
      expect(await storedTitle(store.inner, board)).toBe(a.doc.getMap('meta').get('note'));
      // b had read a's edit when it made its own, so b's is the later one.
      expect(a.doc.getMap('meta').get('note')).toBe('made while it failed');
      a.close();
      b.close();
      await server.close();
      folder.remove();
    },
  );

  it('[V43] [V72] who has answered while the store failed is not put out for what could not be taken', async () => {
    const store = new FaultyStore(new MemoryStore());
    const clock = new HandClock(machineClock);
    const server = await startTestServer({ store, clock });
    const board = await makeBoard(server);
    const [a, b] = [await enter(server, board), await enter(server, board)];
    a.answers = false;
    a.doc.getMap('meta').set('note', 'not sent');
    a.edit((doc) => doc.getMap('meta').set('note', 'builds on it'));
    await until('it is asked', () => a.heard.filter(({ kind }) => kind === 'step1').length === 2);
    store.fault = { kind: 'full', when: 'before' };
    b.edit((doc) => doc.getMap('meta').set('word', 'x'));
    await b.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
    a.send(message(0, 1, Y.encodeStateAsUpdate(a.doc)));
    a.mark(2);
    await a.reached();
    for (let times = 0; times < 4; times += 1) {
      clock.turn(5_000);
      await a.reached();
    }
    expect(a.closeCode).toBeNull();
    a.answers = true;
    store.fault = null;
    clock.turn(5_000);
    await a.savedMark(2);
    expect(await storedTitle(store.inner, board)).toBe('builds on it');
    for (const client of [a, b]) client.close();
    await server.close();
  });

  it('[V73] a document that cannot be read is never written over', async () => {
    const folder = temporaryFolder();
    const store = new FaultyStore(sqliteStore(folder.path));
    const server = await startTestServer({ store });
    const board = await makeBoard(server);
    const before = await store.inner.load({ board, part: 'design' });
    store.fault = { kind: 'damaged', when: 'before' };
    const appends = store.appends;
    const refused = new RawClient(`${server.ws}/${board}/design`);
    expect(await refused.closed).toBe(4507);
    expect((await ask(`${server.http}/api/boards/${board}/file`)).status).toBe(503);
    store.fault = null;
    expect(store.appends).toBe(appends);
    expect(await store.inner.load({ board, part: 'design' })).toEqual(before);
    const client = await enter(server, board);
    client.close();
    await server.close();
    folder.remove();
  });

  it('[V74] everybody left while the disk failed: the room keeps the edits and stores them later', async () => {
    const folder = temporaryFolder();
    const store = new FaultyStore(sqliteStore(folder.path));
    const server = await startTestServer({ store });
    const board = await makeBoard(server);
    const a = await enter(server, board);
    store.fault = { kind: 'full', when: 'before' };
    a.edit((doc) => doc.getMap('meta').set('note', 'kept'));
    await a.waitFor((one) => one.kind === 'notice');
    a.close();
    await until('the socket is gone', () => server.rooms.connections.size === 0);
    expect(server.rooms.size).toBe(1);
    store.fault = null;
    await until('the room is gone', () => server.rooms.size === 0);
    expect(await storedTitle(store.inner, board)).toBe('kept');
    await server.close();
    folder.remove();
  });
});

describe('a real SQLite file in trouble', () => {
  it('[V75] full: refuses, goes on when there is space again', async () => {
    const folder = temporaryFolder();
    const open = (maxBytes: number): SqliteStore =>
      new SqliteStore({
        file: databaseIn(folder.path),
        workerFile: new URL('../../../dist/server/store/sqlite-worker.js', import.meta.url),
        clock: machineClock,
        maxBytes,
      });
    const store = open(200_000);
    await store.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, [
      { part: 'design', bytes: Uint8Array.of(1) },
    ]);
    await store.addBoard({ id: 'b', kind: 'board', createdAt: 1 }, [
      { part: 'design', bytes: new Uint8Array(100_000) },
    ]);
    await expect(store.append(design, new Uint8Array(150_000))).rejects.toMatchObject({ kind: 'full' });
    expect((await store.load(design)).length).toBe(1);
    await store.removeBoard('b');
    await store.append(design, new Uint8Array(50_000));
    expect((await store.check()).faults).toEqual([]);
    await store.close();
    folder.remove();
  });

  it('[V76] locked by another process: fails, and goes on when it lets go', async () => {
    const folder = temporaryFolder();
    const store = new SqliteStore({
      file: databaseIn(folder.path),
      workerFile: new URL('../../../dist/server/store/sqlite-worker.js', import.meta.url),
      clock: machineClock,
      busyMs: 50,
    });
    await store.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    const other = new Database(databaseIn(folder.path));
    other.exec('BEGIN IMMEDIATE');
    await expect(store.append(design, Uint8Array.of(1))).rejects.toMatchObject({ kind: 'locked' });
    other.exec('ROLLBACK');
    await store.append(design, Uint8Array.of(2));
    expect((await store.load(design)).map((row) => [...row.bytes])).toEqual([[2]]);
    other.close();
    await store.close();
    folder.remove();
  });

  it('[V77] a file that is not a database, and one with a damaged row, are refused and named', async () => {
    const folder = temporaryFolder();
    const file = databaseIn(folder.path);
    const core = new SqliteCore(file);
    core.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    const marker = Buffer.from('these very bytes are the row');
    const other = Buffer.from('and these are kept beside it');
    core.commit([{ address: design, bytes: marker }], [{ kind: 'put', record: { ...kept, bytes: other } }]);
    core.close();
    for (const bytes of [marker, other]) {
      const at = readFileSync(file).indexOf(bytes);
      expect(at).toBeGreaterThan(0);
      writeSync(openSync(file, 'r+'), Buffer.from('X'), 0, 1, at + 3);
    }
    const store = sqliteStore(folder.path);
    await expect(store.load(design)).rejects.toMatchObject({ kind: 'damaged' });
    await expect(store.record('a', 'version', 'v')).rejects.toMatchObject({ kind: 'damaged' });
    expect((await store.check()).faults).toEqual([
      'row 1 of a/design is not as it was written',
      'record version/v of a is not as it was written',
    ]);
    await store.close();
    writeSync(openSync(file, 'r+'), Buffer.from('not a database at all'), 0, 21, 0);
    const worse = sqliteStore(folder.path);
    await expect(worse.load(design)).rejects.toMatchObject({ kind: 'damaged' });
    await worse.close();
    folder.remove();
  });

  it('[V78] the file taken away under the server: nothing is acknowledged, all is kept when it is back', async () => {
    const folder = temporaryFolder();
    const server = await startTestServer({ store: sqliteStore(folder.path) });
    const board = await makeBoard(server);
    const a = await enter(server, board);
    const file = databaseIn(folder.path);
    renameSync(file, `${file}.away`);
    a.edit((doc) => doc.getMap('meta').set('note', 'kept'));
    a.mark(2);
    await a.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
    renameSync(`${file}.away`, file);
    await a.savedMark(2);
    a.close();
    await server.close();
    const store = sqliteStore(folder.path);
    expect(await storedTitle(store, board)).toBe('kept');
    await store.close();
    folder.remove();
  });
});
