/** Designs of versions: fetched once each, a few at a time, and asked for again after a failure. */
import { afterEach, expect, test, vi } from 'vitest';
import * as Y from 'yjs';
import { ApiError } from '../../../web/sync/index.ts';
import { VersionShelf } from '../../../web/versions/version-shelf.ts';
import { openDesign } from '../../support/open-design.ts';
import { until } from '../../support/until.ts';

afterEach(() => vi.unstubAllGlobals());

const bytes = (): Uint8Array<ArrayBuffer> => new Uint8Array(Y.encodeStateAsUpdate(openDesign().doc));

/** A server that answers when told to. */
function heldServer() {
  const asked: string[] = [];
  const waiting: ((answer: Response) => void)[] = [];
  vi.stubGlobal('fetch', (path: string) => {
    asked.push(path);
    return new Promise<Response>((resolve) => waiting.push(resolve));
  });
  return { asked, answer: (response = new Response(bytes())) => waiting.shift()!(response) };
}

test('a version is fetched once, and is at hand from then on', async () => {
  const { asked, answer } = heldServer();
  const shelf = new VersionShelf('a board');
  expect([shelf.peek('v 1'), shelf.peekDesign('v 1')]).toEqual([null, null]);
  const both = Promise.all([shelf.design('v 1'), shelf.design('v 1')]);
  answer();
  const [first, second] = await both;
  expect(first).toBe(second);
  expect(asked).toEqual(['/api/boards/a%20board/versions/v%201']);
  expect(shelf.peekDesign('v 1')).toBe(first);
  expect(shelf.peek('v 1')?.title).toBe('Test input');
});

test('no more than four are fetched at once; the others as those come', async () => {
  const { asked, answer } = heldServer();
  const shelf = new VersionShelf('b');
  const all = Promise.all(['1', '2', '3', '4', '5', '6'].map((id) => shelf.design(id)));
  await until('four are asked for', () => asked.length === 4);
  answer();
  await until('a fifth is asked for', () => asked.length === 5);
  for (let i = 0; i < 4; i++) answer();
  await until('the last is asked for', () => asked.length === 6);
  answer();
  expect(await all).toHaveLength(6);
});

test('what failed is asked for again, and what holds no board is said to be none', async () => {
  const { asked, answer } = heldServer();
  const shelf = new VersionShelf('b');
  const lost = shelf.design('1');
  answer(new Response('no', { status: 502 }));
  await expect(lost).rejects.toMatchObject({ kind: 'unreachable' });
  const bare = shelf.design('1');
  answer(new Response(new Uint8Array(Y.encodeStateAsUpdate(new Y.Doc()))));
  await expect(bare).rejects.toMatchObject({ kind: 'bad-version' });
  const torn = shelf.design('1');
  answer(new Response(bytes().slice(0, 40)));
  await expect(torn).rejects.toBeInstanceOf(ApiError);
  const good = shelf.design('1');
  answer();
  expect((await good).board.title).toBe('Test input');
  expect(asked).toHaveLength(4);
});
