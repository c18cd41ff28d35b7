/** Pages that come to one board at once, at two nodes that hear of each other: what their people end up as. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { machineClock } from '../../../server/index.ts';
import { BoardSession } from '../../../web/sync/index.ts';
import { joinCompany } from '../../../web/sync/join-company.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubBrowser } from '../../support/fresh-browser.ts';
import { until } from '../../support/until.ts';
import { Wire } from '../held-socket.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

let nodes: readonly TestServer[];
let board: string;
let wire: Wire;
const sessions: BoardSession[] = [];

beforeEach(async () => {
  await loadTexts('people');
  const [hub, store] = [new MemoryRelayHub(), new MemoryStore()];
  nodes = await Promise.all([hub.node(), hub.node()].map((relay) => startTestServer({ store, relay })));
  board = await makeBoard(nodes[0]!);
  stubBrowser();
  wire = new Wire();
  vi.stubGlobal('WebSocket', wire.socketClass);
});
afterEach(async () => {
  for (const session of sessions.splice(0)) session.dispose();
  vi.unstubAllGlobals();
  for (const node of nodes) await node.close();
});

/** A page at a node, of somebody whose name and colour the browser drew. */
function comeTo(node: number, id: string): BoardSession {
  const session = new BoardSession({
    boardId: board,
    canEdit: true,
    person: { id, name: 'Bobbin', hex: '#b3541e', isNamed: false },
    server: nodes[node]!.ws.replace(/\/sync$/, ''),
  });
  sessions.push(session);
  joinCompany(session, { keepLook: () => {}, now: machineClock.now, after: machineClock.after });
  return session;
}

/** Who a page says is there, by id. */
function seenBy({ people }: BoardSession): string {
  const looks = people.value.map(({ presence: { person } }) => `${person.id} ${person.name} ${person.hex}`);
  return looks.sort().join();
}
const differ = (field: 'name' | 'hex', session: BoardSession): number =>
  new Set(session.people.value.map(({ presence }) => presence.person[field])).size;

it('[W940] [W941] six who drew the same and come at once, three at each of two nodes, end with six names and colours', async () => {
  const all = ['f', 'b', 'd', 'a', 'e', 'c'].map((id, i) => comeTo(i % 2, id));
  await until('everybody sees the same six, no two alike', () =>
    all.every(
      (one) => differ('name', one) === 6 && differ('hex', one) === 6 && seenBy(one) === seenBy(all[0]!),
    ),
  );
});

it('[W944] whose line breaks and comes back is there for the others, and they are for them', async () => {
  const near = comeTo(0, 'near');
  await until('one is there', () => near.isConnected);
  const far = comeTo(1, 'far');
  await until('they see each other', () => [near, far].every(({ people }) => people.value.length === 2));
  [...wire.sockets].at(-1)!.cut();
  await until('who stayed knows that the other is gone', () => near.people.value.length === 1);
  expect([near.left.value.map(({ person }) => person.id), far.people.value[1]?.isUnheard]).toEqual([
    ['far'],
    true,
  ]);
  await until('they see each other again', () =>
    [near, far].every(
      ({ people, left }) =>
        people.value.filter(({ isUnheard }) => !isUnheard).length === 2 && left.value.length === 0,
    ),
  );
});
