import { connect } from 'node:net';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign, writeBoard } from '../../engine/document/index.ts';
import { blankBoard } from '../../server/boards/index.ts';
import { checkUpdate, clocksOf } from '../../server/sync/index.ts';
import { writeResult } from '../bench/sync-results.ts';
import { until } from '../support/until.ts';
import { seededRandom } from './chaos.ts';
import { message, presenceMessage, RawClient } from './raw-client.ts';
import { makeBoard, startTestServer } from './test-server.ts';

/** `npm run fuzz` sets 300. */
const seconds = Number(process.env.FUZZ_SECONDS ?? 3);
const seed = Number(process.env.FUZZ_SEED ?? Date.now() % 1_000_000);
const random = seededRandom(seed);
const below = (limit: number): number => Math.floor(random() * limit);
const bytes = (length: number): Uint8Array => Uint8Array.from({ length }, () => below(256));

function otherDocument(): Uint8Array[] {
  const doc = new Y.Doc();
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  for (let i = 0; i < 6; i += 1) {
    doc.getMap('meta').set('generation', `g${i}`);
    doc.getArray('rowPairs').insert(0, [`r${i}`]);
    if (i > 2) doc.getArray('rowPairs').delete(1, 1);
  }
  return updates;
}

/** Each gives a frame that must not change the board. */
const KINDS: Readonly<Record<string, () => Uint8Array>> = {
  'random bytes': () => bytes(below(200)),
  'random after a kind': () => Uint8Array.from([below(5), below(4), ...bytes(below(80))]),
  'random update': () => message(0, 1 + below(2), bytes(1 + below(60))),
  'huge varints': () =>
    Uint8Array.from([0, below(3), ...Array.from({ length: 3 + below(9) }, () => 255), below(128)]),
  'cut update': () => {
    const update = Y.mergeUpdates(otherDocument());
    return message(0, 2, update.subarray(0, 1 + below(update.length - 1)));
  },
  'flipped update': () => {
    // From the third on an update refers to an earlier one; one flipped bit cannot mend that and the clock too.
    const update = otherDocument()[2 + below(4)]!.slice();
    update[below(update.length)]! ^= 1 << below(8);
    return message(0, 1, update);
  },
  'unmet update': () => message(0, 2, otherDocument()[1 + below(5)]!),
  'unmet step 2': () => message(0, 1, otherDocument()[1 + below(5)]!),
  'random state vector': () => message(0, 0, bytes(below(30))),
  'random presence': () => message(1, bytes(below(60))),
  'forged presence': () => presenceMessage([{ client: below(1e6), clock: below(1e6), state: '{"x":1}' }]),
};

