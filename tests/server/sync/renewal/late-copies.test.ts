/** Copies of ended generations that come to a room: how they are asked for, taken, and by how many at once. */
import { afterEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, readDesign } from '../../../../engine/document/index.ts';
import { knotAt } from '../../../../engine/pattern/pattern.ts';
import { machineClock } from '../../../../server/index.ts';
import { MemoryRelayHub } from '../../../../server/relay/memory-relay.ts';
import type { Store } from '../../../../server/store/index.ts';
import { MemoryStore } from '../../../../server/store/memory-store.ts';
import { clientOf } from '../../../../server/sync/identity.ts';
import { HandClock } from '../../../support/hand-clock.ts';
import { turnsOfTheLoop, until } from '../../../support/until.ts';
import { seededRandom } from '../../chaos.ts';
import { LinePage } from '../../line-page.ts';
import { message, RawClient } from '../../raw-client.ts';
import { startTestServer, type TestServer, type TestServerOptions } from '../../test-server.ts';
import { comeWith, RENEWS, renewedBoard, runAll, save, tieOver } from '../../worn-board.ts';

const WORKER = new URL('../../../../dist/server/worker.js', import.meta.url);
const servers: TestServer[] = [];
const clients: RawClient[] = [];
const pages: LinePage[] = [];

afterEach(async () => {
  for (const client of clients.splice(0)) client.close();
  for (const page of pages.splice(0)) page.end();
  for (const server of servers.splice(0)) await server.close();
});

async function start(options: TestServerOptions = {}): Promise<TestServer> {
  const server = await startTestServer({ ...options, env: { ...RENEWS, ...options.env } });
  servers.push(server);
  return server;
}

/** Two nodes on one store and one relay. */
async function startTwo(store: Store): Promise<[TestServer, TestServer]> {
  const hub = new MemoryRelayHub();
  return [await start({ store, relay: hub.node() }), await start({ store, relay: hub.node() })];
}

async function come(server: TestServer, board: string, copy: Y.Doc): Promise<RawClient> {
  const client = await comeWith(server, board, copy);
  clients.push(client);
  return client;
}

/** What a newcomer gets. */
async function presentOf(server: TestServer, board: string): Promise<Y.Doc> {
  const late = await new RawClient(`${server.ws}/${board}/design`).join();
  late.close();
  return late.doc;
}

const boardOf = (doc: Y.Doc) => readDesign(doc).board;
const bytesOf = (doc: Y.Doc): number => Y.encodeStateAsUpdate(doc).length;

describe('the name of a generation', () => {
  it('[V351] is drawn when it begins: who wrote under the next one in advance, as it used to be, has taken nothing', async () => {
    const server = await start();
    const { board, copy } = await renewedBoard(server, async (client) => {
      const name = client.socket.url.split('/sync/')[1]!;
      client.doc.clientID = clientOf({ name, generation: 2, drawn: '' });
      await save(client, (doc) => tieOver(doc, 4_000));
    });
    runAll(copy, [{ kind: 'set-title', title: 'made away' }]);
    const back = await come(server, board, copy);
    expect(await back.closed).toBe(CLOSE_CODES.outdated);
    const present = await presentOf(server, board);
    expect(boardOf(present).title).toBe('made away');
    // The histories are not mixed.
    expect(bytesOf(present)).toBeLessThan(bytesOf(copy) / 5);
    expect(back.heard.some(({ kind }) => kind === 'step2' || kind === 'update')).toBe(false);
  });

  it('[V351] two renewals of one state are two generations', async () => {
    const names = await Promise.all(
      [0, 1].map(async () => {
        const server = await start();
        const { board } = await renewedBoard(server);
        return String((await presentOf(server, board)).getMap('identity').get('name')).split('~');
      }),
    );
    for (const [, generation, drawn] of names) expect([generation, drawn?.length]).toEqual(['2', 16]);
    expect(names[0]![2]).not.toBe(names[1]![2]);
  });
});

