/** Databases of earlier releases, and of later ones. See tests/fixtures/postgres-2026-11/README.md. */
import pg from 'pg';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { PgAccessStore } from '../../server/access/index.ts';
import { hashSecret } from '../../server/access/secrets.ts';
import { machineClock } from '../../server/index.ts';
import { PostgresStore } from '../../server/store/index.ts';
import type { PgStep } from '../../server/store/postgres-store.ts';
import { temporaryFolder } from '../server/test-server.ts';
import { fillEarlierTables } from '../support/postgres-fixture.ts';
import { readExpected } from '../support/store-fixture.ts';
import { readStoreWhole } from '../support/store-whole.ts';
import { postgresOfFile } from './real-services.ts';

const expected = readExpected();
const postgres = postgresOfFile('earlier');
let url: string;
let client: pg.Client;
const folder = temporaryFolder();

afterAll(() => folder.remove());
beforeEach(async () => {
  url = await postgres.freshUrl();
  client = new pg.Client(url);
  await client.connect();
});
afterEach(async () => {
  await client.end();
});

const open = (onStep?: (step: PgStep) => unknown, at = url): PostgresStore =>
  new PostgresStore({ url: at, clock: machineClock, gatherMs: 0, ...(onStep && { onStep }) });

/** The tables with their columns, and what stands in them. */
async function dump(): Promise<unknown> {
  const columns = await client.query(
    `SELECT table_name, column_name, data_type FROM information_schema.columns WHERE table_schema = 'public' ORDER BY 1, 2`,
  );
  const tables = [...new Set(columns.rows.map((row: { table_name: string }) => row.table_name))];
  const contents: unknown[] = [];
  for (const table of tables)
    contents.push(
      (await client.query(`SELECT md5(string_agg(t::text, '|' ORDER BY t::text)) FROM public.${table} t`))
        .rows,
    );
  return [columns.rows, contents];
}

/** The steps that a new database takes. */
async function stepsOfAll(): Promise<readonly PgStep[]> {
  const steps: PgStep[] = [];
  const store = open((step) => steps.push(step), await postgres.freshUrl());
  await store.ping();
  await store.close();
  return steps;
}

async function layouts(): Promise<unknown> {
  return (await client.query('SELECT name, layout FROM larkboard_layouts ORDER BY name')).rows;
}

describe('the tables of an earlier release', () => {
  it('[V230] [V310] are opened with every board, record, ended generation, link and session, and get a number', async () => {
    await fillEarlierTables(url, folder.path);
    const store = open();
    expect(await readStoreWhole(store)).toEqual(expected.store);
    const access = await PgAccessStore.open(url, () => {});
    for (const { cookie, personId, boards } of Object.values(expected.people)) {
      expect(await access.personBySession(hashSecret(cookie.split('=')[1]!), 0)).toBe(personId);
      const held = await access.boardsOf(personId, Date.parse(expected.madeAt));
      expect(held).toEqual(boards.map(({ id }) => id).sort());
    }
    expect(await layouts()).toEqual([
      { name: 'access', layout: expect.any(Number) },
      { name: 'boards', layout: expect.any(Number) },
    ]);
    await Promise.all([store.close(), access.close()]);
  });

  it('[V460] lose the class of each board, and are whole', async () => {
    await fillEarlierTables(url, folder.path);
    await client.query('SET search_path TO public');
    const { id } = expected.boards.dock;
    await client.query(
      `INSERT INTO larkboard_rows (board, part, check_value, bytes) VALUES ($1, 'class', 0, 'x'::bytea)`,
      [id],
    );
    const store = open();
    expect(await readStoreWhole(store)).toEqual(expected.store);
    for (const table of ['rows', 'documents'])
      expect(
        (await client.query(`SELECT DISTINCT part FROM larkboard_${table} WHERE part = 'class'`)).rows,
      ).toEqual([]);
    await store.addBoard({ id: 'evening', kind: 'lesson', createdAt: 1 }, []);
    await store.append({ board: 'evening', part: 'lesson' }, Uint8Array.of(0, 0));
    await expect(store.append({ board: id, part: 'lesson' }, Uint8Array.of(0, 0))).rejects.toMatchObject({
      kind: 'unknown-board',
    });
    expect((await store.check()).faults).toEqual([]);
    await store.close();
  });

  it('[V310] are left as they were when the way to the next layout breaks off anywhere', async () => {
    await fillEarlierTables(url, folder.path);
    const before = await dump();
    const steps = await stepsOfAll();
    expect(steps.length).toBeGreaterThan(1);
    for (const step of steps) {
      const broken = open((now) => {
        if (now === step) throw new Error(`fault at ${now}`);
      });
      await expect(broken.ping()).rejects.toThrow(`fault at ${step}`);
      await broken.close();
      expect(await dump()).toEqual(before);
    }
    const whole = open();
    expect(await readStoreWhole(whole)).toEqual(expected.store);
    await whole.close();
  });

  it('[V90] [V310] are brought over once by nodes that start together', async () => {
    await fillEarlierTables(url, folder.path);
    const steps: PgStep[] = [];
    const stores = Array.from({ length: 5 }, () => open((step) => steps.push(step)));
    await Promise.all(stores.map((store) => store.ping()));
    const brought = steps.filter((step) => step === 'layout:1');
    expect(brought).toHaveLength(1);
    expect(await readStoreWhole(stores[4]!)).toEqual(expected.store);
    await Promise.all(stores.map((store) => store.close()));
  });
});

