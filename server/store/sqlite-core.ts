/**
 * The SQLite store itself: plain synchronous calls on one database file. Runs in the store's worker thread; tests also
 * call it directly.
 *
 * WAL with `synchronous = FULL`: a commit returns after its pages are in the log and the log is on the disk
 * (sqlite.org/pragma.html#pragma_synchronous). All rows of one call to `append` are one transaction: many rooms share one
 * wait for the disk.
 */
import { statSync } from 'node:fs';
import type { Statement } from 'better-sqlite3';
import type { BoardPart } from '../../engine/document/index.ts';
import { type SqliteFile, sqliteCode } from './open-sqlite.ts';
import { checkValue, haveSame, rowAsWritten } from './row-check.ts';
import { openLaidOut, type SqliteOpenOptions, type SqliteSteps } from './sqlite-layout.ts';
import { PAST_SCHEMA, SqlitePast } from './sqlite-past.ts';
import { RECORDS_SCHEMA, type RecordChange, SqliteRecords } from './sqlite-records.ts';
import {
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  type LastState,
  keepsPast,
  type ListedRecord,
  type LoadOptions,
  OF_PAST_ROWS,
  type PastFold,
  type PastSize,
  type Renewal,
  type RowOptions,
  type RowRefusal,
  refusalError,
  type StoredRow,
  StoreError,
  type StoreFailure,
  type WrittenRow,
} from './store.ts';

/** Layout 1. */
const FIRST = `
CREATE TABLE IF NOT EXISTS boards (
  id TEXT PRIMARY KEY, kind TEXT NOT NULL, created_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS rows (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, board TEXT NOT NULL, part TEXT NOT NULL, check_value INTEGER NOT NULL, bytes BLOB NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS rows_of_document ON rows (board, part, seq);
CREATE TABLE IF NOT EXISTS formers (
  board TEXT NOT NULL, part TEXT NOT NULL, generation INTEGER NOT NULL, check_value INTEGER NOT NULL, bytes BLOB NOT NULL,
  PRIMARY KEY (board, part, generation)
) STRICT;
${RECORDS_SCHEMA}`;

/** Layout 2: the names of ended generations, and how often their states were written. */
const NAMED_FORMERS = `
ALTER TABLE formers ADD COLUMN drawn TEXT NOT NULL DEFAULT '';
ALTER TABLE formers ADD COLUMN version INTEGER NOT NULL DEFAULT 0;`;

/** Layout 3: who wrote each row, and the rows whose place a snapshot has taken. */
const SIGNED_ROWS = `
ALTER TABLE rows ADD COLUMN written_by TEXT NOT NULL DEFAULT '';
${PAST_SCHEMA}`;

/** Layout 4: boards have no document `class` any more, which no page ever showed; a lesson has one of its own, under an id of its own. */
const WITHOUT_CLASS = `
DELETE FROM rows WHERE part = 'class';
DELETE FROM formers WHERE part = 'class';
DELETE FROM past WHERE part = 'class';`;

/** From layout to layout. */
export const BOARDS_STEPS: SqliteSteps = [FIRST, NAMED_FORMERS, SIGNED_ROWS, WITHOUT_CLASS];

/** The points between which a fault may strike; tests listen, production does not. */
export type StoreStep =
  | 'add:records'
  | 'add:commit'
  | 'append:begin'
  | 'append:row'
  | 'append:record'
  | 'append:commit'
  | 'append:done'
  | 'compact:begin'
  | 'compact:snapshot'
  | 'compact:rows'
  | 'compact:done'
  | 'renew:former'
  | 'renew:rows'
  | 'renew:done';

export interface SqliteOptions extends SqliteOpenOptions {
  /** Called at each step; throwing there is a fault at that step. */
  readonly onStep?: (step: StoreStep) => void;
}

/** A row to add. */
export interface NewRow extends RowOptions {
  readonly address: DocumentAddress;
  readonly bytes: Uint8Array;
}

/** Stands where no generation is named: later than any that has ended. */
const NO_GENERATION = Number.MAX_SAFE_INTEGER;

interface RowRecord {
  readonly seq: number;
  readonly check_value: number;
  readonly bytes: Buffer;
}

interface BoardRow {
  readonly id: string;
  readonly kind: BoardKind;
  readonly created_at: number;
}

