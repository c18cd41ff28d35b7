/** Versions that are kept by themselves: when, and when not. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../engine/document/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { type Store, StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { Versions } from '../../../server/versions/index.ts';
import { RECORDER_TIMES } from '../../../server/versions/recorder.ts';
import { snapshotOf } from '../../../server/versions/snapshot.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, sqliteStore, startTestServer, type TestServer, temporaryFolder } from '../test-server.ts';

const { quietMs, busyMs, edits, leastMs } = RECORDER_TIMES;

/** A store whose records fail when told to. */
class FailingRecords extends MemoryStore {
  isFailing = false;

  override async putRecord(...args: Parameters<Store['putRecord']>): ReturnType<Store['putRecord']> {
    if (this.isFailing) throw new StoreError('full', 'no room');
    return super.putRecord(...args);
  }
}

let clock: number;
let store: FailingRecords;
let server: TestServer;
let board: string;
let maker: RawClient;
let hub: MemoryRelayHub;
let mark = 0;

beforeEach(async () => {
  clock = 1_800_000_000_000;
  store = new FailingRecords();
  hub = new MemoryRelayHub();
  server = await startTestServer({ store, relay: hub.node(), now: () => clock });
  board = await makeBoard(server);
  maker = await new RawClient(`${server.ws}/${board}/design`).join();
});
afterEach(async () => {
  maker.close();
  await server.close();
});

/** One edit that is on the disk: another title. */
async function edit(title: string, by = maker): Promise<void> {
  const key = [...by.doc.getMap('meta').keys()].find((one) => one.endsWith('.title'))!;
  by.edit((doc) => doc.getMap('meta').set(key, title));
  mark += 1;
  by.mark(mark);
  await by.savedMark(mark);
}

async function kept(): Promise<readonly string[]> {
  return (await server.versions.list(board)).map(({ title }) => title);
}

async function wait(ms: number): Promise<void> {
  clock += ms;
  await server.recorder.sweep();
}

