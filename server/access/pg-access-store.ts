/** The access store of several machines: PostgreSQL, in the database of the boards. Each write is on its disk when it returns. */
import type pg from 'pg';
import { bringPgLayout, openPgPool, type PgLayout, pgStoreError } from '../store/index.ts';
import type { AccessStore, GrantRecord, HandOverRecord, LinkRecord } from './access-store.ts';
import { changedColumns, type LinkRow, linkValues, readLink } from './link-rows.ts';

/** Layout 1, which earlier releases made without a number. */
const FIRST = `
CREATE TABLE IF NOT EXISTS larkboard_links (
  id text PRIMARY KEY, board text NOT NULL, role text NOT NULL, name text NOT NULL, secret_hash text NOT NULL UNIQUE,
  created_at bigint NOT NULL, ends_at bigint, revoked_at bigint
);
CREATE INDEX IF NOT EXISTS larkboard_links_of_board ON larkboard_links (board);
CREATE TABLE IF NOT EXISTS larkboard_grants (
  person text NOT NULL, link text NOT NULL, board text NOT NULL, PRIMARY KEY (person, link)
);
CREATE INDEX IF NOT EXISTS larkboard_grants_of_board ON larkboard_grants (board);
CREATE TABLE IF NOT EXISTS larkboard_sessions (
  hash text PRIMARY KEY, person text NOT NULL, created_at bigint NOT NULL
);
`;
/** Layout 2: one may be let in to look only, by a code. */
const SECOND = `
ALTER TABLE larkboard_grants ADD COLUMN looks boolean NOT NULL DEFAULT false;
CREATE TABLE larkboard_hand_overs (
  hash text PRIMARY KEY, person text NOT NULL UNIQUE, board text NOT NULL, link text, link_board text NOT NULL,
  ends_at bigint NOT NULL, carried text NOT NULL
);
CREATE INDEX larkboard_hand_overs_of_board ON larkboard_hand_overs (board);
`;
const ACCESS_LAYOUT: PgLayout = { name: 'access', steps: [FIRST, SECOND] };

/** Rejects with a {@link StoreError} when the database does not answer or refuses. */
export class PgAccessStore implements AccessStore {
  readonly #pool: pg.Pool;

  private constructor(pool: pg.Pool) {
    this.#pool = pool;
  }

  /**
   * Connects, and brings the tables to the layout of this release.
   * @param onIdleError hears of connections lost while idle
   */
  static async open(url: string, onIdleError: (error: Error) => void): Promise<PgAccessStore> {
    await bringPgLayout(url, ACCESS_LAYOUT);
    const pool = openPgPool({ url, max: 4, onLost: onIdleError });
    return new PgAccessStore(pool);
  }

