import { statSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Store } from '../../server/store/index.ts';
import { writeResult } from '../bench/sync-results.ts';
import { cases } from '../support/depth.ts';
import { until } from '../support/until.ts';
import { seededRandom } from './chaos.ts';
import { message, presenceMessage, RawClient } from './raw-client.ts';
import { makeBoard, sqliteStore, startTestServer, temporaryFolder } from './test-server.ts';

/** `npm run day` sets 96, a quarter of an hour each for 24 hours. */
const lessons = Number(process.env.DAY_LESSONS ?? cases(4, 24));
const PEOPLE = 12;
const KNOTS_EACH = 40;

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** One lesson fast: everybody comes, shows a cursor, ties knots, leaves; some drop off and come back. */
async function lesson(url: string, random: () => number): Promise<void> {
  const people = await Promise.all(Array.from({ length: PEOPLE }, () => new RawClient(url).join()));
  for (let step = 0; step < KNOTS_EACH; step += 1) {
    for (const [index, person] of people.entries()) {
      if (random() < 0.01) {
        person.close();
        const back = new RawClient(url);
        Y.applyUpdate(back.doc, Y.encodeStateAsUpdate(person.doc));
        people[index] = await back.join();
        continue;
      }
      const cell = `lesson:${Math.floor(random() * 300)}`;
      const changes: Uint8Array[] = [];
      const note = (update: Uint8Array, origin: unknown): void => {
        if (origin === 'me') changes.push(update);
      };
      person.doc.on('update', note);
      person.doc.transact(() => person.doc.getMap('knots').set(cell, 1 + Math.floor(random() * 4)), 'me');
      person.doc.off('update', note);
      for (const change of changes) person.send(message(0, 2, change));
      if (step % 5 === 0)
        person.send(
          presenceMessage([{ client: person.doc.clientID, clock: step + 1, state: `{"cursor":"${cell}"}` }]),
        );
    }
    await new Promise((resolve) => setImmediate(resolve));
  }
  await Promise.all(
    people.map(async (person, index) => {
      person.mark(index + 1);
      await person.savedMark(index + 1);
      person.close();
    }),
  );
}

describe('long life', () => {
  it(`[V85] lessons on the same board: memory, log and file stay level`, async () => {
    const folder = temporaryFolder();
    const store: Store = sqliteStore(folder.path);
    const server = await startTestServer({
      store,
      env: {
        MAX_NEW_PER_ADDRESS: '1000000',
        MAX_CONNECTIONS_OF_NEWCOMERS: '1000000',
        RENEW_BYTES: '60000',
        MAX_MESSAGES_PER_SECOND: '100000',
      },
    });
    const board = await makeBoard(server);
    const random = seededRandom(11);
    const marks: { heapKiB: number; fileKiB: number; rows: number; bytes: number }[] = [];
    for (let n = 0; n < lessons; n += 1) {
      await lesson(`${server.ws}/${board}/design`, random);
      await until('the room is gone', () => server.rooms.size === 0);
      collect();
      const { rows, bytes } = await store.check();
      marks.push({
        heapKiB: Math.round(process.memoryUsage().heapUsed / 1024),
        fileKiB: Math.round(statSync(join(folder.path, 'larkboard.db')).size / 1024),
        rows,
        bytes,
      });
    }
    await server.close();
    folder.remove();
    const last = marks.at(-1)!;
    const early = marks[1]!;
    // Every lesson ends with a log of one row, or of a few that are not worth a snapshot.
    expect(Math.max(...marks.map((mark) => mark.rows))).toBeLessThanOrEqual(25);
    // The document is renewed before its past is larger than the limit allows, so it never grows far beyond it.
    expect(last.bytes).toBeLessThan(120_000);
    expect(last.heapKiB - early.heapKiB).toBeLessThan(8 * 1024);
    if (process.env.DAY_LESSONS !== undefined)
      writeResult('sync-day', 'A day of lessons on one board, fast', [
        `${lessons} lessons, ${PEOPLE} people, ${KNOTS_EACH} knots each a lesson, one person in a hundred steps drops off and comes back`,
        ...marks.map(
          (mark, index) =>
            `lesson ${index + 1}: heap ${mark.heapKiB} KiB, file ${mark.fileKiB} KiB, rows ${mark.rows}, bytes ${mark.bytes}`,
        ),
      ]);
  });
});