describe('automatic versions', () => {
  it('[V335] a clock that is set back by a day holds up none of them', async () => {
    await edit('one');
    await wait(quietMs);
    await edit('two');
    await wait(-24 * 60 * 60_000);
    await wait(quietMs);
    expect([...(await kept())].sort()).toEqual(['kites', 'one', 'two']);
  });

  it('[V135] after a quiet time: the board before the first edit, and as it is then', async () => {
    await edit('one');
    await edit('two');
    await wait(quietMs - 1);
    expect(await kept()).toEqual(['kites']);
    await wait(1);
    expect(await kept()).toEqual(['kites', 'two']);
    await edit('three');
    await wait(quietMs);
    expect(await kept()).toEqual(['kites', 'two', 'three']);
    const [first] = await server.versions.list(board);
    const doc = new Y.Doc();
    Y.applyUpdate(doc, (await server.versions.state(board, first!.id)) as Uint8Array);
    expect(readDesign(doc).board).toMatchObject({ title: 'kites', pattern: { rows: 12 } });
  });

  it('[V136] while edits go on: after some minutes, or after many of them', async () => {
    expect(busyMs).toBe(120_000);
    for (let n = 0; n * 30_000 < busyMs; n += 1) {
      await edit(`busy ${n}`);
      await wait(30_000);
    }
    expect(await kept()).toEqual(['kites', `busy ${busyMs / 30_000 - 1}`]);
    const before = (await kept()).length;
    for (let n = 0; n < edits; n += 1) await edit(`many ${n}`);
    await wait(leastMs);
    expect((await kept()).slice(before)).toEqual([`many ${edits - 1}`]);
    // The next many come at once: not before the least time has passed.
    for (let n = 0; n < edits; n += 1) await edit(`more ${n}`);
    await wait(leastMs - 1);
    expect(await kept()).toHaveLength(before + 1);
    await wait(1);
    expect((await kept()).at(-1)).toBe(`more ${edits - 1}`);
  });

  it('[V137] when the last has left, and not before', async () => {
    const other = await new RawClient(`${server.ws}/${board}/design`).join();
    await edit('mine');
    maker.close();
    await until('one is left', () => server.rooms.connections.size === 1);
    await wait(0);
    expect(await kept()).toEqual(['kites']);
    other.close();
    await until('the room is gone', () => server.rooms.size === 0);
    expect(await kept()).toEqual(['kites', 'mine']);
  });

  it('[V137] those of one millisecond stand in the order in which they were kept', async () => {
    const snapshot = snapshotOf(maker.doc)!;
    const wanted = Array.from({ length: 12 }, (_, n) => `turn ${n}`);
    for (const name of wanted) await server.versions.name(board, snapshot, { name, by: null });
    const list = await server.versions.list(board);
    expect(new Set(list.map(({ at }) => at)).size).toBe(1);
    expect(list.map(({ name }) => name)).toEqual(wanted);
  });

  it('[V138] none of an unchanged board, however often it is opened, looked at or set back', async () => {
    await edit('one');
    await wait(quietMs);
    expect(await kept()).toEqual(['kites', 'one']);
    for (let n = 0; n < 3; n += 1) {
      const visitor = await new RawClient(`${server.ws}/${board}/design`).join();
      await ask(`${server.http}/api/boards/${board}`);
      visitor.close();
      await wait(quietMs);
    }
    // There and back again is no change.
    await edit('two');
    await edit('one');
    await wait(quietMs);
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    expect(await kept()).toEqual(['kites', 'one']);
    // Talk is not the design.
    const talker = await new RawClient(`${server.ws}/${board}/talk`).join();
    talker.edit((doc) => doc.getMap('meta').set('version', 1));
    await talker.reached();
    await wait(quietMs);
    talker.close();
    expect(await kept()).toEqual(['kites', 'one']);
  });

  it('[V138] an import is an edit like any other', async () => {
    await server.boards.replace(board, { ...(await server.boards.read(board)), title: 'imported' });
    await wait(quietMs);
    expect(await kept()).toEqual(['kites', 'imported']);
  });

  it('[V139] what cannot be kept costs no edit that needs no version; it is kept as soon as it can be', async () => {
    await edit('one');
    store.isFailing = true;
    await wait(quietMs);
    expect(await kept()).toEqual(['kites']);
    expect(server.lines.join()).toContain('version-failed');
    await edit('two');
    store.isFailing = false;
    await wait(quietMs);
    expect(await kept()).toEqual(['kites', 'two']);
  });

  it('[V139] the end of the process keeps what was not kept yet', async () => {
    const folder = temporaryFolder();
    const first = await startTestServer({ store: sqliteStore(folder.path) });
    const own = await makeBoard(first);
    await edit('last words', await new RawClient(`${first.ws}/${own}/design`).join());
    expect((await first.versions.list(own)).map(({ title }) => title)).toEqual(['kites']);
    await first.close();
    const again = sqliteStore(folder.path);
    const list = await new Versions({ store: again, now: () => clock }).list(own);
    expect(list.map(({ title }) => title)).toEqual(['kites', 'last words']);
    await again.close();
    folder.remove();
  });

  it('[V139] a large design is read in a thread, and is the same version', async () => {
    const worker = new URL('../../../dist/server/worker.js', import.meta.url);
    const second = await startTestServer({ worker, now: () => clock });
    const made = await ask(`${second.http}/api/boards`, {
      method: 'POST',
      body: JSON.stringify({ strings: 40, rows: 60, title: 'wide' }),
    });
    const { id } = (await made.json()) as { id: string };
    const by = await new RawClient(`${second.ws}/${id}/design`).join();
    // A past of many overwritten values makes it large.
    for (let n = 0; n < 40; n += 1) by.edit((doc) => doc.getMap('meta').set(`n${n}`, 'x'.repeat(2000)));
    await edit('wider', by);
    clock += quietMs;
    await second.recorder.sweep();
    const list = await second.versions.list(id);
    expect(list.map(({ title, strings, rows }) => [title, strings, rows])).toEqual([
      ['wide', 40, 60],
      ['wider', 40, 60],
    ]);
    const hold = await second.rooms.hold({ board: id, part: 'design' });
    expect(hold.room.encodedState().length).toBeGreaterThan(64 * 1024);
    expect(list.at(-1)?.digest).toBe(snapshotOf(hold.room.doc)?.digest);
    hold.release();
    by.close();
    await second.close();
  });

  it('[V139] nodes that have the same room open keep it once, one after the other', async () => {
    const second = await startTestServer({ store, relay: hub.node(), now: () => clock });
    await edit('one');
    await wait(quietMs);
    const there = await new RawClient(`${second.ws}/${board}/design`).join();
    await edit('two', there);
    await until('the first node has it', async () => (await server.boards.read(board)).title === 'two');
    clock += quietMs;
    await second.recorder.sweep();
    await server.recorder.sweep();
    expect(await kept()).toEqual(['kites', 'one', 'two']);
    there.close();
    await until('gone', () => second.rooms.size === 0);
    expect(await kept()).toEqual(['kites', 'one', 'two']);
    await second.close();
  });
});