/** Comes with a copy and says nothing by itself. */
async function silent(server: TestServer, board: string, copy: Y.Doc): Promise<RawClient> {
  const client = new RawClient(`${server.ws}/${board}/design`);
  clients.push(client);
  client.answers = false;
  await client.opened;
  client.send(message(0, 0, Y.encodeStateVector(copy)));
  await client.waitFor(({ kind }) => kind === 'step1');
  return client;
}

describe('a copy larger than a message may be', () => {
  const SMALL = 12_000;

  /** The copy came to be in messages that are small enough. */
  const wearSlowly = async (client: RawClient): Promise<void> => {
    for (let i = 0; i < 12; i += 1) await save(client, (doc) => tieOver(doc, 400));
  };

  it('[V352] all of which is saved is asked for nothing that the server has: it is given up for the present board', async () => {
    const server = await start({ env: { MAX_MESSAGE_BYTES: String(SMALL) } });
    const { board, copy } = await renewedBoard(server, wearSlowly);
    expect(bytesOf(copy)).toBeGreaterThan(2 * SMALL);
    const page = new LinePage(server.ws, board);
    pages.push(page);
    page.hold(copy);
    page.wire.isDown = false;
    await until('it has the present board', () => {
      page.look();
      return page.drops === 1 && page.line.saved === 'saved';
    });
    expect(readDesign(page.doc)).toEqual(readDesign(await presentOf(server, board)));
    expect(bytesOf(page.doc)).toBeLessThan(SMALL);
  });

  it('[V352] with edits that fit in a message is brought over by those alone', async () => {
    const server = await start({ env: { MAX_MESSAGE_BYTES: String(SMALL) } });
    const { board, copy } = await renewedBoard(server, wearSlowly);
    runAll(copy, [{ kind: 'set-title', title: 'made away' }]);
    const back = await come(server, board, copy);
    expect(await back.closed).toBe(CLOSE_CODES.outdated);
    expect(boardOf(await presentOf(server, board)).title).toBe('made away');
  });

  it('[V353] with more edits than that is brought over in pieces, by a page of its own accord', async () => {
    const server = await start({ env: { MAX_MESSAGE_BYTES: String(SMALL) } });
    const { board, copy } = await renewedBoard(server, wearSlowly);
    const page = new LinePage(server.ws, board, { messageBytes: SMALL });
    pages.push(page);
    page.hold(copy);
    const before = Y.encodeStateVector(page.doc);
    tieOver(page.doc, 4_400);
    runAll(page.doc, [{ kind: 'set-title', title: 'made away' }]);
    const unsaved = Y.encodeStateAsUpdate(page.doc, before).length;
    expect(unsaved).toBeGreaterThan(2 * SMALL);
    const wanted = boardOf(page.doc);
    page.wire.isDown = false;
    await until('it is all there', () => {
      page.look();
      return page.drops === 1 && page.line.saved === 'saved';
    });
    expect(boardOf(page.doc)).toEqual(wanted);
    expect(boardOf(await presentOf(server, board))).toEqual(wanted);
    expect(server.metrics.valueOf('larkboard_closed_total', { reason: 'tooLarge' })).toBe(0);
  });

  it('[V353] pieces come one by one, as they are asked for, and are as many bytes as a document at most', async () => {
    const server = await start({ env: { MAX_DOCUMENT_BYTES: '100000' } });
    const { board, copy } = await renewedBoard(server);
    const refused: readonly [number, ...(readonly Uint8Array[])][] = [
      [CLOSE_CODES.tooLarge, message(102, 100_001, 0, new Uint8Array(9))],
      [CLOSE_CODES.malformed, message(102, 1_000, 9, new Uint8Array(9))],
      [
        CLOSE_CODES.malformed,
        message(102, 1_000, 0, new Uint8Array(9)),
        message(102, 1_000, 99, new Uint8Array(9)),
      ],
      [CLOSE_CODES.malformed, message(102, 1_000, 0, new Uint8Array(1_001))],
      [CLOSE_CODES.malformed, message(102, 1_000, 0, new Uint8Array(0))],
      // All of it, and none of it a copy.
      [CLOSE_CODES.malformed, message(102, 9, 0, new Uint8Array(9).fill(200))],
    ];
    for (const [code, ...pieces] of refused) {
      const client = await silent(server, board, copy);
      for (const piece of pieces) client.send(piece);
      expect(await client.closed).toBe(code);
    }
    // Nobody who holds the present document is heard in pieces.
    const inside = await new RawClient(`${server.ws}/${board}/design`).join();
    clients.push(inside);
    inside.send(message(102, 1_000, 0, new Uint8Array(9)));
    expect(await inside.closed).toBe(CLOSE_CODES.tooLarge);
    const last = await silent(server, board, copy);
    const answer = Y.encodeStateAsUpdate(copy, Y.encodeStateVector(copy));
    const half = answer.length >> 1;
    last.send(message(102, answer.length, 0, answer.subarray(0, half)));
    await last.waitFor((one) => one.kind === 'wanted' && one.offset === half);
    last.send(message(102, answer.length, half, answer.subarray(half)));
    await last.waitFor((one) => one.kind === 'wanted' && one.offset === answer.length);
    expect(await last.closed).toBe(CLOSE_CODES.outdated);
  });
});

