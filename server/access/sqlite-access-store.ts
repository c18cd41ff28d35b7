/**
 * The access store on SQLite, in a file beside the edits. Each call is done when it returns, each write a transaction of its own, on disk
 * (WAL, synchronous FULL). In a server it runs in the thread of AccessThread; tests also call it directly.
 */
import { openLaidOut, type SqliteFile, type SqliteOpenOptions, type SqliteSteps } from '../store/index.ts';
import type { AccessStore, GrantRecord, HandOverRecord, LinkRecord } from './access-store.ts';
import { changedColumns, type LinkRow, linkValues, readLink } from './link-rows.ts';

/** Layout 1, which earlier releases made without a number. */
const FIRST = `
CREATE TABLE IF NOT EXISTS links (
  id TEXT PRIMARY KEY, board_id TEXT NOT NULL, role TEXT NOT NULL, name TEXT NOT NULL, secret_hash TEXT NOT NULL UNIQUE,
  created_at INTEGER NOT NULL, ends_at INTEGER, revoked_at INTEGER
) STRICT;
CREATE INDEX IF NOT EXISTS links_of_board ON links (board_id);
CREATE TABLE IF NOT EXISTS grants (
  person_id TEXT NOT NULL, link_id TEXT NOT NULL, board_id TEXT NOT NULL, PRIMARY KEY (person_id, link_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS grants_of_board ON grants (board_id);
CREATE TABLE IF NOT EXISTS sessions (
  hash TEXT PRIMARY KEY, person_id TEXT NOT NULL, created_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
`;

/** Layout 2: one may be let in to look only, by a code. */
const SECOND = `
ALTER TABLE grants ADD COLUMN looks INTEGER NOT NULL DEFAULT 0;
CREATE TABLE hand_overs (
  hash TEXT PRIMARY KEY, person_id TEXT NOT NULL UNIQUE, board_id TEXT NOT NULL, link_id TEXT, link_board_id TEXT NOT NULL,
  ends_at INTEGER NOT NULL, carried TEXT NOT NULL
) STRICT;
CREATE INDEX hand_overs_of_board ON hand_overs (board_id);
`;

/** From layout to layout. */
export const ACCESS_STEPS: SqliteSteps = [FIRST, SECOND];

const SELECT_LINK = 'SELECT links.*, links.board_id AS board FROM links';

interface TakenRow {
  readonly link_id: string | null;
  readonly link_board_id: string;
  readonly carried: string;
}

export class SqliteAccessStore implements AccessStore {
  readonly #db: SqliteFile;

  /** @param file path of the database file; made when absent. Throws when it cannot be opened. */
  constructor(file: string, options: SqliteOpenOptions = {}) {
    this.#db = openLaidOut(file, ACCESS_STEPS, options);
  }

  async addLink(link: LinkRecord): Promise<void> {
    this.#db
      .prepare(
        'INSERT INTO links (id, board_id, role, name, secret_hash, created_at, ends_at, revoked_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
      )
      .run(...linkValues(link));
  }

  async linkById(boardId: string, linkId: string): Promise<LinkRecord | null> {
    return this.#one(`${SELECT_LINK} WHERE board_id = ? AND id = ?`, boardId, linkId);
  }

  async linkByHash(boardId: string, secretHash: string): Promise<LinkRecord | null> {
    return this.#one(`${SELECT_LINK} WHERE board_id = ? AND secret_hash = ?`, boardId, secretHash);
  }

  async links(boardId: string): Promise<readonly LinkRecord[]> {
    return this.#many(`${SELECT_LINK} WHERE board_id = ? ORDER BY created_at, id`, boardId);
  }

  async updateLink(
    boardId: string,
    linkId: string,
    patch: Partial<Pick<LinkRecord, 'name' | 'endsAt' | 'revokedAt'>>,
  ): Promise<boolean> {
    const changed = changedColumns(patch);
    if (changed.length === 0) return (await this.linkById(boardId, linkId)) !== null;
    const done = this.#db
      .prepare(
        `UPDATE links SET ${changed.map(({ column }) => `${column} = ?`).join(', ')} WHERE board_id = ? AND id = ?`,
      )
      .run(...changed.map(({ value }) => value), boardId, linkId);
    return done.changes === 1;
  }

  async addGrant(grant: GrantRecord): Promise<void> {
    this.#db
      .prepare(
        `INSERT INTO grants (person_id, link_id, board_id) VALUES (?, ?, ?)
         ON CONFLICT (person_id, link_id) DO UPDATE SET looks = 0 WHERE looks <> 0`,
      )
      .run(grant.personId, grant.linkId, grant.boardId);
  }

