/** What an archive may hold at most, and how it is checked. */
import { createHash } from 'node:crypto';
import { deflateRawSync } from 'node:zlib';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { PACK } from '../../../server/archive/pack-archive.ts';
import { writeArchive } from '../../../server/archive/write-archive.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { checkCopy } from '../../../server/sync/index.ts';
import { Versions } from '../../../server/versions/index.ts';
import { snapshotOf } from '../../../server/versions/snapshot.ts';
import { ask } from '../../support/ask.ts';
import { craftUpdate, values, waitingInACircle } from '../../support/crafted-update.ts';
import { openDesign } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const ABOUT = { name: 'first', by: null, title: 'kites', strings: 8, rows: 12, digest: '' };

const about = (kind: string, at: number): string => JSON.stringify({ ...ABOUT, kind, at, by: null });

/** A store that cannot read records while it is told so. */
class AwayStore extends MemoryStore {
  isAway = false;

  override async record(...args: Parameters<MemoryStore['record']>): ReturnType<MemoryStore['record']> {
    if (this.isAway) throw new StoreError('unavailable', 'away');
    return super.record(...args);
  }
}

let store: AwayStore;
let server: TestServer;
beforeAll(async () => {
  store = new AwayStore();
  server = await startTestServer({ store });
});
afterAll(() => server.close());

async function download(): Promise<Uint8Array> {
  const answer = await ask(`${server.http}/api/boards/${await makeBoard(server)}/archive`);
  return new Uint8Array(await answer.arrayBuffer());
}

async function load(archive: Uint8Array): Promise<{
  status: number;
  json: { id: string; error?: { kind: string; path: string; message: string } };
}> {
  const body = archive as Uint8Array<ArrayBuffer>;
  const answer = await ask(`${server.http}/api/archives`, { method: 'POST', body });
  return { status: answer.status, json: (await answer.json()) as { id: string } };
}

