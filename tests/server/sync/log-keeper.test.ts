/** The log of a room, and when a snapshot may take its place. */
import { beforeEach, describe, expect, it } from 'vitest';
import { Log, Metrics } from '../../../server/index.ts';
import type { DocumentAddress, StoredRow } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { LogKeeper } from '../../../server/sync/log-keeper.ts';
import { readRows } from '../../../server/sync/log-rows.ts';
import { Saver } from '../../../server/sync/saver.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { FaultyStore } from '../faulty-store.ts';
import { QUIET_OWNER } from '../quiet-owner.ts';

const ADDRESS: DocumentAddress = { board: 'kites', part: 'design' };
const NAME = 'kites/design';
const EMPTY = Uint8Array.of(0, 0);

let store: FaultyStore;
let lines: string[];
let metrics: Metrics;
let saver: Saver;
let keeper: LogKeeper;

beforeEach(async () => {
  store = new FaultyStore(new MemoryStore());
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  lines = [];
  metrics = new Metrics();
  const clock = new HandClock();
  saver = new Saver(store, ADDRESS, QUIET_OWNER, clock);
  const log = new Log((line) => lines.push(line), clock.now, 'warn');
  keeper = new LogKeeper(NAME, { log, metrics }, saver);
});

/** Adds rows to the store and reads all there are. */
async function grown(count: number): Promise<readonly StoredRow[]> {
  for (let i = 0; i < count; i += 1) await store.append(ADDRESS, EMPTY);
  return store.load(ADDRESS);
}

const compactions = (): number => metrics.valueOf('larkboard_compactions_total', {});

describe('the log of a room', () => {
  it('[V64] is long from 501 rows on while somebody is there, from 20 when the room closes, or by its bytes', async () => {
    keeper.note(readRows(await grown(19), NAME));
    expect([keeper.isLong(null), keeper.isLong(0)]).toEqual([false, false]);
    keeper.note(readRows(await grown(1), NAME));
    expect([keeper.isLong(null), keeper.isLong(0)]).toEqual([true, false]);
    keeper.note(readRows(await grown(480), NAME));
    expect(keeper.isLong(0)).toBe(false);
    keeper.note(readRows(await grown(1), NAME));
    expect(keeper.isLong(0)).toBe(true);
  });

  it('[V64] is long once it has more bytes than its document, and at least a mebibyte', async () => {
    keeper.note(readRows(await grown(2), NAME));
    keeper.grow(1024 * 1024 - 2);
    expect(keeper.isLong(0)).toBe(false);
    keeper.grow(1);
    expect([keeper.isLong(0), keeper.isLong(2 * 1024 * 1024)]).toEqual([true, false]);
    await keeper.compact(() => EMPTY);
    expect(keeper.isLong(0)).toBe(false);
  });

  it('[V75] [V64] stays whole where the store cannot compact it, which the log says; the next time it is', async () => {
    keeper.note(readRows(await grown(30), NAME));
    store.fault = { kind: 'full', when: 'before' };
    await keeper.compact(() => EMPTY);
    expect([(await store.inner.load(ADDRESS)).length, compactions()]).toEqual([30, 0]);
    expect(lines).toEqual([expect.stringMatching(/"compaction-failed".*kites\/design.*injected/)]);
    store.fault = null;
    // Two occasions at once are one.
    await Promise.all([keeper.compact(() => EMPTY), keeper.compact(() => EMPTY)]);
    expect([(await store.load(ADDRESS)).length, compactions(), saver.seqs.length]).toEqual([1, 1, 1]);
  });

  it('[V252] is no warning where the fault is the server’s own: the room answers for it, and the next occasion is one', async () => {
    keeper.note(readRows(await grown(3), NAME));
    const broken = (): Uint8Array => {
      throw new TypeError('it does not encode');
    };
    await expect(keeper.compact(broken)).rejects.toThrow('it does not encode');
    expect([lines, (await store.load(ADDRESS)).length]).toEqual([[], 3]);
    await keeper.compact(() => EMPTY);
    expect(await store.load(ADDRESS)).toHaveLength(1);
  });

  it('[V253] of which some cannot be read is never replaced, and is said to be once', async () => {
    await grown(3);
    const rows = (await store.load(ADDRESS)).map(
      (row, i): StoredRow => (i === 1 ? { ...row, isDamaged: true } : row),
    );
    for (let read = 0; read < 2; read += 1) keeper.note(readRows(rows, NAME));
    expect(lines).toEqual([expect.stringMatching(/"log-unreadable".*row 2 is not as it was written/)]);
    expect(keeper.fault).toContain('is not as it was written');
    await keeper.compact(() => EMPTY);
    expect([await store.load(ADDRESS), compactions()]).toEqual([await store.inner.load(ADDRESS), 0]);
    expect(await store.load(ADDRESS)).toHaveLength(3);
  });
});
