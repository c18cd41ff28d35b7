/** The records of the SQLite store: one table, beside the rows of documents. Errors are SQLite's own. */
import type { SqliteFile } from './open-sqlite.ts';
import { isAsWritten, recordCheckValue } from './row-check.ts';
import { areSameRecords, type KeptRecord, type ListedRecord, type RecordAmong, StoreError } from './store.ts';

/** The table; made in old files too. `about` comes before the bytes, so that lists need not read those. */
export const RECORDS_SCHEMA = `
CREATE TABLE IF NOT EXISTS records (
  board TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, check_value INTEGER NOT NULL, about TEXT NOT NULL, bytes BLOB NOT NULL,
  PRIMARY KEY (board, kind, id)
) STRICT;
`;

/** One change, on its way to the next commit. */
export type RecordChange =
  | {
      readonly kind: 'put';
      readonly record: KeptRecord;
      readonly expected?: string | null;
      readonly among?: readonly RecordAmong[];
    }
  | {
      readonly kind: 'remove';
      readonly board: string;
      readonly recordKind: string;
      readonly id: string;
      readonly expected?: string;
    };

interface RecordRow {
  readonly board: string;
  readonly kind: string;
  readonly id: string;
  readonly check_value: number;
  readonly about: string;
  readonly bytes: Buffer;
}

export class SqliteRecords {
  readonly #db: SqliteFile;

  constructor(db: SqliteFile) {
    this.#db = db;
  }

  /** Makes a change within a transaction of the caller. @returns whether it happened; null where there is no such board */
  apply(change: RecordChange): boolean | null {
    if (change.kind === 'remove') {
      const { board, recordKind, id, expected } = change;
      if (expected !== undefined && this.#aboutOf(board, recordKind, id) !== expected) return false;
      const removed = this.#db
        .prepare('DELETE FROM records WHERE board = ? AND kind = ? AND id = ?')
        .run(board, recordKind, id);
      return removed.changes > 0;
    }
    const { record, expected, among } = change;
    const { board, kind, id, about, bytes } = record;
    if (this.#db.prepare('SELECT 1 FROM boards WHERE id = ?').get(board) === undefined) return null;
    if (expected !== undefined && this.#aboutOf(board, kind, id) !== expected) return false;
    if (among !== undefined && !areSameRecords(this.list(board, kind), among)) return false;
    const view = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    this.#db
      .prepare(
        'INSERT OR REPLACE INTO records (board, kind, id, check_value, about, bytes) VALUES (?, ?, ?, ?, ?, ?)',
      )
      .run(board, kind, id, recordCheckValue(record), about, view);
    return true;
  }

  #aboutOf(board: string, kind: string, id: string): string | null {
    const row = this.#db
      .prepare('SELECT about FROM records WHERE board = ? AND kind = ? AND id = ?')
      .get(board, kind, id) as { about: string } | undefined;
    return row?.about ?? null;
  }

  list(board: string, kind: string | null): readonly ListedRecord[] {
    const where = kind === null ? '' : 'AND kind = ?';
    return this.#db
      .prepare(
        `SELECT board, kind, id, about, length(bytes) AS size FROM records WHERE board = ? ${where} ORDER BY kind, id`,
      )
      .all(...(kind === null ? [board] : [board, kind])) as ListedRecord[];
  }

  one(board: string, kind: string, id: string): KeptRecord | null {
    const row = this.#db
      .prepare('SELECT * FROM records WHERE board = ? AND kind = ? AND id = ?')
      .get(board, kind, id) as RecordRow | undefined;
    if (row === undefined) return null;
    if (!isAsWritten(row, row.check_value))
      throw new StoreError('damaged', `record ${kind}/${id} of ${board} is not as it was written`);
    return { board, kind, id, about: row.about, bytes: row.bytes };
  }

  /** Within a transaction of the caller. */
  forgetBoard(board: string): void {
    this.#db.prepare('DELETE FROM records WHERE board = ?').run(board);
  }

  check(): { readonly records: number; readonly bytes: number; readonly faults: readonly string[] } {
    let records = 0;
    let bytes = 0;
    const faults: string[] = [];
    for (const one of this.#db.prepare('SELECT * FROM records').iterate()) {
      const row = one as RecordRow;
      records += 1;
      bytes += row.bytes.length;
      if (!isAsWritten(row, row.check_value))
        faults.push(`record ${row.kind}/${row.id} of ${row.board} is not as it was written`);
    }
    const orphans = this.#db
      .prepare('SELECT DISTINCT board FROM records WHERE board NOT IN (SELECT id FROM boards)')
      .all() as { board: string }[];
    for (const { board } of orphans) faults.push(`records of board ${board}, which is not there`);
    return { records, bytes, faults };
  }
}
