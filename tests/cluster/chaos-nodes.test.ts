import { afterEach, describe, expect, it } from 'vitest';
import { CLOSE_CODES, readDesign } from '../../engine/document/index.ts';
import { knotAt } from '../../engine/pattern/pattern.ts';
import { writeResult } from '../bench/sync-results.ts';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { LinePage } from '../server/line-page.ts';
import { message, RawClient } from '../server/raw-client.ts';
import { Tier } from '../server/tier.ts';
import { ask } from '../support/ask.ts';
import { COSTLY_UPDATES } from '../support/costly-updates.ts';
import { cases, firstSeed, seedFailed } from '../support/depth.ts';
import { HOSTILE_UPDATES, targetOf } from '../support/hostile-updates.ts';
import { anySeed, roundsOf } from '../support/rounds.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { until } from '../support/until.ts';
import { type Service, startPostgres, startRedis } from './real-services.ts';
import { startGate, type TcpGate } from './tcp-gate.ts';

/** Set by `npm run chaos`: when the rounds are gone through, it goes on for so long. */
const seconds = process.env.CHAOS_SECONDS === undefined ? null : Number(process.env.CHAOS_SECONDS);
const seed = Number(process.env.CHAOS_SEED ?? (seconds === null ? firstSeed : anySeed()));

const ROWS = 120;
const NODE_OF_PAGE = [0, 0, 1, 1] as const;
/** A node that had nobody in renewed the document at this very moment: whoever comes again is let in. */
const RENEWED_NOW = CLOSE_CODES.restarted;
const HOSTILE = Object.entries(HOSTILE_UPDATES);
const COSTLY = Object.values(COSTLY_UPDATES).filter((make) => make(2).before === null);

const services: Service[] = [];
const gates: TcpGate[] = [];
let nodes: ChildServer[] = [];
let tiers: Tier[] = [];

afterEach(async () => {
  for (const { page } of tiers) page.end();
  await Promise.all(nodes.map((node) => node.stop('SIGKILL')));
  await Promise.all(gates.splice(0).map((gate) => gate.close()));
  await Promise.all(services.splice(0).map((service) => service.dispose()));
});

async function metric(name: string, of = nodes): Promise<number> {
  const texts = await Promise.all(of.map(async (node) => (await ask(`${node.http}/metrics`)).text()));
  const line = new RegExp(`^${name}(?:\\{.*\\})? (\\d+)$`, 'gm');
  return texts.flatMap((text) => [...text.matchAll(line)]).reduce((sum, [, value]) => sum + Number(value), 0);
}

