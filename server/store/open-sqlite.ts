/**
 * The one place that opens SQLite files. The package is one that is compiled, as long as Node 20 is served: better-sqlite3 12.11.1 has no
 * ready-made binary there. Weighed against packages that bring their binaries along, by our own tests (store, faults, kills, backup under
 * load, boards of 2026-11) and by `strace`: libsql 0.5.29 and @photostructure/sqlite 1.2.1 leave a closed file open and locked until the
 * collector comes by (V77 fails), and libsql holds SQLite 3.45, older than the mending of WAL resets in 3.51.3; node-sqlite3-wasm 0.8.60 has
 * no WAL and stays locked after a kill; @photostructure/sqlite 2.6.0 held everything on 20, 22 and 24, but its makers ended Node 20 and few use
 * it. better-sqlite3 13.2.0 (Node-API 10, binaries in the package) held everything on Node 22.23 and 24.21 and ends the process on 20. All
 * that held wrote as many fsyncs a commit. The day `engines` rises to 22.14, 13.2 is a change of `package.json` and its lock alone.
 */
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
