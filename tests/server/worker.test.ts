/** Files that run as threads. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';

const at = (path: string): URL => new URL(`../../dist/server/${path}`, import.meta.url);

it('[V285] the thread for large work says what it cannot do, and does what comes next', async () => {
  const worker = new Worker(at('worker.js'));
  const done = async (name: string, input: unknown): Promise<unknown> => {
    worker.postMessage({ name, input });
    return ((await once(worker, 'message')) as [unknown])[0];
  };
  expect(await done('polish', null)).toEqual({ failure: 'there is no job polish' });
  expect(await done('design-summary', [Uint8Array.of(1, 1, 1, 255)])).toEqual({
    failure: expect.any(String),
  });
  expect(await done('design-summary', [Uint8Array.of(0, 0)])).toMatchObject({ output: { title: '' } });
  await worker.terminate();
});

it('a thread that somebody starts as a program ends at once and says what it is', async () => {
  for (const path of ['worker.js', 'access/access-worker.js', 'store/sqlite-worker.js']) {
    const child = spawn(process.execPath, [fileURLToPath(at(path))]);
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    const [status] = (await once(child, 'close')) as [number];
    expect([path, status]).toEqual([path, 1]);
    expect(said).toContain('runs as a worker thread only');
  }
});
