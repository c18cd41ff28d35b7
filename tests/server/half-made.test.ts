/** Boards whose making fails on the way. */
import { expect, test } from 'vitest';
import { SqliteAccessStore } from '../../server/access/index.ts';
import { MemoryStore } from '../../server/store/index.ts';
import { closeAccessServer, Person, startAccessServer } from './access-people.ts';

/** Links that cannot be written when told so. */
class FailingLinks extends SqliteAccessStore {
  isFailing = false;

  override async addLink(...args: Parameters<SqliteAccessStore['addLink']>): Promise<void> {
    if (this.isFailing) throw new Error('the disk is full');
    return super.addLink(...args);
  }
}

test('[V1] a board that nobody could be made the owner of is not kept', async () => {
  const store = new MemoryStore();
  const links = new FailingLinks(':memory:');
  const server = await startAccessServer({ store }, links);
  const maker = new Person(server);
  const { id } = await maker.makeBoard();
  links.isFailing = true;
  for (const path of ['/api/boards', `/api/boards/${id}/copy`]) {
    const answer = await maker.ask('POST', path, {});
    expect([path, answer.status, answer.json.error]).toMatchObject([path, 500, { kind: 'internal' }]);
  }
  expect((await store.boardsOfKind('board')).map((board) => board.id)).toEqual([id]);
  links.isFailing = false;
  expect((await maker.ask('POST', `/api/boards/${id}/copy`, {})).status).toBe(201);
  await closeAccessServer(server);
});
