/** Proposals on boards from which nothing can be made. */
import { expect, it } from 'vitest';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { closeAccessServer, Person, startAccessServer } from '../access-people.ts';

it('[V-P2] a board that holds no design gives no branch, which is said, and leaves none', async () => {
  const store = new MemoryStore();
  const server = await startAccessServer({ store });
  const owner = new Person(server);
  const { id } = await owner.makeBoard();
  const design = { board: id, part: 'design' } as const;
  const seqs = (await store.load(design)).map(({ seq }) => seq);
  await store.compact(design, seqs, Uint8Array.of(0, 0));
  const made = await owner.ask('POST', `/api/boards/${id}/proposals`, { title: 'warmer edge', name: 'Wren' });
  expect([made.status, made.json.error]).toMatchObject([409, { kind: 'empty-board' }]);
  expect((await owner.ask('GET', `/api/boards/${id}/proposals`)).json).toEqual([]);
  expect(await store.boardsOfKind('branch')).toEqual([]);
  await closeAccessServer(server);
});
