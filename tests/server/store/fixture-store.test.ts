/** What an earlier release left in its data folder: all of it opens today. See tests/fixtures/store-2026-11/README.md. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, readTalk, type Thread } from '../../../engine/document/index.ts';
import {
  type DesignWhole,
  designWhole,
  readBoardWhole,
  type VersionWhole,
} from '../../support/board-whole.ts';
import { documentIn } from '../../support/browser-dump.ts';
import { Caller } from '../../support/caller.ts';
import { readBoard } from '../../support/own-board.ts';
import {
  copyFixture,
  FIXTURE_BOARDS,
  FIXTURE_PEOPLE,
  readDump,
  readExpected,
  readFixtureArchive,
} from '../../support/store-fixture.ts';
import { readStoreWhole } from '../../support/store-whole.ts';
import { type ChildServer, startChild } from '../child-server.ts';
import { message } from '../raw-client.ts';
import { sqliteStore, temporaryFolder } from '../test-server.ts';

const expected = readExpected();
const { boards, people, deleted } = expected;
const folder = temporaryFolder();
let server: ChildServer;
let orla: Caller;

beforeAll(async () => {
  await copyFixture(folder.path);
  server = await startChild({ DATA_DIR: folder.path });
  orla = new Caller(server.http, people.orla.cookie);
});
afterAll(async () => {
  await server?.stop('SIGTERM');
  folder.remove();
});

/** A design as the present release reads it, so that what it writes in another way still counts as the same. */
function read({ file, rowPairIds, stringPairIds }: DesignWhole): unknown {
  return { board: readBoard(file), rowPairIds, stringPairIds };
}

/** Who said it is somebody else on another board. */
function asSaid(threads: readonly Thread[]): unknown {
  return threads.map(({ remarks, done }) => [
    remarks.map(({ by, text, mentions }) => [by.name, by.hex, text, mentions.length]),
    done?.by.name,
  ]);
}

const shownVersion = (version: VersionWhole): unknown => ({ ...version, design: read(version.design) });

