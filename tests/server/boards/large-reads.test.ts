/** Reads of whole designs hold up no room. */
import { request } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Design } from '../../../engine/document/index.ts';
import { DesignReads, FILE, SUMMARY } from '../../../server/boards/design-reads.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import type { Room } from '../../../server/sync/index.ts';
import { Work } from '../../../server/work/index.ts';
import { ask } from '../../support/ask.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const THREAD = new URL('../../../dist/server/worker.js', import.meta.url);
/** A thread that says which job it was asked for, and does none. */
const REFUSING = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort } from 'node:worker_threads';
    parentPort.on('message', ({ name }) => parentPort.postMessage({ failure: 'in the thread: ' + name }));
  `)}`,
);

let server: TestServer;
afterEach(() => server.close());

async function makeLarge(rows = 2_000): Promise<string> {
  const made = await ask(`${server.http}/api/boards`, {
    method: 'POST',
    body: JSON.stringify({ strings: 200, rows, title: 'wide' }),
  });
  return ((await made.json()) as { id: string }).id;
}

/** Rows of a band of eight strings, as a board file spells them, of more than 64 KiB together. */
function largeRows(): readonly string[] {
  return Array.from({ length: 10_000 }, (_, row) => (row % 2 === 0 ? 'f f b f' : 'b f b'));
}

const get = (path: string): Promise<Response> => ask(`${server.http}/api${path}`);

describe('a large design', () => {
  it('[V281] is read in the thread by every address that needs all of it, a small one here', async () => {
    server = await startTestServer({ worker: REFUSING });
    const [small, large] = [await makeBoard(server), await makeLarge()];
    const asked: readonly (readonly [string, string, string])[] = [
      ['GET', '', 'design-summary'],
      ['GET', '/file', 'design-file'],
      ['POST', '/copy', 'design-copy'],
      ['POST', '/versions/keep', 'snapshot'],
      ['GET', '/archive', 'archive-pack'],
    ];
    for (const [method, path, job] of asked) {
      expect((await ask(`${server.http}/api/boards/${small}${path}`, { method })).status, path).toBeLessThan(
        300,
      );
      expect((await ask(`${server.http}/api/boards/${large}${path}`, { method })).status, path).toBe(500);
      expect(
        server.lines.filter((line) => line.includes(`in the thread: ${job}`)),
        path,
      ).toHaveLength(1);
    }
    // Of an archive it is not known before how much work it is.
    expect((await ask(`${server.http}/api/archives`, { method: 'POST', body: 'x' })).status).toBe(500);
    expect(server.lines.at(-2)).toContain('in the thread: archive-load');
  });

  it('[V281] is read in the thread as a file that is sent, and answered the same, faults too', async () => {
    server = await startTestServer({ worker: REFUSING });
    const small = await makeBoard(server);
    const file = (await (await get(`/boards/${small}/file`)).json()) as { piece: object };
    const large = { ...file, piece: { notes: 'n'.repeat(3_000) }, rows: largeRows() };
    const send = (method: string, path: string, body: unknown): Promise<Response> =>
      ask(`${server.http}/api/boards${path}`, { method, body: JSON.stringify(body) });
    expect((await send('PUT', `/${small}/file`, file)).status).toBe(200);
    expect((await send('POST', '', { file })).status).toBe(201);
    for (const [method, path, body, job] of [
      ['PUT', `/${small}/file`, large, 'sent-file'],
      ['POST', '', { file: large }, 'sent-board'],
    ] as const) {
      expect((await send(method, path, body)).status, job).toBe(500);
      expect(server.lines.filter((line) => line.includes(`in the thread: ${job}`))).toHaveLength(1);
    }
    const { store } = server;
    const answers: unknown[] = [];
    for (const worker of [THREAD, null]) {
      server = await startTestServer({ store, ...(worker && { worker }) });
      const bad = { ...large, rows: [...large.rows, 'no such knot'] };
      const made = await send('POST', '', { file: large });
      const { id, ...summary } = (await made.json()) as { id: string };
      answers.push([
        made.status,
        summary,
        await (await get(`/boards/${id}/file`)).json(),
        await (await send('PUT', `/${small}/file`, large)).json(),
        await (await send('PUT', `/${small}/file`, bad)).json(),
        await (await send('POST', '', { file: bad })).json(),
        await (await send('POST', '', { file: large, rows: 3 })).json(),
      ]);
    }
    expect(answers[0]).toEqual(answers[1]);
    expect(answers[0]).toMatchObject([
      201,
      { rows: largeRows().length },
      {},
      {},
      { error: {} },
      { error: {} },
      { error: {} },
    ]);
  });

  it('[V281] is answered the same from the thread', async () => {
    server = await startTestServer();
    const id = await makeLarge(400);
    const here = await Promise.all(
      ['', '/file'].map(async (path) => (await get(`/boards/${id}${path}`)).json()),
    );
    const plain = server;
    server = await startTestServer({ worker: THREAD, store: plain.store });
    const answer = await get(`/boards/${id}/file`);
    expect(answer.headers.get('content-type')).toBe('application/json');
    expect([await (await get(`/boards/${id}`)).json(), await answer.json()]).toEqual(here);
    const copy = (await (await ask(`${server.http}/api/boards/${id}/copy`, { method: 'POST' })).json()) as {
      id: string;
    };
    expect(await (await get(`/boards/${copy.id}/file`)).json()).toEqual(here[1]);
    const packed = await (await get(`/boards/${id}/archive`)).arrayBuffer();
    const loaded = await ask(`${server.http}/api/archives`, { method: 'POST', body: packed });
    expect(loaded.status).toBe(201);
    const { id: again, ...summary } = (await loaded.json()) as { id: string };
    expect(summary).toMatchObject({ title: 'wide', strings: 200, rows: 400, kind: 'board' });
    expect(await (await get(`/boards/${again}/file`)).json()).toEqual(here[1]);
    await plain.close();
  });

  it('[V282] is read once for all who ask at once, and its summary kept until it changes', async () => {
    server = await startTestServer();
    const id = await makeLarge();
    const { room, release } = await server.rooms.hold({ board: id, part: 'design' });
    const jobs: string[] = [];
    const work = new Work(null, machineClock);
    const counting = {
      read: (job: typeof SUMMARY, updates: readonly Uint8Array[]) => {
        jobs.push(job.name);
        return work.read(job, updates);
      },
    } as unknown as Work;
    const reads = new DesignReads(counting);
    const all = async (count: number): Promise<unknown[]> =>
      Promise.all(Array.from({ length: count }, () => reads.read(room as unknown as Room, SUMMARY)));
    expect(new Set((await all(40)).map((one) => JSON.stringify(one))).size).toBe(1);
    expect(jobs).toEqual(['design-summary']);
    await all(3);
    expect(jobs).toHaveLength(1);
    const client = await new RawClient(`${server.ws}/${id}/design`).join();
    client.edit((doc) => {
      const maker = new Design(doc, { makerId: 'm', newId: () => 'unused' });
      maker.run({ kind: 'set-title', title: 'wider' });
      maker.dispose();
    });
    client.mark(1);
    await client.savedMark(1);
    expect((await all(2))[0]).toEqual({ title: 'wider', strings: 200, rows: 2_000 });
    expect(jobs).toHaveLength(2);
    // Files are large: what is read at once is shared, nothing is kept.
    const file = (): Promise<unknown> => reads.read(room as unknown as Room, FILE);
    await Promise.all([file(), file()]);
    await file();
    expect(jobs.slice(2)).toEqual(['design-file', 'design-file']);
    release();
    client.close();
  });
});

