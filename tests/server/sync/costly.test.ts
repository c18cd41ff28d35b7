/** Updates that would hold up everybody: tried in a thread, and refused there, while the others go on. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, Design, readDesign } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { countSteps } from '../../../server/sync/count-steps.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/index.ts';
import { TRIAL } from '../../../server/sync/trial-job.ts';
import { WorkThread } from '../../../server/work/index.ts';
import { ask } from '../../support/ask.ts';
import { craftUpdate, values } from '../../support/crafted-update.ts';
import { COSTLY_UPDATES, MAKER, STRANGER } from '../../support/costly-updates.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { countingIds } from '../../support/sample-board.ts';
import { until } from '../../support/until.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const [UPDATE, STEP_2] = [2, 1];
const WORKER = new URL('../../../dist/server/worker.js', import.meta.url);
/** Hears what it is to try, and never answers. */
const SILENT = new URL(
  'data:text/javascript,import { parentPort } from "node:worker_threads"; parentPort.on("message", () => {});',
);

let server: TestServer;
let board: string;
const clients: RawClient[] = [];

const join = (): Promise<RawClient> => {
  const client = new RawClient(`${server.ws}/${board}/design`);
  clients.push(client);
  return client.join();
};
const tried = (outcome: string): number => server.metrics.valueOf('larkboard_trials_total', { outcome }) ?? 0;
const rows = async (): Promise<number> => (await server.store.load({ board, part: 'design' })).length;

async function start(env: Record<string, string> = {}): Promise<void> {
  server = await startTestServer({ env });
  board = await makeBoard(server);
}

afterEach(async () => {
  for (const one of clients.splice(0)) one.close();
  await server.close();
});

describe('what takes too many steps', () => {
  beforeEach(() => start());

  it.each(Object.keys(COSTLY_UPDATES))('[V243] is refused and leaves nothing: %s', async (name) => {
    const { before, update } = COSTLY_UPDATES[name]!(3_000);
    const honest = await join();
    const hostile = await join();
    if (before !== null) {
      // By itself it is harmless, and counted so where it looks dear.
      hostile.send(message(0, STEP_2, before));
      hostile.mark(1);
      await hostile.savedMark(1);
    }
    const [stored, heard] = [await rows(), honest.heard.length];
    const another = await join();
    another.send(message(0, STEP_2, update));
    another.mark(2);
    expect(await another.closed).toBe(CLOSE_CODES.tooLarge);
    expect(another.heard.some((one) => one.kind === 'saved')).toBe(false);
    expect(tried('too-much')).toBe(1);
    honest.mark(3);
    await honest.savedMark(3);
    expect(await rows()).toBe(stored);
    expect(honest.heard.slice(heard).filter((one) => one.kind === 'update')).toEqual([]);
    expect(readDesign((await join()).doc).board.title).toBe('kites');
  });

  it('[V243] is refused too where it comes in small pieces, each of which is cheap', async () => {
    const hostile = await join();
    const { before } = COSTLY_UPDATES['a key with a long past, and another behind its beginning']!(1_000);
    hostile.send(message(0, STEP_2, before!));
    for (let n = 0; n < 1_000 && hostile.closeCode === null; n += 1) {
      const one = craftUpdate([
        { client: STRANGER, clock: n, structs: [{ origin: [MAKER, 0], content: values(1) }] },
      ]);
      hostile.send(message(0, UPDATE, one));
      if (n % 20 === 0) await hostile.reached();
    }
    expect(await hostile.closed).toBe(CLOSE_CODES.tooLarge);
    // What was taken up to there can be read in few steps.
    const stored = (await server.store.load({ board, part: 'design' })).map(({ bytes }) => bytes);
    expect(stored.length).toBeGreaterThan(20);
    const { steps, structs } = countSteps(stored, () => Number.POSITIVE_INFINITY)!;
    expect(steps).toBeLessThan(DEFAULT_SYNC_LIMITS.steps * 1.5 + 2 * structs);
    expect(tried('fine')).toBeGreaterThan(0);
  });

  it('[V243] what looks dear and is not is taken, with all that comes behind it, in order', async () => {
    const made = await ask(`${server.http}/api/boards`, {
      method: 'POST',
      body: JSON.stringify({ strings: 20, rows: 300, title: 'wide' }),
    });
    board = ((await made.json()) as { id: string }).id;
    const [one, other] = [await join(), await join()];
    const makers = [one, other].map(
      (client, i) => new Design(client.doc, { makerId: `m${i}`, newId: countingIds(`m${i}`), captureMs: 0 }),
    );
    const sent: Uint8Array[][] = [[], []];
    [one, other].forEach(({ doc }, i) => {
      doc.on('update', (update: Uint8Array, origin: unknown) => {
        if (origin !== 'server') sent[i]!.push(update);
      });
    });
    // Both tie the same knots, and know nothing of each other.
    const knots = Array.from({ length: 300 * 9 }, (_, i) => ({ row: Math.floor(i / 9), k: i % 9 }));
    for (let n = 0; n < 2; n += 1)
      makers.forEach((maker, i) => {
        expect(
          maker.run({
            kind: 'set-knots',
            knots: knots.map((at) => ({ ...at, knot: (1 + i + n) as 1 | 2 | 3 })),
          }),
        ).toEqual({ ok: true });
      });
    for (const update of sent[0]!) one.send(message(0, UPDATE, update));
    one.mark(1);
    await one.savedMark(1);
    for (const update of sent[1]!) other.send(message(0, UPDATE, update));
    other.edit((doc) => doc.getMap('meta').set('behind', 1));
    other.mark(2);
    await other.savedMark(2);
    expect(tried('fine')).toBeGreaterThan(0);
    const late = await join();
    expect(late.doc.getMap('meta').get('behind')).toBe(1);
    await until('all have all', () =>
      [one, other].every(
        ({ doc }) => JSON.stringify(readDesign(doc)) === JSON.stringify(readDesign(late.doc)),
      ),
    );
    expect(readDesign(late.doc).board.pattern.knots.some((knot) => knot > 0)).toBe(true);
    expect([one.closeCode, other.closeCode]).toEqual([null, null]);
    for (const maker of makers) maker.dispose();
  });
});

