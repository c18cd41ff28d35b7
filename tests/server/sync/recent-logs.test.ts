/** Logs that were read a moment ago. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import type { StoredRow } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { readLog, readRows } from '../../../server/sync/log-rows.ts';
import { RecentLogs } from '../../../server/sync/recent-logs.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { KITES } from '../bare-room.ts';

const NAME = 'kites/design';

/** A board as one row, and a title in the next. */
function rowsOf(title: string, strings = 6): readonly StoredRow[] {
  const doc = new Y.Doc();
  writeBoard(doc, sampleBoard(strings, 4), countingIds('w'));
  const first = Y.encodeStateAsUpdate(doc);
  const vector = Y.encodeStateVector(doc);
  doc.getMap('meta').set('title', title);
  return [first, Y.encodeStateAsUpdate(doc, vector)].map((bytes, i) => ({
    seq: i + 1,
    bytes,
  }));
}

const copyOf = (rows: readonly StoredRow[]): StoredRow[] =>
  rows.map((row) => ({ ...row, bytes: row.bytes.slice() }));

test('[V520] the very same rows are known, and nothing else is', () => {
  const recent = new RecentLogs();
  const rows = rowsOf('a');
  const log = readRows(rows, NAME);
  recent.keep(NAME, log);
  expect(recent.find(NAME, copyOf(rows))).toBe(log);
  expect(recent.find('other/design', rows)).toBeNull();
  expect(recent.find(NAME, rows.slice(0, 1))).toBeNull();
  expect(recent.find(NAME, rowsOf('b'))).toBeNull();
  const [first, second] = copyOf(rows);
  expect(recent.find(NAME, [first!, { ...second!, seq: 9 }])).toBeNull();
  expect(recent.find(NAME, [first!, { ...second!, isDamaged: true }])).toBeNull();
  for (let at = 0; at < second!.bytes.length; at += 1) {
    const bytes = second!.bytes.slice();
    bytes[at]! ^= 1;
    expect(recent.find(NAME, [first!, { ...second!, bytes }])).toBeNull();
  }
});

test('[V520] what cannot be read, and what is large, is not kept, nor what it stands in the place of', () => {
  const sound = rowsOf('a');
  for (const rows of [[...sound, { seq: 3, bytes: Uint8Array.of(9, 9) }], rowsOf('x'.repeat(17_000))]) {
    const recent = new RecentLogs();
    recent.keep(NAME, readRows(sound, NAME));
    recent.keep(NAME, readRows(rows, NAME));
    expect(recent.find(NAME, rows)).toBeNull();
    expect(recent.find(NAME, sound)).toBeNull();
  }
});

test('[V520] of many the last 64 are kept', () => {
  const recent = new RecentLogs();
  const rows = rowsOf('a');
  const log = readRows(rows, NAME);
  for (let n = 0; n < 65; n += 1) recent.keep(`${n}/design`, log);
  // Read again, it is not the oldest any more.
  recent.keep('1/design', log);
  recent.keep('65/design', log);
  const kept = (n: number): boolean => recent.find(`${n}/design`, rows) !== null;
  expect([0, 1, 2, 3, 65].map(kept)).toEqual([false, true, false, true, true]);
});

test('[V520] a log is read from the store all the same, and what was added to it is found', async () => {
  const store = new MemoryStore();
  const [first, second] = rowsOf('a');
  const recent = new RecentLogs();
  await store.addBoard({ id: KITES.board, kind: 'board', createdAt: 0 }, [
    { part: 'design', bytes: first!.bytes },
  ]);
  const before = await readLog(store, KITES, recent);
  expect(await readLog(store, KITES, recent)).toBe(before);
  await store.append(KITES, second!.bytes);
  const after = await readLog(store, KITES, recent);
  expect(after?.rows).toHaveLength(2);
  expect(after?.update).toEqual(readRows(after!.rows, NAME).update);
});
