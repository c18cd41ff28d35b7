/** The boards of November 2026 in PostgreSQL, in the tables of that release. See tests/fixtures/postgres-2026-11. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { openSqlite } from '../../server/store/index.ts';
import { copyFixture, type FIXTURE_DATA } from './store-fixture.ts';

const TABLES = fileURLToPath(new URL('../fixtures/postgres-2026-11/tables.sql', import.meta.url));

/** What the tables in SQLite are called in PostgreSQL, with their columns in both. */
const COPIED: readonly {
  readonly file: (typeof FIXTURE_DATA)[number];
  readonly from: string;
  readonly to: string;
  readonly columns: readonly (readonly [from: string, to: string])[];
}[] = [
  { file: 'larkboard.db', from: 'boards', to: 'larkboard_boards', columns: same('id', 'kind', 'created_at') },
  {
    file: 'larkboard.db',
    from: 'rows',
    to: 'larkboard_rows',
    columns: same('seq', 'board', 'part', 'check_value', 'bytes'),
  },
  {
    file: 'larkboard.db',
    from: 'formers',
    to: 'larkboard_formers',
    columns: same('board', 'part', 'generation', 'check_value', 'bytes'),
  },
  {
    file: 'larkboard.db',
    from: 'records',
    to: 'larkboard_records',
    columns: same('board', 'kind', 'id', 'check_value', 'about', 'bytes'),
  },
  {
    file: 'access.db',
    from: 'links',
    to: 'larkboard_links',
    columns: [
      ['board_id', 'board'],
      ...same('id', 'role', 'name', 'secret_hash', 'created_at', 'ends_at', 'revoked_at'),
    ],
  },
  {
    file: 'access.db',
    from: 'grants',
    to: 'larkboard_grants',
    columns: [
      ['person_id', 'person'],
      ['link_id', 'link'],
      ['board_id', 'board'],
    ],
  },
  {
    file: 'access.db',
    from: 'sessions',
    to: 'larkboard_sessions',
    columns: [['person_id', 'person'], ...same('hash', 'created_at')],
  },
];

function same(...names: string[]): (readonly [string, string])[] {
  return names.map((name) => [name, name]);
}

/**
 * Makes the tables in an empty database and puts everything into them.
 * @param folder where the files of the fixture are copied to
 */
export async function fillEarlierTables(url: string, folder: string): Promise<void> {
  await copyFixture(folder);
  const client = new pg.Client(url);
  await client.connect();
  await client.query(readFileSync(TABLES, 'utf8'));
  for (const { file, from, to, columns } of COPIED) {
    const db = openSqlite(join(folder, file));
    const rows = db.prepare(`SELECT ${columns.map(([name]) => name).join(', ')} FROM ${from}`).all();
    db.close();
    if (rows.length === 0) throw new Error(`the fixture holds no ${from}`);
    const [names, places] = [
      columns.map(([, name]) => name).join(', '),
      columns.map((_, i) => `$${i + 1}`).join(', '),
    ];
    for (const row of rows)
      await client.query(
        `INSERT INTO public.${to} (${names}) OVERRIDING SYSTEM VALUE VALUES (${places})`,
        columns.map(([name]) => (row as Record<string, unknown>)[name]),
      );
  }
  await client.query(
    `SELECT setval('public.larkboard_rows_seq_seq', (SELECT max(seq) FROM public.larkboard_rows))`,
  );
  await client.end();
}
