/** People in a board that is renewed while they are there. */
import { afterEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, compactDesign, IDENTITY_ROOT, readDesign } from '../../../engine/document/index.ts';
import type { KnotCode } from '../../../engine/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { machineClock } from '../../../server/index.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';
import { LinePage, ROWS } from '../line-page.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const ENV = { RENEW_BYTES: '2000', MAX_NEW_PER_ADDRESS: '1000000', MAX_CONNECTIONS_OF_NEWCOMERS: '1000000' };
const servers: TestServer[] = [];
const pages: LinePage[] = [];
const clients: RawClient[] = [];

afterEach(async () => {
  for (const page of pages.splice(0)) page.end();
  for (const client of clients.splice(0)) client.close();
  for (const server of servers.splice(0)) await server.close();
});

async function serverOf(env: Record<string, string> = ENV, clock?: HandClock): Promise<TestServer> {
  const server = await startTestServer({ env, ...(clock && { clock }) });
  servers.push(server);
  return server;
}

function pageAt(server: TestServer, board: string, isFollower = true): LinePage {
  const page = new LinePage(server.ws, board, { isFollower });
  pages.push(page);
  return page;
}

async function joined(server: TestServer, board: string): Promise<RawClient> {
  const client = new RawClient(`${server.ws}/${board}/design`);
  clients.push(client);
  return client.join();
}

const saved = (...all: readonly LinePage[]): Promise<void> =>
  until('all is saved', () => all.every(({ line }) => line.saved === 'saved'));
const count = (server: TestServer, name: string): number => server.metrics.valueOf(`larkboard_${name}_total`);
const boardOf = ({ design }: LinePage) => design.snapshot.board;

/** Ties a knot. Places in the fourth column of even rows are not touched by {@link wear}. */
function tie(page: LinePage, row: number, k: number, knot: number): void {
  expect(page.design.run({ kind: 'set-knots', knots: [{ row, k, knot: knot as KnotCode }] })).toEqual({
    ok: true,
  });
}

/**
 * Bytes of what the next generation would begin with, the name of the document counted, where the client ids drawn
 * for it are of the longest kind: an id is written in four or five bytes wherever one thing stands after another.
 */
function mostOfABeginning(doc: Y.Doc): number {
  const next = compactDesign(doc, 2 ** 32 - 1)!;
  const named = new Y.Doc();
  named.clientID = 2 ** 32 - 2;
  named.getMap(IDENTITY_ROOT).set('name', doc.getMap(IDENTITY_ROOT).get('name'));
  Y.applyUpdate(next, Y.encodeStateAsUpdate(named));
  return Y.encodeStateAsUpdate(next).length;
}

/** Until most of the document is its past. */
const wear = (page: LinePage): void => page.wear(seededRandom(5).next);

