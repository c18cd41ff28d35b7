/** Rows of documents whose place was taken by a snapshot, in SQLite. Called inside the core's transactions. */
import type { Statement } from 'better-sqlite3';
import type { SqliteFile } from './open-sqlite.ts';
import { checkValue, rowAsWritten } from './row-check.ts';
import {
  type DocumentAddress,
  OF_PAST_ROWS,
  type PastFold,
  type PastSize,
  type WrittenRow,
} from './store.ts';

export const PAST_SCHEMA = `
CREATE TABLE IF NOT EXISTS past (
  seq INTEGER PRIMARY KEY, board TEXT NOT NULL, part TEXT NOT NULL, generation INTEGER NOT NULL, check_value INTEGER NOT NULL,
  written_by TEXT NOT NULL, bytes BLOB NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS past_of_document ON past (board, part, seq);`;

interface PastRow {
  readonly seq: number;
  readonly generation: number | null;
  readonly check_value: number;
  readonly written_by: string;
  readonly bytes: Buffer;
}

export class SqlitePast {
  readonly #db: SqliteFile;
  readonly #take: Statement;
  readonly #written: Statement;
  readonly #remove: Statement;

  constructor(db: SqliteFile) {
    this.#db = db;
    this.#take = db.prepare(
      `INSERT INTO past (seq, board, part, generation, check_value, written_by, bytes)
       SELECT seq, board, part, ?, check_value, written_by, bytes FROM rows
       WHERE seq = ? AND board = ? AND part = ? AND written_by <> '${OF_PAST_ROWS}'`,
    );
    this.#written = db.prepare(
      `SELECT seq, generation, check_value, written_by, bytes FROM past WHERE board = ? AND part = ?
       UNION ALL SELECT seq, NULL, check_value, written_by, bytes FROM rows
       WHERE board = ? AND part = ? AND written_by <> '${OF_PAST_ROWS}' ORDER BY seq`,
    );
    this.#remove = db.prepare('DELETE FROM past WHERE seq = ? AND board = ? AND part = ?');
  }

  /** Copies rows that are about to be removed. */
  take({ board, part }: DocumentAddress, seqs: readonly number[], generation: number): void {
    for (const seq of seqs) this.#take.run(generation, seq, board, part);
  }

  rows(address: DocumentAddress): readonly WrittenRow[] {
    const { board, part } = address;
    return (this.#written.all(board, part, board, part) as PastRow[]).map(
      ({ seq, generation, check_value: check, written_by: by, bytes }) => ({
        ...rowAsWritten(address, { seq, bytes, check }, { damaged: 'mark' }),
        generation,
        by,
      }),
    );
  }

  size({ board, part }: DocumentAddress): PastSize {
    return this.#db
      .prepare(
        `SELECT coalesce(sum(length(bytes)), 0) AS bytes, coalesce((SELECT written_by FROM past
           WHERE board = :board AND part = :part AND written_by <> '' ORDER BY seq LIMIT 1), '') AS oldestBy
         FROM past WHERE board = :board AND part = :part`,
      )
      .get({ board, part }) as PastSize;
  }

  fold({ board, part }: DocumentAddress, { seqs, generation, base }: PastFold): boolean {
    const held = new Set(
      this.#db.prepare('SELECT seq FROM past WHERE board = ? AND part = ?').pluck().all(board, part),
    );
    if (!seqs.every((seq) => held.has(seq))) return false;
    for (const seq of seqs) this.#remove.run(seq, board, part);
    if (base !== null)
      this.#db
        .prepare(
          `INSERT INTO past (seq, board, part, generation, check_value, written_by, bytes) VALUES (?, ?, ?, ?, ?, '', ?)`,
        )
        .run(Math.max(...seqs), board, part, generation, checkValue(base), Buffer.from(base));
    return true;
  }

  forgetBoard(board: string): void {
    this.#db.prepare('DELETE FROM past WHERE board = ?').run(board);
  }

  /** What is not as it was written. */
  faults(): readonly string[] {
    const faults: string[] = [];
    for (const row of this.#db.prepare('SELECT seq, board, part, check_value, bytes FROM past').iterate()) {
      const { seq, board, part, check_value: check, bytes } = row as PastRow & DocumentAddress;
      if (checkValue(bytes) !== check)
        faults.push(`past row ${seq} of ${board}/${part} is not as it was written`);
    }
    return faults;
  }
}
