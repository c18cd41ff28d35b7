import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { encodeCopyPiece, readDesign } from '../../../engine/document/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { checkState } from '../../../server/sync/check-update.ts';
import { writeResult } from '../../bench/sync-results.ts';
import { ask } from '../../support/ask.ts';
import { COSTLY_UPDATES } from '../../support/costly-updates.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { anyStructs, HOSTILE_UPDATES, targetOf } from '../../support/hostile-updates.ts';
import { anySeed, roundsOf } from '../../support/rounds.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { until } from '../../support/until.ts';
import { message, RawClient } from '../raw-client.ts';
import { startTestServer, type TestServer } from '../test-server.ts';
import { RENEWS, renewedBoard, runAll } from '../worn-board.ts';

/** Set by `npm run fuzz`: when a number of rounds is gone through, it goes on for so long. */
const seconds = process.env.FUZZ_SECONDS === undefined ? null : Number(process.env.FUZZ_SECONDS);
const seed = Number(process.env.FUZZ_SEED ?? (seconds === null ? firstSeed : anySeed()));
const random = seededRandom(seed);
const { below, chance, pick } = random;
const bytes = (length: number): Uint8Array => Uint8Array.from({ length }, () => below(256));
const COSTLY = Object.values(COSTLY_UPDATES).filter((make) => make(2).before === null);