describe('two nodes on one database and one relay', () => {
  it(`[V80] [V94] [V104] [V250] killed in turns among hostile trees and copies of ended generations: nothing acknowledged is lost, from seed ${seed}`, async () => {
    const random = seededRandom(seed);
    const [postgres, redis] = await Promise.all([startPostgres(), startRedis()]);
    services.push(postgres, redis);
    const start = (): Promise<ChildServer> =>
      startChild({
        DATA_DIR: '/nonexistent/never-used',
        DATABASE_URL: postgres.url,
        REDIS_URL: redis.url,
        ACCESS: 'address',
        RENEW_BYTES: '2000',
        MAX_NEW_PER_ADDRESS: '1000000',
        MAX_CONNECTIONS_OF_NEWCOMERS: '1000000',
      });
    nodes = await Promise.all([start(), start()]);
    for (const node of nodes) gates.push(await startGate(node.port));
    const made = await ask(`${nodes[0]!.http}/api/boards`, {
      method: 'POST',
      body: `{"strings":8,"rows":${ROWS}}`,
    });
    const board = ((await made.json()) as { id: string }).id;
    tiers = NODE_OF_PAGE.map((node, index) => {
      // One at each node goes over to the next generation on its socket, the other comes back as clients of other programs do.
      const page = new LinePage(`ws://127.0.0.1:${gates[node]!.port}/sync`, board, {
        isFollower: index % 2 === 0,
      });
      const rows = Array.from({ length: ROWS }, (_, row) => row).filter(
        (row) => row % NODE_OF_PAGE.length === index,
      );
      return new Tier(page, node, rows);
    });
    const told = { kills: 0, renewals: 0, frames: 0, ownEnds: 0 };

    const allSaved = (of: readonly Tier[]): Promise<void> =>
      until('all is saved', () => of.map((tier) => tier.look()).every((isSaved) => isSaved));
    const working = async (edits: number): Promise<void> => {
      for (let i = 0; i < edits; i += 1) {
        random.pick(tiers).edit(random);
        if (random.chance(0.1)) await new Promise((resolve) => setImmediate(resolve));
        if (i % 10 === 0) for (const tier of tiers) tier.look();
      }
    };
    const newcomer = async (node: ChildServer): Promise<RawClient> => {
      for (;;) {
        const client = await new RawClient(`${node.ws}/${board}/design`)
          .join()
          .catch((cause: Error) => cause);
        if (client instanceof Error) expect(client.message).toContain(`closed with ${RENEWED_NOW} `);
        else {
          client.close();
          return client;
        }
      }
    };
    /** What was acknowledged and is not at a node that knows only what the database holds. */
    const lost: string[] = [];
    const expectNothingLost = async (node: ChildServer): Promise<void> => {
      const { pattern } = readDesign((await newcomer(node)).doc).board;
      for (const tier of tiers)
        for (const [place, knots] of tier.possible()) {
          const [row, k] = place.split(' ').map(Number) as [number, number];
          const there = knotAt(pattern, row, k);
          if (!knots.has(there))
            lost.push(
              `${place}: ${there}, not ${[...knots].join(' or ')}, of page ${tiers.indexOf(tier)} ${tier.history(place)}`,
            );
        }
      if (pattern.rows < ROWS + 2 * tiers.reduce((sum, tier) => sum + tier.acknowledgedPairs, 0))
        lost.push(`${pattern.rows} rows`);
      expect(lost, seedFailed(seed)).toEqual([]);
    };
    /** A socket sends what no document takes. @returns what it is closed with; null: it did not wait for that */
    const strike = async (node: ChildServer): Promise<number | null> => {
      const target = targetOf((await newcomer(node)).doc);
      const guest = new RawClient(`${node.ws}/${board}/design`);
      guest.answers = false;
      guest.socket.on('error', () => {});
      await guest.opened;
      const update = random.chance(0.2)
        ? random.pick(COSTLY)(2_500).update
        : random.pick(HOSTILE)[1](target, random);
      guest.send(message(0, 1 + random.below(2), update));
      told.frames += 1;
      if (random.chance(0.5)) {
        guest.close();
        return null;
      }
      // Before a renewal a node passes over what it is sent, and asks for it once more where none came of it: a guest never answers.
      const questions = (): number => guest.heard.filter(({ kind }) => kind === 'step1').length;
      await until('it is closed, or asked once more', () => guest.closeCode !== null || questions() > 1);
      if (guest.closeCode === null) guest.close();
      return guest.closeCode ?? RENEWED_NOW;
    };
    const attack = async (node: ChildServer): Promise<void> => {
      for (let struck = 0; struck < 4; ) {
        const code = await strike(node);
        if (code === RENEWED_NOW) continue;
        if (code !== null) expect([4400, 4413]).toContain(code);
        struck += 1;
      }
    };
    /** Everybody leaves, works on offline, and comes back to a board that was renewed meanwhile. */
    const renewed = async (): Promise<void> => {
      const before = await metric('larkboard_renewals_total');
      // Until most of the document is its past. It may be renewed while they are there, and then has no past when they leave.
      await working(2_000);
      await allSaved(tiers);
      for (const tier of tiers) tier.leave();
      await until('the board is renewed', async () => (await metric('larkboard_renewals_total')) > before);
      told.renewals += 1;
      for (const tier of tiers) for (let i = random.below(8); i > 0; i -= 1) tier.edit(random);
      for (const tier of tiers) tier.comeBack();
    };
    /** It must not have ended by itself, nor given up a room because of a fault: that closes sockets with the same code. */
    const expectSound = (node: ChildServer): void => {
      if (node.process.exitCode !== null) told.ownEnds += 1;
      expect(node.output(), seedFailed(seed)).not.toContain('room-broken');
    };
    const kill = async (which: readonly number[]): Promise<void> => {
      const away = tiers.filter((tier) => which.includes(tier.node));
      for (const index of which) {
        expectSound(nodes[index]!);
        await nodes[index]!.stop('SIGKILL');
        told.kills += 1;
      }
      for (const tier of away) tier.leave();
      for (const tier of tiers) tier.look();
      for (const index of which) {
        nodes[index] = await start();
        gates[index]!.leadTo(nodes[index]!.port);
      }
      await expectNothingLost(nodes[which[0]!]!);
      for (const tier of away) tier.comeBack();
    };

    await allSaved(tiers);
    for (const round of roundsOf(cases(2, 8), seconds)) {
      await working(400);
      await attack(nodes[round % 2]!);
      // What is under way when a node is killed: steady work, or copies of an ended generation on their way in.
      if (round % 2 === 0) await renewed();
      await working(random.below(60));
      await kill(random.pick([[0], [1], [0, 1]]));
    }
    await allSaved(tiers);
    await Promise.all(nodes.map((node) => attack(node)));
    const seen = await Promise.all(nodes.map(newcomer));
    for (const { doc } of seen) {
      const { pattern } = readDesign(doc).board;
      expect(pattern.rows).toBe(ROWS + 2 * tiers.reduce((sum, tier) => sum + tier.pairs, 0));
    }
    for (const node of nodes) await expectNothingLost(node);
    expect(readDesign(seen[0]!.doc)).toEqual(readDesign(seen[1]!.doc));
    for (const node of nodes) expectSound(node);
    expect(told.ownEnds, seedFailed(seed)).toBe(0);
    const drops = tiers.reduce((sum, { page }) => sum + page.drops, 0);
    expect(drops).toBeGreaterThan(told.renewals);
    const edits = tiers.reduce((sum, tier) => sum + tier.edits.length + tier.pairs, 0);
    if (seconds !== null)
      writeResult('sync-chaos-nodes', 'Two nodes killed with -9 in turns, PostgreSQL and Redis', [
        `seed ${seed}, 1 board, 4 makers, ${seconds} s and what was begun then`,
        `kills ${told.kills}, edits ${edits}, all acknowledged in the end`,
        `renewals with everybody away and at work: ${told.renewals}; copies of an ended generation given up after they were brought over: ${drops}`,
        `hostile trees and costly frames sent: ${told.frames}; nodes that ended by themselves: ${told.ownEnds}`,
        `acknowledged edits lost: ${lost.length}`,
      ]);
  });
});
