import { afterAll, beforeAll, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { makeOwnBoard, startChild } from './child-server.ts';
import { RawClient } from './raw-client.ts';
import { makeBoard, startTestServer, type TestServer, temporaryFolder } from './test-server.ts';

let server: TestServer;

beforeAll(async () => {
  server = await startTestServer();
});

afterAll(async () => {
  await server.close();
});

/** A value as `/metrics` tells it; 0 where it is not told. */
async function told(name: string): Promise<number> {
  const text = await (await ask(`${server.http}/metrics`)).text();
  const line = text.split('\n').find((one) => one.startsWith(`${name} `));
  return line === undefined ? 0 : Number(line.slice(name.length + 1));
}

it('[V192] connections and rooms count those there are', async () => {
  const board = await makeBoard(server);
  const clients = await Promise.all(
    ['design', 'design', 'talk'].map((part) => new RawClient(`${server.ws}/${board}/${part}`).join()),
  );
  expect([await told('larkboard_connections'), await told('larkboard_rooms')]).toEqual([3, 2]);
  for (const client of clients) client.close();
  await until('all have left', async () => (await told('larkboard_connections')) === 0);
  await until('the rooms are gone', async () => (await told('larkboard_rooms')) === 0);
});

it('[V192] each acknowledgement is timed', async () => {
  const board = await makeBoard(server);
  const client = await new RawClient(`${server.ws}/${board}/design`).join();
  const before = await told('larkboard_acknowledge_ms_count');
  client.edit((doc) => doc.getMap('meta').set('kite', 1));
  client.mark(1);
  await client.savedMark(1);
  expect(await told('larkboard_acknowledge_ms_count')).toBe(before + 1);
  expect(await told('larkboard_acknowledge_ms_bucket{le="+Inf"}')).toBe(before + 1);
  expect(await told('larkboard_updates_total')).toBeGreaterThan(0);
  client.close();
});

it('[V192] each refused message and each socket closed for cause is counted, by reason', async () => {
  const board = await makeBoard(server);
  const client = await new RawClient(`${server.ws}/${board}/design`).join();
  const closed = 'larkboard_closed_total{reason="malformed"}';
  const before = await told(closed);
  client.send(Uint8Array.of(77));
  await client.closed;
  expect(await told(closed)).toBe(before + 1);
  const refused = 'larkboard_refused_total{reason="origin"}';
  const stranger = new RawClient(`${server.ws}/${board}/design`, { origin: 'http://elsewhere.example' });
  await expect(stranger.opened).rejects.toThrow('403');
  expect(await told(refused)).toBe(1);
});

it('[V192] memory is told as it is', async () => {
  const resident = await told('larkboard_resident_bytes');
  expect(Math.abs(resident - process.memoryUsage.rss()) / resident).toBeLessThan(0.5);
  expect(await told('larkboard_heap_bytes')).toBeGreaterThan(1024 * 1024);
});

it('[V192] each commit to the disk is timed and its rows are counted', async () => {
  const folder = temporaryFolder();
  const child = await startChild({
    DATA_DIR: folder.path,
    ACCESS: 'address',
  });
  const { id } = await makeOwnBoard(child);
  const client = await new RawClient(`${child.ws}/${id}/design`).join();
  client.edit((doc) => doc.getMap('meta').set('kite', 1));
  client.mark(1);
  await client.savedMark(1);
  const text = await (await ask(`${child.http}/metrics`)).text();
  expect(text).toMatch(/^larkboard_committed_rows_total [1-9]/m);
  expect(text).toMatch(/^larkboard_commit_ms_count [1-9]/m);
  client.close();
  await child.stop('SIGTERM');
  folder.remove();
});