describe('copies of an ended generation, at two nodes', () => {
  it(`[V51] [V104] [V250] [V353] spoilt in every way: the nodes live, the board stays what a board is, and honest copies come in, from seed ${seed}`, async () => {
    const store = new MemoryStore();
    const hub = new MemoryRelayHub();
    const env = { ...RENEWS, MAX_NEW_PER_ADDRESS: '100000000', MAX_CONNECTIONS_OF_NEWCOMERS: '100000000' };
    const nodes: TestServer[] = [];
    for (let i = 0; i < 2; i += 1) nodes.push(await startTestServer({ store, relay: hub.node(), env }));
    const [a, b] = nodes as [TestServer, TestServer];
    const { board, copy } = await renewedBoard(a);
    const whole = Y.encodeStateAsUpdate(copy);
    const vector = Y.encodeStateVector(copy);
    const target = targetOf(copy);
    const honest = await new RawClient(`${b.ws}/${board}/design`).join();
    let titles = 0;

    /** The copy with something honest done to it. */
    const edited = (): Uint8Array => {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, whole);
      titles += 1;
      runAll(doc, [{ kind: 'set-title', title: `away ${titles}` }]);
      const update = Y.encodeStateAsUpdate(doc, vector);
      doc.destroy();
      return update;
    };
    const KINDS: Readonly<Record<string, () => Uint8Array>> = {
      'an honest edit': edited,
      'the whole copy': () => whole,
      'an edit with a byte spoilt': () => {
        const update = edited().slice();
        update[below(update.length)]! ^= 1 << below(8);
        return update;
      },
      'an edit cut short': () => {
        const update = edited();
        return update.subarray(0, 1 + below(update.length - 1));
      },
      'random bytes': () => bytes(below(80)),
      'structs of every kind': () => anyStructs(target, random, chance(0.5) ? 0 : 0.3),
      'a costly frame': () => pick(COSTLY)(2_500 + below(500)).update,
      ...Object.fromEntries(
        Object.entries(HOSTILE_UPDATES).map(([name, make]) => [name, () => make(target, random)]),
      ),
    };
    const names = Object.keys(KINDS);
    const sent = new Map<string, number>();
    const codes = new Map<number, number>();
    const addOne = <T>(to: Map<T, number>, key: T): void => void to.set(key, (to.get(key) ?? 0) + 1);
    let pieces = 0;

    for (const round of roundsOf(cases(60, 800), seconds)) {
      const server = nodes[round % 2]!;
      const guest = new RawClient(`${server.ws}/${board}/design`);
      guest.answers = false;
      guest.socket.on('error', () => {});
      await guest.opened;
      const name = round < names.length ? names[round]! : pick(names);
      addOne(sent, name);
      const update = KINDS[name]!();
      if (chance(0.1)) guest.send(message(0, 1, update));
      // Of which generation the copy is is said as it is, or not quite.
      guest.send(
        message(
          0,
          0,
          chance(0.9) ? vector : Uint8Array.of(1, ...vector.subarray(1, 2 + below(vector.length - 1))),
        ),
      );
      if (chance(0.7)) await Promise.race([guest.waitFor((one) => one.kind === 'step1'), guest.closed]);
      if (chance(0.3)) {
        pieces += 1;
        const total = chance(0.7) ? update.length : below(2 ** 31);
        for (let offset = 0; offset < update.length && guest.closeCode === null; ) {
          const end = offset + 1 + below(update.length);
          guest.send(
            encodeCopyPiece({
              total,
              offset: chance(0.9) ? offset : below(2 ** 31),
              bytes: update.subarray(offset, end),
            }),
          );
          offset = end;
        }
      } else guest.send(message(0, 1 + below(2), update));
      guest.mark(1);
      if (chance(0.5)) {
        await guest.reached();
        guest.close();
      } else guest.socket.close();
      addOne(codes, await guest.closed);
    }
    await until('all hostile sockets are gone', () =>
      nodes.every(({ rooms }) => rooms.connections.size <= 1),
    );

    const lateVersions = async (): Promise<number> => {
      const answer = await ask(`${a.http}/api/boards/${board}/versions`);
      const { versions } = (await answer.json()) as { versions: readonly { kind: string }[] };
      return versions.filter(({ kind }) => kind === 'late').length;
    };
    const versionsBefore = await lateVersions();
    // An honest copy is taken, whatever came before.
    const back = new RawClient(`${a.ws}/${board}/design`);
    Y.applyUpdate(back.doc, whole);
    runAll(back.doc, [{ kind: 'add-colour', id: 'the-last', name: 'Moss', hex: '#446633' }]);
    await back.opened;
    back.send(message(0, 0, Y.encodeStateVector(back.doc)));
    expect(await back.closed, seedFailed(seed)).toBe(4410);
    // Whoever may write could put another board in the place of the one it belongs to; then it is kept beside that (V193).
    await until(
      'it is at the other node, or a version',
      async () =>
        readDesign(honest.doc).board.palette.some(({ id }) => id === 'the-last') ||
        (await lateVersions()) > versionsBefore,
    );
    honest.mark(7);
    await honest.savedMark(7);
    const seen = await Promise.all(nodes.map((node) => new RawClient(`${node.ws}/${board}/design`).join()));
    for (const { doc } of seen) {
      const { check } = checkState(Y.encodeStateAsUpdate(doc), `${board}/design`);
      expect(check.kind, seedFailed(seed)).toBe('fits');
      expect(readDesign(doc)).toEqual(readDesign(honest.doc));
    }
    for (const node of nodes) {
      expect(node.metrics.valueOf('larkboard_broken_rooms_total', { what: 'apply' }) ?? 0).toBe(0);
      expect(node.lines.filter((line) => line.includes('"stack"'))).toEqual([]);
    }
    for (const name of names) expect(sent.get(name), name).toBeGreaterThan(0);
    expect(
      [...codes.keys()].filter((code) => ![4400, 4413, 4410, 4429, 4500, 1005, 1006].includes(code)),
    ).toEqual([]);
    if (seconds !== null)
      writeResult('sync-fuzz-copies', 'Spoilt copies of an ended generation, at two nodes', [
        `${seconds} s, seed ${seed}, ${[...sent.values()].reduce((sum, n) => sum + n, 0)} copies, ${pieces} of them in pieces`,
        ...[...sent].map(([name, n]) => `${name}: ${n}`),
        `closed with: ${[...codes].map(([code, n]) => `${code} ${n} times`).join(', ')}`,
        'both nodes lived, no room was given up, the board equal on both and made of nothing else than a board is; an honest copy came in afterwards',
      ]);
    for (const client of [honest, ...seen]) client.close();
    for (const node of nodes) await node.close();
  });
});
