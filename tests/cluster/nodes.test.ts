import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { writeResult } from '../bench/sync-results.ts';
import { Maker } from '../server/chaos.ts';
import { type ChildServer, cookieOf, makeOwnBoard, startChild } from '../server/child-server.ts';
import { presenceMessage, RawClient } from '../server/raw-client.ts';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { type Service, startPostgres, startRedis } from './real-services.ts';
import { startGate, type TcpGate } from './tcp-gate.ts';

let postgres: Service;
let redis: Service;
let nodes: ChildServer[];
let gates: TcpGate[];
let makers: Maker[];
let board: string;
let headers: { readonly cookie: string };

async function startNode(databasePort: number, redisPort: number): Promise<ChildServer> {
  return startChild({
    DATA_DIR: '/nonexistent/never-used',
    DATABASE_URL: postgres.url.replace(`:${postgres.port}/`, `:${databasePort}/`),
    REDIS_URL: `redis://127.0.0.1:${redisPort}`,
    // No balancer is in front.
    DRAIN_MS: '0',
  });
}

beforeEach(async () => {
  [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
  gates = [await startGate(postgres.port), await startGate(redis.port)];
  // The first node reaches both services through gates, the second directly.
  nodes = await Promise.all([
    startNode(gates[0]!.port, gates[1]!.port),
    startNode(postgres.port, redis.port),
  ]);
  const made = await makeOwnBoard(nodes[0]!, '{"strings":8,"rows":12}');
  board = made.id;
  headers = made.headers;
  makers = ['a', 'b', 'c', 'd'].map((name) => new Maker(board, name, headers));
});

afterEach(async () => {
  for (const maker of makers) maker.end();
  await Promise.all(nodes.map((node) => node.stop('SIGKILL')));
  for (const gate of gates) await gate.close();
  await Promise.all([postgres.dispose(), redis.dispose()]);
});

/** One line for each fault that was gone through, for `npm run cluster`. */
const results: string[] = [];

afterAll(() => {
  if (process.env.CLUSTER_WRITE !== undefined)
    writeResult('sync-cluster', 'Two nodes, PostgreSQL and Redis, and what was broken meanwhile', [
      'four makers on one board, two at each node, an edit with a saved mark every 5 ms',
      ...results,
    ]);
});

/** Makers a and b at the first node, c and d at the second. */
async function connectAll(): Promise<void> {
  await Promise.all(makers.map((maker, index) => maker.connect(nodes[index >> 1]!)));
}

function missing(doc: Y.Doc, which: 'made' | 'acknowledged'): number {
  const chaos = doc.getMap('meta');
  let count = 0;
  for (const maker of makers)
    for (let n = 1; n <= maker[which]; n += 1) if (chaos.get(`${maker.name}:${n}`) !== n) count += 1;
  return count;
}

const sum = (which: 'made' | 'acknowledged', of = makers): number =>
  of.reduce((total, maker) => total + maker[which], 0);

/** Lets the makers go on until so many more of their edits are on the disk. */
async function untilAcknowledged(more: number): Promise<void> {
  const before = sum('acknowledged');
  await until(`${more} more edits are acknowledged`, () => sum('acknowledged') >= before + more);
}

/** Lets the makers go on until they have made so many more edits, whatever becomes of them. */
async function untilMade(more: number): Promise<void> {
  const before = sum('made');
  await until(`${more} more edits are made`, () => sum('made') >= before + more);
}

/** Everything that the nodes have said to these makers so far is heard. */
async function heardOut(of: readonly Maker[]): Promise<void> {
  // The first answer shows that the node has looked at what came before; the second comes behind what it made of it.
  for (let i = 0; i < 2; i += 1) await Promise.all(of.map((maker) => maker.reached()));
}

const isReady = async (node: number): Promise<boolean> =>
  (await ask(`${nodes[node]!.http}/readyz`)).status === 200;

/** Everybody has everything, and a node that has only the database knows all that was acknowledged. */
async function expectAllEqual(fault: string): Promise<void> {
  for (const maker of makers) maker.pause();
  await until('everybody has every edit', () => makers.every((maker) => missing(maker.doc, 'made') === 0));
  await until('all is acknowledged', () => makers.every((maker) => maker.acknowledged === maker.made));
  const vectors = makers.map((maker) => Buffer.from(Y.encodeStateVector(maker.doc)).toString('hex'));
  expect(new Set(vectors).size).toBe(1);
  const fresh = await startNode(postgres.port, redis.port);
  nodes.push(fresh);
  const reader = await new RawClient(`${fresh.ws}/${board}/design`, { headers }).join();
  const lost = missing(reader.doc, 'acknowledged');
  expect(lost).toBe(0);
  expect(reader.doc.store.pendingStructs).toBeNull();
  reader.close();
  expect(sum('acknowledged')).toBeGreaterThan(100);
  results.push(
    `${fault}: edits ${sum('made')}, acknowledged ${sum('acknowledged')}, lost ${lost}, all equal afterwards`,
  );
}

describe('two nodes on one database and one relay', () => {
  it('[V93] any node serves any board, and people see each other across nodes', async () => {
    await connectAll();
    for (const maker of makers) maker.begin(5);
    await untilAcknowledged(400);
    const me = await ask(`${nodes[1]!.http}/api/boards/${board}/me`, { headers });
    const { personId } = (await me.json()) as { personId: string };
    const state = JSON.stringify({ person: { id: personId, name: 'X', hex: '#000000' } });
    const here = await new RawClient(`${nodes[0]!.ws}/${board}/design`, { headers }).join();
    const there = await new RawClient(`${nodes[1]!.ws}/${board}/design`, { headers }).join();
    here.send(presenceMessage([{ client: 77, clock: 1, state }]));
    await there.waitFor((one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 77));
    here.close();
    await there.waitFor(
      (one) =>
        one.kind === 'presence' && one.entries.some((entry) => entry.client === 77 && entry.state === null),
    );
    there.close();
    await expectAllEqual('nothing broken');
  });

  it('[V-A4] a link taken back on one node puts out, on the other, who came in by it', async () => {
    const askNode = (node: number, method: string, path: string, cookie: string, body?: unknown) =>
      ask(`${nodes[node]!.http}/api/boards/${board}/${path}`, {
        method,
        headers: { cookie },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
    const made = await askNode(0, 'POST', 'links', headers.cookie, { role: 'co-maker' });
    const { id, secret } = (await made.json()) as { id: string; secret: string };
    const friend = cookieOf(await askNode(1, 'POST', 'enter', '', { secret }));
    const url = `${nodes[1]!.ws}/${board}/design`;
    const there = await new RawClient(url, { headers: friend }).join();
    const owner = await new RawClient(url, { headers }).join();
    expect((await askNode(0, 'DELETE', `links/${id}`, headers.cookie)).status).toBe(200);
    expect(await there.closed).toBe(4401);
    expect(await new RawClient(url, { headers: friend }).closed).toBe(4401);
    expect(owner.closeCode).toBeNull();
    owner.close();
  });

  it('[V94] a node killed: its people go to the other, nothing acknowledged is lost', async () => {
    await connectAll();
    for (const maker of makers) maker.begin(5);
    await untilAcknowledged(300);
    await nodes[0]!.stop('SIGKILL');
    const [a, b] = makers;
    a!.pause();
    b!.pause();
    await Promise.all([a!.connect(nodes[1]!), b!.connect(nodes[1]!)]);
    a!.begin(5);
    b!.begin(5);
    await untilAcknowledged(200);
    await expectAllEqual('a node killed');
  });

  it('[V95] Redis killed and started again: the nodes find together by themselves', async () => {
    await connectAll();
    for (const maker of makers) maker.begin(5);
    await untilAcknowledged(200);
    await redis.stop('kill');
    await until('both nodes know', async () => !((await isReady(0)) || (await isReady(1))));
    await untilMade(400);
    await redis.start();
    await untilMade(200);
    await expectAllEqual('Redis killed and started again');
    await until('both nodes know', async () => (await isReady(0)) && (await isReady(1)));
  });

  it('[V96] PostgreSQL killed and started again: the rooms say so, and nothing is lost', async () => {
    await connectAll();
    for (const maker of makers) maker.begin(5);
    await untilAcknowledged(200);
    await postgres.stop('kill');
    await until('the makers were told', () =>
      makers.every((maker) => maker.notices.includes('store-read-only')),
    );
    await heardOut(makers);
    const acknowledged = makers.map((maker) => maker.acknowledged);
    await untilMade(300);
    await heardOut(makers);
    // What is in no database is not called saved.
    expect(makers.map((maker) => maker.acknowledged)).toEqual(acknowledged);
    await postgres.start();
    await until('the makers were told', () => makers.every((maker) => maker.notices.includes('store-ok')));
    await expectAllEqual('PostgreSQL killed and started again');
  });

  it('[V97] a node cut off from both and joined again: all are equal', async () => {
    await connectAll();
    for (const maker of makers) maker.begin(5);
    await untilAcknowledged(200);
    for (const gate of gates) gate.shut();
    const cutOff = makers.slice(0, 2);
    await heardOut(cutOff);
    const before = sum('acknowledged', cutOff);
    await untilMade(800);
    await heardOut(cutOff);
    expect(sum('acknowledged', cutOff)).toBe(before);
    for (const gate of gates) gate.open();
    await untilMade(200);
    await expectAllEqual('a node cut off from both');
  });
});
