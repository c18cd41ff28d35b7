/**
 * One server a data folder. Two would each keep the same boards in memory and never hear of each other's edits. The lock is a
 * small SQLite file held in an exclusive transaction: the system lets go of it when the process ends, however it ends.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { openSqlite, type SqliteFile, sqliteCode } from './open-sqlite.ts';
import { StoreError } from './store.ts';

/** Lies in a folder while a backup is being put in place of its data; what is there then is neither the one nor the other. */
export const UNFINISHED_RESTORE = 'restore-unfinished';

/**
 * @param isRestoring whether who asks puts a backup in place, and so may where that was begun before
 * @returns a function that lets go
 * @throws StoreError `locked` when another process holds the folder; `unavailable` when a restore was not finished in it
 */
export function lockFolder(folder: string, isRestoring = false): () => void {
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
  if (!isRestoring && existsSync(join(folder, UNFINISHED_RESTORE))) {
    db.close();
    throw new StoreError('unavailable', `a restore into ${folder} was not finished; run it again`);
  }
  return () => db.close();
}