/** What an SQLite error means to the people of a room. */
export function toStoreError(cause: unknown): StoreError {
  if (cause instanceof StoreError) return cause;
  const code = sqliteCode(cause);
  const message = cause instanceof Error ? cause.message : String(cause);
  return new StoreError(failureOf(code), `${code === '' ? '' : `${code}: `}${message}`, { cause });
}

function failureOf(code: string): StoreFailure {
  if (code.startsWith('SQLITE_FULL')) return 'full';
  if (code.startsWith('SQLITE_READONLY')) return 'read-only';
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) return 'locked';
  if (code.startsWith('SQLITE_CORRUPT') || code.startsWith('SQLITE_NOTADB')) return 'damaged';
  return 'unavailable';
}

export class SqliteCore {
  readonly #db: SqliteFile;
  readonly #file: string;
  readonly #inode: number;
  readonly #onStep: (step: StoreStep) => void;
  readonly #insert: Statement;
  readonly #select: Statement;
  readonly #remove: Statement;
  readonly #records: SqliteRecords;
  readonly #past: SqlitePast;

  /** Opens the file, or makes it. @throws StoreError when it cannot be opened or is of a later layout. */
  constructor(file: string, options: SqliteOptions = {}) {
    this.#onStep = options.onStep ?? (() => {});
    this.#file = file;
    try {
      this.#db = openLaidOut(file, BOARDS_STEPS, options);
      this.#insert = this.#db.prepare(
        `INSERT INTO rows (board, part, check_value, bytes, written_by) SELECT ?, ?, ?, ?, ? WHERE EXISTS (SELECT 1 FROM boards WHERE id = ?)
         AND NOT EXISTS (SELECT 1 FROM formers WHERE board = ? AND part = ? AND generation >= ?)`,
      );
      this.#select = this.#db.prepare(
        'SELECT seq, check_value, bytes FROM rows WHERE board = ? AND part = ? ORDER BY seq',
      );
      this.#remove = this.#db.prepare('DELETE FROM rows WHERE seq = ? AND board = ? AND part = ?');
      this.#records = new SqliteRecords(this.#db);
      this.#past = new SqlitePast(this.#db);
      this.#inode = statSync(file).ino;
    } catch (cause) {
      throw toStoreError(cause);
    }
  }

  /**
   * Adds rows in one transaction.
   * @returns for each its seq, or why it was not added
   * @throws StoreError, and none is added
   */
  append(rows: readonly NewRow[]): readonly (number | RowRefusal)[] {
    return this.commit(rows, []).seqs;
  }

  /**
   * Adds rows and changes records in one transaction.
   * @returns for each row its seq or why it was not added, for each change whether it happened; null where there is no such board
   * @throws StoreError, and nothing is changed
   */
  commit(
    rows: readonly NewRow[],
    changes: readonly RecordChange[],
  ): {
    readonly seqs: readonly (number | RowRefusal)[];
    readonly changed: readonly (boolean | null)[];
  } {
    return this.#transact(() => {
      this.#onStep('append:begin');
      const seqs = rows.map(({ address, bytes, generation, by, lastState }) => {
        const seq = this.#insertRow(address, bytes, generation, by);
        const isOvertaken =
          lastState && typeof seq === 'number' && !this.#replaceLastState(address, lastState);
        if (isOvertaken) this.#remove.run(seq, address.board, address.part);
        this.#onStep('append:row');
        return isOvertaken ? 'overtaken' : seq;
      });
      const changed = changes.map((change) => {
        const isDone = this.#records.apply(change);
        this.#onStep('append:record');
        return isDone;
      });
      this.#onStep('append:commit');
      return { seqs, changed };
    }, 'append:done');
  }

  addBoard(
    board: BoardRecord,
    documents: readonly { readonly part: BoardPart; readonly bytes: Uint8Array }[],
    records: readonly FirstRecord[] = [],
  ): boolean {
    return this.#transact(() => {
      const added = this.#db
        .prepare('INSERT INTO boards (id, kind, created_at) VALUES (?, ?, ?) ON CONFLICT DO NOTHING')
        .run(board.id, board.kind, board.createdAt);
      if (added.changes === 0) return false;
      for (const { part, bytes } of documents) this.#insertRow({ board: board.id, part }, bytes);
      this.#onStep('add:records');
      for (const record of records)
        this.#records.apply({ kind: 'put', record: { ...record, board: board.id } });
      this.#onStep('add:commit');
      return true;
    });
  }

  board(id: string): BoardRecord | null {
    return this.#read(() => {
      const row = this.#db.prepare('SELECT id, kind, created_at FROM boards WHERE id = ?').get(id);
      return row === undefined ? null : toBoard(row as BoardRow);
    });
  }

  boardsOfKind(kind: BoardKind): readonly BoardRecord[] {
    return this.#read(() =>
      this.#db
        .prepare('SELECT id, kind, created_at FROM boards WHERE kind = ? ORDER BY created_at, id')
        .all(kind)
        .map((row) => toBoard(row as BoardRow)),
    );
  }

  boardsWithRecord(recordKind: string): readonly BoardRecord[] {
    return this.#read(() =>
      this.#db
        .prepare(
          `SELECT id, kind, created_at FROM boards WHERE id IN (SELECT board FROM records WHERE kind = ?)
           ORDER BY created_at, id`,
        )
        .all(recordKind)
        .map((row) => toBoard(row as BoardRow)),
    );
  }

  removeBoard(id: string): boolean {
    const isRemoved = this.#transact(() => {
      this.#db.prepare('DELETE FROM rows WHERE board = ?').run(id);
      this.#db.prepare('DELETE FROM formers WHERE board = ?').run(id);
      this.#past.forgetBoard(id);
      this.#records.forgetBoard(id);
      return this.#db.prepare('DELETE FROM boards WHERE id = ?').run(id).changes > 0;
    });
    // The log still holds former pages: it is written back and cut to nothing. Where somebody reads it now, the next one does it.
    if (isRemoved) this.#read(() => this.#db.pragma('wal_checkpoint(TRUNCATE)'));
    return isRemoved;
  }

  load(address: DocumentAddress, options?: LoadOptions): readonly StoredRow[] {
    return this.#read(() =>
      this.#select.all(address.board, address.part).map((record) => {
        const { seq, check_value: check, bytes } = record as RowRecord;
        return rowAsWritten(address, { seq, bytes, check }, options);
      }),
    );
  }

  compact(
    address: DocumentAddress,
    seqs: readonly number[],
    snapshot: Uint8Array,
    generation?: number,
  ): number {
    return this.#transact(() => {
      this.#onStep('compact:begin');
      const isPast = generation !== undefined && keepsPast(address.part);
      const seq = this.#insertRow(address, snapshot, generation, isPast ? OF_PAST_ROWS : '');
      if (typeof seq !== 'number') throw refusalError(seq, address);
      this.#onStep('compact:snapshot');
      if (isPast) this.#past.take(address, seqs, generation);
      for (const old of seqs) this.#remove.run(old, address.board, address.part);
      this.#onStep('compact:rows');
      return seq;
    }, 'compact:done');
  }

  renew(address: DocumentAddress, renewal: Renewal): boolean {
    return this.#transact(() => {
      const seqs = this.#select.all(address.board, address.part).map((row) => (row as RowRecord).seq);
      if (seqs.length === 0 || !haveSame(seqs, renewal.seqs)) return false;
      this.#addLastState(address, renewal);
      this.#onStep('renew:former');
      if (keepsPast(address.part)) this.#past.take(address, seqs, renewal.generation);
      for (const seq of seqs) this.#remove.run(seq, address.board, address.part);
      this.#onStep('renew:rows');
      this.#insertRow(address, renewal.snapshot);
      return true;
    }, 'renew:done');
  }

  lastState(address: DocumentAddress, generation: number): Uint8Array | null {
    return this.#read(() => {
      const row = this.#db
        .prepare('SELECT check_value, bytes FROM formers WHERE board = ? AND part = ? AND generation = ?')
        .get(address.board, address.part, generation) as RowRecord | undefined;
      if (row === undefined) return null;
      if (checkValue(row.bytes) !== row.check_value)
        throw new StoreError(
          'damaged',
          `generation ${generation} of ${address.board}/${address.part} is not as it was written`,
        );
      return row.bytes;
    });
  }

  endedGenerations({ board, part }: DocumentAddress): readonly EndedGeneration[] {
    return this.#read(
      () =>
        this.#db
          .prepare(
            'SELECT generation, drawn, version FROM formers WHERE board = ? AND part = ? ORDER BY generation DESC',
          )
          .all(board, part) as EndedGeneration[],
    );
  }

  writtenRows(address: DocumentAddress): readonly WrittenRow[] {
    return this.#read(() => this.#past.rows(address));
  }

  pastSize(address: DocumentAddress): PastSize {
    return this.#read(() => this.#past.size(address));
  }

  foldPast(address: DocumentAddress, fold: PastFold): boolean {
    return this.#transact(() => this.#past.fold(address, fold));
  }

  records(board: string, kind: string | null): readonly ListedRecord[] {
    return this.#read(() => this.#records.list(board, kind));
  }

  record(board: string, kind: string, id: string): KeptRecord | null {
    return this.#read(() => this.#records.one(board, kind, id));
  }

  check(): CheckReport {
    return this.#read(() => {
      const faults = (this.#db.pragma('integrity_check') as { integrity_check: string }[])
        .map((row) => row.integrity_check)
        .filter((line) => line !== 'ok');
      let rows = 0;
      let bytes = 0;
      const documents = new Set<string>();
      const all = this.#db.prepare('SELECT seq, board, part, check_value, bytes FROM rows').iterate();
      for (const record of all) {
        const row = record as RowRecord & { board: string; part: string };
        rows += 1;
        bytes += row.bytes.length;
        documents.add(`${row.board}/${row.part}`);
        if (checkValue(row.bytes) !== row.check_value)
          faults.push(`row ${row.seq} of ${row.board}/${row.part} is not as it was written`);
      }
      faults.push(...this.#past.faults());
      for (const table of ['rows', 'formers', 'past']) {
        const orphans = this.#db
          .prepare(`SELECT DISTINCT board FROM ${table} WHERE board NOT IN (SELECT id FROM boards)`)
          .all() as { board: string }[];
        for (const { board } of orphans) faults.push(`${table} of board ${board}, which is not there`);
      }
      const boards = this.#db.prepare('SELECT count(*) AS n FROM boards').get() as { n: number };
      const { records, ...ofRecords } = this.#records.check();
      faults.push(...ofRecords.faults);
      bytes += ofRecords.bytes;
      return { boards: boards.n, documents: documents.size, rows, records, bytes, faults };
    });
  }

  ping(): void {
    this.#read(() => this.#db.prepare('SELECT 1').get());
  }

  /** Writes a copy as of now to a new file, while others read and write. @throws StoreError, also when the file is there. */
  backupTo(file: string): void {
    this.#read(() => this.#db.prepare('VACUUM INTO ?').run(file));
  }

  close(): void {
    this.#db.close();
  }

  #insertRow(
    address: DocumentAddress,
    bytes: Uint8Array,
    generation = NO_GENERATION,
    by = '',
  ): number | RowRefusal {
    const row = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
    const { board, part } = address;
    const added = this.#insert.run(board, part, checkValue(bytes), row, by, board, board, part, generation);
    if (added.changes > 0) return Number(added.lastInsertRowid);
    return this.board(address.board) === null ? 'unknown-board' : 'outdated';
  }

  #addLastState({ board, part }: DocumentAddress, { generation, drawn, lastState }: Renewal): void {
    this.#db
      .prepare(
        'INSERT OR REPLACE INTO formers (board, part, generation, drawn, check_value, bytes) VALUES (?, ?, ?, ?, ?, ?)',
      )
      .run(board, part, generation, drawn, checkValue(lastState), Buffer.from(lastState));
  }

  /** @returns whether it was still the version that is to give way */
  #replaceLastState({ board, part }: DocumentAddress, { generation, bytes, version }: LastState): boolean {
    const replaced = this.#db
      .prepare(
        `UPDATE formers SET check_value = ?, bytes = ?, version = version + 1
         WHERE board = ? AND part = ? AND generation = ? AND version = ?`,
      )
      .run(checkValue(bytes), Buffer.from(bytes), board, part, generation, version);
    return replaced.changes > 0;
  }

  #read<T>(read: () => T): T {
    try {
      return read();
    } catch (cause) {
      throw toStoreError(cause);
    }
  }

  /** A file that was moved or deleted still takes writes, which nobody would find again. */
  #expectInPlace(): void {
    if (statSync(this.#file, { throwIfNoEntry: false })?.ino !== this.#inode)
      throw new StoreError('unavailable', `${this.#file} is not the file that was opened`);
  }

  #transact<T>(write: () => T, done?: StoreStep): T {
    try {
      this.#expectInPlace();
      const result = this.#db.transaction(write).immediate();
      if (done) this.#onStep(done);
      return result;
    } catch (cause) {
      throw toStoreError(cause);
    }
  }
}

function toBoard(row: BoardRow): BoardRecord {
  return { id: row.id, kind: row.kind, createdAt: row.created_at };
}