describe('archives at once', () => {
  beforeEach(async () => {
    server = await startTestServer({ env: { MAX_ARCHIVE_BYTES: '1000000' } });
  });

  it('[V280] are bounded in bytes before any of them has come; there is room again when one has gone', async () => {
    const slow = request(`${server.http}/api/archives`, {
      method: 'POST',
      headers: { 'content-length': '900000' },
    });
    slow.on('error', () => {});
    slow.write('x');
    const load = (body: string): Promise<Response> =>
      ask(`${server.http}/api/archives`, { method: 'POST', body });
    await until('the first has room', async () => (await load('y'.repeat(200_000))).status === 503);
    const refused = await load('y'.repeat(200_000));
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '10']);
    expect(await refused.json()).toMatchObject({ error: { kind: 'busy' } });
    expect((await load('y')).status).toBe(422);
    slow.destroy();
    await until('there is room again', async () => (await load('y'.repeat(200_000))).status === 422);
  });
});

describe('whether the server is ready', () => {
  it('[V286] is asked of the store once in a second, whoever asks', async () => {
    class Asked extends MemoryStore {
      pings = 0;
      override async ping(): Promise<void> {
        this.pings += 1;
        if (this.pings === 2) throw new Error('away');
      }
    }
    const store = new Asked();
    const clock = new HandClock(machineClock);
    server = await startTestServer({ store, clock });
    const ready = async (): Promise<number> => (await ask(`${server.http}/readyz`)).status;
    const before = store.pings;
    const answers = await Promise.all(Array.from({ length: 50 }, ready));
    expect(new Set(answers)).toEqual(new Set([200]));
    expect(store.pings - before).toBeLessThanOrEqual(1 + Math.floor(clock.elapsed() / 1_000));
    const asked = store.pings;
    clock.turn(1_000);
    expect([await ready(), store.pings > asked]).toEqual([asked === 1 ? 503 : 200, true]);
    server.drain();
    expect(await ready()).toBe(503);
  });
});