describe('the data of an earlier release', () => {
  it('[V230] the store holds every board, record and ended generation as it was written', async () => {
    const untouched = temporaryFolder();
    await copyFixture(untouched.path);
    const store = sqliteStore(untouched.path);
    const whole = await readStoreWhole(store);
    await store.close();
    untouched.remove();
    expect(whole).toEqual(expected.store);
    expect(whole.records.length).toBeGreaterThan(30);
    expect(whole.formers.filter(({ board }) => board === boards.dock.id)).toHaveLength(2);
  });

  it.each(FIXTURE_BOARDS)('[V230] %s: design, ids, talk, versions, proposals and links', async (name) => {
    const was = boards[name];
    const now = await readBoardWhole(orla, was.id);
    expect(read(now.design)).toEqual(read(was.design));
    expect(now.threads).toEqual(was.threads);
    expect(now.kind).toBe(was.kind);
    expect(now.links).toEqual(was.links);
    expect(
      now.proposals.map((one) => ({ ...one, base: read(one.base), present: read(one.present) })),
    ).toEqual(was.proposals.map((one) => ({ ...one, base: read(one.base), present: read(one.present) })));
    const lasting = expected.lasting[was.id]!;
    const isLasting = ({ id }: VersionWhole): boolean => lasting.includes(id);
    expect(now.versions.filter(isLasting).map(shownVersion)).toEqual(
      was.versions.filter(isLasting).map(shownVersion),
    );
    const file = await orla.get(`/api/boards/${was.id}/file`);
    expect(readBoard(file)).toEqual(readBoard(was.design.file));
  });

  it('[V230] demo boards that were made then are as they were', async () => {
    expect(expected.demos.length).toBeGreaterThan(5);
    const guest = new Caller(server.http);
    for (const { id, design } of expected.demos)
      expect(read(await guest.read(id, 'design', designWhole)), id).toEqual(read(design));
  });

  it.each(FIXTURE_PEOPLE)('[V230] %s is the same person and holds the same boards', async (who) => {
    const caller = new Caller(server.http, people[who].cookie);
    expect(await caller.idOn(boards.harbour.id)).toBe(people[who].personId);
    expect(await caller.get('/api/mine')).toEqual(people[who].boards);
  });

  it('[V230] every link lets in as what it was, and one taken back, ended or of a deleted board opens nothing', async () => {
    for (const { board, secret, role, endsAt, why } of expected.secrets) {
      const isOver = endsAt !== null && endsAt <= Date.now();
      expect(await new Caller(server.http).enter(board, secret), why).toBe(isOver ? null : role);
    }
    expect(expected.secrets.filter(({ role }) => role === null)).toHaveLength(2);
    expect(expected.secrets.filter(({ endsAt }) => endsAt !== null)).toHaveLength(2);
  });

  it('[V230] a deleted board stays deleted, and so does its branch', async () => {
    for (const id of [deleted.id, deleted.branch]) {
      expect((await orla.ask('GET', `/api/boards/${id}`)).status).toBe(404);
      expect(await orla.socket(id, 'design').closed).toBe(CLOSE_CODES.unknownBoard);
    }
  });

  it('[V230] branches open for those of the board, with what was said there, and are edited only while their proposal is open', async () => {
    const tove = new Caller(server.http, people.tove.cookie);
    const { proposals } = boards.stairs;
    for (const { id, state, name } of proposals) {
      const { canWrite } = await tove.get<{ canWrite: boolean }>(`/api/boards/${id}`);
      expect(canWrite, `${name}: ${state}`).toBe(state === 'draft' || state === 'open');
    }
    const draft = proposals.find(({ state }) => state === 'draft')!;
    const threads = await tove.read(draft.id, 'talk', (doc) => readTalk(doc).threads);
    expect(asSaid(threads)).toEqual([[[['Tøve', '#b3541e', 'not done yet', 0]], undefined]]);
  });

  it('[V230] the archive makes the same board, and every board is archived', async () => {
    const { id } = await orla.post<{ id: string }>('/api/archives', readFixtureArchive());
    const now = await readBoardWhole(orla, id);
    expect(read(now.design)).toEqual(read(boards.harbour.design));
    expect(asSaid(now.threads)).toEqual(asSaid(boards.harbour.threads));
    expect(now.versions.map(({ kind, name, at }) => ({ kind, name, at }))).toEqual(
      boards.harbour.versions.map(({ kind, name, at }) => ({ kind, name, at })),
    );
    for (const board of Object.values(boards))
      expect((await orla.bytes(`/api/boards/${board.id}/archive`)).length).toBeGreaterThan(500);
  });

  it('[V230] [V451] proposals of an earlier release are in an archive that is made now, and shown where it is loaded', async () => {
    const { stairs } = boards;
    const archive = await orla.bytes(`/api/boards/${stairs.id}/archive`);
    const { id } = await orla.post<{ id: string }>('/api/archives', archive);
    const now = await readBoardWhole(orla, id);
    const shown = ({ id: _, base, present, ...one }: (typeof stairs.proposals)[number]): unknown => ({
      ...one,
      base: read(base),
      present: read(present),
    });
    expect(now.proposals.map(shown)).toEqual(stairs.proposals.map(shown));
    expect(now.proposals).toHaveLength(5);
    const draft = now.proposals.find(({ state }) => state === 'draft')!;
    const threads = await orla.read(draft.id, 'talk', (doc) => readTalk(doc).threads);
    expect(asSaid(threads)).toEqual([[[['Tøve', '#b3541e', 'not done yet', 0]], undefined]]);
  });

  it('[V230] [V193] copies of both ended generations are brought over, what others overtook as a version', async () => {
    for (const [who, dump] of [
      ['tove', 'mate'],
      ['idris', 'purser'],
    ] as const) {
      const caller = new Caller(server.http, people[who].cookie);
      const copy = documentIn(readDump(dump), `larkboard-${boards.dock.id}`);
      expect(designWhole(copy).file.rows).toEqual(expected.browsers[dump].rows);
      const back = caller.socket(boards.dock.id, 'design');
      Y.applyUpdate(back.doc, Y.encodeStateAsUpdate(copy));
      await back.opened;
      back.send(message(0, 0, Y.encodeStateVector(back.doc)));
      expect(await back.closed).toBe(CLOSE_CODES.outdated);
    }
    const { title, rows } = (await orla.read(boards.dock.id, 'design', designWhole)).file;
    expect({ title, rows }).toEqual(expected.dockThen);
    // Both gave the board a title, so one of them is on a version.
    const { versions } = await orla.get<{ versions: readonly { kind: string; title: string }[] }>(
      `/api/boards/${boards.dock.id}/versions`,
    );
    expect(versions.filter(({ kind }) => kind === 'late')).toMatchObject([{ title: 'Dry dock, by Tøve' }]);
  });
});
