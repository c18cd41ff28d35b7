/** What people are told when the database is away. */
import { expect, test } from 'vitest';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

const SECRET = 'connect ECONNREFUSED 10.1.2.3:5432, user "larkboard_owner", relation "rows"';

const SAYS = /10\.1\.2\.3|owner|rows/;

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
  const clock = new HandClock(machineClock);
  const server = await startTestServer({ store, clock });
  const board = await makeBoard(server);
  store.isAway = true;
  const paths = ['/readyz', `/api/boards/${board}/file`, `/api/boards/${board}/versions`];
  for (const path of paths) {
    // Of one kind the log takes a line a minute (V346).
    clock.turn(60_000);
    const answer = await ask(server.http + path);
    const text = await answer.text();
    expect([path, answer.status, SAYS.test(text)]).toEqual([path, 503, false]);
    // Whoever runs the server finds it, with what was asked for.
    const isAbout = (line: string): boolean => path === '/readyz' || line.includes(JSON.stringify(path));
    expect(server.lines.some((line) => line.includes('10.1.2.3') && isAbout(line))).toBe(true);
  }
  const client = new RawClient(`${server.ws}/${board}/design`);
  const reason = new Promise<string>((resolve) => {
    client.socket.once('close', (_code, bytes: Buffer) => resolve(bytes.toString()));
  });
  expect([await client.closed, SAYS.test(await reason)]).toEqual([CLOSE_CODES.storeFailed, false]);
  await server.close();
});
