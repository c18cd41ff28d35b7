/** Proposals in an archive: to be read, and made again on a board that is loaded. */
import { createHash } from 'node:crypto';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Design, readDesign, readTalk } from '../../../engine/document/index.ts';
import { formatBoard } from '../../../engine/index.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';

/** A store that fails at the n-th record of a kind from now on. */
class TiredStore extends MemoryStore {
  failsAt: { kind: string; n: number } | null = null;

  override putRecord(...args: Parameters<MemoryStore['putRecord']>): ReturnType<MemoryStore['putRecord']> {
    const { failsAt } = this;
    if (failsAt?.kind === args[0].kind && --failsAt.n <= 0) throw new StoreError('full', 'no room');
    return super.putRecord(...args);
  }
}

let store: TiredStore;
let server: AccessServer;
let owner: Person;
let board: string;
/** What the list of the board says, without what differs from one board to the next. */
type Listed = Readonly<Record<string, unknown>>;

const at = (of: string): string => `/api/boards/${of}/proposals`;

async function edit(person: Person, on: string, act: (design: Design) => void): Promise<void> {
  const client = await person.socket(on, 'design').join();
  client.edit((doc) => {
    const design = new Design(doc, { makerId: 'x', newId: () => 'unused' });
    act(design);
    design.dispose();
  });
  client.mark(1);
  await client.savedMark(1);
  client.close();
}

/** A word about the whole of a branch. */
async function say(person: Person, on: string, text: string): Promise<void> {
  const by = { id: await person.idOn(on), name: 'Rae', hex: '#112233' };
  const command = { kind: 'open-thread', pin: { kind: 'board' }, text };
  const answer = await person.ask('POST', `/api/boards/${on}/talk`, {
    id: '0000000000000001',
    by,
    command,
  });
  expect(answer.status, answer.text).toBe(201);
}

async function propose(person: Person, title: string, row: number): Promise<string> {
  const made = await person.ask('POST', at(board), { title, name: 'Rae' });
  expect(made.status, made.text).toBe(201);
  const id = made.json.id as string;
  await edit(person, id, (design) => design.run({ kind: 'set-knots', knots: [{ row, k: 1, knot: 2 }] }));
  return id;
}

/** One proposal that is worked on, one handed in, one declined with a word; on the second something is said. */
beforeAll(async () => {
  store = new TiredStore();
  server = await startAccessServer({ store });
  owner = new Person(server);
  ({ id: board } = await owner.makeBoard());
  const rae = new Person(server);
  await rae.enter(board, (await owner.makeLink(board, 'reviewer')).secret);
  await propose(rae, 'a calmer edge', 0);
  const second = await propose(rae, 'one more bend', 2);
  await say(rae, second, 'is it too much');
  expect((await rae.ask('POST', `${at(board)}/${second}/hand-in`, {})).status).toBe(200);
  const third = await propose(rae, 'stripes', 4);
  expect((await rae.ask('POST', `${at(board)}/${third}/hand-in`, {})).status).toBe(200);
  const declined = await owner.ask('POST', `${at(board)}/${third}/decline`, { word: 'next time' });
  expect(declined.status, declined.text).toBe(200);
});
afterAll(() => closeAccessServer(server));

async function download(of = board): Promise<Uint8Array> {
  const answer = await ask(`${server.http}/api/boards/${of}/archive`, { headers: { cookie: owner.cookie } });
  expect(answer.status).toBe(200);
  return new Uint8Array(await answer.arrayBuffer());
}

async function load(archive: Uint8Array): Promise<{ status: number; json: { id: string; error?: Listed } }> {
  const body = archive as Uint8Array<ArrayBuffer>;
  const headers = { cookie: owner.cookie };
  const answer = await ask(`${server.http}/api/archives`, { method: 'POST', headers, body });
  return { status: answer.status, json: (await answer.json()) as { id: string } };
}

async function listOf(person: Person, of: string): Promise<readonly Listed[]> {
  return (await person.ask('GET', at(of))).json as unknown as readonly Listed[];
}

/** What a proposal is, by all that is shown of it; under whatever id. */
async function wholeOf(of: string, { id, isMine: _, ...listed }: Listed): Promise<unknown> {
  const { base, present } = (await owner.ask('GET', `${at(of)}/${id}/states`)).json;
  const [was, is] = [base, present].map((text) => {
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Buffer.from(text as string, 'base64'));
    const { board: shown, rowPairIds, stringPairIds } = readDesign(doc);
    return { shown, rowPairIds, stringPairIds };
  });
  const client = await owner.socket(id as string, 'talk').join();
  const said = readTalk(client.doc).threads.map(({ remarks }) =>
    remarks.map(({ by, text }) => [by.name, text]),
  );
  client.close();
  return { ...listed, was, is, said };
}

