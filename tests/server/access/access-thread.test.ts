/** Links and persons in a thread of their own. */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { AccessThread } from '../../../server/access/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { StoreError, ThreadCalls } from '../../../server/store/index.ts';
import { turnsOfTheLoop } from '../../support/until.ts';
import { closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { accessStoreContract } from '../access-store-contract.ts';
import { temporaryFolder } from '../test-server.ts';

let folder: ReturnType<typeof temporaryFolder>;
let file: string;

beforeEach(() => {
  folder = temporaryFolder();
  file = join(folder.path, 'access.db');
});
afterEach(() => folder.remove());

const open = (options: { maxBytes?: number; busyMs?: number } = {}): Promise<AccessThread> =>
  AccessThread.open({
    file,
    workerFile: new URL('../../../dist/server/access/access-worker.js', import.meta.url),
    ...options,
  });

accessStoreContract('SQLite in its thread', () => open());

describe('the thread of the access store', () => {
  it('[V320] waits for a file that another process holds, while the event loop goes on', async () => {
    const store = await open({ busyMs: 60_000 });
    const other = new Database(file);
    other.exec('BEGIN IMMEDIATE');
    let isStored = false;
    const stored = store.addSession('hash', 'person', 1).then(() => {
      isStored = true;
    });
    await turnsOfTheLoop(100);
    expect(isStored).toBe(false);
    other.exec('ROLLBACK');
    other.close();
    await stored;
    expect(await store.personBySession('hash', 0)).toBe('person');
    await store.close();
  });

  it('[V320] says what is wrong, goes on, and is closed once all that was asked is answered', async () => {
    const store = await open({ busyMs: 10 });
    const other = new Database(file);
    other.exec('BEGIN IMMEDIATE');
    await expect(store.addSession('hash', 'person', 1)).rejects.toMatchObject({ kind: 'locked' });
    other.exec('ROLLBACK');
    other.close();
    const last = store.addSession('hash', 'person', 1);
    await store.close();
    await last;
    await store.close();
    await expect(store.personBySession('hash', 0)).rejects.toMatchObject({ kind: 'closed' });
    const again = await open();
    expect(await again.personBySession('hash', 0)).toBe('person');
    await again.close();
  });

  it('[V320] is no store where the file cannot be opened', async () => {
    const db = new Database(file);
    db.pragma('user_version = 99');
    db.close();
    await expect(open()).rejects.toThrow(/layout 99/);
    await expect(open()).rejects.toBeInstanceOf(StoreError);
  });

  it('[V320] that ends by a fault refuses what was asked, and is begun again by the next who asks', async () => {
    const script = `const { parentPort } = require('node:worker_threads');
      parentPort.on('message', ({ id, call }) => {
        if (call === 'fault') throw new Error('a fault');
        parentPort.postMessage({ id, value: call });
        if (call === null) parentPort.close();
      });`;
    let begun = 0;
    const calls = new ThreadCalls<string>(() => {
      begun += 1;
      return new Worker(script, { eval: true });
    });
    expect(await calls.ask('a')).toBe('a');
    const both = await Promise.allSettled([calls.ask('fault'), calls.ask('b')]);
    for (const one of both)
      expect(one).toMatchObject({
        status: 'rejected',
        reason: { kind: 'unavailable', message: expect.stringContaining('a fault') },
      });
    expect([await calls.ask('c'), begun]).toEqual(['c', 2]);
    await calls.close();
  });
});

/**
 * Writes until the disk takes no more of it: of rows as small as real ones or smaller, with keys as scattered, so that none of the
 * pages there are has room left.
 */
async function fill(write: (name: string) => Promise<void>): Promise<void> {
  let refused = 0;
  for (let nr = 0; refused < 300; nr += 1)
    try {
      await write(createHash('sha256').update(`${nr}`).digest('base64url'));
      refused = 0;
    } catch (cause) {
      expect(cause).toMatchObject({ kind: 'full' });
      refused += 1;
    }
}

describe('a full disk', () => {
  it('[V321] answers 507 to whoever needs a link or a session, and leaves those in who are in', async () => {
    const store = await open({ maxBytes: 100_000 });
    const server = await startAccessServer({}, store);
    const owner = new Person(server);
    const board = await owner.makeBoard();
    const link = await owner.makeLink(board.id, 'co-maker');
    const boards = server.store.boardsOfKind('board');
    await fill((name) => store.addSession(name, '', 1));
    await fill((name) => store.addGrant({ personId: name.slice(0, 10), linkId: '', boardId: '' }));
    const empty = {
      boardId: '',
      role: 'owner',
      name: '',
      createdAt: 1,
      endsAt: null,
      revokedAt: null,
    } as const;
    await fill((name) => store.addLink({ ...empty, id: name.slice(0, 10), secretHash: name }));
    for (const answer of [
      await owner.ask('POST', '/api/boards', { strings: 8, rows: 12 }),
      await new Person(server).ask('POST', '/api/boards', { strings: 8, rows: 12 }),
      await owner.ask('POST', `/api/boards/${board.id}/links`, { role: 'co-maker', name: 'x'.repeat(60) }),
      await new Person(server).enter(board.id, link.secret),
    ])
      expect([answer.status, answer.json.error]).toEqual([
        507,
        expect.objectContaining({ kind: 'store-full' }),
      ]);
    expect(await server.store.boardsOfKind('board')).toEqual(await boards);
    expect((await owner.ask('GET', `/api/boards/${board.id}/me`)).status).toBe(200);
    const socket = await owner.socket(board.id, 'design').join();
    socket.edit((doc) => doc.getMap('meta').set('title', 'still'));
    socket.mark(1);
    await socket.savedMark(1);
    await closeAccessServer(server);
  });

  it('[V321] turns nobody away whose session cannot be made to last anew', async () => {
    class FullLinks extends MemoryAccessStore {
      extensions = 0;

      override async extendSession(): Promise<boolean> {
        this.extensions += 1;
        throw new StoreError('full', 'no space');
      }
    }
    const links = new FullLinks();
    const server = await startAccessServer({}, links);
    const owner = new Person(server);
    const board = await owner.makeBoard();
    const { extensions } = links;
    for (const path of [`/api/boards/${board.id}/me`, '/api/mine'])
      expect((await owner.ask('GET', path)).status, path).toBe(200);
    expect(links.extensions).toBeGreaterThan(extensions);
    await closeAccessServer(server);
  });
});
