import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  becomeCommand,
  bringBack,
  type Command,
  Design,
  readDesign,
  readKeyed,
} from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { knotAt } from '../../engine/pattern/pattern.ts';
import { writeResult } from '../bench/sync-results.ts';
import { startGate } from '../cluster/tcp-gate.ts';
import { ask } from '../support/ask.ts';
import { newId } from '../support/caller.ts';
import { cases, firstSeed, seedFailed } from '../support/depth.ts';
import { HandClock } from '../support/hand-clock.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { turnsOfTheLoop, until } from '../support/until.ts';
import { runChaos } from './chaos.ts';
import { makeOwnBoard, startChild } from './child-server.ts';
import { LinePage } from './line-page.ts';
import { RawClient } from './raw-client.ts';
import { makeBoard, startTestServer, temporaryFolder } from './test-server.ts';
import { Tier } from './tier.ts';

/** `npm run chaos` sets 60. */
const kills = Number(process.env.CHAOS_KILLS ?? cases(3, 20));
const wipes = Number(process.env.CHAOS_KILLS ?? cases(2, 20));
/** A room looks once a second whether its document is worn. */
const handOvers = Number(process.env.CHAOS_KILLS ?? cases(2, 20));

/** A room begins no two renewals within a minute; others may have both cores. */
const HUNG_RENEWAL_MS = 4 * 60_000;