/** An archive like another one, with other records. */
function changed(
  archive: Uint8Array,
  change: (records: readonly Record<string, string>[]) => readonly Record<string, string>[],
  parts: Readonly<Record<string, Uint8Array>> = {},
): Uint8Array {
  const files = { ...unzipSync(archive), ...parts };
  const { 'manifest.json': manifest, ...all } = files;
  const stated = JSON.parse(new TextDecoder().decode(manifest)) as { records: Record<string, string>[] };
  const listed = Object.entries(all).map(([path, bytes]) => ({
    path,
    bytes: bytes.length,
    sha256: createHash('sha256').update(bytes).digest('hex'),
  }));
  const anew = { ...stated, parts: listed, records: change(stated.records) };
  return zipSync({ ...all, 'manifest.json': strToU8(JSON.stringify(anew)) }, { level: 1 });
}

describe('an archive', () => {
  it('[V450] holds the proposals to read: title, maker, how they stand, the word, the board as proposed, what was said', async () => {
    const files = unzipSync(await download());
    const told = JSON.parse(new TextDecoder().decode(files['proposals.json'])) as readonly Listed[];
    const byTitle = new Map(told.map((one) => [one.title, one]));
    expect([...byTitle.keys()].sort()).toEqual(['a calmer edge', 'one more bend', 'stripes']);
    for (const one of await listOf(owner, board)) {
      const read = byTitle.get(one.title)!;
      expect([read.name, read.state, read.word, read.isPart]).toEqual([
        one.name,
        one.state,
        one.word,
        one.isPart,
      ]);
      expect(read.madeAt).toBe(new Date(one.madeAt as number).toISOString());
      for (const time of ['handedInAt', 'closedAt'])
        expect(read[time]).toBe(one[time] === null ? null : new Date(one[time] as number).toISOString());
      const client = await owner.socket(one.id as string, 'design').join();
      expect(read.board).toEqual(JSON.parse(JSON.stringify(formatBoard(readDesign(client.doc).board))));
      client.close();
    }
    expect(JSON.stringify(byTitle.get('one more bend')!.talk)).toContain('is it too much');
    expect(byTitle.get('stripes')).toMatchObject({ state: 'declined', word: 'next time', talk: [] });
    expect(new TextDecoder().decode(files['README.txt'])).toContain('proposals.json');
  });

  it('[V451] makes a board with the same proposals, under new ids, of whom nobody here made one', async () => {
    const { status, json } = await load(await download());
    expect(status).toBe(201);
    const [was, now] = [await listOf(owner, board), await listOf(owner, json.id)];
    expect(now.map(({ id }) => id)).not.toEqual(was.map(({ id }) => id));
    expect(now.map(({ isMine }) => isMine)).toEqual([false, false, false]);
    expect(await Promise.all(now.map((one) => wholeOf(json.id, one)))).toEqual(
      await Promise.all(was.map((one) => wholeOf(board, one))),
    );
    for (const { id } of now) {
      const record = (await store.record(json.id, 'proposal', id as string))!;
      expect(JSON.parse(record.about)).toMatchObject({ proposer: expect.stringMatching(/^away-/) });
      // A branch opens only to those of its board.
      expect((await new Person(server).ask('GET', `/api/boards/${id}`)).status).toBe(404);
    }
    // Archived again and loaded once more it is the same.
    const again = await load(await download(json.id));
    expect(
      await Promise.all((await listOf(owner, again.json.id)).map((one) => wholeOf(again.json.id, one))),
    ).toEqual(await Promise.all(was.map((one) => wholeOf(board, one))));
  });

  it('[V451] whose proposals wait is answered by the owner of the new board, and handed in or withdrawn by nobody', async () => {
    const { json } = await load(await download());
    const [draft, open] = (await listOf(owner, json.id)).map(({ id }) => id as string);
    for (const act of ['hand-in', 'withdraw'])
      expect((await owner.ask('POST', `${at(json.id)}/${draft}/${act}`, {})).status).toBe(403);
    const { seen } = (await owner.ask('GET', `${at(json.id)}/${open}/states`)).json;
    const accepted = await owner.ask('POST', `${at(json.id)}/${open}/accept`, {
      seen,
      word: 'good',
      isPart: false,
    });
    expect(accepted.json).toMatchObject({ state: 'accepted', word: 'good' });
    const declined = await owner.ask('POST', `${at(json.id)}/${draft}/decline`, { word: '' });
    expect(declined.json).toMatchObject({ state: 'declined' });
    // They are gone with their board.
    expect((await owner.ask('DELETE', `/api/boards/${json.id}`)).status).toBe(200);
    for (const id of [draft!, open!]) expect(await store.board(id)).toBeNull();
  });

  it('[V452] of an earlier release holds no branches: its proposals stay in the file, whatever they say, and all else loads', async () => {
    const earlier = changed(await download(), (records) =>
      records
        .filter(({ kind }) => kind === 'version' || kind === 'proposal')
        .map((one) => (one.kind === 'proposal' ? { ...one, about: 'nothing of ours' } : one)),
    );
    const { status, json } = await load(earlier);
    expect([status, await listOf(owner, json.id)]).toEqual([201, []]);
  });

  it('[V452] whose proposals are none, too long, too many or damaged makes nothing', async () => {
    const archive = await download();
    const told = (patch: (about: Listed) => unknown) =>
      changed(archive, (records) =>
        records.map((one) =>
          one.kind === 'proposal'
            ? { ...one, about: JSON.stringify(patch(JSON.parse(one.about!) as Listed)) }
            : one,
        ),
      );
    const bad: readonly (readonly [what: string, archive: Uint8Array, status: number])[] = [
      ['no object', told(() => null), 422],
      ['no state of ours', told((about) => ({ ...about, state: 'dreamt' })), 422],
      ['a long title', told((about) => ({ ...about, title: 'x'.repeat(121) })), 422],
      ['a name that is none', told((about) => ({ ...about, name: 7 })), 422],
      ['a long word', told((about) => ({ ...about, word: 'x'.repeat(1_001) })), 422],
      ['a time that is none', told((about) => ({ ...about, madeAt: 'spring' })), 422],
      ['a time beyond all dates', told((about) => ({ ...about, closedAt: 9e15 })), 422],
      ['neither whole nor part', told((about) => ({ ...about, isPart: 'yes' })), 422],
      ['no proposer', told((about) => ({ ...about, proposer: null })), 422],
      ['much more', told((about) => ({ ...about, more: 'x'.repeat(17_000) })), 413],
      [
        'not JSON',
        changed(archive, (records) =>
          records.map((one) => (one.kind === 'proposal' ? { ...one, about: '{' } : one)),
        ),
        422,
      ],
    ];
    const boards = async () => [
      (await store.boardsOfKind('board')).length,
      (await store.boardsOfKind('branch')).length,
    ];
    const before = await boards();
    for (const [what, changedOne, wanted] of bad) {
      const { status, json } = await load(changedOne);
      expect([what, status]).toEqual([what, wanted]);
      expect(json.error?.path).toMatch(/^record [\w-]{22}$/);
    }
    for (const kind of ['proposal', 'proposal-design', 'proposal-talk']) {
      const path = (
        JSON.parse(new TextDecoder().decode(unzipSync(archive)['manifest.json'])) as {
          records: { kind: string; path: string }[];
        }
      ).records.find((one) => one.kind === kind)!.path;
      const { status, json } = await load(
        changed(archive, (records) => records, { [path]: Uint8Array.of(1, 2, 3) }),
      );
      expect([kind, status, json.error?.kind]).toEqual([kind, 422, 'damaged']);
    }
    expect(await boards()).toEqual(before);
  });

  it('[V452] holds no more of one state than a board keeps', async () => {
    const archive = await download();
    const files = unzipSync(archive);
    const { records } = JSON.parse(new TextDecoder().decode(files['manifest.json'])) as {
      records: Record<string, string>[];
    };
    const of = (kind: string): Record<string, string> => records.find((one) => one.kind === kind)!;
    const [first, shown] = [of('proposal'), of('proposal-design')];
    const many = (count: number, state: string): Uint8Array => {
      const parts: Record<string, Uint8Array> = {};
      const listed = Array.from({ length: count }, (_, i) => {
        const [one, two] = [`records/${1000 + 2 * i}.bin`, `records/${1001 + 2 * i}.bin`];
        parts[one] = files[first.path!]!;
        parts[two] = files[shown.path!]!;
        const about = JSON.stringify({ ...(JSON.parse(first.about!) as object), state });
        return [
          { kind: 'proposal', id: `p${i}`, about, path: one },
          { kind: 'proposal-design', id: `p${i}`, about: '', path: two },
        ];
      });
      return changed(archive, () => listed.flat(), parts);
    };
    for (const [state, most] of [
      ['open', 20],
      ['declined', 40],
      ['withdrawn', 40],
    ] as const) {
      const kept = await load(many(most, state));
      expect([state, kept.status, (await listOf(owner, kept.json.id)).length]).toEqual([state, 201, most]);
      const { status, json } = await load(many(most + 1, state));
      expect([state, status, json.error?.kind]).toEqual([state, 413, 'too-large']);
    }
  });

  it('[V452] leaves no branch where the store fails on the way', async () => {
    const archive = await download();
    const before = (await store.boardsOfKind('branch')).length;
    const boards = (await store.boardsOfKind('board')).length;
    store.failsAt = { kind: 'proposal', n: 2 };
    expect((await load(archive)).status).toBeGreaterThanOrEqual(500);
    store.failsAt = null;
    expect((await store.boardsOfKind('branch')).length).toBe(before);
    expect((await store.boardsOfKind('board')).length).toBe(boards);
  });
});

it('[V450] where a branch is not there any more, its proposal is packed without it', async () => {
  const { id } = await owner.makeBoard();
  const made = await owner.ask('POST', at(id), { title: 'knots alone', name: 'Kit' });
  await store.removeBoard(made.json.id as string);
  const files = unzipSync(await download(id));
  expect(Object.keys(files)).not.toContain('proposals.json');
  expect((await load(await download(id))).status).toBe(201);
});