/** A store in which writes of last states wait until so many have come. */
class MeetingStore extends MemoryStore {
  meets = 0;
  readonly #waiting: (() => void)[] = [];

  get waiting(): number {
    return this.#waiting.length;
  }

  letGo(): void {
    this.meets = 0;
    for (const go of this.#waiting.splice(0)) go();
  }

  override append: MemoryStore['append'] = async (address, bytes, options) => {
    if (options?.lastState !== undefined && this.meets > 0) {
      const met = new Promise<void>((resolve) => this.#waiting.push(resolve));
      if (this.#waiting.length === this.meets) this.letGo();
      await met;
    }
    return super.append(address, bytes, options);
  };
}

describe('one copy on two nodes', () => {
  it('[V350] at the same moment is brought over once, and both people are put out with all of it there', async () => {
    const store = new MeetingStore();
    const [here, there] = await startTwo(store);
    const { board, copy } = await renewedBoard(here);
    runAll(copy, [
      { kind: 'insert-row-pairs', at: 1, count: 1 },
      { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 3 }] },
    ]);
    store.meets = 2;
    const both = await Promise.all([here, there].map((server) => come(server, board, copy)));
    expect(await Promise.all(both.map(({ closed }) => closed))).toEqual([
      CLOSE_CODES.outdated,
      CLOSE_CODES.outdated,
    ]);
    // Both were about to write, so the second was told.
    expect(store.meets).toBe(0);
    for (const server of [here, there]) {
      const { pattern } = boardOf(await presentOf(server, board));
      expect(pattern.rows).toBe(14);
      expect(knotAt(pattern, 2, 0)).toBe(3);
    }
  });

  it('[V350] the edits of two copies that meet there are all brought over', async () => {
    const store = new MeetingStore();
    const [here, there] = await startTwo(store);
    const { board, copy } = await renewedBoard(here);
    const other = new Y.Doc();
    Y.applyUpdate(other, Y.encodeStateAsUpdate(copy));
    runAll(copy, [{ kind: 'insert-row-pairs', at: 1, count: 1 }]);
    runAll(other, [{ kind: 'set-title', title: 'by the other' }]);
    store.meets = 2;
    const both = await Promise.all([come(here, board, copy), come(there, board, other)]);
    await Promise.all(both.map(({ closed }) => closed));
    expect(store.meets).toBe(0);
    const { pattern, title } = boardOf(await presentOf(there, board));
    expect([pattern.rows, title]).toEqual([14, 'by the other']);
  });
});

describe('many copies at once', () => {
  it('[V354] one is brought over and one waits; who comes then is told to come again, and a page does so by itself', async () => {
    const server = await start();
    const { board, copy } = await renewedBoard(server);
    const first: RawClient[] = [];
    for (let i = 0; i < 2; i += 1) {
      const client = new RawClient(`${server.ws}/${board}/design`);
      clients.push(client);
      first.push(client);
      client.answers = false;
      await client.opened;
      client.send(message(0, 0, Y.encodeStateVector(copy)));
      await client.waitFor(({ kind }) => kind === 'step1');
    }
    const page = new LinePage(server.ws, board);
    pages.push(page);
    page.hold(copy);
    page.edit(seededRandom(1));
    page.wire.isDown = false;
    await until(
      'it was told twice or more to come again',
      () => server.metrics.valueOf('larkboard_closed_total', { reason: 'busy' }) >= 2,
    );
    expect(page.line.isUnsaved).toBe(true);
    // Others at the board are not concerned.
    const inside = await new RawClient(`${server.ws}/${board}/design`).join();
    clients.push(inside);
    await save(inside, (doc) => runAll(doc, [{ kind: 'set-title', title: 'meanwhile' }]));
    first[0]!.close();
    await until('it is there', () => {
      page.look();
      return page.drops === 1 && page.line.saved === 'saved';
    });
    const { pattern, title } = boardOf(await presentOf(server, board));
    expect(title).toBe('meanwhile');
    for (const [place, knot] of page.knots) {
      const [row, k] = place.split(' ').map(Number) as [number, number];
      expect(knotAt(pattern, row, k)).toBe(knot);
    }
    expect(page.knots.size + page.pairs).toBe(1);
  });

  it('[V354] who is asked for a copy and does not send it makes room for others', async () => {
    const clock = new HandClock(machineClock);
    const server = await start({ clock });
    const { board, copy } = await renewedBoard(server);
    const client = await silent(server, board, copy);
    for (let turned = 0; turned < 6; turned += 1) clock.turn(5_000);
    expect(await client.closed).toBe(CLOSE_CODES.tooSlow);
  });

  it('[V354] a large one is worked out in the thread: where that gives up, the copy stays with its people', async () => {
    const broken = new URL('../there-is-none.js', import.meta.url);
    const store = new MemoryStore();
    const server = await start({ store, worker: WORKER });
    const { board, copy } = await renewedBoard(server);
    tieOver(copy, 8_000);
    runAll(copy, [{ kind: 'set-title', title: 'made away' }]);
    const other = await start({ store, worker: broken });
    expect(await (await come(other, board, copy)).closed).toBe(CLOSE_CODES.storeFailed);
    expect(boardOf(await presentOf(other, board)).title).not.toBe('made away');
    expect(await (await come(server, board, copy)).closed).toBe(CLOSE_CODES.outdated);
    expect(boardOf(await presentOf(server, board)).title).toBe('made away');
  });

  it('[V350] a room that somebody leaves while their copy is brought over stays until that is done', async () => {
    const store = new MeetingStore();
    const server = await start({ store });
    const { board, copy } = await renewedBoard(server);
    runAll(copy, [{ kind: 'set-title', title: 'made away' }]);
    store.meets = 2;
    const one = await come(server, board, copy);
    await until('it is about to be stored', () => store.waiting === 1);
    one.close();
    await until('they have left', () => server.rooms.connections.size === 0);
    await turnsOfTheLoop(50);
    expect(server.rooms.size).toBe(1);
    store.letGo();
    await until('the room is gone', () => server.rooms.size === 0);
    expect(boardOf(await presentOf(server, board)).title).toBe('made away');
  });
});

describe('rows beside a last state', () => {
  it('[V350] are told to rooms and nodes once they are stored, and not before', async () => {
    const store: Store = new MemoryStore();
    const [here, there] = await startTwo(store);
    const { board, copy } = await renewedBoard(here);
    runAll(copy, [{ kind: 'set-title', title: 'made away' }]);
    const watching = await Promise.all(
      [here, there].map((server) => new RawClient(`${server.ws}/${board}/design`).join()),
    );
    clients.push(...watching);
    expect(await (await come(here, board, copy)).closed).toBe(CLOSE_CODES.outdated);
    for (const { doc } of watching) await until('they see it', () => boardOf(doc).title === 'made away');
    expect(boardOf(watching[0]!.doc)).toEqual(boardOf(watching[1]!.doc));
  });
});
