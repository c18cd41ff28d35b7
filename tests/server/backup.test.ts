/** Copies of a data folder: of one moment, read without a trace, put back whole. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccessStore } from '../../server/access/sqlite-access-store.ts';
import { backup, type RestoreStep, restore } from '../../server/backup.ts';
import { lockFolder, SqliteCore } from '../../server/store/index.ts';
import { ask } from '../support/ask.ts';
import { FIXTURE, FIXTURE_DATA } from '../support/store-fixture.ts';
import { until } from '../support/until.ts';
import { freePort, startChild } from './child-server.ts';
import { temporaryFolder } from './test-server.ts';

const COMMAND = fileURLToPath(new URL('../../dist/server/store-command.js', import.meta.url));
const MODULE = new URL('../../dist/server/backup.js', import.meta.url).href;

let folder: ReturnType<typeof temporaryFolder>;
let data: string;
let copy: string;

beforeEach(() => {
  folder = temporaryFolder();
  data = join(folder.path, 'data');
  copy = join(folder.path, 'copy');
  mkdirSync(data);
});
afterEach(() => folder.remove());

/** Makes a board with an owner link, as the server does. */
async function addBoard(to: string, id: string): Promise<void> {
  const [core, access] = [
    new SqliteCore(join(to, 'larkboard.db')),
    new SqliteAccessStore(join(to, 'access.db')),
  ];
  core.addBoard({ id, kind: 'board', createdAt: 1 }, []);
  await access.addLink({
    id: `link of ${id}`,
    boardId: id,
    role: 'owner',
    name: '',
    secretHash: `hash of ${id}`,
    createdAt: 1,
    endsAt: null,
    revokedAt: null,
  });
  core.close();
  await access.close();
}

/** Boards and boards with links of a folder. */
function boardsIn(at: string): { readonly boards: readonly string[]; readonly linked: readonly string[] } {
  const read = (name: string, sql: string): string[] => {
    const db = new Database(join(at, name), { readonly: true });
    const ids = (db.prepare(sql).all() as { id: string }[]).map(({ id }) => id);
    db.close();
    return ids;
  };
  return {
    boards: read('larkboard.db', `SELECT id FROM boards WHERE kind = 'board' ORDER BY id`),
    linked: read('access.db', 'SELECT DISTINCT board_id AS id FROM links ORDER BY 1'),
  };
}

/** All files of a folder with what is in them. */
function filesIn(at: string): unknown {
  return readdirSync(at)
    .sort()
    .map((name) => [
      name,
      createHash('sha256')
        .update(readFileSync(join(at, name)))
        .digest('hex'),
    ]);
}

const run = (...args: string[]): { status: number | null; out: string } => {
  const done = spawnSync(process.execPath, [COMMAND, ...args], { env: { DATA_DIR: data } });
  return { status: done.status, out: `${done.stdout}${done.stderr}` };
};

/** Runs a line of a module's user in a process of its own, which may end itself. @returns the signal that ended it */
function inProcess(line: string): string | null {
  const script = `const { backup, restore } = await import(${JSON.stringify(MODULE)}); ${line}`;
  const child = spawnSync(process.execPath, ['--input-type=module', '-e', script]);
  if (child.signal === null && child.status !== 0) throw new Error(child.stderr.toString());
  return child.signal;
}

describe('a backup', () => {
  it('[V315] holds nothing of either file that was written after the moment, and keeps nobody from writing', async () => {
    await addBoard(data, 'a');
    await backup(data, copy, () => addBoard(data, 'late'));
    expect(boardsIn(copy)).toEqual({ boards: ['a'], linked: ['a'] });
    expect(boardsIn(data)).toEqual({ boards: ['a', 'late'], linked: ['a', 'late'] });
    // Two files, and nothing beside them.
    expect(readdirSync(copy).sort()).toEqual(['access.db', 'larkboard.db']);
    expect(readdirSync(folder.path).sort()).toEqual(['copy', 'data']);
  });

  it('[V315] of a server that makes boards as fast as it can has at most the one being made without its owner', async () => {
    const server = await startChild({
      PORT: String(await freePort()),
      DATA_DIR: data,
      GATHER_MS: '0',
      MAX_BOARDS_PER_HOUR: '100000',
    });
    let made = 0;
    let isMaking = true;
    const making = (async () => {
      for (; isMaking; made += 1)
        expect((await ask(`${server.http}/api/boards`, { method: 'POST', body: '{}' })).status).toBe(201);
    })();
    for (let times = 0; times < 3; times += 1) {
      const before = made;
      await until('more are made', () => made > before + 3);
      await backup(data, `${copy}${times}`);
      const { boards, linked } = boardsIn(`${copy}${times}`);
      expect(boards.length).toBeGreaterThan(before);
      expect(boards.filter((id) => !linked.includes(id)).length).toBeLessThanOrEqual(1);
      expect(linked.filter((id) => !boards.includes(id))).toEqual([]);
    }
    isMaking = false;
    await making;
    await server.stop('SIGTERM');
  });

  it('[V315] that is broken off is none', async () => {
    await addBoard(data, 'a');
    const line = `await backup(${JSON.stringify(data)}, ${JSON.stringify(copy)}, () => process.kill(process.pid, 'SIGKILL'));`;
    expect(inProcess(line)).toBe('SIGKILL');
    expect(existsSync(copy)).toBe(false);
    await backup(data, copy);
    expect(boardsIn(copy).boards).toEqual(['a']);
    expect(readdirSync(folder.path).sort()).toEqual(['copy', 'data']);
  });
});

