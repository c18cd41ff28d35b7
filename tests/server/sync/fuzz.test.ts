import { connect, type Socket } from 'node:net';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { ADMISSION } from '../../../engine/document/admission.ts';
import { readDesign, writeBoard } from '../../../engine/document/index.ts';
import { blankBoard } from '../../../server/boards/blank-board.ts';
import { checkState, checkUpdate } from '../../../server/sync/check-update.ts';
import { firstOf, identityUpdate } from '../../../server/sync/identity.ts';
import { Reach } from '../../../server/sync/reach.ts';
import { writeResult } from '../../bench/sync-results.ts';
import { COSTLY_UPDATES } from '../../support/costly-updates.ts';
import { cases, firstSeed } from '../../support/depth.ts';
import { anyStructs, HOSTILE_UPDATES, type Target, targetOf } from '../../support/hostile-updates.ts';
import { anySeed, roundsOf } from '../../support/rounds.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { until } from '../../support/until.ts';
import { message, presenceMessage, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

/** Set by `npm run fuzz`: when a number of rounds is gone through, it goes on for so long. */
const seconds = process.env.FUZZ_SECONDS === undefined ? null : Number(process.env.FUZZ_SECONDS);
/** Long runs begin elsewhere each time. */
const seed = Number(process.env.FUZZ_SEED ?? (seconds === null ? 50 + firstSeed : anySeed()));
const from = seconds === null ? '' : `, from seed ${seed}`;
const IDENTITY = firstOf('b/design');
const WIRE_ROUNDS = cases(150, 3_000);
const CHECK_ROUNDS = cases(300, 30_000);

/** Rounds that go on for a share of the seconds. */
const shareOf = (share: number): number | null => (seconds === null ? null : seconds * share);

const random = seededRandom(seed);
const { below } = random;
const bytes = (length: number): Uint8Array => Uint8Array.from({ length }, () => below(256));

/** A document whose number follows from the seed, so that its updates do. */
function seededDoc(): Y.Doc {
  const doc = new Y.Doc();
  doc.clientID = 1 + below(2 ** 32 - 1);
  return doc;
}

function otherDocument(): Uint8Array[] {
  const doc = seededDoc();
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  for (let i = 0; i < 6; i += 1) {
    doc.getMap('meta').set('generation', `g${i}`);
    doc.getArray('rowPairs').insert(0, [`r${i}`]);
    if (i > 2) doc.getArray('rowPairs').delete(1, 1);
  }
  return updates;
}

/** Those that need nothing to be there. */
const COSTLY = Object.entries(COSTLY_UPDATES).filter(([, make]) => make(2).before === null);
/** Each gives a frame that must not change the board. @param target the board's design */
const KINDS: Readonly<Record<string, (target: Target) => Uint8Array>> = {
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
  ...Object.fromEntries(
    Object.entries(HOSTILE_UPDATES).map(([name, make]) => [
      name,
      (target: Target) => message(0, 1 + below(2), make(target, random)),
    ]),
  ),
  ...Object.fromEntries(
    COSTLY.map(([name, make]) => [name, () => message(0, 1 + below(2), make(3_000 + below(500)).update)]),
  ),
};

describe('the wire', () => {
  it(`[V51] broken frames: no crash, no growth, no change to the board${from}`, async () => {
    const server = await startTestServer({
      env: { MAX_NEW_PER_ADDRESS: '100000000', MAX_CONNECTIONS_OF_NEWCOMERS: '100000000' },
    });
    const board = await makeBoard(server);
    const url = `${server.ws}/${board}/design`;
    const honest = await new RawClient(url).join();
    const before = Y.encodeStateAsUpdate(honest.doc);
    const target = targetOf(honest.doc);
    const rows = (await server.store.load({ board, part: 'design' })).length;
    const sent = new Map<string, number>();
    /** What came first on a socket was read for sure. */
    const first = new Map<string, number>();
    const count = (into: Map<string, number>, name: string) => into.set(name, (into.get(name) ?? 0) + 1);
    const refused = new Set<number>();
    let heap = 0;
    for (const round of roundsOf(WIRE_ROUNDS, seconds)) {
      const hostile = new RawClient(url);
      hostile.socket.on('error', () => {});
      hostile.answers = false;
      await hostile.opened;
      const { _socket: stream } = hostile.socket as unknown as { _socket: Socket };
      if (random.chance(0.1)) {
        // Below the WebSocket layer: whatever bits, straight into the stream.
        stream.write(bytes(20));
        count(sent, 'random bits');
      }
      const names = Object.keys(KINDS);
      for (let i = 0; i <= below(5); i += 1) {
        const name = random.pick(names);
        if (i === 0) count(first, name);
        count(sent, name);
        hostile.send(KINDS[name]!(target));
      }
      // Behind the last byte; the server ends its side when it has read all, if it has not long before.
      stream.end();
      refused.add(await hostile.closed);
      if (round % 20 === 0) {
        const raw = connect(server.port, '127.0.0.1');
        raw.on('error', () => {});
        raw.resume().end(bytes(100));
        await new Promise((resolve) => raw.once('close', resolve));
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
    for (const name of Object.keys(KINDS)) expect(first.get(name), name).toBeGreaterThan(0);
    expect([...refused].filter((code) => ![4400, 4413, 1002, 1005, 1006, 1007].includes(code))).toEqual([]);
    expect(server.metrics.valueOf('larkboard_trials_total', { outcome: 'too-much' })).toBeGreaterThan(0);
    expect(server.metrics.valueOf('larkboard_trials_total', { outcome: 'unknown' }) ?? 0).toBe(0);
    if (heap > 0) expect(process.memoryUsage().heapUsed - heap).toBeLessThan(150 * 1024 * 1024);
    // Refusals are counted, not written out one by one.
    expect(server.lines.filter((line) => line.includes('"stack"'))).toEqual([]);
    if (seconds !== null)
      writeResult('sync-fuzz', 'Broken frames against the sync server', [
        `${seconds} s, seed ${seed}, ${[...sent.values()].reduce((sum, n) => sum + n, 0)} frames`,
        ...[...sent].map(([name, n]) => `${name}: ${n}`),
        'no crash, the board unchanged, the log of the document unchanged',
      ]);
    honest.close();
    late.close();
    await server.close();
  });
});

describe('the check', () => {
  /** A small board with its name, and what the server keeps of how far it reaches. */
  function begin(): { readonly target: Target; readonly reach: Reach; readonly start: Uint8Array } {
    const origin = seededDoc();
    Y.applyUpdate(origin, identityUpdate(IDENTITY));
    writeBoard(origin, blankBoard(6, 6, 'fuzz'), () => `i${below(1e9)}`);
    const start = Y.encodeStateAsUpdate(origin);
    const { check } = checkState(start, IDENTITY.name);
    if (check.kind !== 'fits') throw new Error(`a new board is ${check.kind}`);
    const reach = new Reach();
    reach.note(check);
    return { target: targetOf(origin), reach, start };
  }

  it(`[V53] whatever passes it is applied without a fault and leaves nothing waiting${from}`, () => {
    const { reach, start } = begin();
    let passed = 0;
    let refused = 0;
    for (const _ of roundsOf(CHECK_ROUNDS, shareOf(0.1))) {
      // An honest edit on this very document, of every kind of struct, then a few bytes spoilt.
      const maker = seededDoc();
      Y.applyUpdate(maker, start);
      const before = Y.encodeStateVector(maker);
      for (let i = below(4); i >= 0; i -= 1)
        [
          () => maker.getMap('meta').set('generation', below(9)),
          () =>
            maker
              .getArray('rowPairs')
              .insert(below(maker.getArray('rowPairs').length + 1), ['a', `b${below(5)}`]),
          () => maker.getArray('rowPairs').delete(0, Math.min(1, maker.getArray('rowPairs').length)),
          () => maker.getMap('knots').set(`k${below(3)}`, new Y.Map([['x', below(9)]])),
          () => maker.getText('words').insert(0, 'abc'),
          () => maker.getMap('knots').delete(`k${below(3)}`),
        ][below(6)]!();
      const update = Y.encodeStateAsUpdate(maker, before);
      for (let i = below(4); i > 0; i -= 1) update[below(update.length)] = below(256);
      const target = new Y.Doc();
      Y.applyUpdate(target, start);
      const check = checkUpdate(reach, IDENTITY, update);
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
  });

  it.each(Object.keys(HOSTILE_UPDATES))(`[V250] [V251] %s: none of these passes it${from}`, (name) => {
    const { target, reach } = begin();
    const nothing = new Reach();
    for (const _ of roundsOf(CHECK_ROUNDS / 10, shareOf(0.02))) {
      const update = HOSTILE_UPDATES[name]!(target, random);
      const hex = Buffer.from(update).toString('hex').slice(0, 2_000);
      expect(checkUpdate(reach, IDENTITY, update).kind, hex).toMatch(/^(?:alien|foreign|malformed)$/);
      // Nor where there is no document yet.
      expect(checkUpdate(nothing, IDENTITY, update).kind, hex).not.toBe('fits');
    }
  });

  it(`[V53] [V250] structs made one by one: what passes it leaves a flat document of known roots${from}`, () => {
    const { target, reach, start } = begin();
    const roots = new Set(ADMISSION.design.map(({ root }) => root));
    let passed = 0;
    let refused = 0;
    for (const round of roundsOf(CHECK_ROUNDS, shareOf(0.1))) {
      const update = anyStructs(target, random, round % 2 === 0 ? 0 : 0.3);
      if (checkUpdate(reach, IDENTITY, update).kind !== 'fits') {
        refused += 1;
        continue;
      }
      passed += 1;
      const hex = Buffer.from(update).toString('hex');
      const doc = new Y.Doc();
      Y.applyUpdate(doc, start);
      Y.applyUpdate(doc, update);
      expect([doc.store.pendingStructs, doc.store.pendingDs], hex).toEqual([null, null]);
      expect(
        [...doc.share.keys()].filter((root) => !roots.has(root)),
        hex,
      ).toEqual([]);
      for (const structs of doc.store.clients.values())
        for (const struct of structs)
          expect((struct as Y.Item).content, hex).toSatisfy(
            (content) => content instanceof Y.ContentAny || content instanceof Y.ContentDeleted,
          );
      expect(doc.getMap('identity').toJSON(), hex).toEqual({ name: IDENTITY.name });
      // Merged by bytes it is the same as applied, and passes as a whole.
      const merged = Y.mergeUpdates([start, update]);
      const whole = new Y.Doc();
      Y.applyUpdate(whole, merged);
      expect(readDesign(whole), hex).toEqual(readDesign(doc));
      expect(checkState(merged, IDENTITY.name).check.kind, hex).toBe('fits');
      expect(checkState(Y.encodeStateAsUpdate(doc), IDENTITY.name).check.kind, hex).toBe('fits');
    }
    expect(passed).toBeGreaterThan(20);
    expect(refused).toBeGreaterThan(20);
  });
});
