/** The server as `npm start` runs it, with its boards in a database and other nodes behind Redis. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { type ChildServer, makeOwnBoard, startChild } from '../server/child-server.ts';
import { temporaryFolder } from '../server/test-server.ts';
import { type Service, startPostgres, startRedis } from './real-services.ts';

const folder = temporaryFolder();
const dataDir = join(folder.path, 'data');
let postgres: Service;
let redis: Service;
let nodes: ChildServer[];

beforeAll(async () => {
  [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
  nodes = [];
});
afterAll(async () => {
  await Promise.all(nodes.map((node) => node.stop('SIGKILL')));
  await Promise.all([postgres.dispose(), redis.dispose()]);
  folder.remove();
});

async function start(): Promise<ChildServer> {
  const node = await startChild({
    DATABASE_URL: postgres.url,
    REDIS_URL: redis.url,
    DATA_DIR: dataDir,
    DRAIN_MS: '0',
    LOG_LEVEL: 'info',
  });
  nodes.push(node);
  return node;
}

/** What its log says of an event. */
const linesOf = (node: ChildServer, event: string): readonly string[] =>
  node
    .output()
    .split('\n')
    .filter((line) => line.includes(`"${event}"`));

it('[V93] [V95] [V96] [V81] nodes keep nothing on their own disk, say when Redis or the database goes and is back, and end with 0', async () => {
  const [one, two] = await Promise.all([start(), start()]);
  const { id, headers } = await makeOwnBoard(one, '{"title":"harbour"}');
  const titleOn = async (node: ChildServer): Promise<unknown> =>
    ((await (await ask(`${node.http}/api/boards/${id}`, { headers })).json()) as { title?: string }).title;
  expect(await titleOn(two)).toBe('harbour');
  expect(existsSync(dataDir)).toBe(false);
  const readyOn = async (node: ChildServer): Promise<number> => (await ask(`${node.http}/readyz`)).status;
  await redis.stop('kill');
  for (const node of nodes) await until('it says so', () => linesOf(node, 'relay-down').length === 1);
  expect(await Promise.all(nodes.map(readyOn))).toEqual([503, 503]);
  // Boards are there all the same.
  expect(await titleOn(one)).toBe('harbour');
  await redis.start();
  for (const node of nodes) await until('it says so', () => linesOf(node, 'relay-up').length === 2);
  for (const node of nodes) await until('it is ready again', async () => (await readyOn(node)) === 200);
  await postgres.stop('kill');
  for (const node of nodes)
    await until('it says so', () => linesOf(node, 'database-connection-lost').length > 0);
  await postgres.start();
  for (const node of nodes)
    await until('the board is there again', async () => (await titleOn(node)) === 'harbour');
  // Whoever is in a hurry says so twice.
  one.process.kill('SIGTERM');
  expect(await one.stop('SIGINT')).toBe(0);
  expect([linesOf(one, 'stopping').length, linesOf(one, 'stopped').length]).toEqual([1, 1]);
  expect(await two.stop('SIGINT')).toBe(0);
  expect(existsSync(dataDir)).toBe(false);
});

it('[V305] a database or a Redis that is not there is an error at start, which names it', async () => {
  const nowhere = 'postgres://larkboard@127.0.0.1:1/postgres';
  const env = { DATA_DIR: dataDir, LOG_LEVEL: 'info' };
  await expect(startChild({ ...env, DATABASE_URL: nowhere })).rejects.toThrow('127.0.0.1:1');
  await expect(
    startChild({ ...env, DATABASE_URL: postgres.url, REDIS_URL: 'redis://127.0.0.1:1' }),
  ).rejects.toThrow('127.0.0.1:1');
});
