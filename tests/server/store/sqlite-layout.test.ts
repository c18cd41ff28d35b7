/** Numbers of layouts in SQLite files, and the steps between them. */
import { createHash } from 'node:crypto';
import { copyFileSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { BOARDS_STEPS, openLaidOut, SqliteCore } from '../../../server/store/index.ts';
import { FIXTURE, FIXTURE_DATA } from '../../support/store-fixture.ts';
import { temporaryFolder } from '../test-server.ts';

let folder: ReturnType<typeof temporaryFolder>;
let file: string;

beforeEach(() => {
  folder = temporaryFolder();
  file = join(folder.path, 'x.db');
});
afterEach(() => folder.remove());

/** Layouts of our own invention. */
const STEPS = [
  'CREATE TABLE IF NOT EXISTS jars (id TEXT PRIMARY KEY)',
  `ALTER TABLE jars ADD COLUMN lid TEXT NOT NULL DEFAULT 'cork'`,
  `CREATE TABLE shelves (jar TEXT); INSERT INTO shelves SELECT id FROM jars`,
];

/** The number of a file, and all that stands in it. */
function contentOf(path: string): unknown {
  const db = new Database(path, { readonly: true });
  const tables = db.prepare(`SELECT name, sql FROM sqlite_master ORDER BY name`).all() as { name: string }[];
  const rows = tables
    .filter(({ name }) => !name.startsWith('sqlite_') && !name.includes('_of_'))
    .map(({ name }) => db.prepare(`SELECT * FROM "${name}"`).all());
  const content = [db.pragma('user_version', { simple: true }), tables, rows];
  db.close();
  return content;
}

/** What stands in each table of a file, in an order of its own: a column more may have the rows read in another. */
function rowsByTable([, tables, rows]: readonly [number, readonly { name: string }[], object[][]]): Map<
  string,
  object[]
> {
  const shown = tables.filter(({ name }) => !name.startsWith('sqlite_') && !name.includes('_of_'));
  const inOrder = (all: object[]): object[] =>
    all.toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  return new Map(shown.map(({ name }, i) => [name, inOrder(rows[i]!)]));
}

const numberOf = (path: string): unknown => (contentOf(path) as unknown[])[0];
const hashOf = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

function makeFirst(): void {
  const db = openLaidOut(file, STEPS.slice(0, 1));
  db.exec(`INSERT INTO jars VALUES ('plum'), ('quince')`);
  db.close();
}

describe('the layout of an SQLite file', () => {
  it('[V310] goes step by step from whatever a release left, and a new file the same way', () => {
    makeFirst();
    expect(numberOf(file)).toBe(1);
    openLaidOut(file, STEPS.slice(0, 2)).close();
    expect(numberOf(file)).toBe(2);
    openLaidOut(file, STEPS).close();
    expect(contentOf(file)).toEqual([
      3,
      expect.any(Array),
      [
        [
          { id: 'plum', lid: 'cork' },
          { id: 'quince', lid: 'cork' },
        ],
        [{ jar: 'plum' }, { jar: 'quince' }],
      ],
    ]);
    const fresh = join(folder.path, 'fresh.db');
    openLaidOut(fresh, STEPS).close();
    expect((contentOf(fresh) as unknown[]).slice(0, 2)).toEqual((contentOf(file) as unknown[]).slice(0, 2));
    // Once there, nothing is done again.
    openLaidOut(file, STEPS).close();
    expect(numberOf(file)).toBe(3);
  });

  it('[V310] stays what it was when a step fails', () => {
    makeFirst();
    const before = contentOf(file);
    for (const bad of [
      'INSERT INTO nowhere VALUES (1)',
      `DELETE FROM jars; INSERT INTO jars VALUES (NULL, 1, 2)`,
    ])
      expect(() => openLaidOut(file, [...STEPS, bad])).toThrow();
    expect(contentOf(file)).toEqual(before);
    openLaidOut(file, STEPS).close();
    expect(numberOf(file)).toBe(3);
  });

  it('[V310] is looked at under the lock: who has the file keeps others from taking steps', () => {
    makeFirst();
    const other = new Database(file);
    other.exec('BEGIN IMMEDIATE');
    expect(() => openLaidOut(file, STEPS, { busyMs: 20 })).toThrow(/locked/);
    other.exec('ROLLBACK');
    other.close();
    expect(numberOf(file)).toBe(1);
  });

  it('[V460] [V310] of boards loses the class of each board, and nothing else', () => {
    const before = openLaidOut(file, BOARDS_STEPS.slice(0, 3));
    before.exec(`INSERT INTO boards VALUES ('kites', 'board', 1)`);
    for (const part of ['design', 'talk', 'class']) {
      before.exec(
        `INSERT INTO rows (board, part, check_value, bytes) VALUES ('kites', '${part}', 0, x'0102')`,
      );
      before.exec(
        `INSERT INTO formers (board, part, generation, check_value, bytes) VALUES ('kites', '${part}', 1, 0, x'03')`,
      );
      before.exec(
        `INSERT INTO past VALUES ((SELECT coalesce(max(seq), 0) + 1 FROM past), 'kites', '${part}', 1, 0, 'a', x'04')`,
      );
    }
    before.close();
    new SqliteCore(file).close();
    const after = new Database(file, { readonly: true });
    for (const table of ['rows', 'formers', 'past'])
      expect(after.prepare(`SELECT part FROM ${table} ORDER BY part`).pluck().all(), table).toEqual([
        'design',
        'talk',
      ]);
    expect(after.prepare('SELECT id FROM boards').pluck().all()).toEqual(['kites']);
    after.close();
  });

  it.each([
    ['boards', (path: string) => new SqliteCore(path)],
    ['links', (path: string) => new SqliteAccessStore(path)],
  ])('[V310] of a later release is refused, and the file not touched: %s', async (_, open) => {
    await open(file).close();
    const db = new Database(file);
    db.pragma('journal_mode = DELETE');
    db.pragma('user_version = 99');
    db.close();
    const before = hashOf(file);
    expect(() => open(file)).toThrow(/layout 99; this server reads up to layout \d+/);
    expect(hashOf(file)).toBe(before);
    expect(readdirSync(folder.path)).toEqual(['x.db']);
  });

  it('[V230] [V310] [V351] [V420] of the boards and links of November 2026 is brought over: ended generations have no name, rows are of nobody, and there is no past', async () => {
    const paths = FIXTURE_DATA.map((name) => {
      copyFileSync(join(FIXTURE, name), join(folder.path, name));
      return join(folder.path, name);
    });
    const before = paths.map((path) => contentOf(path) as [number, { name: string }[], object[][]]);
    expect(before.map(([number]) => number)).toEqual([1, 0]);
    new SqliteCore(paths[0]!).close();
    await new SqliteAccessStore(paths[1]!).close();
    const [boards, links] = before as [(typeof before)[number], (typeof before)[number]];
    const linksNow = contentOf(paths[1]!) as (typeof before)[number];
    expect(linksNow[0]).toBe(2);
    const [linksBefore, linksAfter] = [rowsByTable(links), rowsByTable(linksNow)];
    // Nobody was let in by a code, and whoever was let in may do what the link says.
    expect(linksAfter.get('hand_overs')).toEqual([]);
    linksAfter.delete('hand_overs');
    const grants = linksBefore.get('grants')!.map((row) => ({ ...row, looks: 0 }));
    expect(grants.length).toBeGreaterThan(0);
    expect(linksAfter).toEqual(linksBefore.set('grants', grants));
    const [number, tables, rows] = contentOf(paths[0]!) as (typeof before)[number];
    expect(number).toBe(4);
    const isNew = ({ name }: { name: string }): boolean => name === 'past' || name === 'past_of_document';
    const names = tables.filter((table) => !isNew(table)).map(({ name }) => name);
    expect(names).toEqual(boards[1].map(({ name }) => name));
    expect(names).toHaveLength(tables.length - 2);
    const shown = tables.filter(({ name }) => !name.startsWith('sqlite_') && !name.includes('_of_'));
    const past = shown.findIndex(isNew);
    expect(rows[past]).toEqual([]);
    for (const field of ['generation', 'seq'])
      expect(boards[2].filter((table) => table.some((row) => field in row))).toHaveLength(1);
    const brought = (row: object): object => ({
      ...row,
      ...('generation' in row && { drawn: '', version: 0 }),
      ...('seq' in row && { written_by: '' }),
    });
    expect(rows.toSpliced(past, 1)).toEqual(boards[2].map((table) => table.map(brought)));
  });
});
