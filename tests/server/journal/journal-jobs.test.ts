/** The past of a design is bounded. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import { Journal } from '../../../server/journal/index.ts';
import { FOLD, VISIT_EDITS, VISITS } from '../../../server/journal/journal-jobs.ts';
import type { JournalRow } from '../../../server/journal/replay.ts';
import { Log } from '../../../server/log.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import type { Rooms } from '../../../server/sync/index.ts';
import { Work } from '../../../server/work/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { FaultyStore } from '../faulty-store.ts';

const DAY = 24 * 60 * 60_000;
const ADDRESS = { board: 'a', part: 'design' } as const;

/** Rows of titles that people gave one after the other, behind one that holds a board. */
function titled(...people: readonly string[]): readonly JournalRow[] {
  const doc = new Y.Doc();
  const rows: JournalRow[] = [];
  writeBoard(doc, sampleBoard(), countingIds('w'));
  rows.push({ generation: 1, by: '', bytes: Y.encodeStateAsUpdate(doc) });
  const meta = doc.getMap('meta');
  const key = `${String(meta.get('generation')).split('.')[0]}.title`;
  for (const [i, person] of people.entries()) {
    const before = Y.encodeStateVector(doc);
    meta.set(key, `${person} ${i}`);
    const at = 40 * DAY + i * DAY;
    const by = JSON.stringify([at, [`${person}.${at.toString(36)}`, person]]);
    rows.push({ generation: 1, by, bytes: Y.encodeStateAsUpdate(doc, before) });
  }
  return rows;
}

/** Names of visits, with how many keys each changed. */
const visitsIn = async (rows: readonly JournalRow[]): Promise<unknown> =>
  (await VISITS.run(rows)).map(({ name, changes }) => [name, changes]);

describe('the past of a design', () => {
  it('[V421] what stays says the same of later visits, built on what went', async () => {
    const rows = titled('Ada', 'Bo', 'Cy');
    expect(await visitsIn(rows)).toEqual([
      ['Ada', 1],
      ['Bo', 1],
      ['Cy', 1],
    ]);
    const numbered = rows.map((row, seq) => ({ ...row, seq }));
    const input = {
      rows: numbered,
      present: 1,
      before: 0,
      mostBytes: rows[2]!.bytes.length + rows[3]!.bytes.length,
    };
    const fold = (await FOLD.run(input))!;
    expect([fold.seqs, fold.generation]).toEqual([[0, 1], 1]);
    const left = [{ generation: 1, by: '', bytes: fold.base! }, ...rows.slice(2)];
    expect(await visitsIn(left)).toEqual([
      ['Bo', 1],
      ['Cy', 1],
    ]);
    const [visit] = await VISITS.run(left);
    const edits = async (of: readonly JournalRow[]): Promise<unknown> =>
      (await VISIT_EDITS.run({ rows: of, visit: visit!.id }))?.edits;
    expect(await edits(left)).toEqual(await edits(rows));
  });

  it('[V421] old ones go however few they are; of an ended generation that goes whole nothing stays, and the first row alone never goes', async () => {
    const rows = titled('Ada', 'Bo', 'Cy').map((row, seq) => ({ ...row, seq }));
    const most = { mostBytes: Number.POSITIVE_INFINITY };
    expect(await FOLD.run({ rows, present: 1, before: 0, ...most })).toBeNull();
    expect((await FOLD.run({ rows, present: 1, before: 41 * DAY + 1, ...most }))?.seqs).toEqual([0, 1, 2]);
    const all = { rows, before: 100 * DAY, ...most };
    expect((await FOLD.run({ ...all, present: 1 }))?.base).not.toBeNull();
    expect(await FOLD.run({ ...all, present: 2 })).toMatchObject({ seqs: [0, 1, 2, 3], base: null });
    expect(
      await FOLD.run({ rows: rows.slice(0, 1), present: 1, before: 100 * DAY, mostBytes: 0 }),
    ).toBeNull();
  });

  it('[V421] is shortened where it is long or old, once at a time; while the store fails it stays whole', async () => {
    const clock = new HandClock();
    const store = new FaultyStore(new MemoryStore());
    const rows = titled('Ada', 'Bo', 'Cy');
    await store.addBoard({ id: 'a', kind: 'board', createdAt: 0 }, [
      { part: 'design', bytes: rows[0]!.bytes },
    ]);
    for (const { by, bytes } of rows.slice(1)) await store.append(ADDRESS, bytes, { generation: 1, by });
    const seqs = (await store.load(ADDRESS)).map(({ seq }) => seq);
    await store.compact(ADDRESS, seqs, rows[0]!.bytes, 1);
    const lines: string[] = [];
    let now = 45 * DAY;
    const journal = new Journal({
      store,
      rooms: null as unknown as Rooms,
      work: new Work(null, clock),
      log: new Log((line) => lines.push((JSON.parse(line) as { event: string }).event), clock.now),
      now: () => now,
      mostBytes: 10_000,
    });
    const left = async (): Promise<number> => (await store.writtenRows(ADDRESS)).length;
    await journal.shorten(ADDRESS, 1, 0);
    expect([await left(), lines]).toEqual([4, []]);
    now = 71 * DAY;
    store.fault = { kind: 'unavailable', when: 'before' };
    await journal.shorten(ADDRESS, 1, 0);
    store.fault = null;
    expect([await left(), lines]).toEqual([4, ['past-not-shortened']]);
    await Promise.all([journal.shorten(ADDRESS, 1, 0), journal.shorten(ADDRESS, 1, 0)]);
    expect([await left(), lines]).toEqual([3, ['past-not-shortened', 'past-shortened']]);
    now = 500 * DAY;
    await journal.shorten(ADDRESS, 2, 0);
    expect(await left()).toBe(0);
  });
});