describe('a copy of an ended generation', () => {
  beforeEach(() => start({ RENEW_BYTES: '4000' }));

  it('[V243] that takes too many steps is not brought over', async () => {
    const maker = await join();
    // Two keys in turn: their past does not become one struct.
    maker.edit((doc) => {
      for (let n = 0; n < 2_000; n += 1) doc.getMap('meta').set(`worn${n % 2}`, n);
    });
    maker.mark(1);
    await maker.savedMark(1);
    maker.close();
    await until('the board is renewed', () => server.metrics.valueOf('larkboard_renewals_total') === 1);
    const { before, update } =
      COSTLY_UPDATES['a key with a long past, and another behind its beginning']!(3_000);
    const copy = Y.mergeUpdates([Y.encodeStateAsUpdate(maker.doc), before!, update]);
    // Read as one it takes few steps: the past comes last. Of one key there is no such order.
    const costly = COSTLY_UPDATES['one key written over and over as if it were new']!(3_000).update;
    for (const [held, code] of [
      [copy, CLOSE_CODES.outdated],
      [Y.mergeUpdates([Y.encodeStateAsUpdate(maker.doc), costly]), CLOSE_CODES.malformed],
    ] as const) {
      const late = new RawClient(`${server.ws}/${board}/design`);
      clients.push(late);
      late.answers = false;
      await late.opened;
      late.send(message(0, STEP_2, held));
      expect(await late.closed).toBe(code);
    }
    expect(tried('too-much')).toBe(1);
  });
});

describe('the thread of the trials', () => {
  const update = COSTLY_UPDATES['one key written over and over as if it were new']!(100).update;
  const trial = { updates: [update], most: 1_000_000 };

  it('[V244] fails what cannot be placed, and goes on with the next', async () => {
    const thread = new WorkThread(WORKER, machineClock);
    const bad = thread.run(TRIAL, { updates: [Uint8Array.of(9, 9, 9)], most: 10 });
    const good = thread.run(TRIAL, trial);
    await expect(bad).rejects.toThrow();
    expect(await good).toMatchObject({ structs: 100 });
    expect(await thread.run(TRIAL, { ...trial, most: 10 })).toBeNull();
    await thread.close();
    await expect(thread.run(TRIAL, trial)).rejects.toThrow('stops');
  });

  it('[V244] ends when it is idle, or when a trial does not end, and begins anew', async () => {
    const clock = new HandClock();
    const thread = new WorkThread(WORKER, clock);
    for (let n = 0; n < 2; n += 1) {
      expect(await thread.run(TRIAL, trial)).toMatchObject({ structs: 100 });
      clock.turn(30_000);
    }
    await thread.close();

    const silent = new WorkThread(SILENT, clock, 30_000);
    const never = [silent.run(TRIAL, trial), silent.run(TRIAL, trial)];
    clock.turn(30_000);
    await expect(never[0]).rejects.toThrow('stopped');
    // The second is being tried in a thread of its own by now.
    clock.turn(30_000);
    await expect(never[1]).rejects.toThrow('stopped');
    await silent.close();
  });
});