describe('archives', () => {
  /** An archive like another one, with other parts and records. */
  function changed(
    files: Readonly<Record<string, Uint8Array>>,
    parts: Readonly<Record<string, Uint8Array>>,
    records?: readonly {
      readonly kind: string;
      readonly id: string;
      readonly about: string;
      readonly path: string;
    }[],
  ): Uint8Array {
    const manifest = JSON.parse(new TextDecoder().decode(files['manifest.json'])) as Record<string, unknown>;
    const { 'manifest.json': _, ...all } = { ...files, ...parts };
    const listed = Object.entries(all).map(([path, bytes]) => ({
      path,
      bytes: bytes.length,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    }));
    const stated = { ...manifest, parts: listed, ...(records && { records }) };
    return zipSync({ ...all, 'manifest.json': strToU8(JSON.stringify(stated)) }, { level: 1 });
  }

  /** Versions as records of an archive, each with a part of its own. */
  function versions(kinds: readonly string[], size: number, apartMs = 1, sinceMs = 0) {
    const pathOf = (i: number): string => `records/${String(i + 1).padStart(4, '0')}.bin`;
    const parts = Object.fromEntries(kinds.map((_, i) => [pathOf(i), new Uint8Array(size).fill(i)]));
    const records = kinds.map((kind, i) => ({
      kind: 'version',
      id: `v${i}`,
      about: about(kind, sinceMs + i * apartMs),
      path: pathOf(i),
    }));
    return { parts, records };
  }

  it('[V283] whose records are longer than any this server keeps make nothing', async () => {
    const files = unzipSync(await download());
    const many = (await store.boardsOfKind('board')).length;
    const long = versions(['named'], 8 * 1024 * 1024 + 1);
    const wordy = versions(['named'], 10);
    wordy.records[0]!.about = JSON.stringify({ ...ABOUT, more: 'x'.repeat(4096) });
    for (const { parts, records } of [long, wordy]) {
      const { status, json } = await load(changed(files, parts, records));
      expect([status, json.error?.kind, json.error?.path]).toEqual([413, 'too-large', 'record v0']);
    }
    expect((await store.boardsOfKind('board')).length).toBe(many);
  });

  it('[V283] keep no more versions on the new board than any board does', async () => {
    const files = unzipSync(await download());
    // A version a day for years: the caps end what the steps of time would leave.
    const days = versions(
      Array.from({ length: 1_500 }, () => 'auto'),
      10,
      8 * 24 * 60 * 60 * 1000,
    );
    const { status, json } = await load(changed(files, days.parts, days.records));
    expect(status).toBe(201);
    const kept = (await store.records(json.id, 'version')).map(({ id }) => id);
    expect(kept).toHaveLength(400);
    expect(kept).toContain('v0');
    expect(kept).toContain('v1499');
    for (const [count, size] of [
      [101, 10],
      [9, 1024 * 1024],
    ] as const) {
      const named = versions(
        Array.from({ length: count }, () => 'named'),
        size,
      );
      const refused = await load(changed(files, named.parts, named.records));
      expect([refused.status, refused.json.error?.path]).toEqual([413, 'records']);
    }
  });

  it('[V283] [V335] keep no more of a time to come either', async () => {
    const files = unzipSync(await download());
    const week = 8 * 24 * 60 * 60 * 1000;
    const kinds = Array.from({ length: 1_500 }, () => 'auto');
    const days = versions(kinds, 10, week, Date.UTC(2100, 0, 1));
    const { status, json } = await load(changed(files, days.parts, days.records));
    expect(status).toBe(201);
    const kept = (await store.records(json.id, 'version')).map(({ id }) => id);
    expect(kept).toHaveLength(400);
    expect(kept).toContain('v1499');
  });

  it('[V284] are checked like edits: a design that holds what no design is made of makes nothing', async () => {
    const files = unzipSync(await download());
    const doc = new Y.Doc();
    Y.applyUpdate(doc, files['design.yjs']!);
    doc.getMap('meta').set('title', new Y.Map());
    const { status, json } = await load(changed(files, { 'design.yjs': Y.encodeStateAsUpdate(doc) }));
    expect([status, json.error?.kind, json.error?.path]).toEqual([422, 'damaged', 'design.yjs']);
    expect(json.error?.message).toContain('is no document');
  });

  it('[V165] [V284] whose documents are not whole, or of a later version, make nothing and say which', async () => {
    const files = unzipSync(await download());
    const design = files['design.yjs']!;
    const edited = (edit: (doc: Y.Doc) => void, since?: Uint8Array): Uint8Array => {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, design);
      const before = Y.encodeStateVector(doc);
      edit(doc);
      return Y.encodeStateAsUpdate(doc, since ?? before);
    };
    const whole = Uint8Array.of(0);
    const newer = (doc: Y.Doc): unknown => doc.getMap('meta').set('version', 99);
    const talk = new Y.Doc();
    newer(talk);
    const many = (await store.boardsOfKind('board')).length;
    const cases: readonly (readonly [
      what: string,
      path: string,
      bytes: Uint8Array,
      kind: string,
      says: string,
    ])[] = [
      [
        'the last edit alone',
        'design.yjs',
        edited((doc) => doc.getArray('rowPairs').insert(1, ['p.~1'])),
        'damaged',
        'lacks a part of its own past',
      ],
      ['each before the other', 'design.yjs', waitingInACircle(), 'damaged', 'lacks a part of its own past'],
      ['nothing', 'design.yjs', Uint8Array.of(0, 0), 'damaged', 'holds no board'],
      ['a later design', 'design.yjs', edited(newer, whole), 'newer-archive', 'is of version 99'],
      ['a later talk', 'talk.yjs', Y.encodeStateAsUpdate(talk), 'newer-archive', 'is of a later version'],
    ];
    for (const [what, path, bytes, kind, says] of cases) {
      const { status, json } = await load(changed(files, { [path]: bytes }));
      expect([what, status, json.error?.kind, json.error?.path]).toEqual([what, 422, kind, path]);
      expect(json.error?.message).toContain(says);
    }
    const wordless = versions(['named'], 10);
    wordless.records[0]!.about = JSON.stringify({ ...ABOUT, kind: 'dreamt' });
    const { status, json } = await load(changed(files, wordless.parts, wordless.records));
    expect([status, json.error?.kind, json.error?.path]).toEqual([422, 'damaged', 'record v0']);
    expect((await store.boardsOfKind('board')).length).toBe(many);
  });

  it('[V284] [V241] whose design or talk takes too many steps to place make nothing', async () => {
    const files = unzipSync(await download());
    for (const path of ['design.yjs', 'talk.yjs']) {
      const { status, json } = await load(changed(files, { [path]: overwritten(1_500) }));
      expect([status, json.error?.kind, json.error?.path]).toEqual([413, 'too-large', path]);
      // Few of the same are refused for what they are not, not for what they take.
      const few = await load(changed(files, { [path]: overwritten(20) }));
      expect(few.json.error?.kind).not.toBe('too-large');
    }
  });
});