describe('the process ends', () => {
  it(`[V80] killed again and again while 4 makers edit each of 2 boards: no acknowledged edit lost, no board unreadable`, async () => {
    const folder = temporaryFolder();
    const seed = Number(process.env.CHAOS_SEED ?? 20_261_125);
    // A renewed board would put out the makers, whose copies are large after many kills: that is another test's.
    const env = { DATA_DIR: folder.path, RENEW_BYTES: '0' };
    const result = await runChaos({ kills, boards: 2, makers: 4, seed, env });
    folder.remove();
    expect(result, `seed ${seed}`).toMatchObject({ lost: 0, unreadable: 0, isAllThere: true });
    // The run must have tried something: edits under way at each kill, and some acknowledged.
    expect(result.acknowledged).toBeGreaterThan(kills * 20);
    if (process.env.CHAOS_KILLS !== undefined)
      writeResult('sync-chaos', 'Killed with -9 under load, SQLite', [
        `seed ${seed}, 2 boards x 4 makers, each edit followed by a saved mark`,
        `kills ${result.kills}, edits ${result.edits}, acknowledged ${result.acknowledged}, ${result.seconds} s`,
        `acknowledged edits lost: ${result.lost}`,
        `boards unreadable: ${result.unreadable}`,
        `after everybody came back, every edit there: ${result.isAllThere ? 'yes' : 'no'}`,
        'A kill ends the process, not the machine: what only a power cut could lose is covered by synchronous = FULL, not by this run.',
      ]);
  });

  it('[V401] [V402] what somebody deletes a moment before a kill is in a version', async () => {
    const folder = temporaryFolder();
    const env = { DATA_DIR: folder.path, ACCESS: 'address' };
    const server = await startChild(env);
    const made = await ask(`${server.http}/api/boards`, {
      method: 'POST',
      body: JSON.stringify({ strings: 12, rows: 8, title: 'kites' }),
    });
    const { id } = (await made.json()) as { id: string };
    const [maker, other] = await Promise.all(
      [0, 1].map(() => new RawClient(`${server.ws}/${id}/design`).join()),
    );
    const tie = async (client: RawClient, knot: KnotCode): Promise<void> => {
      client.edit((doc) => {
        const design = new Design(doc, { makerId: 'm', newId: () => 'none' });
        const knots = Array.from({ length: 36 }, (_, n) => ({ row: Math.floor(n / 5), k: n % 5, knot }));
        expect(design.run({ kind: 'set-knots', knots })).toEqual({ ok: true });
        design.dispose();
      });
      client.mark(1);
      await client.savedMark(1);
    };
    await tie(maker!, 1);
    await until('the other has them', () => other!.doc.getMap('knots').size >= 36);
    await tie(other!, 0);
    await server.stop('SIGKILL');
    const again = await startChild(env);
    const at = `${again.http}/api/boards/${id}/versions`;
    const { versions } = (await (await ask(at)).json()) as { versions: { id: string }[] };
    const counts = await Promise.all(
      versions.map(async (version) => {
        const doc = new Y.Doc();
        Y.applyUpdate(doc, new Uint8Array(await (await ask(`${at}/${version.id}`)).arrayBuffer()));
        return readDesign(doc).board.pattern.knots.filter((knot) => knot !== 0).length;
      }),
    );
    expect(counts).toContain(36);
    await again.stop('SIGTERM');
    folder.remove();
  });

  it(`[V80] [V503] killed again and again while the board is renewed under the hands of its makers: no acknowledged edit lost`, async () => {
    const folder = temporaryFolder();
    const seed = Number(process.env.CHAOS_SEED ?? firstSeed);
    const random = seededRandom(seed);
    const env = {
      DATA_DIR: folder.path,
      ACCESS: 'address',
      RENEW_BYTES: '1000',
      MAX_NEW_PER_ADDRESS: '1000000',
      MAX_CONNECTIONS_OF_NEWCOMERS: '1000000',
      MAX_MESSAGES_PER_SECOND: '1000000',
    };
    let server = await startChild(env);
    const gate = await startGate(server.port);
    const made = await ask(`${server.http}/api/boards`, { method: 'POST', body: '{"strings":8,"rows":12}' });
    const { id } = (await made.json()) as { id: string };
    const tiers = Array.from({ length: 4 }, (_, index) => {
      const page = new LinePage(`ws://127.0.0.1:${gate.port}/sync`, id, { isFollower: index > 0 });
      return new Tier(page, 0, [index, index + 4, index + 8]);
    });
    const moves = (): number => tiers.reduce((sum, { page }) => sum + page.moves, 0);
    const work = (): void => {
      for (let i = 0; i < 5; i += 1) random.pick(tiers).edit(random);
      for (const tier of tiers) tier.look();
    };
    const allSaved = (): Promise<void> =>
      until('all is saved', () => tiers.map((tier) => tier.look()).every((isSaved) => isSaved));
    const lost: string[] = [];
    const find = async (): Promise<void> => {
      const reader = await new RawClient(`${server.ws}/${id}/design`).join();
      reader.close();
      const { pattern } = readDesign(reader.doc).board;
      for (const tier of tiers)
        for (const [place, knots] of tier.possible()) {
          const [row, k] = place.split(' ').map(Number) as [number, number];
          if (!knots.has(knotAt(pattern, row, k))) lost.push(`${place}: ${tier.history(place)}`);
        }
      const pairs = tiers.reduce((sum, tier) => sum + tier.acknowledgedPairs, 0);
      if (pattern.rows < 12 + 2 * pairs) lost.push(`${pattern.rows} rows`);
    };
    let handedOver = 0;
    try {
      await allSaved();
      // A room is renewed once a minute at most: also what is handed over as they come back counts.
      let before = 0;
      for (let kill = 0; kill < handOvers; kill += 1) {
        const isAtOnce = random.chance(0.5);
        // Killed in the turn in which the first was handed over, or some edits later.
        // Where one was begun and did not come about, or came before they were back, the next is a minute away.
        await until(
          'some were handed over',
          () => {
            work();
            return moves() > before;
          },
          HUNG_RENEWAL_MS,
        );
        for (let more = isAtOnce ? 0 : random.below(40); more > 0; more -= 1) work();
        await server.stop('SIGKILL');
        handedOver += moves() - before;
        before = moves();
        expect(server.output()).not.toContain('room-broken');
        for (const tier of tiers) tier.leave();
        server = await startChild(env);
        gate.leadTo(server.port);
        await find();
        for (const tier of tiers) tier.comeBack();
      }
      await allSaved();
      await find();
      expect(lost, seedFailed(seed)).toEqual([]);
      const last = await new RawClient(`${server.ws}/${id}/design`).join();
      const pairs = tiers.reduce((sum, tier) => sum + tier.pairs, 0);
      expect(readDesign(last.doc).board.pattern.rows).toBe(12 + 2 * pairs);
      last.close();
      expect(handedOver).toBeGreaterThanOrEqual(handOvers);
    } finally {
      for (const { page } of tiers) page.end();
      await server.stop('SIGKILL');
      await gate.close();
      folder.remove();
    }
  });

  it('[V80] [V401] killed again and again while one wipes and others tie and bring back: nothing saved is lost but in a version', async () => {
    const folder = temporaryFolder();
    const seed = Number(process.env.CHAOS_SEED ?? firstSeed);
    const random = seededRandom(seed);
    const env = { DATA_DIR: folder.path, ACCESS: 'address', RENEW_BYTES: '0' };
    let server = await startChild(env);
    const made = await ask(`${server.http}/api/boards`, { method: 'POST', body: '{"strings":12,"rows":8}' });
    const { id } = (await made.json()) as { id: string };
    const at = (): string => `${server.http}/api/boards/${id}/versions`;
    const coming = async () => {
      const client = await new RawClient(`${server.ws}/${id}/design`).join();
      return { client, design: new Design(client.doc, { makerId: newId(), newId }) };
    };
    type Hand = Awaited<ReturnType<typeof coming>>;
    let marks = 0;
    const does = ({ client, design }: Hand, command: Command): number => {
      client.edit(() => expect(design.run(command)).toEqual({ ok: true }));
      client.mark(++marks);
      return marks;
    };
    /** Rows 0 to 5 are wiped; whoever is honest has the last two, and each place of them but once. */
    const fill = (knot: KnotCode): Command => ({
      kind: 'set-knots',
      knots: Array.from({ length: 30 }, (_, n) => ({ row: Math.floor(n / 5), k: n % 5, knot })),
    });
    const kept = async (): Promise<Y.Doc[]> => {
      const { versions } = (await (await ask(at())).json()) as { versions: { id: string }[] };
      return Promise.all(
        versions.map(async (version) => {
          const doc = new Y.Doc();
          Y.applyUpdate(doc, new Uint8Array(await (await ask(`${at()}/${version.id}`)).arrayBuffer()));
          return doc;
        }),
      );
    };
    const shows = (doc: Y.Doc, knot: number): boolean => {
      const { pattern } = readDesign(doc).board;
      return Array.from({ length: 30 }, (_, n) => knotAt(pattern, Math.floor(n / 5), n % 5)).every(
        (one) => one === knot,
      );
    };
    let [honest, wiped, brought] = [0, 0, 0];
    for (let kill = 0; kill < wipes; kill += 1) {
      const hands = await Promise.all([coming(), coming(), coming()]);
      const [maker, wiper, other] = hands;
      const knot = (1 + (kill % 4)) as KnotCode;
      await maker.client.savedMark(does(maker, fill(knot)));
      await until('the wiper has them', () => shows(wiper.client.doc, knot));
      // At once, or two rows at a time; and the server is killed before, while or after it is stored.
      const isSlow = random.chance(0.5);
      const wipe: Command[] = isSlow
        ? Array.from({ length: 3 }, (_, pair) => ({
            kind: 'set-knots',
            knots: Array.from({ length: 10 }, (_, n) => ({
              row: 2 * pair + (n >= 5 ? 1 : 0),
              k: n % 5,
              knot: 0 as const,
            })),
          }))
        : [fill(0)];
      const last = wipe.map((command) => does(wiper, command)).at(-1)!;
      const tied = honest < 10 ? [6 + Math.floor(honest / 5), honest % 5] : null;
      if (tied !== null) {
        const [row, k] = tied as [number, number];
        await other.client.savedMark(does(other, { kind: 'set-knots', knots: [{ row, k, knot: 3 }] }));
        honest += 1;
      }
      if (random.chance(0.6)) await wiper.client.savedMark(last);
      await server.stop('SIGKILL');
      for (const { client, design } of hands) {
        design.dispose();
        client.close();
      }
      server = await startChild(env);
      const owner = await coming();
      if (!shows(owner.client.doc, knot)) {
        wiped += 1;
        const version = (await kept()).find((one) => shows(one, knot));
        expect(version, seedFailed(seed)).toBeDefined();
        const [now, toward] = [readKeyed(owner.client.doc)!, readKeyed(version!)!];
        // As the page does it: behind a version of what stands there.
        const { ok } = await ask(`${at()}/keep`, { method: 'POST', body: '{}' });
        expect(ok).toBe(true);
        const whole = bringBack(now, now, toward);
        if (!whole.ok) throw new Error(whole.error.message);
        await owner.client.savedMark(does(owner, becomeCommand(whole.value)));
        expect(shows(owner.client.doc, knot), seedFailed(seed)).toBe(true);
        brought += 1;
      }
      const versions = await kept();
      for (let n = 0; n < honest; n += 1) {
        const [row, k] = [6 + Math.floor(n / 5), n % 5];
        const isTied = (doc: Y.Doc): boolean => knotAt(readDesign(doc).board.pattern, row, k) === 3;
        expect([n, isTied(owner.client.doc) || versions.some(isTied)], seedFailed(seed)).toEqual([n, true]);
      }
      owner.design.dispose();
      owner.client.close();
    }
    await server.stop('SIGKILL');
    folder.remove();
    expect([wiped > 0, brought]).toEqual([true, wiped]);
  });

  it('[V81] SIGTERM stores what was edited a moment before, and ends with 0', async () => {
    const folder = temporaryFolder();
    const env = { DATA_DIR: folder.path, LOG_LEVEL: 'info' };
    const server = await startChild(env);
    const { id, headers } = await makeOwnBoard(server);
    const maker = await new RawClient(`${server.ws}/${id}/design`, { headers }).join();
    for (let i = 0; i < 200; i += 1) maker.edit((doc) => doc.getMap('meta').set(`k${i}`, i));
    maker.mark(1);
    await maker.reached();
    expect(await server.stop('SIGTERM'), server.output()).toBe(0);
    // Transient: a client that gets it comes back by itself.
    expect(await maker.closed).toBe(4500);
    const again = await startChild(env);
    const reader = await new RawClient(`${again.ws}/${id}/design`, { headers }).join();
    expect([...reader.doc.getMap('meta').keys()].filter((key) => /^k\d+$/.test(key))).toHaveLength(200);
    reader.close();
    expect(await again.stop('SIGINT')).toBe(0);
    expect(existsSync(folder.path)).toBe(true);
    folder.remove();
  });

  it('[V81] a client that does not read keeps neither the edits from the disk nor the server from ending', async () => {
    const folder = temporaryFolder();
    // Whoever waited for the reader to the end of this time would hang.
    const env = { DATA_DIR: folder.path, SHUTDOWN_MS: '600000' };
    const server = await startChild(env);
    const { id, headers } = await makeOwnBoard(server);
    const stalled = await new RawClient(`${server.ws}/${id}/design`, { headers }).join();
    const maker = await new RawClient(`${server.ws}/${id}/design`, { headers }).join();
    (stalled.socket as unknown as { _socket: { pause(): void } })._socket.pause();
    maker.edit((doc) => doc.getMap('meta').set('edit', 1));
    await maker.reached();
    expect(await server.stop('SIGTERM'), server.output()).toBe(0);
    const again = await startChild(env);
    const reader = await new RawClient(`${again.ws}/${id}/design`, { headers }).join();
    expect(reader.doc.getMap('meta').get('edit')).toBe(1);
    reader.close();
    stalled.close();
    await again.stop('SIGTERM');
    folder.remove();
  });

  it('[V81] who does not answer the close is waited for half a second, then cut off', async () => {
    const clock = new HandClock();
    const server = await startTestServer({ clock });
    const board = await makeBoard(server);
    const stalled = await new RawClient(`${server.ws}/${board}/design`).join();
    (stalled.socket as unknown as { _socket: { pause(): void } })._socket.pause();
    const cutOff = (): number => server.metrics.valueOf('larkboard_terminated_total', { reason: 'shutdown' });
    const began = clock.elapsed();
    let isClosed = false;
    const closing = server.close().then(() => {
      isClosed = true;
    });
    while (clock.elapsed() < began + 495) {
      await turnsOfTheLoop();
      clock.turn(5);
    }
    await turnsOfTheLoop();
    expect(cutOff()).toBe(0);
    await until('the server has ended', () => {
      clock.turn(5);
      return isClosed;
    });
    await closing;
    expect(cutOff()).toBe(1);
    stalled.close();
  });
});