describe('checking', () => {
  it('[V316] leaves a backup as it is to the byte, and puts nothing beside it', async () => {
    await addBoard(data, 'a');
    await backup(data, copy);
    // Also one that is only a copy of the files, of an earlier release.
    const other = join(folder.path, 'other');
    mkdirSync(other);
    for (const name of FIXTURE_DATA) copyFileSync(join(FIXTURE, name), join(other, name));
    for (const place of [copy, other]) {
      const before = filesIn(place);
      expect(run('check', place)).toMatchObject({ status: 0, out: expect.stringContaining('all well') });
      expect(filesIn(place)).toEqual(before);
    }
    expect(run('check', other).out).toMatch(/[1-9]\d* links/);
  });

  it('[V316] makes no tables where there are none', () => {
    const file = join(data, 'larkboard.db');
    new Database(file).exec('CREATE TABLE other (x)').close();
    expect(run('check').status).toBe(2);
    const db = new Database(file);
    expect(db.prepare('SELECT name FROM sqlite_master').all()).toEqual([{ name: 'other' }]);
    db.close();
  });

  it('[V316] [V83] names what is wrong with links', async () => {
    await addBoard(data, 'a');
    await backup(data, copy);
    const db = new Database(join(copy, 'access.db'));
    db.exec(`UPDATE links SET role = 'captain'`);
    db.close();
    const checked = run('check', copy);
    expect(checked.status).toBe(1);
    expect(checked.out).toContain('fault: link link of a holds the unknown role "captain"');
    expect(run('restore', copy)).toMatchObject({ status: 2, out: expect.stringContaining('captain') });
    expect(boardsIn(data).boards).toEqual(['a']);
    expect(readdirSync(data).filter((name) => name.startsWith('restor'))).toEqual([]);
  });
});

describe('a restore', () => {
  const STEPS: readonly RestoreStep[] = [
    'copied',
    'checked',
    'synced',
    'marked',
    'aside',
    'one',
    'all',
    'done',
  ];

  it.each(STEPS)(
    '[V317] that ends at %s leaves one or the other, or says that it has to be done again',
    async (step) => {
      await addBoard(data, 'new');
      await backup(data, copy);
      await addBoard(data, 'old');
      const line = `restore(${JSON.stringify(copy)}, ${JSON.stringify(data)}, {
      faultsIn: () => [], timeName: '1', onStep: (step) => { if (step === ${JSON.stringify(step)}) process.kill(process.pid, 'SIGKILL'); } });`;
      expect(inProcess(line)).toBe('SIGKILL');
      const isMoving = ['marked', 'aside', 'one', 'all'].includes(step);
      if (isMoving) {
        expect(() => lockFolder(data)).toThrow('was not finished');
        await expect(startChild({ PORT: String(await freePort()), DATA_DIR: data })).rejects.toThrow(
          'was not finished',
        );
        await expect(backup(data, `${copy}2`)).rejects.toThrow('was not finished');
      } else {
        lockFolder(data)();
        const is = boardsIn(data);
        const whole = step === 'done' ? ['new'] : ['new', 'old'];
        expect(is).toEqual({ boards: whole, linked: whole });
      }
      restore(copy, data, { faultsIn: () => [], timeName: '2' });
      lockFolder(data)();
      expect(boardsIn(data)).toEqual({ boards: ['new'], linked: ['new'] });
      expect(existsSync(join(data, 'restoring'))).toBe(false);
      // What was there is kept, wherever it was broken off.
      const kept = readdirSync(data)
        .filter((name) => name.startsWith('before-restore-'))
        .map((name) => join(data, name, 'larkboard.db'))
        .filter(existsSync)
        .map((path) => new SqliteCore(path));
      expect(kept.some((core) => core.board('old') !== null)).toBe(true);
      for (const core of kept) core.close();
    },
  );

  it('[V317] has its copy on the disk before a name changes', async () => {
    await addBoard(data, 'a');
    await backup(data, copy);
    const seen: string[] = [];
    restore(copy, data, {
      faultsIn: (at) => {
        seen.push(`checked ${readdirSync(at).sort().join()}`);
        return [];
      },
      timeName: '1',
      onStep: (step) => seen.push(step),
    });
    expect(seen).toEqual([
      'copied',
      'checked access.db,larkboard.db',
      'checked',
      'synced',
      'marked',
      'aside',
      'one',
      'one',
      'all',
      'done',
    ]);
  });
});
