/**
 * One server a data folder. Two would each keep the same boards in memory and never hear of each other's edits. The lock is a
 * small SQLite file held in an exclusive transaction: the system lets go of it when the process ends, however it ends.
 */
import { join } from 'node:path';
import { openSqlite, type SqliteFile, sqliteCode } from './open-sqlite.ts';
import { StoreError } from './store.ts';

/** @returns a function that lets go. @throws StoreError `locked` when another process holds the folder */
export function lockFolder(folder: string): () => void {
  let db: SqliteFile | null = null;
  try {
    db = openSqlite(join(folder, 'in-use.lock'), 0);
    db.pragma('journal_mode = DELETE');
    db.exec('BEGIN EXCLUSIVE');
  } catch (cause) {
    db?.close();
    if (sqliteCode(cause).startsWith('SQLITE_BUSY'))
      throw new StoreError('locked', `another server works on ${folder}`, { cause });
    throw cause;
  }
  return () => db.close();
}
