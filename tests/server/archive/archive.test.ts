/** A board as a whole: deleted for good, packed into an archive, loaded from one. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, Design, readDesign } from '../../../engine/document/index.ts';
import { readTalk } from '../../../engine/document/talk/index.ts';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { readArchive } from '../../../server/archive/read-archive.ts';
import { unpackEntry, zipEntries } from '../../../server/archive/unpack-zip.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { Store } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  type Answer,
  closeAccessServer,
  Person,
  startAccessServer,
} from '../access-people.ts';
import { sqliteStore, temporaryFolder } from '../test-server.ts';

let store: MemoryStore;
let server: AccessServer;
let owner: Person;

beforeAll(async () => {
  store = new MemoryStore();
  server = await startAccessServer({ store });
  owner = new Person(server);
});

afterAll(() => closeAccessServer(server));

let told = 0;
async function say(person: Person, board: string, text: string): Promise<Answer> {
  told += 1;
  const by = { id: await person.idOn(board), name: 'Kai', hex: '#112233' };
  const command = { kind: 'open-thread', pin: { kind: 'board' }, text };
  const id = String(told).padStart(16, '0');
  const answer = await person.ask('POST', `/api/boards/${board}/talk`, { id, by, command });
  if (answer.status !== 201) throw new Error(answer.text);
  return answer;
}

async function download(person: Person, board: string, on = server): Promise<Uint8Array> {
  const answer = await ask(`${on.http}/api/boards/${board}/archive`, {
    headers: { cookie: person.cookie },
  });
  if (answer.status !== 200) throw new Error(`${answer.status} ${await answer.text()}`);
  expect(answer.headers.get('content-type')).toBe('application/zip');
  return new Uint8Array(await answer.arrayBuffer());
}

async function load(
  person: Person,
  archive: Uint8Array,
  on = server,
): Promise<{
  status: number;
  json: { id: string; error?: { kind: string; path: string; message: string } };
}> {
  const answer = await ask(`${on.http}/api/archives`, {
    method: 'POST',
    headers: { cookie: person.cookie },
    body: archive as Uint8Array<ArrayBuffer>,
  });
  const set = answer.headers.get('set-cookie');
  if (set !== null) person.cookie = set.split(';')[0]!;
  return { status: answer.status, json: (await answer.json()) as { id: string } };
}

async function design(id: string, from: Store = store): Promise<ReturnType<typeof readDesign>> {
  const doc = new Y.Doc();
  for (const { bytes } of await from.load({ board: id, part: 'design' })) Y.applyUpdate(doc, bytes);
  return readDesign(doc);
}

describe('deleting a board', () => {
  it('[V160] is for an owner, whoever else asks is told no and nothing is gone', async () => {
    const { id } = await owner.makeBoard();
    for (const role of ['co-maker', 'reviewer', 'learner', 'onlooker'] as const) {
      const guest = new Person(server);
      await guest.enter(id, (await owner.makeLink(id, role)).secret);
      expect((await guest.ask('DELETE', `/api/boards/${id}`)).status, role).toBe(403);
      expect((await guest.ask('GET', `/api/boards/${id}/archive`)).status, role).toBe(403);
    }
    const stranger = new Person(server);
    expect((await stranger.ask('DELETE', `/api/boards/${id}`)).status).toBe(404);
    expect((await stranger.ask('GET', `/api/boards/${id}/archive`)).status).toBe(404);
    const elsewhere = await owner.ask('DELETE', `/api/boards/${id}`, undefined, {
      origin: 'https://elsewhere.example',
    });
    expect(elsewhere.status).toBe(403);
    expect((await owner.ask('GET', `/api/boards/${id}`)).status).toBe(200);
  });

  it('[V160] puts everybody out at once and takes documents, records, links and branches', async () => {
    const { id, secret } = await owner.makeBoard();
    const friend = new Person(server);
    const link = await owner.makeLink(id, 'co-maker');
    await friend.enter(id, link.secret);
    await say(friend, id, 'a red tail?');
    const branch = await friend.ask('POST', `/api/boards/${id}/proposals`, { title: 'tails', name: 'Kai' });
    expect(branch.status).toBe(201);
    const branchId = branch.json.id as string;
    const sockets = [owner, friend].flatMap((person) =>
      (['design', 'talk'] as const).map((part) => person.socket(id, part)),
    );
    for (const socket of sockets) await socket.join();
    expect((await owner.ask('DELETE', `/api/boards/${id}`)).json).toEqual({ id, isDeleted: true });
    for (const socket of sockets) expect(await socket.closed).toBe(CLOSE_CODES.deleted);
    for (const gone of [id, branchId]) {
      expect(await store.board(gone)).toBe(null);
      expect(await store.load({ board: gone, part: 'design' })).toEqual([]);
      expect(await store.records(gone, null)).toEqual([]);
    }
    expect(await store.load({ board: id, part: 'talk' })).toEqual([]);
    for (const person of [owner, friend])
      expect((await person.ask('GET', `/api/boards/${id}`)).status).toBe(404);
    expect((await new Person(server).enter(id, secret)).status).toBe(404);
    expect((await owner.ask('GET', '/api/mine')).text).not.toContain(id);
    expect((await owner.ask('DELETE', `/api/boards/${id}`)).status).toBe(404);
    const again = owner.socket(id, 'design');
    expect(await again.closed).toBe(CLOSE_CODES.unknownBoard);
  });

  it('[V160] no write that is under way brings it back', async () => {
    const { id } = await owner.makeBoard();
    const socket = await owner.socket(id, 'design').join();
    const retitle = (n: number): void =>
      socket.edit((doc) => {
        const maker = new Design(doc, { makerId: 'm', newId: () => 'unused' });
        maker.run({ kind: 'set-title', title: `late ${n}` });
        maker.dispose();
      });
    for (let i = 0; i < 20; i += 1) retitle(i);
    const removing = owner.ask('DELETE', `/api/boards/${id}`);
    for (let i = 20; i < 40; i += 1) retitle(i);
    expect((await removing).status).toBe(200);
    expect(await socket.closed).toBe(CLOSE_CODES.deleted);
    // Once the room is gone nothing is left that could still write.
    await until('the room is gone', () => !server.rooms.isOpen(id, 'design'));
    expect(await store.load({ board: id, part: 'design' })).toEqual([]);
    expect((await store.check()).faults).toEqual([]);
  });

  it('[V160] reaches who is in it on another node', async () => {
    const hub = new MemoryRelayHub();
    const shared = new MemoryStore();
    const links = new SqliteAccessStore(':memory:');
    const one = await startAccessServer({ store: shared, relay: hub.node() }, links);
    const two = await startAccessServer({ store: shared, relay: hub.node() }, links);
    const here = new Person(one);
    const { id } = await here.makeBoard();
    const there = new Person(two);
    there.cookie = here.cookie;
    const socket = await there.socket(id, 'design').join();
    expect((await here.ask('DELETE', `/api/boards/${id}`)).status).toBe(200);
    expect(await socket.closed).toBe(CLOSE_CODES.deleted);
    expect(await shared.load({ board: id, part: 'design' })).toEqual([]);
    await closeAccessServer(one);
    await closeAccessServer(two);
  });

  it('[V161] leaves nothing of it in the database file or its log', async () => {
    const folder = temporaryFolder();
    const disk = sqliteStore(folder.path);
    const bytes = strToU8('a sentence that nobody may find again');
    const record = { kind: 'version', id: 'v1', about: '{"title":"a sentence that nobody may find"}' };
    await disk.addBoard({ id: 'gone', kind: 'board', createdAt: 1 }, [{ part: 'design', bytes }]);
    await disk.append({ board: 'gone', part: 'talk' }, bytes);
    await disk.putRecord({ board: 'gone', ...record, bytes });
    const onDisk = (): boolean =>
      ['larkboard.db', 'larkboard.db-wal'].some((name) =>
        readFileSync(join(folder.path, name)).includes('nobody may find'),
      );
    expect(onDisk()).toBe(true);
    expect(await disk.removeBoard('gone')).toBe(true);
    expect(onDisk()).toBe(false);
    await disk.close();
    folder.remove();
  });
});

describe('archives', () => {
  const VERSION = {
    kind: 'version',
    id: 'first',
    about: JSON.stringify({
      kind: 'named',
      at: 1,
      name: 'first',
      by: { personId: 'p1', name: 'Ada' },
      title: 'kites',
      strings: 8,
      rows: 12,
      digest: '',
    }),
  };

  async function rich(): Promise<string> {
    const { id } = await owner.makeBoard();
    const socket = await owner.socket(id, 'design').join();
    socket.edit((doc) => {
      const maker = new Design(doc, { makerId: 'm', newId: () => 'unused' });
      const knots = [
        { row: 0, k: 1, knot: 1 },
        { row: 3, k: 0, knot: 4 },
      ] as const;
      maker.run({ kind: 'set-knots', knots });
      maker.run({ kind: 'set-title', title: 'Tails' });
      maker.dispose();
    });
    await until('the title is stored', async () => (await design(id)).board.title === 'Tails');
    await say(owner, id, 'longer tails?');
    await say(owner, id, 'or a bell');
    await store.putRecord({ board: id, ...VERSION, bytes: strToU8('what it was') });
    return id;
  }

  it('[V162] hold the board, the talk and every record, each with its sum', async () => {
    const id = await rich();
    const files = unzipSync(await download(owner, id));
    const manifest = JSON.parse(new TextDecoder().decode(files['manifest.json'])) as {
      parts: { path: string; bytes: number; sha256: string }[];
    };
    expect(manifest.parts.map(({ path }) => path).sort()).toEqual(
      Object.keys(files)
        .filter((path) => path !== 'manifest.json')
        .sort(),
    );
    for (const { path, sha256 } of manifest.parts) {
      // Not the code under test: the browser's digest (FIPS 180-4).
      const sum = await crypto.subtle.digest('SHA-256', files[path] as Uint8Array<ArrayBuffer>);
      expect(Buffer.from(sum).toString('hex'), path).toBe(sha256);
    }
    const file = (await owner.ask('GET', `/api/boards/${id}/file`)).json;
    expect(JSON.parse(new TextDecoder().decode(files['board.json']))).toEqual(file);
    expect(new TextDecoder().decode(files['talk.json'])).toContain('longer tails?');
  });

  it('[V163] load on another server as the same content, ids and all', async () => {
    const id = await rich();
    const first = await download(owner, id);
    const shop = new MemoryStore();
    const other = await startAccessServer({ store: shop });
    const keeper = new Person(other);
    const { status, json } = await load(keeper, first, other);
    expect(status).toBe(201);
    expect(json.id).not.toBe(id);
    expect((await keeper.ask('GET', `/api/boards/${json.id}/me`)).json.role).toBe('owner');
    const [before, after] = [await design(id), await design(json.id, shop)];
    expect(after.board).toEqual(before.board);
    expect(after.rowPairIds).toEqual(before.rowPairIds);
    expect(after.stringPairIds).toEqual(before.stringPairIds);
    const record = await shop.record(json.id, 'version', 'first');
    expect(record?.bytes).toEqual(strToU8('what it was'));
    const again = await readArchive(await download(keeper, json.id, other));
    const was = await readArchive(first);
    expect(again.title).toBe(was.title);
    const meant = (update: Uint8Array): ReturnType<typeof readDesign> => {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, update);
      return readDesign(doc);
    };
    expect(meant(again.design)).toEqual(meant(was.design));
    expect(again.records.map(({ kind, id: one, bytes }) => [kind, one, bytes])).toEqual(
      was.records.map(({ kind, id: one, bytes }) => [kind, one, bytes]),
    );
    await closeAccessServer(other);
  });

  it('[V164] make nobody of this server say anything', async () => {
    const id = await rich();
    const me = await owner.idOn(id);
    const { json } = await load(owner, await download(owner, id));
    const doc = new Y.Doc();
    for (const { bytes } of await store.load({ board: json.id, part: 'talk' })) Y.applyUpdate(doc, bytes);
    const { threads } = readTalk(doc);
    expect(threads.map(({ remarks }) => remarks[0]?.text)).toEqual(['longer tails?', 'or a bell']);
    const speakers = threads.map(({ remarks }) => remarks[0]!.by);
    expect(speakers.map(({ name }) => name)).toEqual(['Kai', 'Kai']);
    expect(new Set(speakers.map(({ id: one }) => one)).size).toBe(1);
    expect(speakers[0]!.id).not.toBe(me);
    expect(speakers[0]!.id).toMatch(/^away-/);
    const about = JSON.parse((await store.record(json.id, 'version', 'first'))!.about) as {
      by: { personId: string };
    };
    expect(about.by.personId).toMatch(/^away-/);
  });

  it('[V165] that are not whole or not ours make nothing, and say which part', async () => {
    const files = unzipSync(await download(owner, await rich()));
    const manifest = JSON.parse(new TextDecoder().decode(files['manifest.json'])) as Record<string, unknown>;
    const withManifest = (patch: Record<string, unknown>): Uint8Array =>
      zipSync({ ...files, 'manifest.json': strToU8(JSON.stringify({ ...manifest, ...patch })) });
    const { 'talk.yjs': _talk, ...noTalk } = files;
    const [one] = manifest.records as readonly Record<string, unknown>[];
    const cases: readonly [Uint8Array, string, RegExp][] = [
      [strToU8('no zip at all'), 'not-an-archive', /^$/],
      [new Uint8Array(0), 'not-an-archive', /^$/],
      [zipSync({ 'hello.txt': strToU8('hello') }), 'not-an-archive', /manifest/],
      [zipSync({ ...files, '../../etc/passwd': strToU8('x') }), 'not-an-archive', /passwd/],
      [zipSync(noTalk), 'damaged', /talk\.yjs/],
      [zipSync({ ...files, 'design.yjs': strToU8('x') }), 'damaged', /design\.yjs/],
      [withManifest({ version: 99 }), 'newer-archive', /version/],
      [withManifest({ format: 'another' }), 'not-an-archive', /format/],
      [withManifest({ parts: 'none' }), 'damaged', /parts/],
      [withManifest({ records: [{ kind: 1 }] }), 'damaged', /records\[0\]/],
      // One part as a thousand versions would fill the disk; what has no id of ours could never be asked for.
      [withManifest({ records: [one, { ...one, id: 'again' }] }), 'damaged', /records\[1\]\.path/],
      [withManifest({ records: [{ ...one, id: 'a/b' }] }), 'damaged', /records\[0\]\.id/],
      [withManifest({ records: [{ ...one, id: 'x'.repeat(65) }] }), 'damaged', /records\[0\]\.id/],
    ];
    const boards = (await store.boardsOfKind('board')).length;
    for (const [bytes, kind, path] of cases) {
      const { status, json } = await load(owner, bytes);
      expect([status, json.error?.kind], json.error?.message).toEqual([422, kind]);
      expect(json.error?.path).toMatch(path);
    }
    expect((await store.boardsOfKind('board')).length).toBe(boards);
  });

  it('[V165] that would unpack to more than allowed are not unpacked', async () => {
    const zeros = new Uint8Array(70 * 1024 * 1024);
    const bomb = zipSync({ 'a.txt': zeros, 'b.txt': zeros }, { level: 1 });
    const { status, json } = await load(owner, bomb);
    expect([status, json.error?.kind]).toEqual([413, 'too-large']);
  });

  it('[V200] that state other sizes than they have are not inflated beyond what they state', async () => {
    // 64 MiB of zeros in some kilobytes, said to be 100 bytes; a library that trusts that inflates all of it.
    const zip = zipSync({ 'manifest.json': new Uint8Array(64 * 1024 * 1024) }, { level: 6 });
    const lying = zip.slice();
    const view = new DataView(lying.buffer);
    for (let at = 0; at < lying.length - 4; at++) {
      const signature = view.getUint32(at, true);
      if (signature === 0x04034b50) view.setUint32(at + 22, 100, true);
      if (signature === 0x02014b50) view.setUint32(at + 24, 100, true);
    }
    const [entry] = zipEntries(lying);
    expect(entry).toMatchObject({ name: 'manifest.json', bytes: 100, isDeflated: true });
    await expect(unpackEntry(entry!)).rejects.toMatchObject({ code: 'ERR_BUFFER_TOO_LARGE' });
    const { status, json } = await load(owner, lying);
    expect([status, json.error?.kind]).toEqual([422, 'not-an-archive']);
  });

  it('[V200] whose files share bytes, stand there twice or lie outside are no archives', async () => {
    const files = { 'manifest.json': strToU8('{"format":"x"}'), 'talk.json': strToU8('[1,2,3,4,5,6,7,8]') };
    const stored = zipSync(files, { level: 0 });
    const centralAt = (zip: Uint8Array): number[] =>
      [...zip.keys()].filter(
        (at) => at + 4 <= zip.length && new DataView(zip.buffer).getUint32(at, true) === 0x02014b50,
      );
    const [first, second] = centralAt(stored) as [number, number];
    const changed = (change: (view: DataView, zip: Uint8Array) => void): Uint8Array => {
      const zip = stored.slice();
      change(new DataView(zip.buffer), zip);
      return zip;
    };
    const bad: readonly (readonly [string, Uint8Array])[] = [
      [
        'both files are one',
        changed((view) => view.setUint32(second + 42, view.getUint32(first + 42, true), true)),
      ],
      ['sizes beyond the file', changed((view) => view.setUint32(first + 20, 0x7fffffff, true))],
      ['a header beyond the file', changed((view) => view.setUint32(first + 42, 0x7fffffff, true))],
      ['a directory beyond the file', changed((view) => view.setUint32(stored.length - 6, 0x7ffffff0, true))],
      [
        'more files than there are',
        changed((view) => {
          for (const back of [12, 14]) view.setUint16(stored.length - back, 60_000, true);
        }),
      ],
      ['an unknown way of packing', changed((view) => view.setUint16(first + 10, 99, true))],
      ['one name twice', changed((_, zip) => zip.set(zip.subarray(first + 46, first + 55), second + 46))],
    ];
    for (const [what, zip] of bad) {
      const { status, json } = await load(owner, zip);
      expect([what, status, json.error?.kind]).toEqual([what, 422, 'not-an-archive']);
    }
  });

  it('[V163] that another program packed anew, with remarks and fields of its own, load as what they were', async () => {
    const files = unzipSync(await download(owner, await rich()));
    const anew = Object.entries(files).map(([path, bytes], i) => {
      const remark = { comment: 'kept since spring'.repeat(i), extra: { 28789: Uint8Array.of(1, 2, 3) } };
      return [path, [bytes, i === 1 ? {} : remark]] as const;
    });
    const archive = zipSync(Object.fromEntries(anew) as unknown as Zippable);
    expect(zipEntries(archive).map(({ name, bytes }) => [name, bytes])).toEqual(
      anew.map(([path, [bytes]]) => [path, bytes.length]),
    );
    const { status, json } = await load(owner, archive);
    expect([status, (await design(json.id)).board.title]).toEqual([201, 'Tails']);
  });

  it('[V165] with another byte in what is said about a version are refused', async () => {
    // Unpacked, so that the changed manifest still reads as JSON: only its sum tells.
    const files = unzipSync(await download(owner, await rich()));
    const archive = zipSync(files, { level: 0 });
    const text = new TextDecoder('latin1').decode(archive);
    const at = text.indexOf('"about"') + '"about":"'.length + 4;
    archive[at] = archive[at] === 0x61 ? 0x62 : 0x61;
    await expect(readArchive(archive)).rejects.toMatchObject({
      name: 'ArchiveError',
      kind: 'not-an-archive',
    });
  });

  it('[V165] damaged anywhere are refused or read as what they were', async () => {
    const archive = await download(owner, await rich());
    const whole = await readArchive(archive);
    await fc.assert(
      fc.asyncProperty(
        fc.nat(archive.length - 1),
        fc.integer({ min: 1, max: 255 }),
        fc.boolean(),
        async (at, by, isCut) => {
          const damaged = isCut ? archive.slice(0, at) : archive.slice();
          if (!isCut) damaged[at] = damaged[at]! ^ by;
          const read = await readArchive(damaged).catch((error: Error) => error);
          if (read instanceof Error) expect(read.name).toBe('ArchiveError');
          else expect(read).toEqual(whole);
        },
      ),
      { numRuns: 400 },
    );
  });
});
