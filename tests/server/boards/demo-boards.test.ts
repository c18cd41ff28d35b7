/** The demo boards, where several servers begin on one store. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { formatBoard } from '../../../engine/index.ts';
import { makeDemoBoards } from '../../../server/boards/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { until } from '../../support/until.ts';
import { startTestServer, temporaryFolder } from '../test-server.ts';

const folder = temporaryFolder();
const NAMES = ['oar', 'sail'];
beforeAll(() => {
  mkdirSync(join(folder.path, 'drafts'));
  for (const name of NAMES)
    writeFileSync(join(folder.path, `${name}.json`), JSON.stringify(formatBoard(sampleBoard(8, 12))));
  writeFileSync(join(folder.path, 'read-me.txt'), 'no board');
});
afterAll(() => folder.remove());

it('[V10] two servers that start at once make each once, and each says what it made', async () => {
  const store = new MemoryStore();
  const made = await Promise.all([1, 2].map((now) => makeDemoBoards(store, folder.path, () => now)));
  expect(made.flat().sort()).toEqual(['demo-oar', 'demo-sail']);
  expect((await store.boardsOfKind('demo')).map(({ id }) => id).sort()).toEqual(['demo-oar', 'demo-sail']);
  for (const board of ['demo-oar', 'demo-sail'])
    expect(await store.load({ board, part: 'design' })).toHaveLength(1);
  expect(await makeDemoBoards(store, folder.path, () => 3)).toEqual([]);
});

it('[V10] everybody asks for all of them, and each is read once', async () => {
  let reads = 0;
  class CountingStore extends MemoryStore {
    override load(...args: Parameters<MemoryStore['load']>): ReturnType<MemoryStore['load']> {
      if (args[0].part === 'design') reads += 1;
      return super.load(...args);
    }
  }
  const server = await startTestServer({ store: new CountingStore(), demoFolder: folder.path });
  const list = async (): Promise<unknown> => (await ask(`${server.http}/api/demos`)).json();
  const first = await list();
  expect([first, reads]).toEqual([[expect.anything(), expect.anything()], NAMES.length]);
  await until('the room is gone', () => server.rooms.size === 0);
  expect(await list()).toEqual(first);
  expect(reads).toBe(NAMES.length);
  await server.close();
});
