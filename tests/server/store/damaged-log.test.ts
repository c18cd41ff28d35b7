/** A board of which something stored cannot be read: what it shows, what it takes, and how it is repaired. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { strFromU8, unzipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { lockFolder, SqliteCore } from '../../../server/store/index.ts';
import { ask } from '../../support/ask.ts';
import { craftUpdate, sharedType } from '../../support/crafted-update.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';
import type { RawClient } from '../raw-client.ts';
import { sqliteStore, temporaryFolder } from '../test-server.ts';

const COMMAND = fileURLToPath(new URL('../../../dist/server/store-command.js', import.meta.url));

let folder: ReturnType<typeof temporaryFolder>;
let server: AccessServer | null = null;
let links: SqliteAccessStore;
let cookies: readonly string[];
let board: string;

const file = (): string => join(folder.path, 'larkboard.db');

async function start(): Promise<AccessServer> {
  server = await startAccessServer({ store: sqliteStore(folder.path) }, links);
  return server;
}

/** Ends it with everything stored, and the links kept for the next. */
async function stop(): Promise<void> {
  const running = server;
  server = null;
  if (running !== null) await closeAccessServer({ ...running });
}

/** The rows of the design as they lie in the file. */
function rowsThere(): readonly { seq: number; bytes: Buffer }[] {
  const db = new Database(file(), { readonly: true });
  const rows = db
    .prepare("SELECT seq, bytes FROM rows WHERE board = ? AND part = 'design' ORDER BY seq")
    .all(board);
  db.close();
  return rows as { seq: number; bytes: Buffer }[];
}

async function run(...args: string[]): Promise<{ status: number | null; out: string }> {
  const child = spawn(process.execPath, [COMMAND, ...args], { env: { DATA_DIR: folder.path } });
  const chunks: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => chunks.push(chunk));
  const [status] = (await once(child, 'close')) as [number | null];
  return { status, out: Buffer.concat(chunks).toString() };
}

/** Ways for a row to be unreadable; each spoils the last of those there are. */
const SPOILT: Readonly<Record<string, () => void>> = {
  'a row that is not as it was written': () => {
    const db = new Database(file());
    db.prepare('UPDATE rows SET bytes = ? WHERE seq = ?').run(
      Buffer.from([1, 2, 3]),
      rowsThere().at(-1)!.seq,
    );
    db.close();
  },
  'a row that no document is made of': () => {
    const core = new SqliteCore(file());
    const bytes = craftUpdate([
      { client: 9, structs: [{ parent: 'knots', key: 'a', content: sharedType(1) }] },
    ]);
    core.commit([{ address: { board, part: 'design' }, bytes }], []);
    core.close();
  },
  'a row that does not decode': () => {
    const core = new SqliteCore(file());
    core.commit([{ address: { board, part: 'design' }, bytes: Uint8Array.of(1, 1, 1, 255, 3, 7) }], []);
    core.close();
  },
};

/** What an owner downloads. */
async function archiveOf({ cookie }: Person): Promise<{
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly lacks: string | null;
  readonly manifest: { readonly lacks?: readonly string[] };
  readonly readMe: string;
}> {
  const answer = await ask(`${server!.http}/api/boards/${board}/archive`, { headers: { cookie } });
  expect(answer.status).toBe(200);
  const bytes = new Uint8Array(await answer.arrayBuffer());
  const files = unzipSync(bytes);
  return {
    bytes,
    lacks: answer.headers.get('larkboard-lacks'),
    manifest: JSON.parse(strFromU8(files['manifest.json']!)) as { lacks?: readonly string[] },
    readMe: strFromU8(files['README.txt']!),
  };
}

const title = (client: RawClient): unknown => client.doc.getMap('meta').get('kept');

beforeEach(async () => {
  folder = temporaryFolder();
  links = new SqliteAccessStore(':memory:');
  links.close = async () => {};
  const first = await start();
  const owner = new Person(first);
  board = (await owner.makeBoard()).id;
  const friend = new Person(first);
  await friend.enter(board, (await owner.makeLink(board, 'co-maker')).secret);
  const maker = await owner.socket(board, 'design').join();
  for (const n of [1, 2, 3]) {
    maker.edit((doc) => doc.getMap('meta').set(n === 1 ? 'kept' : `n${n}`, n));
    maker.mark(n);
    await maker.savedMark(n);
  }
  cookies = [owner.cookie, friend.cookie];
  await stop();
});

afterEach(async () => {
  await stop();
  folder.remove();
});

/** The same people at the server that runs now: an owner and a co-maker. */
function back(now: AccessServer): readonly [Person, Person] {
  const [own, other] = cookies.map((cookie) => Object.assign(new Person(now), { cookie }));
  return [own!, other!];
}

