/**
 * Copies SQLite files as they are together at one moment, while others read and write them. Each is locked for writing for as
 * long as it takes to begin reading all of them, which is some milliseconds; what is copied from then on is what stood
 * there, whatever is written meanwhile (sqlite.org/isolation.html).
 */
import { openSqlite, type SqliteFile } from './open-sqlite.ts';
import { syncToDisk } from './sync-files.ts';

/** How long to wait for those who write. */
const BUSY_MS = 10_000;
/** Pages copied before others of this process have their turn. */
const PAGES = 1_000;

/**
 * @param files from where to where; the copies must not be there yet. Each becomes one file, without a log beside it, on the disk
 * @param onPinned called once the moment is past and before anything is copied
 * @throws what SQLite throws
 */
export async function copyAtOneMoment(
  files: readonly { readonly from: string; readonly to: string }[],
  onPinned: () => unknown = () => {},
): Promise<void> {
  const readers: SqliteFile[] = [];
  try {
    const writers: SqliteFile[] = [];
    try {
      for (const { from } of files) {
        const writer = openSqlite(from, BUSY_MS);
        writers.push(writer);
        writer.exec('BEGIN IMMEDIATE');
      }
      for (const { from } of files) {
        const reader = openSqlite(from, BUSY_MS);
        readers.push(reader);
        reader.exec('BEGIN');
        // Reading begins with the first look at the file.
        reader.prepare('SELECT count(*) FROM sqlite_master').get();
      }
    } finally {
      for (const writer of writers) writer.close();
    }
    await onPinned();
    for (const [index, { to }] of files.entries()) {
      await readers[index]!.backup(to, { progress: () => PAGES });
      const copy = openSqlite(to, BUSY_MS);
      try {
        copy.pragma('journal_mode = DELETE');
      } finally {
        copy.close();
      }
      syncToDisk(to);
    }
  } finally {
    for (const reader of readers) reader.close();
  }
}
