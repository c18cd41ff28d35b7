/** People at two nodes in a board that is renewed while they are there. */
import { afterEach, describe, expect, it } from 'vitest';
import { readDesign } from '../../../engine/document/index.ts';
import type { KnotCode } from '../../../engine/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import { machineClock } from '../../../server/index.ts';
import type { Relay } from '../../../server/relay/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import type { RelayKind } from '../../../server/relay/relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { LinePage, ROWS } from '../line-page.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const servers: TestServer[] = [];
const pages: LinePage[] = [];

afterEach(async () => {
  for (const page of pages.splice(0)) page.end();
  for (const server of servers.splice(0)) await server.close();
});

/** What the other node does not hear. */
const LOSSES: readonly (readonly RelayKind[])[] = [['pausing'], ['pausing', 'renewed']];

/** A relay that loses some kinds of messages on the way out. */
function losing(relay: Relay, lost: ReadonlySet<RelayKind>): Relay {
  return {
    isShared: relay.isShared,
    isUp: true,
    join: (room, hear) => relay.join(room, hear),
    send: (room, message) => {
      if (!lost.has(message.kind)) relay.send(room, message);
    },
    onGap: (listener) => relay.onGap(listener),
    close: () => relay.close(),
  };
}

/** Two nodes on one store and one relay, and so many pages at each. */
async function twoNodes(perNode: number, lost: ReadonlySet<RelayKind> = new Set(), clock?: HandClock) {
  const store = new MemoryStore();
  const hub = new MemoryRelayHub();
  const env = {
    RENEW_BYTES: '2000',
    MAX_NEW_PER_ADDRESS: '1000000',
    MAX_CONNECTIONS_OF_NEWCOMERS: '1000000',
  };
  const own: TestServer[] = [];
  for (const relay of [hub.node(), hub.node()])
    own.push(await startTestServer({ store, relay: losing(relay, lost), env, ...(clock && { clock }) }));
  servers.push(...own);
  const [a, b] = own as [TestServer, TestServer];
  const board = await makeBoard(a);
  const at = (server: TestServer): LinePage[] =>
    Array.from({ length: perNode }, () => new LinePage(server.ws, board, { isFollower: true }));
  const [here, there] = [at(a), at(b)];
  pages.push(...here, ...there);
  await saved(here, there);
  return { a, b, board, here, there };
}

const saved = (...all: readonly (readonly LinePage[])[]): Promise<void> =>
  until('all is saved', () =>
    all.flat().every((page) => {
      page.look();
      return page.line.saved === 'saved';
    }),
  );
const countAll = (name: string): number =>
  servers.reduce((sum, server) => sum + server.metrics.valueOf(`larkboard_${name}_total`), 0);
const tie = ({ design }: LinePage, row: number, k: number, knot: number): unknown =>
  design.run({ kind: 'set-knots', knots: [{ row, k, knot: knot as KnotCode }] });
const knotIn = ({ design }: LinePage, row: number, k: number): number =>
  knotAt(design.snapshot.board.pattern, row, k);

async function newcomer(server: TestServer, board: string) {
  const late = await new RawClient(`${server.ws}/${board}/design`).join();
  late.close();
  return readDesign(late.doc);
}

