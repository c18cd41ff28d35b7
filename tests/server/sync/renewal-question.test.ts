/** While a room asks other nodes whether somebody is in: what is edited meanwhile, and what they answer. */
import { afterEach, expect, it } from 'vitest';
import { readDesign } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';
import { RENEWS, runAll, save, tieOver } from '../worn-board.ts';

/** So long the room waits for answers. */
const ASK_MS = 500;

/** Holds the time in which answers are awaited open. */
class HeldQuestion {
  #answer: (() => void) | null = null;
  readonly clock = {
    ...machineClock,
    after: (ms: number, call: () => void): (() => void) => {
      if (ms !== ASK_MS) return machineClock.after(ms, call);
      this.#answer = call;
      return () => {};
    },
  };

  get isAsked(): boolean {
    return this.#answer !== null;
  }

  /** The time is over. */
  end(): void {
    const answer = this.#answer;
    this.#answer = null;
    answer?.();
  }
}

/** A store whose appends wait until they are let go. */
class HeldStore extends MemoryStore {
  isHeld = false;
  readonly #waiting: (() => void)[] = [];

  override append: MemoryStore['append'] = async (...row) => {
    if (this.isHeld) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    return super.append(...row);
  };

  letGo(): void {
    this.isHeld = false;
    for (const go of this.#waiting.splice(0)) go();
  }
}

const servers: TestServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.close();
});

async function start(options: Parameters<typeof startTestServer>[0]): Promise<TestServer> {
  const server = await startTestServer({ env: RENEWS, ...options });
  servers.push(server);
  return server;
}

const join = (server: TestServer, board: string): Promise<RawClient> =>
  new RawClient(`${server.ws}/${board}/design`).join();

const renewals = (): number =>
  servers.reduce((sum, { metrics }) => sum + metrics.valueOf('larkboard_renewals_total'), 0);

it('[V355] who joins while the room asks, edits twice and leaves loses nothing; the room is renewed afterwards', async () => {
  const store = new HeldStore();
  const question = new HeldQuestion();
  const server = await start({ store, relay: new MemoryRelayHub().node(), clock: question.clock });
  const board = await makeBoard(server);
  const maker = await join(server, board);
  await save(maker, (doc) => tieOver(doc, 4_000));
  maker.close();
  await until('the room asks', () => question.isAsked);
  store.isHeld = true;
  const visitor = await join(server, board);
  for (const title of ['one', 'two']) {
    visitor.edit((doc) => runAll(doc, [{ kind: 'set-title', title }]));
    await visitor.reached();
  }
  visitor.close();
  await until('they have left', () => server.rooms.connections.size === 0);
  question.end();
  // Time enough to let go of a room that has something to store.
  await turnsOfTheLoop(200);
  expect(server.rooms.size).toBe(1);
  store.letGo();
  await until('the room asks again', () => question.isAsked || server.rooms.size === 0);
  question.end();
  await until('the room is gone', () => server.rooms.size === 0);
  expect(renewals()).toBe(1);
  const late = await join(server, board);
  expect(readDesign(late.doc).board.title).toBe('two');
  late.close();
});

it('[V355] a node with edits that are not stored yet answers although nobody is in: nothing is renewed away under them', async () => {
  const shared = new MemoryStore();
  const hub = new MemoryRelayHub();
  const question = new HeldQuestion();
  const slow = new HeldStore();
  // One database, which one of the two nodes does not reach now.
  for (const name of [
    'addBoard',
    'board',
    'load',
    'renew',
    'lastState',
    'endedGenerations',
    'compact',
    'putRecord',
    'records',
    'record',
    'removeRecord',
  ] as const)
    Object.assign(slow, { [name]: shared[name].bind(shared) });
  const heldAppend = slow.append;
  Object.assign(slow, {
    append: async (...row: Parameters<MemoryStore['append']>) => {
      if (slow.isHeld) await heldAppend.call(slow, ...row).catch(() => {});
      return shared.append(...row);
    },
  });
  const here = await start({ store: shared, relay: hub.node(), clock: question.clock });
  const there = await start({ store: slow, relay: hub.node() });
  const board = await makeBoard(here);
  const [one, other] = [await join(here, board), await join(there, board)];
  await save(one, (doc) => tieOver(doc, 4_000));
  slow.isHeld = true;
  other.edit((doc) => runAll(doc, [{ kind: 'set-title', title: 'made there' }]));
  await other.reached();
  other.close();
  await until('they have left there', () => there.rooms.connections.size === 0);
  one.close();
  await until('the room here asks', () => question.isAsked);
  question.end();
  await until('the room here is gone', () => here.rooms.size === 0);
  expect(renewals()).toBe(0);
  slow.letGo();
  await until('all is stored there', () => there.rooms.size === 0);
  const late = await join(here, board);
  expect(readDesign(late.doc).board.title).toBe('made there');
  late.close();
});