describe('the wire', () => {
  it(
    `[V51] ${seconds} s of broken frames: no crash, no growth, no change to the board (seed ${seed})`,
    async () => {
      const server = await startTestServer({ env: { MAX_NEW_PER_ADDRESS: '100000000' } });
      const board = await makeBoard(server);
      const url = `${server.ws}/${board}/design`;
      const honest = await new RawClient(url).join();
      const before = Y.encodeStateAsUpdate(honest.doc);
      const rows = (await server.store.load({ board, part: 'design' })).length;
      const sent = new Map<string, number>();
      const refused = new Set<number>();
      const deadline = performance.now() + seconds * 1000;
      let heap = 0;
      for (let round = 0; performance.now() < deadline; round += 1) {
        const hostile = new RawClient(url);
        hostile.socket.on('error', () => {});
        hostile.answers = false;
        await hostile.opened;
        if (random() < 0.1) {
          // Below the WebSocket layer: whatever bits, straight into the stream.
          (hostile.socket as unknown as { _socket: { write(data: Uint8Array): void } })._socket.write(
            bytes(20),
          );
          sent.set('random bits', (sent.get('random bits') ?? 0) + 1);
        }
        const names = Object.keys(KINDS);
        for (let i = 1 + below(5); i > 0; i -= 1) {
          const name = names[below(names.length)]!;
          sent.set(name, (sent.get(name) ?? 0) + 1);
          hostile.send(KINDS[name]!());
        }
        await Promise.race([hostile.closed, new Promise((resolve) => setTimeout(resolve, 5))]);
        if (hostile.closeCode !== null) refused.add(hostile.closeCode);
        hostile.close();
        if (round % 20 === 0) {
          const raw = connect(server.port, '127.0.0.1');
          raw.on('error', () => {});
          raw.write(bytes(100));
          setTimeout(() => raw.destroy(), 20);
        }
        if (round === 200) heap = process.memoryUsage().heapUsed;
      }
      await until('all hostile sockets are gone', () => server.rooms.connections.size === 1);
      honest.mark(1);
      await honest.savedMark(1);
      expect(honest.heard.filter((one) => one.kind === 'update')).toEqual([]);
      const late = await new RawClient(url).join();
      expect(Y.encodeStateAsUpdate(late.doc)).toEqual(before);
      expect((await server.store.load({ board, part: 'design' })).length).toBe(rows);
      // Every kind was tried and the refusals are the two that fit.
      for (const name of Object.keys(KINDS)) expect(sent.get(name), name).toBeGreaterThan(0);
      expect([...refused].filter((code) => ![4400, 4413, 1002, 1005, 1006, 1007].includes(code))).toEqual([]);
      if (heap > 0) expect(process.memoryUsage().heapUsed - heap).toBeLessThan(150 * 1024 * 1024);
      // Refusals are counted, not written out one by one.
      expect(server.lines.filter((line) => line.includes('"stack"'))).toEqual([]);
      if (process.env.FUZZ_SECONDS !== undefined)
        writeResult('sync-fuzz', 'Broken frames against the sync server', [
          `${seconds} s, seed ${seed}, ${[...sent.values()].reduce((sum, n) => sum + n, 0)} frames`,
          ...[...sent].map(([name, n]) => `${name}: ${n}`),
          'no crash, the board unchanged, the log of the document unchanged',
        ]);
      honest.close();
      late.close();
      await server.close();
    },
    60_000 + seconds * 1000,
  );
});

describe('the check', () => {
  it(
    `[V53] whatever passes it is applied without a fault and leaves nothing waiting (seed ${seed})`,
    () => {
      const origin = new Y.Doc();
      writeBoard(origin, blankBoard(6, 6, 'fuzz'), () => `i${below(1e9)}`);
      const start = Y.encodeStateAsUpdate(origin);
      const deadline = performance.now() + Math.min(seconds, 60) * 500;
      let passed = 0;
      let refused = 0;
      while (performance.now() < deadline) {
        // An honest edit on this very document, of every kind of struct, then a few bytes spoilt.
        const maker = new Y.Doc();
        Y.applyUpdate(maker, start);
        const before = Y.encodeStateVector(maker);
        for (let i = below(4); i >= 0; i -= 1)
          [
            () => maker.getMap('meta').set('generation', below(9)),
            () =>
              maker
                .getArray('rowPairs')
                .insert(below(maker.getArray('rowPairs').length + 1), ['a', below(5)]),
            () => maker.getArray('rowPairs').delete(0, Math.min(1, maker.getArray('rowPairs').length)),
            () => maker.getMap('knots').set(`k${below(3)}`, new Y.Map([['x', below(9)]])),
            () => maker.getText('words').insert(0, 'abc'),
            () => maker.getMap('knots').delete(`k${below(3)}`),
          ][below(6)]!();
        const update = Y.encodeStateAsUpdate(maker, before);
        for (let i = below(4); i > 0; i -= 1) update[below(update.length)] = below(256);
        const target = new Y.Doc();
        Y.applyUpdate(target, start);
        const check = checkUpdate(clocksOf(target), { name: 'b/design', generation: 1 }, update);
        if (check.kind !== 'fits') {
          refused += 1;
          continue;
        }
        passed += 1;
        const hex = Buffer.from(update).toString('hex');
        expect(() => Y.applyUpdate(target, update), hex).not.toThrow();
        expect(target.store.pendingStructs, hex).toBeNull();
        expect(target.store.pendingDs, hex).toBeNull();
        // What it left can be read, encoded and read again.
        expect(() => readDesign(target), hex).not.toThrow();
        const copy = new Y.Doc();
        expect(() => Y.applyUpdate(copy, Y.encodeStateAsUpdate(target)), hex).not.toThrow();
      }
      expect(passed).toBeGreaterThan(20);
      expect(refused).toBeGreaterThan(20);
    },
    60_000 + seconds * 1000,
  );
});