  async grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]> {
    return this.#many(
      `SELECT links.*, links.board_id AS board, grants.looks FROM links JOIN grants ON grants.link_id = links.id
       WHERE grants.person_id = ? AND links.board_id = ? ORDER BY links.created_at, links.id`,
      personId,
      boardId,
    );
  }

  async boardsOf(personId: string, now: number): Promise<readonly string[]> {
    const rows = this.#db
      .prepare(
        `SELECT DISTINCT links.board_id AS id FROM links JOIN grants ON grants.link_id = links.id
         WHERE grants.person_id = ? AND links.revoked_at IS NULL AND (links.ends_at IS NULL OR links.ends_at > ?)
         ORDER BY id`,
      )
      .all(personId, now) as { id: string }[];
    return rows.map((row) => row.id);
  }

  async addHandOver(handOver: HandOverRecord, now: number): Promise<void> {
    const { codeHash, personId, boardId, linkId, linkBoardId, endsAt, carried } = handOver;
    this.#db.transaction(() => {
      this.#db.prepare('DELETE FROM hand_overs WHERE person_id = ? OR ends_at <= ?').run(personId, now);
      this.#db
        .prepare(
          'INSERT INTO hand_overs (hash, person_id, board_id, link_id, link_board_id, ends_at, carried) VALUES (?, ?, ?, ?, ?, ?, ?)',
        )
        .run(codeHash, personId, boardId, linkId, linkBoardId, endsAt, carried);
    })();
  }

  async hasHandOver(boardId: string, codeHash: string, now: number): Promise<boolean> {
    return (
      this.#db
        .prepare('SELECT 1 FROM hand_overs WHERE board_id = ? AND hash = ? AND ends_at > ?')
        .get(boardId, codeHash, now) !== undefined
    );
  }

  async takeHandOver(
    boardId: string,
    codeHash: string,
    personId: string,
    now: number,
  ): Promise<string | null> {
    return this.#db.transaction(() => {
      const taken = this.#db
        .prepare(
          'DELETE FROM hand_overs WHERE board_id = ? AND hash = ? AND ends_at > ? RETURNING link_id, link_board_id, carried',
        )
        .get(boardId, codeHash, now) as TakenRow | undefined;
      if (taken === undefined) return null;
      if (taken.link_id !== null)
        this.#db
          .prepare('INSERT OR IGNORE INTO grants (person_id, link_id, board_id, looks) VALUES (?, ?, ?, 1)')
          .run(personId, taken.link_id, taken.link_board_id);
      return taken.carried;
    })();
  }

  async forgetBoard(boardId: string): Promise<void> {
    this.#db.transaction(() => {
      this.#db.prepare('DELETE FROM hand_overs WHERE board_id = ?').run(boardId);
      this.#db.prepare('DELETE FROM grants WHERE board_id = ?').run(boardId);
      this.#db.prepare('DELETE FROM links WHERE board_id = ?').run(boardId);
    })();
  }

  async personBySession(sessionHash: string, since: number): Promise<string | null> {
    const row = this.#db
      .prepare('SELECT person_id AS id FROM sessions WHERE hash = ? AND created_at >= ?')
      .get(sessionHash, since) as { id: string } | undefined;
    return row?.id ?? null;
  }

  async addSession(sessionHash: string, personId: string, createdAt: number): Promise<void> {
    this.#db
      .prepare('INSERT INTO sessions (hash, person_id, created_at) VALUES (?, ?, ?)')
      .run(sessionHash, personId, createdAt);
  }

  async extendSession(sessionHash: string, now: number, ifBefore: number): Promise<boolean> {
    return (
      this.#db
        .prepare('UPDATE sessions SET created_at = ? WHERE hash = ? AND created_at < ?')
        .run(now, sessionHash, ifBefore).changes > 0
    );
  }

  async dropSessions(before: number): Promise<number> {
    return this.#db.transaction(() => {
      const { changes } = this.#db.prepare('DELETE FROM sessions WHERE created_at < ?').run(before);
      if (changes > 0)
        this.#db.prepare('DELETE FROM grants WHERE person_id NOT IN (SELECT person_id FROM sessions)').run();
      return changes;
    })();
  }

  async close(): Promise<void> {
    this.#db.close();
  }

  #one(sql: string, ...values: readonly unknown[]): LinkRecord | null {
    const row = this.#db.prepare(sql).get(...values) as LinkRow | undefined;
    return row ? readLink(row) : null;
  }

  #many(sql: string, ...values: readonly unknown[]): readonly LinkRecord[] {
    return (this.#db.prepare(sql).all(...values) as LinkRow[]).map(readLink);
  }
}
