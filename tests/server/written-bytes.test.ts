/** How much may be written in an hour. */
import { afterEach, expect, test } from 'vitest';
import { LIMITS } from '../../engine/document/index.ts';
import { machineClock } from '../../server/index.ts';
import { readSettings } from '../../server/settings.ts';
import type { Store } from '../../server/store/index.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';
import { ask } from '../support/ask.ts';
import { bulk } from '../support/bulk.ts';
import { HandClock } from '../support/hand-clock.ts';
import { openDesign } from '../support/open-design.ts';
import { sampleBoard } from '../support/sample-board.ts';
import { until } from '../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from './access-people.ts';
import { FaultyStore } from './faulty-store.ts';
import type { RawClient } from './raw-client.ts';

const HOUR_MS = 60 * 60 * 1000;
/** Of this a person alone has 1,000. */
const MOST = '16000';

let server: AccessServer;
let clock: HandClock;
afterEach(() => closeAccessServer(server));

/** A board, its owner, who has been there for an hour, and people whom its link lets in. */
async function start(
  count: number,
  store: Store = new MemoryStore(),
): Promise<{ owner: Person; board: string; people: readonly Person[]; secret: string }> {
  clock = new HandClock(machineClock);
  server = await startAccessServer({ clock, store, env: { MAX_WRITTEN_BYTES_PER_HOUR: MOST } });
  const owner = new Person(server);
  const { id: board } = await owner.makeBoard();
  const { secret } = await owner.makeLink(board, 'co-maker');
  clock.turn(HOUR_MS + 1);
  const people = Array.from({ length: count }, () => new Person(server));
  for (const person of people) await person.enter(board, secret);
  return { owner, board, people, secret };
}

let writes = 0;

/** Has so many bytes stored. @returns whether they were */
async function write(client: RawClient, bytes: number): Promise<boolean> {
  writes += 1;
  const mark = writes;
  const told = notices(client);
  client.edit((doc) => doc.getMap('knots').set(`w${mark}`, bulk(bytes)));
  client.mark(mark);
  const isSaved = (): boolean => client.heard.some((one) => one.kind === 'saved' && one.mark >= mark);
  await until('it is stored, or said that it is not', () => isSaved() || notices(client) > told);
  return isSaved();
}

/** How many of the writes here a client holds. */
function written(client: RawClient): number {
  return [...client.doc.getMap('knots').keys()].filter((key) => key.startsWith('w')).length;
}

function notices(client: RawClient): number {
  return client.heard.filter((one) => one.kind === 'notice' && one.code === 'write-limit').length;
}

test('[V339] who wrote too much in an hour is told so and stays in; others go on; later all of it is stored', async () => {
  const { board, people, owner } = await start(2);
  const [much, other] = await Promise.all(people.map((person) => person.socket(board, 'design').join()));
  expect(await write(much!, 600)).toBe(true);
  // The one that goes beyond it is taken whole.
  expect(await write(much!, 600)).toBe(true);
  expect(await write(much!, 10)).toBe(false);
  expect(await write(other!, 600)).toBe(true);
  expect(await write(await owner.socket(board, 'design').join(), 600)).toBe(true);
  // Said once, not with each mark.
  const mark = writes + 1;
  much!.mark(mark);
  await much!.reached();
  expect([notices(much!), much!.closeCode]).toEqual([1, null]);
  expect(much!.heard.some((one) => one.kind === 'saved' && one.mark >= mark)).toBe(false);
  // Reading goes on.
  await until('the edits of others came', () => written(much!) === 5);
  // Nor does it help to come again.
  const again = await people[0]!.socket(board, 'design').join();
  expect(await write(again, 10)).toBe(false);
  clock.turn(HOUR_MS);
  await much!.savedMark(mark);
  expect(much!.heard.some((one) => one.kind === 'notice' && one.code === 'store-ok')).toBe(true);
  const reader = await owner.socket(board, 'design').join();
  await until('all of it is there', () => written(reader) === 6);
});

test('[V339] it is said again after the store failed and came back, which says that edits are taken again', async () => {
  const store = new FaultyStore(new MemoryStore());
  const { board, people } = await start(2, store);
  const [much, other] = await Promise.all(people.map((person) => person.socket(board, 'design').join()));
  while (await write(much!, 600));
  expect(notices(much!)).toBe(1);
  store.fault = { kind: 'unavailable', when: 'before' };
  other!.edit((doc) => doc.getMap('meta').set('title', 'reeds'));
  await much!.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
  store.fault = null;
  await much!.waitFor((one) => one.kind === 'notice' && one.code === 'store-ok');
  // What a page asks then, since some of it is not saved.
  much!.mark(writes + 1);
  await much!.reached();
  expect([notices(much!), much!.closeCode]).toEqual([2, null]);
  // And once, as before.
  much!.mark(writes + 2);
  await much!.reached();
  expect(notices(much!)).toBe(2);
});