  async addLink(link: LinkRecord): Promise<void> {
    await this.#query(
      `INSERT INTO larkboard_links (id, board, role, name, secret_hash, created_at, ends_at, revoked_at)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
      linkValues(link),
    );
  }

  async linkById(boardId: string, linkId: string): Promise<LinkRecord | null> {
    const found = await this.#links('SELECT * FROM larkboard_links WHERE board = $1 AND id = $2', [
      boardId,
      linkId,
    ]);
    return found[0] ?? null;
  }

  async linkByHash(boardId: string, secretHash: string): Promise<LinkRecord | null> {
    const found = await this.#links('SELECT * FROM larkboard_links WHERE board = $1 AND secret_hash = $2', [
      boardId,
      secretHash,
    ]);
    return found[0] ?? null;
  }

  links(boardId: string): Promise<readonly LinkRecord[]> {
    return this.#links('SELECT * FROM larkboard_links WHERE board = $1 ORDER BY created_at, id COLLATE "C"', [
      boardId,
    ]);
  }

  async updateLink(
    boardId: string,
    linkId: string,
    patch: Partial<Pick<LinkRecord, 'name' | 'endsAt' | 'revokedAt'>>,
  ): Promise<boolean> {
    const changed = changedColumns(patch);
    if (changed.length === 0) return (await this.linkById(boardId, linkId)) !== null;
    const sets = changed.map(({ column }, i) => `${column} = $${i + 3}`).join(', ');
    const done = await this.#query(`UPDATE larkboard_links SET ${sets} WHERE board = $1 AND id = $2`, [
      boardId,
      linkId,
      ...changed.map(({ value }) => value),
    ]);
    return done.rowCount === 1;
  }

  async addGrant(grant: GrantRecord): Promise<void> {
    await this.#query(
      `INSERT INTO larkboard_grants AS g (person, link, board) VALUES ($1, $2, $3)
       ON CONFLICT (person, link) DO UPDATE SET looks = false WHERE g.looks`,
      [grant.personId, grant.linkId, grant.boardId],
    );
  }

  grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]> {
    return this.#links(
      `SELECT l.*, g.looks FROM larkboard_links l JOIN larkboard_grants g ON g.link = l.id
       WHERE g.person = $1 AND l.board = $2 ORDER BY l.created_at, l.id COLLATE "C"`,
      [personId, boardId],
    );
  }

  async boardsOf(personId: string, now: number): Promise<readonly string[]> {
    const found = await this.#query<{ board: string }>(
      `SELECT DISTINCT l.board COLLATE "C" AS board FROM larkboard_links l JOIN larkboard_grants g ON g.link = l.id
       WHERE g.person = $1 AND l.revoked_at IS NULL AND (l.ends_at IS NULL OR l.ends_at > $2) ORDER BY 1`,
      [personId, now],
    );
    return found.rows.map((row) => row.board);
  }

  async addHandOver(handOver: HandOverRecord, now: number): Promise<void> {
    const { codeHash, personId, boardId, linkId, linkBoardId, endsAt, carried } = handOver;
    await this.#query('DELETE FROM larkboard_hand_overs WHERE ends_at <= $1', [now]);
    await this.#query(
      `INSERT INTO larkboard_hand_overs (hash, person, board, link, link_board, ends_at, carried)
       VALUES ($1, $2, $3, $4, $5, $6, $7)
       ON CONFLICT (person) DO UPDATE SET hash = $1, board = $3, link = $4, link_board = $5, ends_at = $6, carried = $7`,
      [codeHash, personId, boardId, linkId, linkBoardId, endsAt, carried],
    );
  }

  async hasHandOver(boardId: string, codeHash: string, now: number): Promise<boolean> {
    const found = await this.#query(
      'SELECT 1 FROM larkboard_hand_overs WHERE board = $1 AND hash = $2 AND ends_at > $3',
      [boardId, codeHash, now],
    );
    return found.rowCount === 1;
  }

  async takeHandOver(
    boardId: string,
    codeHash: string,
    personId: string,
    now: number,
  ): Promise<string | null> {
    // One statement: whoever deletes the row lets the person in, and nobody else does.
    const found = await this.#query<{ carried: string }>(
      `WITH taken AS (
         DELETE FROM larkboard_hand_overs WHERE board = $1 AND hash = $2 AND ends_at > $4 RETURNING link, link_board, carried
       ), granted AS (
         INSERT INTO larkboard_grants (person, link, board, looks)
         SELECT $3, link, link_board, true FROM taken WHERE link IS NOT NULL ON CONFLICT DO NOTHING
       )
       SELECT carried FROM taken`,
      [boardId, codeHash, personId, now],
    );
    return found.rows[0]?.carried ?? null;
  }

  async forgetBoard(boardId: string): Promise<void> {
    // One statement, so that all go or none does.
    await this.#query(
      `WITH gone AS (DELETE FROM larkboard_grants WHERE board = $1),
         codes AS (DELETE FROM larkboard_hand_overs WHERE board = $1)
       DELETE FROM larkboard_links WHERE board = $1`,
      [boardId],
    );
  }

  async personBySession(sessionHash: string, since: number): Promise<string | null> {
    const found = await this.#query<{ person: string }>(
      'SELECT person FROM larkboard_sessions WHERE hash = $1 AND created_at >= $2',
      [sessionHash, since],
    );
    return found.rows[0]?.person ?? null;
  }

  async addSession(sessionHash: string, personId: string, createdAt: number): Promise<void> {
    await this.#query('INSERT INTO larkboard_sessions (hash, person, created_at) VALUES ($1, $2, $3)', [
      sessionHash,
      personId,
      createdAt,
    ]);
  }

  async extendSession(sessionHash: string, now: number, ifBefore: number): Promise<boolean> {
    const done = await this.#query(
      'UPDATE larkboard_sessions SET created_at = $1 WHERE hash = $2 AND created_at < $3',
      [now, sessionHash, ifBefore],
    );
    return done.rowCount === 1;
  }

  async dropSessions(before: number): Promise<number> {
    const done = await this.#query('DELETE FROM larkboard_sessions WHERE created_at < $1', [before]);
    const count = done.rowCount ?? 0;
    if (count > 0)
      await this.#query(
        'DELETE FROM larkboard_grants g WHERE NOT EXISTS (SELECT 1 FROM larkboard_sessions s WHERE s.person = g.person)',
        [],
      );
    return count;
  }

  async close(): Promise<void> {
    await this.#pool.end();
  }

  async #links(sql: string, values: readonly unknown[]): Promise<readonly LinkRecord[]> {
    return (await this.#query<LinkRow>(sql, values)).rows.map(readLink);
  }

  async #query<Row extends pg.QueryResultRow>(
    sql: string,
    values: readonly unknown[],
  ): Promise<pg.QueryResult<Row>> {
    try {
      return await this.#pool.query<Row>(sql, [...values]);
    } catch (cause) {
      throw pgStoreError(cause);
    }
  }
}
