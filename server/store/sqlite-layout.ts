/**
 * How an SQLite file is laid out: by the number in `PRAGMA user_version`, and steps from each to the next. They run in one
 * transaction with the number, which takes the file's lock before it looks: of two who open a file one takes the steps, and
 * a process that ends on the way leaves what was there before. A file without a number is of a release that wrote none, or new.
 */
import { closeSync, openSync, readSync } from 'node:fs';
import { openSqlite, type SqliteFile } from './open-sqlite.ts';
import { StoreError } from './store.ts';

/** The first step makes what is not there yet; each further one leads from the layout of its index to the next. Never changed. */
export type SqliteSteps = readonly string[];

export interface SqliteOpenOptions {
  /** How long to wait for another process that holds the file; default 2,000 ms. */
  readonly busyMs?: number;
  /** Only reads: the file must be there, and of this layout. */
  readonly isReadOnly?: boolean;
  /** Size the file may grow to; beyond it the store is `full`. Default: what the disk holds. */
  readonly maxBytes?: number;
}

const BUSY_MS = 2_000;

/**
 * Opens a file, or makes it, and brings it to the layout of this release.
 * @throws what SQLite throws, and a StoreError when the file is of a later release; it is not touched then
 */
export function openLaidOut(
  file: string,
  steps: SqliteSteps,
  { busyMs = BUSY_MS, isReadOnly = false, maxBytes }: SqliteOpenOptions = {},
): SqliteFile {
  const db = openSqlite(file, busyMs, isReadOnly);
  try {
    const found = expectKnown(db, file, steps);
    if (isReadOnly) {
      if (Math.max(found, 1) < steps.length)
        throw new StoreError(
          'damaged',
          `${file} has layout ${found}, and is brought to layout ${steps.length} when a server opens it`,
        );
      return db;
    }
    db.pragma('journal_mode = WAL');
    // What is deleted is overwritten with zeros (sqlite.org/pragma.html#pragma_secure_delete).
    db.pragma('secure_delete = ON');
    if (maxBytes !== undefined) {
      const pageBytes = Number(db.pragma('page_size', { simple: true }));
      db.pragma(`max_page_count = ${Math.max(1, Math.floor(maxBytes / pageBytes))}`);
    }
    db.transaction(() => {
      const layout = expectKnown(db, file, steps);
      // The oldest of layout 1 lack some of it, numbered or not.
      for (const step of steps.slice(layout <= 1 ? 0 : layout)) db.exec(step);
      if (layout !== steps.length) db.pragma(`user_version = ${steps.length}`);
    }).immediate();
    return db;
  } catch (cause) {
    db.close();
    throw cause;
  }
}

/** @returns the number of a file's layout; 0 = none */
function expectKnown(db: SqliteFile, file: string, steps: SqliteSteps): number {
  const layout = Number(db.pragma('user_version', { simple: true }));
  if (layout > steps.length)
    throw new StoreError(
      'damaged',
      `${file} has layout ${layout}; this server reads up to layout ${steps.length}`,
    );
  return layout;
}

/** Whether a file can be read where it lies and nothing is written for it, there or beside it. @throws what SQLite throws */
export function isReadableInPlace(file: string, steps: SqliteSteps): boolean {
  // Where 2 stands in byte 18 readers make a log beside the file (sqlite.org/fileformat2.html#file_format_version_numbers).
  const header = Buffer.alloc(20);
  const opened = openSync(file, 'r');
  try {
    readSync(opened, header, 0, header.length, 0);
  } finally {
    closeSync(opened);
  }
  if (header[18] === 2) return false;
  const db = openSqlite(file, BUSY_MS, true);
  try {
    return Math.max(expectKnown(db, file, steps), 1) === steps.length;
  } finally {
    db.close();
  }
}