describe('a server of an earlier release', () => {
  /** Statements of November 2026, which knew of no number. */
  const EARLIER = [
    `SELECT seq, check_value, bytes FROM larkboard_rows WHERE board = 'a' AND part = 'design' ORDER BY seq`,
    `INSERT INTO larkboard_rows (seq, board, part, check_value, bytes) OVERRIDING SYSTEM VALUE
     SELECT nextval(pg_get_serial_sequence('larkboard_rows', 'seq')), 'a', 'design', 0, 'x'::bytea`,
    `INSERT INTO larkboard_formers (board, part, generation, check_value, bytes) VALUES ('a', 'design', 1, 0, 'x'::bytea)
     ON CONFLICT (board, part, generation) DO UPDATE SET bytes = excluded.bytes`,
  ];

  it('[V311] that still runs on the database reads and stores no row and no former state in it from then on', async () => {
    await fillEarlierTables(url, folder.path);
    // The dump of the tables leaves the connection without a path.
    await client.query('SET search_path TO public');
    for (const statement of EARLIER) await client.query(statement);
    for (const table of ['rows', 'formers'])
      await client.query(`DELETE FROM larkboard_${table} WHERE board = 'a'`);
    const store = open();
    await store.ping();
    for (const statement of EARLIER)
      await expect(client.query(statement)).rejects.toMatchObject({ code: '42703' });
    await store.close();
  });

  it('[V106] [V311] left generations that have ended: rows of those are refused, and of the present one taken', async () => {
    await fillEarlierTables(url, folder.path);
    const store = open();
    const dock = { board: expected.boards.dock.id, part: 'design' } as const;
    const ended = Math.max(
      ...expected.store.formers
        .filter(({ board }) => board === dock.board)
        .map(({ generation }) => generation),
    );
    expect(ended).toBe(2);
    const late = Array.from({ length: ended }, (_, i) => i + 1);
    for (const generation of late)
      await expect(store.append(dock, Uint8Array.of(0, 0), { generation })).rejects.toMatchObject({
        kind: 'outdated',
      });
    await store.append(dock, Uint8Array.of(0, 0), { generation: ended + 1 });
    await store.append({ ...dock, part: 'talk' }, Uint8Array.of(0, 0), { generation: 1 });
    await store.close();
  });
});

describe('the tables of a later release', () => {
  it('[V310] are refused, boards and links, and left as they are', async () => {
    const [first, links] = [open(), await PgAccessStore.open(url, () => {})];
    await first.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    await Promise.all([first.close(), links.close()]);
    await client.query('UPDATE larkboard_layouts SET layout = layout + 1');
    const before = await dump();
    const store = open();
    const newer = /layout \d+; this server reads up to layout \d+/;
    await expect(store.ping()).rejects.toThrow(newer);
    await expect(store.append({ board: 'a', part: 'design' }, Uint8Array.of(1))).rejects.toThrow(newer);
    await expect(PgAccessStore.open(url, () => {})).rejects.toThrow(newer);
    await store.close();
    expect(await dump()).toEqual(before);
  });
});
