/** Answers that were asked for before the page was there. */
import { afterEach, expect, it, vi } from 'vitest';
import { answerAhead, forgetAhead } from '../../../web/sync/ahead.ts';
import { ApiError, fetchBoard } from '../../../web/sync/api.ts';

const PATH = '/api/boards/kites';

afterEach(() => {
  forgetAhead();
  vi.unstubAllGlobals();
});

it('[W1022] are taken once in the place of asking; then the server is asked', async () => {
  const asked = vi.fn(async () => Response.json({ id: 'kites', title: 'asked' }));
  vi.stubGlobal('fetch', asked);
  answerAhead('GET', PATH, Promise.resolve(Response.json({ id: 'kites', title: 'ahead' })));
  answerAhead('POST', PATH, Promise.resolve(Response.json({ id: 'kites', title: 'other' })));
  expect(await fetchBoard('kites')).toMatchObject({ title: 'ahead' });
  expect(asked).not.toHaveBeenCalled();
  expect(await fetchBoard('kites')).toMatchObject({ title: 'asked' });
  expect(asked).toHaveBeenCalledTimes(1);
});

it('[W1022] say no as the server does, and that it was not reached', async () => {
  const refusal = Response.json({ error: { kind: 'unknown-board', message: '' } }, { status: 404 });
  answerAhead('GET', PATH, Promise.resolve(refusal));
  await expect(fetchBoard('kites')).rejects.toMatchObject({ kind: 'unknown-board' });
  answerAhead('GET', PATH, Promise.reject(new TypeError('no network')));
  await expect(fetchBoard('kites')).rejects.toThrow(ApiError);
});

it('[W1022] are forgotten once the board is there, so that nobody hears what was true before', async () => {
  vi.stubGlobal('fetch', async () => Response.json({ id: 'kites', title: 'asked' }));
  answerAhead('GET', PATH, Promise.resolve(Response.json({ id: 'kites', title: 'ahead' })));
  forgetAhead();
  expect(await fetchBoard('kites')).toMatchObject({ title: 'asked' });
});