test('[V339] what is known already, or holds nothing, does not count', async () => {
  const { board, people } = await start(1);
  const client = await people[0]!.socket(board, 'design').join();
  expect(await write(client, 900)).toBe(true);
  for (let i = 0; i < 10; i += 1) {
    const again = people[0]!.socket(board, 'design');
    // Its answer to what the server asks is all that it holds.
    again.doc.getMap('knots');
    await again.join();
    await again.reached();
    again.close();
  }
  expect(await write(client, 10)).toBe(true);
});

test('[V339] all who are new at an address have a part together, and who was there before has their own', async () => {
  const { board, people, owner } = await start(20);
  let taken = 0;
  for (const person of people) {
    const client = await person.socket(board, 'design').join();
    while (await write(client, 900)) taken += 1;
  }
  // 16,000 bytes in pieces of some 950, two by each.
  expect(taken).toBe(17);
  expect(await write(await owner.socket(board, 'design').join(), 600)).toBe(true);
  const elsewhere = new Person(server, '198.51.100.7');
  await elsewhere.enter(board, (await owner.makeLink(board, 'co-maker')).secret);
  expect(await write(await elsewhere.socket(board, 'design').join(), 600)).toBe(true);
});

test('[V339] so it is over HTTP, for files, copies, proposals and remarks; links and deleting go on', async () => {
  const { board, people } = await start(2);
  const [pupil, other] = people as [Person, Person];
  const at = `/api/boards/${board}`;
  const file = (await pupil.ask('GET', `${at}/file`)).json;
  const load = (): Promise<number> =>
    pupil
      .ask('PUT', `${at}/file`, { ...file, piece: { notes: 'n'.repeat(500) } })
      .then(({ status }) => status);
  const statuses: number[] = [];
  while (statuses.at(-1) !== 429) statuses.push(await load());
  expect(statuses.filter((status) => status !== 200)).toEqual([429]);
  const asked: readonly (readonly [string, string, unknown])[] = [
    ['POST', `${at}/copy`, undefined],
    ['POST', `${at}/proposals`, { title: 'edge', name: 'Wren' }],
    ['POST', `${at}/talk`, {}],
  ];
  for (const [method, path, body] of asked) {
    const refused = await pupil.ask(method, path, body);
    expect([path, refused.status, refused.json.error]).toMatchObject([
      path,
      429,
      { kind: 'too-much-written' },
    ]);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(3_000);
  }
  expect((await pupil.enter(board, 'no such link')).status).not.toBe(429);
  // Copies are small to ask for and large to keep.
  let copies = 0;
  let own = '';
  for (;;) {
    const copy = await other.ask('POST', `${at}/copy`);
    if (copy.status !== 201) {
      expect([copy.status, copy.json.error]).toMatchObject([429, { kind: 'too-much-written' }]);
      break;
    }
    copies += 1;
    own = copy.json.id as string;
  }
  expect(copies).toBeLessThan(4);
  expect((await other.ask('DELETE', `/api/boards/${own}`)).status).toBe(200);
});

test('[V339] what comes over HTTP without saying how long it is counts as what it is', async () => {
  const { board, people } = await start(1);
  const [pupil] = people as [Person];
  /** As a proxy sends on what it has not read to its end. */
  const send = async (bytes: number): Promise<number> => {
    const file = (await pupil.ask('GET', `/api/boards/${board}/file`)).json;
    const text = JSON.stringify({ ...file, piece: { notes: 'n'.repeat(bytes) } });
    const answer = await ask(`${server.http}/api/boards/${board}/file`, {
      method: 'PUT',
      headers: { cookie: pupil.cookie, 'x-forwarded-for': '192.0.2.1' },
      body: new Blob([text]).stream(),
      duplex: 'half',
    } as RequestInit);
    return answer.status;
  };
  // A person alone has 1,000 bytes, and the last one may go beyond.
  expect([await send(1), await send(900), await send(1)]).toEqual([200, 200, 429]);
});

test('[V339] [V14] a class of 40 who are new, each tying a knot a second and loading the largest file, stays below the default', async () => {
  server = await startAccessServer();
  const design = openDesign(sampleBoard(24, 100));
  let bytes = 0;
  design.doc.on('update', (update: Uint8Array) => {
    bytes += update.length;
  });
  for (let second = 0; second < 3_600; second += 1) {
    const row = second % 100;
    const result = design.run({
      kind: 'set-knots',
      knots: [
        {
          row,
          k: Math.floor(second / 100) % 11,
          knot: (((second + Math.floor(second / 1_100)) % 4) + 1) as 1 | 2 | 3 | 4,
        },
      ],
    });
    expect(result.ok).toBe(true);
  }
  // Each of them was written.
  expect(bytes).toBeGreaterThan(3_600 * 20);
  expect(bytes).toBeLessThan(3_600 * 40);
  const { writtenBytes } = readSettings({});
  expect(40 * (bytes + LIMITS.boardFileBytes)).toBeLessThan(writtenBytes);
  expect(bytes + LIMITS.boardFileBytes).toBeLessThan(writtenBytes / 16);
  expect(() => readSettings({ MAX_WRITTEN_BYTES_PER_HOUR: '0' })).toThrow(/MAX_WRITTEN_BYTES_PER_HOUR/);
});
