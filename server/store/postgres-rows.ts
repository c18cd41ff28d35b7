/**
 * Rows of documents in PostgreSQL, and the lock between those who add some and who ends a generation or a board.
 *
 * Each document has one row of its own that holds its present generation. Appends take that row FOR SHARE, in one order on
 * all nodes, and judge by what they find in it; renewing and removing take it FOR UPDATE before they look at anything. An append
 * that had to wait finds the row as it is then (postgresql.org/docs/current/transaction-iso.html#XACT-READ-COMMITTED), whereas
 * a subquery on another table would go on reading what was there when the statement began. A lock on the table would hold up everybody.
 * So read committed is set for every connection, and a release without this lock may not write beside it.
 */
import type pg from 'pg';
import { checkValue } from './row-check.ts';
import {
  type BoardRecord,
  type DocumentAddress,
  type LastState,
  partsOf,
  type Renewal,
  type RowOptions,
  type RowRefusal,
} from './store.ts';

/** A row to add. */
export interface NewPgRow {
  readonly address: DocumentAddress;
  readonly bytes: Uint8Array;
  readonly options: RowOptions;
}

/** Stands where no generation is named: later than any. */
const NO_GENERATION = Number.MAX_SAFE_INTEGER;

// The seqs are drawn before the rows are added, so that each can be told to whom it belongs.
const INSERT = `WITH given AS MATERIALIZED (
    SELECT * FROM unnest($1::text[], $2::text[], $3::bigint[], $4::bytea[], $5::bigint[], $6::text[])
      WITH ORDINALITY AS t (board, part, check_value, row_bytes, generation, written_by, nr)
  ), locked AS MATERIALIZED (
    SELECT board, part, generation FROM larkboard_documents
    WHERE (board, part) IN (SELECT board, part FROM given)
    ORDER BY board COLLATE "C", part COLLATE "C" FOR SHARE
  ), judged AS MATERIALIZED (
    SELECT given.*, locked.generation AS present, CASE WHEN given.generation >= locked.generation
      THEN nextval(pg_get_serial_sequence('larkboard_rows', 'seq')) END AS seq
    FROM given LEFT JOIN locked USING (board, part)
  ), added AS (
    INSERT INTO larkboard_rows (seq, board, part, check_value, row_bytes, written_by) OVERRIDING SYSTEM VALUE
    SELECT seq, board, part, check_value, row_bytes, written_by FROM judged WHERE seq IS NOT NULL
  ) SELECT seq, present FROM judged ORDER BY nr`;

/** Adds rows in one statement. @returns for each its seq, or why it was not added */
export async function insertRows(
  on: pg.Pool | pg.PoolClient,
  batch: readonly NewPgRow[],
): Promise<readonly (number | RowRefusal)[]> {
  const judged = await on.query<{ seq: string | null; present: string | null }>(INSERT, [
    batch.map((row) => row.address.board),
    batch.map((row) => row.address.part),
    batch.map((row) => checkValue(row.bytes)),
    batch.map((row) => toBuffer(row.bytes)),
    batch.map((row) => row.options.generation ?? NO_GENERATION),
    batch.map((row) => row.options.by ?? ''),
  ]);
  return judged.rows.map(({ seq, present }) =>
    seq !== null ? Number(seq) : present === null ? 'unknown-board' : 'outdated',
  );
}

/** Adds one row. */
export async function insertRow(
  client: pg.PoolClient,
  address: DocumentAddress,
  bytes: Uint8Array,
  options: Pick<RowOptions, 'generation' | 'by'> = {},
): Promise<number | RowRefusal> {
  const outcomes = await insertRows(client, [{ address, bytes, options }]);
  return outcomes[0]!;
}

/** Makes the documents of a new board. */
export async function insertDocuments(client: pg.PoolClient, { id, kind }: BoardRecord): Promise<void> {
  await client.query(
    'INSERT INTO larkboard_documents (board, part, generation) SELECT $1, unnest($2::text[]), 1',
    [id, partsOf(kind)],
  );
}

/** Waits for appends under way to a board, and lets those to come wait until the transaction ends. */
export async function lockBoard(client: pg.PoolClient, board: string): Promise<void> {
  await client.query(
    'SELECT 1 FROM larkboard_documents WHERE board = $1 ORDER BY part COLLATE "C" FOR UPDATE',
    [board],
  );
}

/** The same for one document. @returns the rows that it has once nobody appends any more */
export async function lockDocument(
  client: pg.PoolClient,
  { board, part }: DocumentAddress,
): Promise<readonly number[]> {
  await client.query('SELECT 1 FROM larkboard_documents WHERE board = $1 AND part = $2 FOR UPDATE', [
    board,
    part,
  ]);
  // A statement of its own, so that it sees what was added while the one before waited.
  const rows = await client.query<{ seq: string }>(
    'SELECT seq FROM larkboard_rows WHERE board = $1 AND part = $2',
    [board, part],
  );
  return rows.rows.map(({ seq }) => Number(seq));
}

/** Ends a generation of a locked document: rows that name it, or one before, are refused from the commit on. */
export async function endGeneration(
  client: pg.PoolClient,
  { board, part }: DocumentAddress,
  { generation, drawn, lastState }: Renewal,
): Promise<void> {
  await client.query(
    'UPDATE larkboard_documents SET generation = greatest(generation, $3 + 1) WHERE board = $1 AND part = $2',
    [board, part, generation],
  );
  await client.query(
    `INSERT INTO larkboard_formers (board, part, generation, drawn, check_value, state_bytes)
     VALUES ($1, $2, $3, $4, $5, $6)
     ON CONFLICT (board, part, generation) DO UPDATE
     SET drawn = excluded.drawn, version = 0, check_value = excluded.check_value, state_bytes = excluded.state_bytes`,
    [board, part, generation, drawn, checkValue(lastState), toBuffer(lastState)],
  );
}

/**
 * Keeps a last state of a generation in place of the one before. Whoever waits here for another who does the same finds the version
 * that it left (see above).
 * @returns whether it was still the version that is to give way
 */
export async function replaceLastState(
  client: pg.PoolClient,
  { board, part }: DocumentAddress,
  { generation, bytes, version }: LastState,
): Promise<boolean> {
  const replaced = await client.query(
    `UPDATE larkboard_formers SET check_value = $5, state_bytes = $6, version = version + 1
     WHERE board = $1 AND part = $2 AND generation = $3 AND version = $4`,
    [board, part, generation, version, checkValue(bytes), toBuffer(bytes)],
  );
  return replaced.rowCount === 1;
}

/** What is wrong with the documents of boards, in words. */
export const DOCUMENT_FAULTS = `
  SELECT 'document ' || board || '/' || part || ' of a board that is not there' AS fault FROM larkboard_documents
    WHERE board NOT IN (SELECT id FROM larkboard_boards)
  UNION ALL SELECT 'board ' || id || ' has no document ' || part FROM larkboard_boards, unnest($1::text[], $2::text[]) AS p (of_kind, part)
    WHERE kind = of_kind AND NOT EXISTS (SELECT 1 FROM larkboard_documents d WHERE d.board = id AND d.part = p.part)
  UNION ALL SELECT 'document ' || d.board || '/' || d.part || ' is at generation ' || d.generation || ' and keeps a later one'
    FROM larkboard_documents d WHERE EXISTS (SELECT 1 FROM larkboard_formers f
      WHERE f.board = d.board AND f.part = d.part AND f.generation >= d.generation)`;

function toBuffer(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
}
