import { afterEach, describe, expect, it } from 'vitest';
import { readDesign } from '../../../engine/document/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import type { Relay } from '../../../server/relay/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { RelayKind } from '../../../server/relay/relay.ts';
import type { Store } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { until } from '../../support/until.ts';
import { seededRandom } from '../chaos.ts';
import { LinePage } from '../line-page.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const ENV = { RENEW_BYTES: '2000', MAX_NEW_PER_ADDRESS: '1000000', MAX_CONNECTIONS_OF_NEWCOMERS: '1000000' };
const servers: TestServer[] = [];
const pages: LinePage[] = [];

afterEach(async () => {
  for (const page of pages.splice(0)) page.end();
  for (const server of servers.splice(0)) await server.close();
});

/** A relay that loses some kinds of messages on the way out. */
function losing(relay: Relay, lost: Set<RelayKind>): Relay {
  return {
    isShared: relay.isShared,
    get isUp() {
      return relay.isUp;
    },
    join: (room, hear) => relay.join(room, hear),
    send: (room, message) => {
      if (!lost.has(message.kind)) relay.send(room, message);
    },
    onGap: (listener) => relay.onGap(listener),
    close: () => relay.close(),
  };
}

/** Two nodes on one store and one relay, and a page at each; the board is worn. */
async function twoNodes() {
  const store: Store = new MemoryStore();
  const hub = new MemoryRelayHub();
  const relays = [hub.node(), hub.node()] as const;
  const lost = new Set<RelayKind>();
  for (const relay of relays)
    servers.push(await startTestServer({ store, relay: losing(relay, lost), env: ENV }));
  const [a, b] = servers as [TestServer, TestServer];
  const board = await makeBoard(a);
  const [here, there] = [new LinePage(a.ws, board), new LinePage(b.ws, board)];
  pages.push(here, there);
  await until('both have the board', () => [here, there].every((page) => page.line.saved === 'saved'));
  here.wear(seededRandom(4));
  await until('all is saved', () => here.line.saved === 'saved');
  await until('the other node has it', () => there.design.snapshot.board.pattern.rows === 12);
  return { a, b, board, here, there, lost, relays };
}

/** What a newcomer gets at a node. */
async function newcomer(server: TestServer, board: string) {
  const late = await new RawClient(`${server.ws}/${board}/design`).join();
  late.close();
  return readDesign(late.doc).board.pattern;
}

const renewals = (): number =>
  servers.reduce((sum, server) => sum + server.metrics.valueOf('larkboard_renewals_total'), 0);

async function back(page: LinePage, what: string): Promise<void> {
  await until(what, () => {
    page.look();
    return page.line.saved === 'saved';
  });
}

describe('renewal with two nodes', () => {
  it('[V103] a board with people on another node is left alone; the last to leave anywhere renews it', async () => {
    const { a, b, board, here, there } = await twoNodes();
    here.end();
    await until('nobody is at the first node', () => a.rooms.size === 0);
    expect(renewals()).toBe(0);
    expect(there.line.closeReason).toBeNull();
    there.end();
    await until('nobody is anywhere', () => b.rooms.size === 0);
    expect(renewals()).toBe(1);
    expect((await newcomer(a, board)).rows).toBe(12);
    pages.length = 0;
  });

  it('[V106] renewed by mistake, with word of it: the people of the other node come over with what they hold', async () => {
    const { a, b, board, here, there, lost } = await twoNodes();
    lost.add('open');
    here.end();
    await until('renewed', () => renewals() === 1);
    there.edit(() => 0.5);
    await back(there, 'the other page is back');
    expect(there.drops).toBe(1);
    for (const server of [a, b]) expect(knotAt(await newcomer(server, board), 0, 0)).toBe(1);
    pages.splice(pages.indexOf(here), 1);
  });

  it('[V106] renewed by mistake, and nobody told: the store refuses the next edit, which is brought over', async () => {
    const { a, b, board, here, there, lost } = await twoNodes();
    lost.add('open');
    lost.add('renewed');
    here.end();
    await until('renewed', () => renewals() === 1);
    // Whatever the other node was told has reached its people by now.
    const beside = await new RawClient(`${b.ws}/${board}/design`).join();
    await beside.reached();
    beside.close();
    expect(there.line.saved).toBe('saved');
    there.edit(() => 0.5);
    there.edit(() => 0.1);
    await back(there, 'the other page is back');
    for (const server of [a, b]) {
      const pattern = await newcomer(server, board);
      expect(knotAt(pattern, 0, 0)).toBe(1);
      expect(pattern.rows).toBe(14);
    }
    pages.splice(pages.indexOf(here), 1);
  });

  it('[V106] renewed while a node was cut off: it reads the document anew and sees it', async () => {
    const { b, board, here, there, lost, relays } = await twoNodes();
    relays[1].setUp(false);
    here.end();
    await until('renewed', () => renewals() === 1);
    there.edit(() => 0.5);
    lost.add('renewed');
    relays[1].setUp(true);
    await back(there, 'the other page is back');
    expect(knotAt(await newcomer(b, board), 0, 0)).toBe(1);
    pages.splice(pages.indexOf(here), 1);
  });
});
