/** Proposals of which there is nothing to begin with, or nothing left. */
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

it('[V-P16] one that is forgotten while somebody answers it is unknown, and nothing is written of it', async () => {
  const server = await startAccessServer({ store: new MemoryStore() });
  const owner = new Person(server);
  const { id } = await owner.makeBoard();
  const proposals = server.proposals!;
  const answer = { seen: '', word: '', isPart: false };
  expect(await proposals.states(id, 'forgotten')).toBe('unknown');
  expect(await proposals.handIn(id, 'forgotten')).toBe('unknown');
  expect(await proposals.decline(id, 'forgotten', '')).toBe('unknown');
  expect(await proposals.accept(id, 'forgotten', answer)).toBe('unknown');
  expect(await proposals.list(id)).toEqual([]);
  await closeAccessServer(server);
});
