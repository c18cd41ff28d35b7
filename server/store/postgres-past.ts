/** Rows of documents whose place was taken by a snapshot, in PostgreSQL. */
import type pg from 'pg';
import { checkValue, rowAsWritten } from './row-check.ts';
import {
  type DocumentAddress,
  OF_PAST_ROWS,
  type PastFold,
  type PastSize,
  type WrittenRow,
} from './store.ts';

interface PastRow {
  readonly seq: string;
  readonly generation: string | null;
  readonly check_value: string;
  readonly written_by: string;
  readonly bytes: Buffer;
}

type Query = <Row extends pg.QueryResultRow>(text: string, values: unknown[]) => Promise<Row[]>;

/** Copies rows that are about to be removed. */
export async function takeToPast(
  client: pg.PoolClient,
  { board, part }: DocumentAddress,
  seqs: readonly number[],
  generation: number,
): Promise<void> {
  await client.query(
    `INSERT INTO larkboard_past (seq, board, part, generation, check_value, written_by, row_bytes)
     SELECT seq, board, part, $4, check_value, written_by, row_bytes FROM larkboard_rows
     WHERE seq = ANY($1::bigint[]) AND board = $2 AND part = $3 AND written_by <> '${OF_PAST_ROWS}'
     ON CONFLICT (seq) DO NOTHING`,
    [seqs, board, part, generation],
  );
}

export async function pastAndPresent(ask: Query, address: DocumentAddress): Promise<readonly WrittenRow[]> {
  const found = await ask<PastRow>(
    `SELECT seq, generation, check_value, written_by, row_bytes AS bytes FROM larkboard_past WHERE board = $1 AND part = $2
     UNION ALL SELECT seq, NULL, check_value, written_by, row_bytes FROM larkboard_rows
     WHERE board = $1 AND part = $2 AND written_by <> '${OF_PAST_ROWS}' ORDER BY seq`,
    [address.board, address.part],
  );
  return found.map(({ seq, generation, check_value: check, written_by: by, bytes }) => ({
    ...rowAsWritten(address, { seq: Number(seq), bytes, check: Number(check) }, { damaged: 'mark' }),
    generation: generation === null ? null : Number(generation),
    by,
  }));
}

export async function pastSize(ask: Query, { board, part }: DocumentAddress): Promise<PastSize> {
  // Sums of no rows are a row too.
  const [{ bytes, oldest }] = (await ask<{ bytes: string; oldest: string }>(
    `SELECT coalesce(sum(length(row_bytes)), 0) AS bytes, coalesce((SELECT written_by FROM larkboard_past
       WHERE board = $1 AND part = $2 AND written_by <> '' ORDER BY seq LIMIT 1), '') AS oldest
     FROM larkboard_past WHERE board = $1 AND part = $2`,
    [board, part],
  )) as [{ bytes: string; oldest: string }];
  return { bytes: Number(bytes), oldestBy: oldest };
}

/** @returns false, and changes nothing, when not all of the rows are there */
export async function foldPast(
  client: pg.PoolClient,
  { board, part }: DocumentAddress,
  { seqs, generation, base }: PastFold,
): Promise<boolean> {
  const held = await client.query(
    'SELECT seq FROM larkboard_past WHERE seq = ANY($1::bigint[]) AND board = $2 AND part = $3 ORDER BY seq FOR UPDATE',
    [seqs, board, part],
  );
  if (held.rowCount !== seqs.length) return false;
  await client.query(
    'DELETE FROM larkboard_past WHERE seq = ANY($1::bigint[]) AND board = $2 AND part = $3',
    [seqs, board, part],
  );
  if (base !== null)
    await client.query(
      `INSERT INTO larkboard_past (seq, board, part, generation, check_value, written_by, row_bytes)
       VALUES ($1, $2, $3, $4, $5, '', $6)`,
      [Math.max(...seqs), board, part, generation, checkValue(base), Buffer.from(base)],
    );
  return true;
}

/** What is not as it was written, or of a board that is not there. */
export async function pastFaults(ask: Query): Promise<readonly string[]> {
  const faults: string[] = [];
  for (let after = 0; ; ) {
    const page = await ask<PastRow & DocumentAddress>(
      'SELECT seq, board, part, check_value, row_bytes AS bytes FROM larkboard_past WHERE seq > $1 ORDER BY seq LIMIT 200',
      [after],
    );
    if (page.length === 0) break;
    for (const { seq, board, part, check_value: check, bytes } of page) {
      if (checkValue(bytes) !== Number(check))
        faults.push(`past row ${seq} of ${board}/${part} is not as it was written`);
      after = Number(seq);
    }
  }
  const orphans = await ask<{ board: string }>(
    'SELECT DISTINCT board FROM larkboard_past WHERE board NOT IN (SELECT id FROM larkboard_boards)',
    [],
  );
  return [...faults, ...orphans.map(({ board }) => `past of board ${board}, which is not there`)];
}
