/** A board made before there were links, and the operator's way to an owner link; as separate processes. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { type ChildServer, cookieOf, makeOwnBoard, startChild } from './child-server.ts';
import { RawClient } from './raw-client.ts';
import { temporaryFolder } from './test-server.ts';

const COMMAND = fileURLToPath(new URL('../../dist/server/owner-link.js', import.meta.url));
const folder = temporaryFolder();
let server: ChildServer | null = null;

afterEach(async () => {
  await server?.stop('SIGKILL');
  folder.remove();
});

function ownerLink(...args: string[]): { status: number | null; out: string } {
  const done = spawnSync(process.execPath, [COMMAND, ...args], {
    env: { DATA_DIR: folder.path },
    encoding: 'utf8',
  });
  return { status: done.status, out: done.stdout + done.stderr };
}

it('[V-A8] a board without links opens to nobody until the operator makes an owner link; killing keeps it', async () => {
  const env = { DATA_DIR: folder.path };
  server = await startChild({ ...env, ACCESS: 'address' });
  const { id, headers } = await makeOwnBoard(server);
  expect(headers.cookie).toBe('');
  await (await new RawClient(`${server.ws}/${id}/design`).join()).close();
  await server.stop('SIGTERM');

  server = await startChild(env);
  expect((await ask(`${server.http}/api/boards/${id}`)).status).toBe(404);
  expect(await new RawClient(`${server.ws}/${id}/design`).closed).toBe(4404);
  expect(ownerLink()).toMatchObject({ status: 2, out: expect.stringContaining('the id of the board') });
  for (const wrong of ['nobody', 'demo-crosswind'])
    expect(ownerLink(wrong)).toMatchObject({ status: 2, out: expect.stringContaining('no board') });
  const made = ownerLink(id);
  expect(made.status, made.out).toBe(0);
  const secret = /^\/board\/([\w-]+)#([\w-]{32})\n$/.exec(made.out)?.[2];
  const entered = await ask(`${server.http}/api/boards/${id}/enter`, {
    method: 'POST',
    body: JSON.stringify({ secret }),
  });
  expect(await entered.json()).toMatchObject({ role: 'owner', endsAt: null });
  // What was acknowledged is on the disk: the cookie and what it stands for outlive a kill.
  await server.stop('SIGKILL');
  server = await startChild(env);
  const me = await ask(`${server.http}/api/boards/${id}/me`, { headers: cookieOf(entered) });
  expect(await me.json()).toMatchObject({ role: 'owner' });
});
