/** Reads a file of links whole and says what is wrong with it; it is not changed. */
import { openSqlite } from '../store/index.ts';
import { type LinkRow, readLink } from './link-rows.ts';

export interface AccessCheck {
  readonly links: number;
  readonly sessions: number;
  /** What is wrong, in words; empty when all is well. */
  readonly faults: readonly string[];
}

/** @throws what SQLite throws when it is no database */
export function checkAccessFile(file: string): AccessCheck {
  const db = openSqlite(file, 2_000, true);
  try {
    const faults = (db.pragma('integrity_check') as { integrity_check: string }[])
      .map((row) => row.integrity_check)
      .filter((line) => line !== 'ok');
    let links = 0;
    for (const row of db.prepare('SELECT *, board_id AS board FROM links').iterate()) {
      links += 1;
      try {
        readLink(row as LinkRow);
      } catch (cause) {
        faults.push((cause as Error).message);
      }
    }
    const sessions = db.prepare('SELECT count(*) AS n FROM sessions').get() as { n: number };
    return { links, sessions: sessions.n, faults };
  } finally {
    db.close();
  }
}
