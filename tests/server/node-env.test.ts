import { expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { startChild } from './child-server.ts';
import { temporaryFolder } from './test-server.ts';

it('a server in development makes boards and reads them again', async () => {
  const folder = temporaryFolder();
  const env = { DATA_DIR: folder.path, NODE_ENV: 'development', ACCESS: 'address' };
  const first = await startChild(env);
  const made = await ask(`${first.http}/api/boards`, {
    method: 'POST',
    body: JSON.stringify({ strings: 6, rows: 4, title: 'tails' }),
  });
  expect(made.status).toBe(201);
  const { id } = (await made.json()) as { id: string };
  await first.stop('SIGTERM');
  const second = await startChild(env);
  const read = await ask(`${second.http}/api/boards/${id}/file`);
  expect(read.status).toBe(200);
  expect(await read.json()).toMatchObject({ title: 'tails', rows: ['- - -', '- -', '- - -', '- -'] });
  expect(((await (await ask(`${second.http}/api/demos`)).json()) as unknown[]).length).toBeGreaterThan(0);
  await second.stop('SIGTERM');
  folder.remove();
});
