import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ChildServer, freePort, makeOwnBoard, startChild } from './child-server.ts';
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

function run(...args: string[]): { status: number | null; out: string } {
  const done = spawnSync(process.execPath, [COMMAND, ...args], { env: { DATA_DIR: data }, encoding: 'utf8' });
  return { status: done.status, out: done.stdout + done.stderr };
}

async function start(): Promise<ChildServer> {
  server = await startChild({ PORT: String(await freePort()), DATA_DIR: data });
  return server;
}

async function titleOf(at: ChildServer, id: string, headers: Record<string, string>): Promise<string> {
  return ((await (await fetch(`${at.http}/api/boards/${id}`, { headers })).json()) as { title: string })
    .title;
}

describe('store commands', () => {
  it('[V82] a backup of a running server under load is whole, and restores what was saved before it', async () => {
    const first = await start();
    const { id, headers } = await makeOwnBoard(first, '{"title":"before"}');
    const maker = await new RawClient(`${first.ws}/${id}/class`, { headers }).join();
    maker.edit((doc) => doc.getMap('words').set('saved', true));
    maker.mark(1);
    await maker.savedMark(1);
    let n = 0;
    const timer = setInterval(() => {
      n += 1;
      maker.edit((doc) => doc.getMap('words').set(`later${n}`, n));
    }, 2);
    const backup = join(folder.path, 'backup');
    expect(run('backup', backup)).toMatchObject({ status: 0 });
    clearInterval(timer);
    expect(run('check', backup)).toMatchObject({ status: 0, out: expect.stringContaining('all well') });
    await fetch(`${first.http}/api/boards`, { method: 'POST', body: '{"title":"after the backup"}' });
    // Not while a server works on the folder.
    expect(run('restore', backup)).toMatchObject({
      status: 2,
      out: expect.stringContaining('another server'),
    });
    maker.close();
    await first.stop('SIGTERM');
    expect(run('restore', backup).status).toBe(0);
    expect(readdirSync(data).some((name) => name.startsWith('before-restore-'))).toBe(true);
    const second = await start();
    // The owner's cookie opens it: links and persons are in the backup too.
    expect(await titleOf(second, id, headers)).toBe('before');
    const reader = await new RawClient(`${second.ws}/${id}/class`, { headers }).join();
    expect(reader.doc.getMap('words').get('saved')).toBe(true);
    reader.close();
  });

  it('[V83] check names damage; a damaged backup is not restored', async () => {
    const first = await start();
    await fetch(`${first.http}/api/boards`, {
      method: 'POST',
      body: '{"title":"a title to be found and spoilt"}',
    });
    await first.stop('SIGTERM');
    expect(run('check').status).toBe(0);
    const backup = join(folder.path, 'backup');
    run('backup', backup);
    const file = join(backup, 'larkboard.db');
    const bytes = readFileSync(file);
    bytes[bytes.indexOf('a title to be found')] = 0x58;
    writeFileSync(file, bytes);
    const checked = run('check', backup);
    expect(checked.status).toBe(1);
    expect(checked.out).toMatch(/fault: row \d+ of .+\/design is not as it was written/);
    expect(run('restore', backup)).toMatchObject({ status: 2, out: expect.stringContaining('damaged') });
    expect(run('check').status).toBe(0);
  });

  it('[V83] wrong use is explained', () => {
    expect(run('polish')).toMatchObject({ status: 2, out: expect.stringContaining('backup <folder>') });
    expect(run('backup', folder.path)).toMatchObject({ status: 2 });
    expect(run('check', folder.path)).toMatchObject({
      status: 2,
      out: expect.stringContaining('no larkboard.db'),
    });
  });

  it('[V84] a second server on the same data folder refuses to start', async () => {
    await start();
    await expect(startChild({ PORT: String(await freePort()), DATA_DIR: data })).rejects.toThrow(
      'another server',
    );
  });
});