describe('renewal with people at two nodes', () => {
  it('[V500] those of the other node are handed over too, on the sockets they have', async () => {
    const { a, b, board, here, there } = await twoNodes(2);
    const all = [...here, ...there];
    const sockets = all.flatMap(({ wire }) => [...wire.sockets]);
    here[0]!.wear(seededRandom(5).next);
    await until('all were handed over', () => all.every(({ moves }) => moves === 1));
    tie(here[1]!, 0, 3, 1);
    tie(there[1]!, 2, 3, 2);
    await saved(all);
    await until('each has both', () =>
      all.every((page) => knotIn(page, 0, 3) === 1 && knotIn(page, 2, 3) === 2),
    );
    expect(all.flatMap(({ wire }) => [...wire.sockets])).toEqual(sockets);
    expect([countAll('renewals'), countAll('handed_over')]).toEqual([1, 4]);
    expect(await newcomer(a, board)).toEqual(await newcomer(b, board));
  });

  it('[V501] a node that was not told to pause, or not told of it, loses nothing: its people come over with what they hold', async () => {
    for (const kinds of LOSSES) {
      const { a, board, here, there } = await twoNodes(1, new Set(kinds));
      const [one, other] = [here[0]!, there[0]!];
      one.wear(seededRandom(5).next);
      await until('the first was handed over', () => one.moves === 1);
      tie(other, 2, 3, 3);
      await saved(here, there);
      await until('the knot is there', () => knotIn(one, 2, 3) === 3);
      expect(other.moves + other.drops).toBe(1);
      expect((await newcomer(a, board)).board).toEqual(one.design.snapshot.board);
      for (const page of pages.splice(0)) page.end();
      for (const server of servers.splice(0)) await server.close();
    }
  });

  it('[V500] while the other node works without a stop it is renewed all the same', async () => {
    const { here, there } = await twoNodes(1);
    const [one, other] = [here[0]!, there[0]!];
    const random = seededRandom(8);
    one.wear(random.next);
    let tied = 0;
    await until('both were handed over', () => {
      tie(other, 2 * random.below(6), 3, 1 + (tied % 4));
      tied += 1;
      return one.moves === 1 && other.moves + other.drops === 1;
    });
    await saved(here, there);
    await until('both show the same', () =>
      [0, 2, 4, 6, 8, 10].every((row) => knotIn(one, row, 3) === knotIn(other, row, 3)),
    );
    expect(other.moves).toBe(1);
  });
});

describe('seeded: two nodes', () => {
  const seeds = cases(4, 40);
  it(`[V500] [V501] [V502] slow lines, and relays that lose some: what a page was told is saved is there, in ${seeds} runs`, async () => {
    let moves = 0;
    for (let seed = firstSeed; seed < firstSeed + seeds; seed += 1) {
      const random = seededRandom(seed);
      const clock = new HandClock(machineClock);
      const lost = new Set<RelayKind>(
        random.chance(0.3) ? [random.pick(['pausing', 'renewed'] as const)] : [],
      );
      const { b, board, here, there } = await twoNodes(2, lost, clock);
      const own = [here[0]!, there[0]!, here[1]!, there[1]!];
      const tied = own.map(() => new Map<string, number>());
      for (const { wire } of own) wire.isOpen = false;
      for (let step = 0; step < 3_000; step += 1) {
        const index = random.below(own.length);
        const page = own[index]!;
        page.look();
        if (random.chance(0.2) && page.hasAll) {
          const [row, k, knot] = [index + 4 * random.below(3), random.below(3), random.below(5)];
          tie(page, row, k, knot);
          tied[index]!.set(`${row} ${k}`, knot);
        } else {
          const direction = random.chance(0.5) ? 'up' : 'down';
          for (let some = 1 + random.below(6); some > 0; some -= 1) page.wire.step(direction);
        }
        if (step % 100 === 0) clock.turn(1_000);
        if (step % 4 === 0) await turnsOfTheLoop();
      }
      for (const { wire } of own) wire.open();
      await saved(own);
      // What was stored at one node reaches the other a moment later.
      const missing: string[] = [];
      await until(
        () => `${seedFailed(seed)}: ${missing.join(', ')}`,
        async () => {
          const { pattern } = (await newcomer(b, board)).board;
          missing.length = 0;
          for (const places of tied)
            for (const [place, knot] of places) {
              const [row, k] = place.split(' ').map(Number) as [number, number];
              const there = knotAt(pattern, row, k);
              if (there !== knot) missing.push(`${place}: ${there}, not ${knot}`);
            }
          return missing.length === 0 && pattern.rows === ROWS;
        },
      );
      moves += own.reduce((sum, page) => sum + page.moves, 0);
      for (const page of pages.splice(0)) page.end();
      for (const server of servers.splice(0)) await server.close();
    }
    expect(moves).toBeGreaterThan(seeds);
  });
});