describe('renewal with people in the room', () => {
  it('[V490] [V491] all go on on the sockets they have, and a newcomer gets the board without its past', async () => {
    const clock = new HandClock(machineClock);
    const server = await serverOf(ENV, clock);
    const board = await makeBoard(server);
    const [wren, finch] = [pageAt(server, board), pageAt(server, board)];
    await saved(wren, finch);
    const sockets = [...wren.wire.sockets, ...finch.wire.sockets];
    wear(wren);
    await until('both were handed over', () => wren.moves === 1 && finch.moves === 1);
    await saved(wren, finch);
    tie(wren, 0, 0, 1);
    tie(finch, 1, 0, 2);
    await until('each has both', () =>
      [wren, finch].every((page) => {
        const { pattern } = boardOf(page);
        return knotAt(pattern, 0, 0) === 1 && knotAt(pattern, 1, 0) === 2;
      }),
    );
    await saved(wren, finch);
    expect([...wren.wire.sockets, ...finch.wire.sockets]).toEqual(sockets);
    expect([count(server, 'renewals'), count(server, 'handed_over')]).toEqual([1, 2]);
    // What of the wear came after the renewal waits a minute for the next one (V495).
    clock.turn(60_000);
    const { doc, heard } = await joined(server, board);
    expect(readDesign(doc)).toEqual(wren.design.snapshot);
    // The server's own question (step 1) is no part of the document.
    const documents = heard.flatMap((one) =>
      one.kind === 'step2' || one.kind === 'update' ? [one.bytes.length] : [],
    );
    const bytes = documents.reduce((sum, length) => sum + length, 0);
    expect(bytes).toBeLessThanOrEqual(Math.max(2 * mostOfABeginning(doc), Number(ENV.RENEW_BYTES)));
  });

  it('[V492] what is under way from them, and what they tie before they hear of it, is on the next generation', async () => {
    const server = await serverOf();
    const board = await makeBoard(server);
    const [wren, finch] = [pageAt(server, board), pageAt(server, board)];
    await saved(wren, finch);
    finch.wire.isOpen = false;
    wear(wren);
    await until('one was handed over', () => wren.moves === 1);
    // On its way while the server renewed; and tied in the former generation, which the page still has.
    tie(finch, 2, 3, 3);
    finch.design.run({ kind: 'insert-row-pairs', at: 1, count: 1 });
    expect(finch.moves).toBe(0);
    finch.wire.open();
    await until('the other was too', () => finch.moves === 1);
    await saved(wren, finch);
    await until('the rows are everywhere', () => boardOf(wren).pattern.rows === ROWS + 2);
    expect(wren.design.snapshot).toEqual(finch.design.snapshot);
    expect(knotAt(boardOf(wren).pattern, 4, 3)).toBe(3);
    expect(finch.design.snapshot.rowPairIds).toEqual([...new Set(finch.design.snapshot.rowPairIds)]);
    expect(finch.drops).toBe(0);
  });

  it('[V493] a client that cannot go over is closed, comes back with what it holds, and nothing of it is lost', async () => {
    const server = await serverOf();
    const board = await makeBoard(server);
    const [wren, other] = [pageAt(server, board), pageAt(server, board, false)];
    const plain = await joined(server, board);
    await saved(wren, other);
    other.wire.isOpen = false;
    tie(other, 0, 3, 4);
    wear(wren);
    expect(await plain.closed).toBe(CLOSE_CODES.restarted);
    await saved(wren);
    expect(wren.moves).toBe(1);
    other.wire.open();
    await until('the other is back', () => {
      other.look();
      return other.drops === 1 && other.line.saved === 'saved';
    });
    await until('its knot is there', () => knotAt(boardOf(wren).pattern, 0, 3) === 4);
  });

  it('[V494] thirty people cost one working out, and get the same bytes', async () => {
    const server = await serverOf();
    const board = await makeBoard(server);
    const all = Array.from({ length: 30 }, () => pageAt(server, board));
    await saved(...all);
    wear(all[0]!);
    await until('all were handed over', () => all.every(({ moves }) => moves === 1));
    await saved(...all);
    expect([count(server, 'renewals'), count(server, 'handed_over')]).toEqual([1, 30]);
    expect(server.lines.filter((line) => line.includes('"renewed"'))).toHaveLength(1);
    for (const page of all) expect(page.design.snapshot).toEqual(all[0]!.design.snapshot);
  });

  it('[V495] once a minute at most, however fast somebody ties the same knots anew', async () => {
    const server = await serverOf();
    const board = await makeBoard(server);
    const [wren, finch] = [pageAt(server, board), pageAt(server, board)];
    await saved(wren, finch);
    for (let times = 0; times < 4; times += 1) {
      wear(wren);
      await saved(wren, finch);
    }
    await until('it was renewed', () => wren.moves === 1);
    expect([count(server, 'renewals'), wren.moves, finch.moves]).toEqual([1, 1, 1]);
  });

  it('[V495] a board that is large by what it shows is not renewed, and is not looked at with each edit', async () => {
    const server = await serverOf({ ...ENV, RENEW_BYTES: '500' });
    const board = await makeBoard(server);
    const wren = pageAt(server, board);
    await saved(wren);
    for (let at = 0; at < 60; at += 1) {
      wren.design.run({ kind: 'insert-row-pairs', at, count: 5 });
      await saved(wren);
    }
    expect([count(server, 'renewals'), wren.moves]).toEqual([0, 0]);
  });

  it('[V496] where the store fails meanwhile the document stays as it is, or all come back; nothing is lost', async () => {
    for (const when of ['before', 'after'] as const) {
      const store = new FaultyStore(new MemoryStore());
      const server = await startTestServer({ store, env: ENV });
      servers.push(server);
      const board = await makeBoard(server);
      const [wren, finch] = [pageAt(server, board), pageAt(server, board)];
      await saved(wren, finch);
      let failed = 0;
      const { renew } = store;
      store.renew = async (...args) => {
        failed += 1;
        store.fault = { kind: 'unavailable', when };
        try {
          return await renew.apply(store, args);
        } finally {
          store.fault = null;
        }
      };
      wear(wren);
      tie(finch, 2, 3, 2);
      await until('it failed', () => failed === 1);
      for (const page of [wren, finch])
        await until('all is saved', () => {
          page.look();
          return page.line.saved === 'saved';
        });
      tie(wren, 4, 3, 1);
      await until('both have both', () =>
        [wren, finch].every(
          (page) => knotAt(boardOf(page).pattern, 2, 3) === 2 && knotAt(boardOf(page).pattern, 4, 3) === 1,
        ),
      );
    }
  });

  it('[V497] who joins while it is renewed waits for the board without its past; who has asked for nothing yet stays', async () => {
    const store = new MemoryStore();
    let go = (): void => {};
    let isHeld = false;
    const { renew } = store;
    store.renew = async (...args) => {
      isHeld = true;
      await new Promise<void>((resolve) => {
        go = resolve;
      });
      return renew.apply(store, args);
    };
    const server = await startTestServer({ store, env: ENV });
    servers.push(server);
    const board = await makeBoard(server);
    const wren = pageAt(server, board);
    await saved(wren);
    const silent = new RawClient(`${server.ws}/${board}/design`);
    clients.push(silent);
    silent.answers = false;
    await silent.opened;
    wear(wren);
    await until('it is about to be renewed', () => isHeld);
    const late = new RawClient(`${server.ws}/${board}/design`);
    clients.push(late);
    const joining = late.join();
    await until('it has come in', () => server.rooms.connections.size === 3);
    await turnsOfTheLoop(20);
    expect(late.heard.filter(({ kind }) => kind === 'step2' || kind === 'update')).toEqual([]);
    go();
    await joining;
    await until('the page was handed over', () => wren.moves === 1);
    await silent.join();
    for (const client of [late, silent]) {
      expect(readDesign(client.doc)).toEqual(wren.design.snapshot);
      expect(client.doc.getMap('identity').get('name')).toMatch(/~2~/);
    }
    expect([late.closeCode, silent.closeCode]).toEqual([null, null]);
  });
});

