/** What people are told when the database is away. */
import { expect, test } from 'vitest';
import { MemoryStore, StoreError } from '../../server/store/index.ts';
import { ask } from '../support/ask.ts';
import { makeBoard, startTestServer } from './test-server.ts';

const SECRET = 'connect ECONNREFUSED 10.1.2.3:5432, user "larkboard_owner", relation "rows"';

/** A database that says much when it is away. */
class TalkativeStore extends MemoryStore {
  isAway = false;
  override ping: MemoryStore['ping'] = async () => this.#say();
  override load: MemoryStore['load'] = async (...args) => {
    this.#say();
    return super.load(...args);
  };
  override records: MemoryStore['records'] = async (...args) => {
    this.#say();
    return super.records(...args);
  };

  #say(): void {
    if (this.isAway) throw new StoreError('unavailable', SECRET);
  }
}

test('[V331] an error of the database stands in the log and in no answer', async () => {
  const store = new TalkativeStore();
  const server = await startTestServer({ store });
  const board = await makeBoard(server);
  store.isAway = true;
  const paths = ['/readyz', `/api/boards/${board}/file`, `/api/boards/${board}/versions`];
  for (const path of paths) {
    const answer = await ask(server.http + path);
    const text = await answer.text();
    expect([path, answer.status, /10\.1\.2\.3|owner|rows/.test(text)]).toEqual([path, 503, false]);
  }
  expect(server.lines.some((line) => line.includes('10.1.2.3'))).toBe(true);
  await server.close();
});
