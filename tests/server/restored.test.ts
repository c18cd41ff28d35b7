/** An earlier backup took the place of the data: what browsers still hold of what came after it. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, readDesign } from '../../engine/document/index.ts';
import { backup, restore } from '../../server/backup.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { LinePage } from './line-page.ts';
import { message, RawClient } from './raw-client.ts';
import { makeBoard, sqliteStore, startTestServer, type TestServer, temporaryFolder } from './test-server.ts';
import { comeWith, leave, RENEWS, runAll, save, tieOver } from './worn-board.ts';

let folder: ReturnType<typeof temporaryFolder>;
let data: string;
let server: TestServer;
const pages: LinePage[] = [];

beforeEach(async () => {
  folder = temporaryFolder();
  data = join(folder.path, 'data');
  mkdirSync(data);
  server = await start();
});
afterEach(async () => {
  for (const page of pages.splice(0)) page.end();
  await server.close();
  await server.store.close();
  folder.remove();
});

function start(): Promise<TestServer> {
  return startTestServer({ store: sqliteStore(data), env: RENEWS });
}

/** Puts a backup in place of the data, as who runs the server does it. */
async function goBackTo(copy: string): Promise<void> {
  await server.close();
  await server.store.close();
  restore(copy, data, { faultsIn: () => [], timeName: 'now' });
  server = await start();
}

const enter = (board: string): Promise<RawClient> => new RawClient(`${server.ws}/${board}/design`).join();

async function presentOf(board: string): Promise<Y.Doc> {
  const client = await enter(board);
  client.close();
  return client.doc;
}

const titleOf = (doc: Y.Doc): string => readDesign(doc).board.title;

async function lateVersions(board: string): Promise<readonly string[]> {
  const answer = await ask(`${server.http}/api/boards/${board}/versions`);
  const { versions } = (await answer.json()) as { versions: readonly { kind: string; title: string }[] };
  return versions.filter(({ kind }) => kind === 'late').map(({ title }) => title);
}

const setTitle =
  (title: string) =>
  (doc: Y.Doc): void =>
    runAll(doc, [{ kind: 'set-title', title }]);

/** A board of which there is a backup; then it was renewed and edited. @returns what somebody holds of it, with an edit of their own */
async function renewedAfterBackup(): Promise<{
  readonly board: string;
  readonly copy: Y.Doc;
  readonly kept: string;
}> {
  const board = await makeBoard(server);
  const maker = await enter(board);
  await save(maker, setTitle('in the backup'));
  maker.close();
  await until('the room is gone', () => server.rooms.size === 0);
  const kept = join(folder.path, 'kept');
  await backup(data, kept);
  const wearer = await enter(board);
  await save(wearer, (doc) => tieOver(doc, 4_000));
  await leave(server, wearer);
  expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(1);
  const holder = await enter(board);
  await save(holder, setTitle('after the backup'));
  await leave(server, holder);
  setTitle('never saved')(holder.doc);
  return { board, copy: holder.doc, kept };
}