describe('seeded: pages that tie while the board is renewed', () => {
  const seeds = cases(6, 60);
  it(`[V492] [V498] messages that pass one by one, lines that break: what a page was told is saved is there, in ${seeds} runs`, async () => {
    let moves = 0;
    let inHand = 0;
    for (let seed = firstSeed; seed < firstSeed + seeds; seed += 1) {
      const random = seededRandom(seed);
      const clock = new HandClock(machineClock);
      const server = await serverOf(ENV, clock);
      const board = await makeBoard(server);
      const own = Array.from({ length: 3 }, () => pageAt(server, board));
      await saved(...own);
      /** What each has tied last at a place of its own, and the pairs it put in. */
      const tied = own.map(() => new Map<string, number>());
      const pairs = own.map(() => 0);
      const edit = (index: number): void => {
        const page = own[index]!;
        page.look();
        if (!page.hasAll) return;
        if (random.chance(0.03)) {
          const at = page.design.snapshot.rowPairIds.length;
          if (page.design.run({ kind: 'insert-row-pairs', at, count: 1 }).ok) pairs[index]! += 1;
          return;
        }
        const row = index + 3 * random.below(4);
        const [k, knot] = [random.below(3), random.below(5)];
        tie(page, row, k, knot);
        tied[index]!.set(`${row} ${k}`, knot);
      };
      for (const page of own) page.wire.isOpen = false;
      for (let step = 0; step < 3_000; step += 1) {
        const index = random.below(3);
        const { wire } = own[index]!;
        if (random.chance(0.2)) edit(index);
        else if (random.chance(0.005)) wire.cut();
        else {
          const direction = random.chance(0.5) ? 'up' : 'down';
          for (let some = 1 + random.below(6); some > 0; some -= 1) wire.step(direction);
        }
        // It is not looked whether the document is worn more often than once a second.
        if (step % 100 === 0) clock.turn(1_000);
        if (step % 4 === 0) await turnsOfTheLoop();
      }
      for (const page of own) page.wire.open();
      for (const page of own)
        await until(`all is saved, seed ${seed}`, () => {
          page.look();
          return page.line.saved === 'saved';
        });
      const late = await joined(server, board);
      const { pattern } = readDesign(late.doc).board;
      expect(pattern.rows, seedFailed(seed)).toBe(ROWS + 2 * pairs.reduce((sum, one) => sum + one, 0));
      for (const places of tied)
        for (const [place, knot] of places) {
          const [row, k] = place.split(' ').map(Number) as [number, number];
          expect(knotAt(pattern, row, k), `${seedFailed(seed)}: ${place}`).toBe(knot);
        }
      for (const page of own)
        await until('all show the same', () => {
          page.look();
          return (
            JSON.stringify(page.design.snapshot.rowPairIds) ===
            JSON.stringify(readDesign(late.doc).rowPairIds)
          );
        });
      moves += own.reduce((sum, page) => sum + page.moves, 0);
      inHand += own.reduce((sum, page) => sum + page.movesInHand, 0);
      for (const page of pages.splice(0)) page.end();
      for (const client of clients.splice(0)) client.close();
      for (const one of servers.splice(0)) await one.close();
    }
    // The runs must have been about it: people handed over, and some of them with edits in hand.
    expect(moves).toBeGreaterThan(seeds);
    expect(inHand).toBeGreaterThan(seeds / 3);
  });
});
