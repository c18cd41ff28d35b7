/** What the page makes of answers that are none of the server's, or that break off. */
import { afterEach, expect, test, vi } from 'vitest';
import { ApiError, ask } from '../../../web/sync/api.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

/** How asking ends when the network gives this. */
async function endOf(response: Response): Promise<unknown> {
  vi.stubGlobal('fetch', async () => response);
  try {
    return await ask('/api/boards/kites');
  } catch (error) {
    return error instanceof ApiError ? error.kind : error;
  }
}

/** An answer whose body breaks off. */
const broken = (status: number): Response =>
  new Response(
    new ReadableStream({
      start(controller) {
        controller.enqueue(new TextEncoder().encode('{"id":'));
        controller.error(new TypeError('the line broke'));
      },
    }),
    { status },
  );

test('[B151] an answer that breaks off, or that somebody else gives, is a server that cannot be reached', async () => {
  expect(await endOf(broken(200))).toBe('unreachable');
  expect(await endOf(broken(503))).toBe('unreachable');
  expect(await endOf(new Response('<h1>Bad gateway</h1>', { status: 502 }))).toBe('unreachable');
  expect(await endOf(new Response('<h1>Sign in to this network</h1>'))).toBe('unreachable');
});

test('[B151] what the server says counts as it is', async () => {
  const problem = { error: { kind: 'store-full', message: 'no room' } };
  expect(await endOf(Response.json(problem, { status: 507 }))).toBe('store-full');
  expect(await endOf(new Response('not here', { status: 404 }))).toBe('status-404');
  expect(await endOf(Response.json({ id: 'kites' }))).toEqual({ id: 'kites' });
});
