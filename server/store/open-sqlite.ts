/** The one place that opens SQLite files. */
import Database from 'better-sqlite3';
import { StoreError } from './store.ts';

/** An open SQLite file. */
export type SqliteFile = Database.Database;

/** What `PRAGMA synchronous` reads as when it is FULL (sqlite.org/pragma.html#pragma_synchronous). */
const FULL = 2;

/**
 * Opens a file, or makes it, so that a commit returns when it is on the disk. Left to itself SQLite, as our package builds it,
 * waits for the disk in WAL mode at checkpoints only.
 * @param busyMs how long to wait for another process that holds the file; default 5,000 ms
 * @param isReadOnly whether it is only read; then it must be there
 * @throws what SQLite throws, and a StoreError when it does not keep to FULL
 */
export function openSqlite(file: string, busyMs = 5000, isReadOnly = false): SqliteFile {
  const db = new Database(file, { timeout: busyMs, readonly: isReadOnly });
  try {
    db.pragma('synchronous = FULL');
    const level = db.pragma('synchronous', { simple: true });
    if (level !== FULL)
      throw new StoreError('unavailable', `${file} is opened with synchronous ${level} instead of ${FULL}`);
    return db;
  } catch (cause) {
    db.close();
    throw cause;
  }
}

/** SQLite's name for what went wrong, such as `SQLITE_BUSY`; empty where it was not SQLite. */
export function sqliteCode(cause: unknown): string {
  return cause instanceof Database.SqliteError ? cause.code : '';
}
