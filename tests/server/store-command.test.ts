import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { type ChildServer, makeOwnBoard, startChild } from './child-server.ts';
import { RawClient } from './raw-client.ts';
import { temporaryFolder } from './test-server.ts';

const COMMAND = fileURLToPath(new URL('../../dist/server/store-command.js', import.meta.url));

let folder: ReturnType<typeof temporaryFolder>;
let data: string;
let server: ChildServer | null = null;

beforeEach(() => {
  folder = temporaryFolder();
  data = join(folder.path, 'data');
});
afterEach(async () => {
  await server?.stop('SIGKILL');
  server = null;
  folder.remove();
});

/** Runs a command beside this process, which goes on sending meanwhile. @returns its exit code and all it wrote */
async function run(...args: string[]): Promise<{ status: number | null; out: string }> {
  const child = spawn(process.execPath, [COMMAND, ...args], { env: { DATA_DIR: data } });
  const chunks: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => chunks.push(chunk));
  const [status] = (await once(child, 'close')) as [number | null];
  return { status, out: Buffer.concat(chunks).toString() };
}

async function start(): Promise<ChildServer> {
  server = await startChild({
    DATA_DIR: data,
    // Edits come as fast as they are committed.
    GATHER_MS: '0',
    MAX_MESSAGES_PER_SECOND: '1000000',
  });
  return server;
}

async function titleOf(at: ChildServer, id: string, headers: Record<string, string>): Promise<string> {
  return ((await (await ask(`${at.http}/api/boards/${id}`, { headers })).json()) as { title: string }).title;
}

describe('store commands', () => {
  it('[V82] a backup of a running server under load is whole, and restores what was saved before it', async () => {
    const first = await start();
    const { id, headers } = await makeOwnBoard(first, '{"title":"before"}');
    const maker = await new RawClient(`${first.ws}/${id}/design`, { headers }).join();
    maker.edit((doc) => doc.getMap('meta').set('saved', true));
    maker.mark(1);
    await maker.savedMark(1);
    let n = 0;
    let isEditing = true;
    const editing = (async () => {
      for (; isEditing; await maker.savedMark(n + 1)) {
        n += 1;
        maker.edit((doc) => doc.getMap('meta').set(`later${n}`, n));
        maker.mark(n + 1);
      }
    })();
    await until('the load is on', () => n > 10);
    const before = n;
    const backup = join(folder.path, 'backup');
    expect(await run('backup', backup)).toMatchObject({ status: 0 });
    // Edits did come while it ran.
    expect(n).toBeGreaterThan(before);
    isEditing = false;
    await editing;
    expect(await run('check', backup)).toMatchObject({ status: 0, out: expect.stringContaining('all well') });
    await ask(`${first.http}/api/boards`, { method: 'POST', body: '{"title":"after the backup"}' });
    // Not while a server works on the folder.
    expect(await run('restore', backup)).toMatchObject({
      status: 2,
      out: expect.stringContaining('another server'),
    });
    maker.close();
    await first.stop('SIGTERM');
    expect((await run('restore', backup)).status).toBe(0);
    expect(readdirSync(data).some((name) => name.startsWith('before-restore-'))).toBe(true);
    const second = await start();
    // The owner's cookie opens it: links and persons are in the backup too.
    expect(await titleOf(second, id, headers)).toBe('before');
    const reader = await new RawClient(`${second.ws}/${id}/design`, { headers }).join();
    expect(reader.doc.getMap('meta').get('saved')).toBe(true);
    reader.close();
  });

  it('[V83] check names damage; a damaged backup is not restored', async () => {
    const first = await start();
    await ask(`${first.http}/api/boards`, {
      method: 'POST',
      body: '{"title":"a title to be found and spoilt"}',
    });
    await first.stop('SIGTERM');
    expect((await run('check')).status).toBe(0);
    const backup = join(folder.path, 'backup');
    await run('backup', backup);
    const file = join(backup, 'larkboard.db');
    const bytes = readFileSync(file);
    bytes[bytes.indexOf('a title to be found')] = 0x58;
    writeFileSync(file, bytes);
    const checked = await run('check', backup);
    expect(checked.status).toBe(1);
    expect(checked.out).toMatch(/fault: row \d+ of .+\/design is not as it was written/);
    expect(await run('restore', backup)).toMatchObject({
      status: 2,
      out: expect.stringContaining('damaged'),
    });
    expect((await run('check')).status).toBe(0);
  });

  it('[V83] wrong use is explained', async () => {
    expect(await run('polish')).toMatchObject({ status: 2, out: expect.stringContaining('backup <folder>') });
    expect(await run('backup', folder.path)).toMatchObject({ status: 2 });
    for (const args of [['backup'], ['restore'], []]) {
      const { status, out } = await run(...args);
      expect([args, status, out.trim().split('\n').length]).toEqual([args, 2, 1]);
      expect(out).toContain(
        args.length === 0 ? 'say backup <folder>, restore' : `${args[0]} needs the folder`,
      );
    }
    for (const args of [['check'], ['check', folder.path], ['repair']])
      expect(await run(...args)).toMatchObject({
        status: 2,
        out: expect.stringContaining('there is no larkboard.db in'),
      });
    // Nothing was made by asking.
    expect(readdirSync(folder.path)).toEqual([]);
  });

  it('[V83] a file that is no database is said to be none, in one line; a fault of the command’s own with its place', async () => {
    mkdirSync(data);
    writeFileSync(join(data, 'larkboard.db'), 'this is a shopping list\n'.repeat(300));
    for (const command of ['check', 'repair']) {
      const { status, out } = await run(command);
      expect([command, status, out.trim().split('\n')]).toEqual([
        command,
        2,
        [expect.stringMatching(/not a database/)],
      ]);
    }
    // The folder of the backup would lie within a file.
    const { status, out } = await run('backup', join(data, 'larkboard.db', 'backup'));
    expect(status).not.toBe(0);
    expect(out).toContain('larkboard.db');
  });

  it('[V82] a backup is restored where there is nothing yet', async () => {
    const first = await start();
    const { id, headers } = await makeOwnBoard(first, '{"title":"moved house"}');
    await first.stop('SIGTERM');
    const backup = join(folder.path, 'backup');
    expect((await run('backup', backup)).status).toBe(0);
    data = join(folder.path, 'elsewhere');
    const { status, out } = await run('restore', backup);
    expect([status, out]).toEqual([0, `restored ${data} from ${backup}\n`]);
    expect(await titleOf(await start(), id, headers)).toBe('moved house');
  });

  it('[V84] a second server on the same data folder refuses to start', async () => {
    await start();
    await expect(startChild({ DATA_DIR: data })).rejects.toThrow('another server');
  });
});