/** One key written over and over as if it were new: steps by the square. */
function overwritten(size: number): Uint8Array {
  const structs = Array.from({ length: size }, () => ({ parent: 'meta', key: 'a', content: values(1) }));
  return craftUpdate([{ client: 2 ** 32 + 5, structs }]);
}

describe('a board that is packed', () => {
  const archiveOf = (board: string): Promise<Response> => ask(`${server.http}/api/boards/${board}/archive`);
  const kept = (board: string, id: string) => ({
    board,
    kind: 'version',
    id,
    about: about('named', 1),
    bytes: Uint8Array.of(1),
  });

  it('[V162] is refused where it has more parts than an archive may have, and nothing is sent', async () => {
    const board = await makeBoard(server);
    for (let i = 0; i < 1_995; i += 1) await store.putRecord(kept(board, `v${i}`));
    const answer = await archiveOf(board);
    expect([answer.status, await answer.json()]).toMatchObject([413, { error: { kind: 'too-large' } }]);
    await store.removeRecord(board, 'version', 'v0');
    expect((await archiveOf(board)).status).toBe(200);
  });

  it('[V340] lacks no record because the store is away: then it is not packed', async () => {
    const board = await makeBoard(server);
    await store.putRecord(kept(board, 'first'));
    store.isAway = true;
    expect((await archiveOf(board)).status).toBe(503);
    store.isAway = false;
    const answer = await archiveOf(board);
    expect([answer.status, answer.headers.get('larkboard-lacks')]).toEqual([200, null]);
  });

  it('[V162] is packed with the document that it has, also where that holds no design', async () => {
    await store.addBoard({ id: 'bare', kind: 'board', createdAt: 0 }, []);
    const answer = await archiveOf('bare');
    expect(answer.status).toBe(200);
    const doc = new Y.Doc();
    Y.applyUpdate(doc, unzipSync(new Uint8Array(await answer.arrayBuffer()))['design.yjs']!);
    expect(doc.getMap('meta').size).toBe(0);
  });

  it('fails by a fault of the server, or of its clock, and is not said to be too large', async () => {
    const nothing = { records: [], branches: [], lacks: [] };
    const empty = Uint8Array.of(0, 0);
    const design = [Uint8Array.of(1, 1, 1, 255)];
    await expect(
      PACK.run({ ...nothing, design, talk: [], now: Date.UTC(2030, 0) }),
    ).rejects.not.toHaveProperty('fault');
    const texts = { boardFile: {}, talkText: [], proposalsText: [] };
    const content = { ...nothing, ...texts, title: '', design: empty, talk: empty };
    // A zip file knows no time before 1980, where the clock of a machine without a battery begins.
    await expect(writeArchive(content, 0)).rejects.toThrow('date');
  });
});

it('[V284] a version is given to nobody that takes too many steps; of the largest boards it hardly takes any', async () => {
  const boards = new MemoryStore();
  await boards.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const versions = new Versions({ store: boards, now: () => 0 });
  const put = async (id: string, state: Uint8Array): Promise<void> => {
    const bytes = deflateRawSync(state);
    const text = about('named', 1);
    await boards.putRecord({ board: 'kites', kind: 'version', id, about: text, bytes });
  };
  await put('few', overwritten(20));
  await put('many', overwritten(1_500));
  expect(await versions.state('kites', 'few')).toBeInstanceOf(Uint8Array);
  expect(await versions.state('kites', 'many')).toBe('damaged');
  const large = snapshotOf(openDesign(sampleBoard(200, 20_000)).doc)!;
  await put('large', large.state);
  const kept = await versions.state('kites', 'large');
  expect(kept instanceof Uint8Array && Buffer.compare(kept, large.state)).toBe(0);
  const check = checkCopy(large.state, 'design');
  expect(check.kind === 'fits' && check.placing.steps).toBeLessThan(1_000);
});
