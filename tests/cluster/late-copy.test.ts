/** One copy of an ended generation that comes to two nodes, which share a PostgreSQL. */
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, readDesign } from '../../engine/document/index.ts';
import { knotAt } from '../../engine/pattern/pattern.ts';
import { machineClock } from '../../server/index.ts';
import { MemoryRelayHub } from '../../server/relay/memory-relay.ts';
import { PostgresStore, type Store } from '../../server/store/index.ts';
import { RawClient } from '../server/raw-client.ts';
import { startTestServer, type TestServer } from '../server/test-server.ts';
import { comeWith, RENEWS, renewedBoard, runAll } from '../server/worn-board.ts';
import { type Service, startPostgres } from './real-services.ts';

let postgres: Service;
let stores: PostgresStore[];
let nodes: TestServer[];
/** Writers of last states that wait for each other. */
let waiting: (() => void)[];
let isMeeting = false;

beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(() => postgres.dispose());

/** Both have worked out what to write before either writes it. */
function meeting(store: PostgresStore): Store {
  const append: Store['append'] = async (address, bytes, options) => {
    if (isMeeting && options?.lastState !== undefined) {
      const met = new Promise<void>((resolve) => waiting.push(resolve));
      if (waiting.length === 2) {
        isMeeting = false;
        for (const go of waiting.splice(0)) go();
      }
      await met;
    }
    return store.append(address, bytes, options);
  };
  return new Proxy(store, {
    get: (target, name) => {
      if (name === 'append') return append;
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

beforeEach(async () => {
  waiting = [];
  const hub = new MemoryRelayHub();
  stores = [0, 1].map(() => new PostgresStore({ url: postgres.url, clock: machineClock, gatherMs: 0 }));
  nodes = await Promise.all(
    stores.map((store) => startTestServer({ store: meeting(store), relay: hub.node(), env: RENEWS })),
  );
});
afterEach(async () => {
  for (const node of nodes) await node.close();
  for (const store of stores) await store.close();
});

it('[V350] at the same moment counts once', async () => {
  const { board, copy } = await renewedBoard(nodes[0]!);
  runAll(copy, [
    { kind: 'insert-row-pairs', at: 1, count: 1 },
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 3 }] },
  ]);
  isMeeting = true;
  const both = await Promise.all(nodes.map((node) => comeWith(node, board, copy)));
  expect(await Promise.all(both.map(({ closed }) => closed))).toEqual([
    CLOSE_CODES.outdated,
    CLOSE_CODES.outdated,
  ]);
  // They did meet.
  expect(isMeeting).toBe(false);
  for (const node of nodes) {
    const late = await new RawClient(`${node.ws}/${board}/design`).join();
    const { pattern } = readDesign(late.doc).board;
    expect([pattern.rows, knotAt(pattern, 2, 0)]).toEqual([14, 3]);
    late.close();
  }
  const address = { board, part: 'design' } as const;
  expect(await stores[0]!.endedGenerations(address)).toEqual([{ generation: 1, drawn: '', version: 1 }]);
  // The state that holds it from now on holds it once.
  const doc = new Y.Doc();
  for (const { bytes } of await stores[1]!.load(address)) Y.applyUpdate(doc, bytes);
  expect(readDesign(doc).board.pattern.rows).toBe(14);
});
