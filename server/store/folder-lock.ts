/**
 * One server a data folder. Two would each keep the same boards in memory and never hear of each other's edits. The lock is a
 * small SQLite file held in an exclusive transaction: the system lets go of it when the process ends, however it ends.
 */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { StoreError } from './store.ts';

/** @returns a function that lets go. @throws StoreError `locked` when another process holds the folder */
export function lockFolder(folder: string): () => void {
  const db = new Database(join(folder, 'in-use.lock'), { timeout: 0 });
  try {
    db.pragma('journal_mode = DELETE');
    db.exec('BEGIN EXCLUSIVE');
  } catch (cause) {
    db.close();
    if (cause instanceof Database.SqliteError && cause.code.startsWith('SQLITE_BUSY'))
      throw new StoreError('locked', `another server works on ${folder}`, { cause });
    throw cause;
  }
  return () => db.close();
}
