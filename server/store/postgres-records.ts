/** The records of the PostgreSQL store: one table, beside the rows of documents. */
import type pg from 'pg';
import { isAsWritten, recordCheckValue } from './row-check.ts';
import { areSameRecords, type KeptRecord, type ListedRecord, type RecordAmong, StoreError } from './store.ts';

/** Asks the database. */
export type RecordQuery = <Row extends pg.QueryResultRow>(text: string, values: unknown[]) => Promise<Row[]>;

interface RecordRow {
  readonly board: string;
  readonly kind: string;
  readonly id: string;
  readonly check_value: string;
  readonly about: string;
  readonly bytes: Buffer;
}

// The lock makes a board that is being removed at this moment wait, or be gone: no record outlives its board.
const PUT = `WITH there AS (SELECT id FROM larkboard_boards WHERE id = $1 FOR KEY SHARE)
  INSERT INTO larkboard_records (board, kind, id, check_value, about, bytes)
  SELECT $1, $2, $3, $4, $5, $6 FROM there`;
const IN_PLACE = `ON CONFLICT (board, kind, id) DO UPDATE SET
  check_value = excluded.check_value, about = excluded.about, bytes = excluded.bytes`;

/** See `Store.putRecord`. One statement, so that of several nodes one wins. */
export async function putRecord(
  query: RecordQuery,
  record: KeptRecord,
  expected?: string | null,
): Promise<boolean> {
  const { board, kind, id, about, bytes } = record;
  const view = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  const values: unknown[] = [board, kind, id, recordCheckValue(record), about, view];
  const put = async (text: string, more: unknown[] = []): Promise<boolean> =>
    (await query(`${text} RETURNING id`, [...values, ...more])).length > 0;
  const isDone =
    expected === undefined
      ? await put(`${PUT} ${IN_PLACE}`)
      : expected === null
        ? await put(`${PUT} ON CONFLICT DO NOTHING`)
        : await put(
            `UPDATE larkboard_records SET check_value = $4, about = $5, bytes = $6
             WHERE board = $1 AND kind = $2 AND id = $3 AND about = $7`,
            [expected],
          );
  if (isDone) return true;
  const there = await query('SELECT 1 FROM larkboard_boards WHERE id = $1', [board]);
  if (there.length === 0) throw new StoreError('unknown-board', `there is no board ${board}`);
  return false;
}

/**
 * The same within a transaction of the caller, where the records of the kind are just these. The lock makes all who say what they counted
 * wait for each other, and nobody else.
 */
export async function putRecordAmong(
  query: RecordQuery,
  record: KeptRecord,
  expected: string | null | undefined,
  among: readonly RecordAmong[],
): Promise<boolean> {
  const { board, kind } = record;
  const locked = await query('SELECT id FROM larkboard_boards WHERE id = $1 FOR NO KEY UPDATE', [board]);
  if (locked.length === 0) throw new StoreError('unknown-board', `there is no board ${board}`);
  const there = await query<RecordAmong & pg.QueryResultRow>(
    'SELECT id, about FROM larkboard_records WHERE board = $1 AND kind = $2',
    [board, kind],
  );
  return areSameRecords(there, among) ? putRecord(query, record, expected) : false;
}

/** See `Store.records`. */
export async function listRecords(
  query: RecordQuery,
  board: string,
  kind: string | null,
): Promise<readonly ListedRecord[]> {
  return query<ListedRecord & pg.QueryResultRow>(
    `SELECT board, kind, id, about, length(bytes) AS size FROM larkboard_records
     WHERE board = $1 AND ($2::text IS NULL OR kind = $2) ORDER BY kind COLLATE "C", id COLLATE "C"`,
    [board, kind],
  );
}

/** See `Store.record`. */
export async function oneRecord(
  query: RecordQuery,
  board: string,
  kind: string,
  id: string,
): Promise<KeptRecord | null> {
  const [row] = await query<RecordRow & pg.QueryResultRow>(
    'SELECT * FROM larkboard_records WHERE board = $1 AND kind = $2 AND id = $3',
    [board, kind, id],
  );
  if (!row) return null;
  if (!isAsWritten(row, Number(row.check_value)))
    throw new StoreError('damaged', `record ${kind}/${id} of ${board} is not as it was written`);
  return { board, kind, id, about: row.about, bytes: row.bytes };
}

/** See `Store.removeRecord`. */
export async function removeRecord(
  query: RecordQuery,
  board: string,
  kind: string,
  id: string,
  expected?: string,
): Promise<boolean> {
  const removed = await query(
    `DELETE FROM larkboard_records WHERE board = $1 AND kind = $2 AND id = $3 AND ($4::text IS NULL OR about = $4)
     RETURNING id`,
    [board, kind, id, expected ?? null],
  );
  return removed.length > 0;
}

/** Reads every record, a few at a time, and says what is wrong. */
export async function checkRecords(
  query: RecordQuery,
): Promise<{ readonly records: number; readonly bytes: number; readonly faults: readonly string[] }> {
  let records = 0;
  let bytes = 0;
  const faults: string[] = [];
  let after: readonly string[] = ['', '', ''];
  for (;;) {
    const page = await query<RecordRow & pg.QueryResultRow>(
      'SELECT * FROM larkboard_records WHERE (board, kind, id) > ($1, $2, $3) ORDER BY board, kind, id LIMIT 50',
      [...after],
    );
    if (page.length === 0) break;
    for (const row of page) {
      records += 1;
      bytes += row.bytes.length;
      if (!isAsWritten(row, Number(row.check_value)))
        faults.push(`record ${row.kind}/${row.id} of ${row.board} is not as it was written`);
      after = [row.board, row.kind, row.id];
    }
  }
  const orphans = await query<{ board: string }>(
    'SELECT DISTINCT board FROM larkboard_records WHERE board NOT IN (SELECT id FROM larkboard_boards)',
    [],
  );
  for (const { board } of orphans) faults.push(`records of board ${board}, which is not there`);
  return { records, bytes, faults };
}
