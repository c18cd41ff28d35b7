/** The past of a design is bounded. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readEdit, writeBoard } from '../../../engine/document/index.ts';
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

describe('a row that two people wrote', () => {
  /** One row in which Ada and then Bo write under some keys, each by a client of their own. */
  function both(keys: Readonly<Record<string, readonly [ada: unknown, bo: unknown]>>): readonly JournalRow[] {
    const [founding] = titled();
    const [ada, bo] = [new Y.Doc(), new Y.Doc()];
    [ada.clientID, bo.clientID] = [71, 72];
    for (const doc of [ada, bo]) Y.applyUpdate(doc, founding!.bytes);
    const before = Y.encodeStateVector(bo);
    const write = (doc: Y.Doc, at: 0 | 1): void =>
      doc.transact(() => {
        for (const [name, values] of Object.entries(keys)) doc.getMap('meta').set(name, values[at]);
      });
    const updates: Uint8Array[] = [];
    write(ada, 0);
    updates.push(Y.encodeStateAsUpdate(ada, before));
    Y.applyUpdate(bo, updates[0]!);
    const then = Y.encodeStateVector(bo);
    write(bo, 1);
    updates.push(Y.encodeStateAsUpdate(bo, then));
    const ends = (doc: Y.Doc): unknown => [[doc.clientID, Object.keys(keys).length]];
    const by = JSON.stringify([40 * DAY, ['ada.1', 'Ada', ends(ada), []], ['bo.1', 'Bo', ends(bo), []]]);
    return [founding!, { generation: 1, by, bytes: Y.mergeUpdates(updates) }];
  }
  const editsIn = async (rows: readonly JournalRow[], visit: string): Promise<unknown> => {
    const found = (await VISIT_EDITS.run({ rows, visit }))!;
    const changes = found.edits.flatMap((bytes) => {
      const read = readEdit(bytes);
      return read.ok ? read.edit.changes : [];
    });
    return [changes.map(({ key, before, after }) => [key, before, after]), found.since];
  };

  it('[V425] gives each what the other made of a key, also where it is again what it was', async () => {
    const [founding] = titled();
    const doc = new Y.Doc();
    Y.applyUpdate(doc, founding!.bytes);
    const title = [...doc.getMap('meta').keys()].find((key) => key.endsWith('.title'))!;
    const was = doc.getMap('meta').get(title);
    const rows = both({ [title]: ['Ada’s', was], 'x.title': ['one', 'two'] });
    expect(await visitsIn(rows)).toEqual([
      ['Ada', 2],
      ['Bo', 2],
    ]);
    const changes = [
      ['x.title', 'one', 'two'],
      [title, 'Ada’s', was],
    ];
    const [done, since] = (await editsIn(rows, 'bo.1')) as [unknown[], unknown[]];
    expect(done).toHaveLength(2);
    expect(done).toEqual(expect.arrayContaining(changes));
    expect(since).toEqual([]);
    const [left, overtaken] = (await editsIn(rows, 'ada.1')) as [unknown[], unknown[]];
    expect(left).toEqual([]);
    expect(overtaken).toHaveLength(2);
    expect(overtaken).toEqual(
      expect.arrayContaining([
        ['meta', title, 'Bo'],
        ['meta', 'x.title', 'Bo'],
      ]),
    );
  });
});

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

describe('a journal', () => {
  const journalOf = (parts: object): Journal => {
    const clock = new HandClock();
    const log = new Log(() => {}, clock.now);
    return new Journal({ work: new Work(null, clock), log, now: () => 100 * DAY, ...parts } as never);
  };
  const stored = (isStored: boolean, released: string[]) => ({
    hold: async () => ({
      room: { catchUp: async () => {}, stored: async () => isStored, generation: 1 },
      release: () => released.push('released'),
    }),
  });

  it('does not tell of edits that are on their way to the disk and do not get there', async () => {
    const released: string[] = [];
    const journal = journalOf({ rooms: stored(false, released), store: null });
    await expect(journal.visits('a')).rejects.toMatchObject({ kind: 'unavailable' });
    expect(released).toEqual(['released']);
  });

  it('[V421] leaves a past alone in which nothing can go, and one without a time that is small', async () => {
    const [founding] = titled();
    const folded: unknown[] = [];
    const store = {
      pastSize: async () => ({ bytes: 1_000, oldestBy: '' }),
      writtenRows: async () => [{ seq: 1, generation: 1, by: '', bytes: founding!.bytes }],
      foldPast: async (...args: unknown[]) => folded.push(args),
    };
    await journalOf({ store, mostBytes: 2_000 }).shorten(ADDRESS, 1, 0);
    await journalOf({ store, mostBytes: 1 }).shorten(ADDRESS, 1, 0);
    expect(folded).toEqual([]);
  });

  it('what goes wrong otherwise is not hidden, and the next occasion tries again', async () => {
    let tries = 0;
    const pastSize = async (): Promise<never> => {
      tries += 1;
      throw new RangeError('ours');
    };
    const journal = journalOf({ store: { pastSize } });
    for (const _ of [1, 2]) await expect(journal.shorten(ADDRESS, 1, 0)).rejects.toThrow('ours');
    expect(tries).toBe(2);
  });
});