describe.each(Object.entries(SPOILT))('with %s', (name, spoil) => {
  it('[V253] a board opens read-only with what can be read, tells its owner, and nothing on the disk is touched', async () => {
    spoil();
    const before = rowsThere();
    const now = await start();
    const [own, other] = back(now);
    const [mine, theirs] = [
      await own.socket(board, 'design').join(),
      await other.socket(board, 'design').join(),
    ];
    for (const client of [mine, theirs]) {
      expect(title(client), name).toBe(1);
      client.edit((doc) => doc.getMap('meta').set('more', 1));
      client.mark(1);
      await client.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
      await heardOut(client);
      expect(client.closeCode).toBeNull();
      expect(client.heard.some((one) => one.kind === 'saved')).toBe(false);
    }
    const isTold = (client: RawClient): boolean =>
      client.heard.some((one) => one.kind === 'notice' && one.code === 'log-damaged');
    expect([isTold(mine), isTold(theirs)]).toEqual([true, false]);

    const path = `/api/boards/${board}`;
    const read = await own.ask('GET', `${path}/file`);
    expect(read.status).toBe(200);
    expect((await own.ask('PUT', `${path}/file`, read.json)).status).toBe(503);
    expect(now.lines.filter((line) => line.includes('"log-unreadable"'))).toHaveLength(1);

    for (const client of [mine, theirs]) client.close();
    await until('the room is gone', () => now.rooms.size === 0);
    await stop();
    expect(rowsThere()).toEqual(before);
  });

  it('[V340] its archive holds the rest, and says that the design is not whole', async () => {
    const [own] = back(await start());
    const whole = await archiveOf(own);
    expect([whole.lacks, whole.manifest.lacks, whole.readMe.includes('could not be read')]).toEqual([
      null,
      undefined,
      false,
    ]);
    await stop();
    spoil();
    const [again] = back(await start());
    const inPart = await archiveOf(again);
    expect([inPart.lacks, inPart.manifest.lacks]).toEqual(['design', ['design']]);
    expect(inPart.readMe).toContain('is not in here: design.');
    // Any server opens it.
    const loaded = await ask(`${server!.http}/api/archives`, {
      method: 'POST',
      headers: { cookie: again.cookie },
      body: inPart.bytes,
    });
    expect(loaded.status).toBe(201);
  });

  it('[V254] repair leaves out what cannot be read, keeps all as it was beside, and the board goes on', async () => {
    spoil();
    const before = rowsThere();
    expect((await run('check')).status).toBe(1);
    const repaired = await run('repair');
    expect(repaired).toMatchObject({ status: 0 });
    expect(repaired.out).toContain(`${board}/design: repaired; 1 of ${before.length} rows cannot be read`);
    const aside = /all as it was is in (.+)/.exec(repaired.out)![1]!;
    expect(existsSync(join(aside, 'larkboard.db'))).toBe(true);
    const kept = new Database(join(aside, 'larkboard.db'), { readonly: true });
    expect(kept.prepare('SELECT count(*) AS n FROM rows WHERE board = ?').get(board)).toEqual({
      n: before.length,
    });
    kept.close();
    expect(await run('check')).toMatchObject({ status: 0, out: expect.stringContaining('all well') });
    expect(rowsThere()).toHaveLength(1);
    expect(await run('repair')).toMatchObject({
      status: 0,
      out: expect.stringContaining('nothing to repair'),
    });

    const [own] = back(await start());
    const mine = await own.socket(board, 'design').join();
    expect(title(mine)).toBe(1);
    expect(mine.doc.getMap('identity').get('name')).toBe(`${board}/design`);
    mine.edit((doc) => doc.getMap('meta').set('more', 1));
    mine.mark(1);
    await mine.savedMark(1);
    expect(mine.heard.some((one) => one.kind === 'notice')).toBe(false);
  });
});

describe('repair', () => {
  it('[V254] needs the server stopped, and leaves alone a document of which nothing can be read', async () => {
    const db = new Database(file());
    db.prepare('UPDATE rows SET bytes = ? WHERE board = ?').run(Buffer.from([9]), board);
    db.close();
    const before = rowsThere();
    const unlock = lockFolder(folder.path);
    expect(await run('repair')).toMatchObject({ status: 2, out: expect.stringContaining('another server') });
    unlock();
    expect(await run('repair')).toMatchObject({
      status: 0,
      out: expect.stringContaining('nothing can be read, so it stays'),
    });
    expect(rowsThere()).toEqual(before);
  });
});

it('[V340] a record that is not as it was written is left out of the archive and named', async () => {
  const [own] = back(await start());
  const made = await own.ask('POST', `/api/boards/${board}/versions`, { name: 'first', person: 'Wren' });
  expect(made.status).toBe(201);
  const id = made.json.id as string;
  await stop();
  const db = new Database(file());
  expect(db.prepare('UPDATE records SET bytes = ? WHERE id = ?').run(Buffer.from([9]), id).changes).toBe(1);
  db.close();
  const [again] = back(await start());
  const { lacks, manifest } = await archiveOf(again);
  expect([lacks, manifest.lacks]).toEqual([`version/${id}`, [`version/${id}`]]);
});