describe('a restore of an earlier backup', () => {
  it('[V356] a copy of a generation that came after it is kept as a version, once, and not mixed into the board', async () => {
    const { board, copy, kept } = await renewedAfterBackup();
    await goBackTo(kept);
    const before = Y.encodeStateVector(await presentOf(board));
    for (let time = 0; time < 2; time += 1) {
      const back = await comeWith(server, board, copy);
      expect(await back.closed).toBe(CLOSE_CODES.outdated);
      // Nor is the board mixed into the copy.
      expect(back.heard.some(({ kind }) => kind === 'step2' || kind === 'update')).toBe(false);
    }
    const present = await presentOf(board);
    expect(titleOf(present)).toBe('in the backup');
    expect(Y.encodeStateVector(present)).toEqual(before);
    expect(await lateVersions(board)).toEqual(['never saved']);
  });

  it('[V356] so it is when the board was renewed again since, and its generation has the same number', async () => {
    const { board, copy, kept } = await renewedAfterBackup();
    await goBackTo(kept);
    const wearer = await enter(board);
    await save(wearer, (doc) => tieOver(doc, 4_000));
    await leave(server, wearer);
    expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(1);
    const back = await comeWith(server, board, copy);
    expect(await back.closed).toBe(CLOSE_CODES.outdated);
    expect(titleOf(await presentOf(board))).toBe('in the backup');
    expect(await lateVersions(board)).toEqual(['never saved']);
    // A copy of the generation that was in the backup comes over as ever.
    setTitle('made away')(wearer.doc);
    expect(await (await comeWith(server, board, wearer.doc)).closed).toBe(CLOSE_CODES.outdated);
    expect(titleOf(await presentOf(board))).toBe('made away');
  });

  it('[V356] a page gives up such a copy once it is kept, and has the board', async () => {
    const { board, copy, kept } = await renewedAfterBackup();
    await goBackTo(kept);
    const page = new LinePage(server.ws, board);
    pages.push(page);
    page.hold(copy);
    page.wire.isDown = false;
    await until('it has the board', () => {
      page.look();
      return page.drops === 1 && page.line.saved === 'saved';
    });
    expect(titleOf(page.doc)).toBe('in the backup');
    expect(await lateVersions(board)).toEqual(['never saved']);
  });

  it('[V356] a copy of a generation that the backup holds brings back what was edited after it', async () => {
    const board = await makeBoard(server);
    const maker = await enter(board);
    await save(maker, setTitle('in the backup'));
    const kept = join(folder.path, 'kept');
    await backup(data, kept);
    await save(maker, setTitle('after the backup'));
    await leave(server, maker);
    await goBackTo(kept);
    expect(titleOf(await presentOf(board))).toBe('in the backup');
    const back = await comeWith(server, board, maker.doc);
    back.mark(1);
    await back.savedMark(1);
    expect(titleOf(await presentOf(board))).toBe('after the backup');
    expect(await lateVersions(board)).toEqual([]);
    back.close();
  });

  it('[V356] who may only look, and holds such a copy, is put out to join anew; nothing is kept', async () => {
    const { board, copy, kept } = await renewedAfterBackup();
    await goBackTo(kept);
    const looking = await startTestServer({
      store: server.store,
      env: RENEWS,
      authorize: async () => ({
        role: 'onlooker',
        canWrite: false,
        personId: null,
        endsAt: null,
        isAdmitted: false,
      }),
    });
    expect(await (await comeWith(looking, board, copy)).closed).toBe(CLOSE_CODES.outdated);
    expect(await lateVersions(board)).toEqual([]);
    await looking.close();
  });

  it('[V356] where the copy cannot be kept it stays with its people', async () => {
    const { board, copy, kept } = await renewedAfterBackup();
    await goBackTo(kept);
    const puts = server.store.putRecord;
    server.store.putRecord = () => Promise.reject(new Error('injected'));
    expect(await (await comeWith(server, board, copy)).closed).toBe(CLOSE_CODES.storeFailed);
    server.store.putRecord = puts;
    expect(await (await comeWith(server, board, copy)).closed).toBe(CLOSE_CODES.outdated);
    expect(await lateVersions(board)).toEqual(['never saved']);
  });
});

describe('a document without a name', () => {
  it.each([true, false])(
    '[V357] that somebody made before they came is taken, and they get the board then: shown first %s',
    async (isFirst) => {
      const other = await startTestServer({ store: new MemoryStore() });
      const board = await makeBoard(other);
      const client = new RawClient(`${other.ws}/${board}/design`);
      client.doc.getMap('meta').set('colour', 'plum');
      client.answers = isFirst;
      await client.opened;
      if (isFirst) await client.waitFor(({ kind }) => kind === 'step1');
      client.send(message(0, 0, Y.encodeStateVector(client.doc)));
      await client.reached();
      expect(client.heard.some(({ kind }) => kind === 'step2')).toBe(isFirst);
      if (!isFirst) client.send(message(0, 1, Y.encodeStateAsUpdate(client.doc)));
      await client.waitFor(({ kind }) => kind === 'step2');
      client.mark(1);
      await client.savedMark(1);
      const late = await new RawClient(`${other.ws}/${board}/design`).join();
      expect(late.doc.getMap('meta').get('colour')).toBe('plum');
      for (const one of [client, late]) one.close();
      await other.close();
    },
  );
});
