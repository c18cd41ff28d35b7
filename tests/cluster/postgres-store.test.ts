import pg from 'pg';
import { describe, expect, it } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { PostgresStore } from '../../server/store/index.ts';
import { storeContract } from '../server/store-contract.ts';
import { until } from '../support/until.ts';
import { postgresOfFile } from './real-services.ts';

const postgres = postgresOfFile('t');

const open = (url: string, gatherMs?: number): PostgresStore =>
  new PostgresStore({ url, clock: machineClock, ...(gatherMs !== undefined && { gatherMs }) });

storeContract('PostgreSQL', async () => {
  const url = await postgres.freshUrl();
  const commits: number[] = [];
  const onCommit = (_: number, rows: number): unknown => commits.push(rows);
  let store = new PostgresStore({ url, clock: machineClock, gatherMs: 0, onCommit });
  return {
    store,
    commits,
    reopen: async () => {
      await store.close();
      store = open(url, 0);
      return store;
    },
    dispose: () => store.close(),
  };
});

describe('PostgreSQL', () => {
  it('[V90] nodes that start at the same time make the tables once', async () => {
    const url = await postgres.freshUrl();
    const stores = Array.from({ length: 6 }, () => open(url));
    await Promise.all(stores.map((store) => store.ping()));
    await Promise.all(stores.map((store) => store.close()));
  });

  it('[V91] two nodes compact one document at once: nothing of either is lost', async () => {
    const url = await postgres.freshUrl();
    const [a, b] = [open(url, 0), open(url, 0)];
    const design = { board: 'a', part: 'design' } as const;
    await a.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, [{ part: 'design', bytes: Uint8Array.of(1) }]);
    const seqs = (await a.load(design)).map((row) => row.seq);
    const late = await b.append(design, Uint8Array.of(2));
    await Promise.all([
      a.compact(design, seqs, Uint8Array.of(1)),
      b.compact(design, [...seqs, late], Uint8Array.of(1, 2)),
      a.append(design, Uint8Array.of(3)),
    ]);
    const held = new Set((await a.load(design)).flatMap((row) => [...row.bytes]));
    expect([...held].sort()).toEqual([1, 2, 3]);
    await Promise.all([a.close(), b.close()]);
  });

  it('[V77] a row and a record that are not as they were written are refused, and a check names them and what has no board', async () => {
    const url = await postgres.freshUrl();
    const store = open(url, 0);
    const design = { board: 'a', part: 'design' } as const;
    await store.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    const seq = await store.append(design, Uint8Array.of(1));
    const ids = Array.from({ length: 120 }, (_, index) => `v${String(index).padStart(3, '0')}`);
    for (const id of ids)
      await store.putRecord({ board: 'a', kind: 'version', id, about: '{}', bytes: Uint8Array.of(2) });
    expect(await store.check()).toMatchObject({ records: 120, faults: [] });
    const client = new pg.Client(url);
    await client.connect();
    await client.query("UPDATE larkboard_rows SET row_bytes = '\\x03'");
    // One on each page of the check.
    await client.query("UPDATE larkboard_records SET bytes = '\\x03' WHERE id IN ('v000', 'v119')");
    await client.query(
      "INSERT INTO larkboard_records SELECT 'gone', kind, id, check_value, about, bytes FROM larkboard_records WHERE id = 'v001'",
    );
    await client.end();
    await expect(store.load(design)).rejects.toMatchObject({ kind: 'damaged' });
    await expect(store.record('a', 'version', 'v119')).rejects.toMatchObject({ kind: 'damaged' });
    expect((await store.record('a', 'version', 'v118'))?.bytes).toEqual(Buffer.of(2));
    const { records, faults } = await store.check();
    expect(records).toBe(121);
    expect([...faults].sort()).toEqual([
      'record version/v000 of a is not as it was written',
      'record version/v119 of a is not as it was written',
      'records of board gone, which is not there',
      `row ${seq} of a/design is not as it was written`,
    ]);
    await store.close();
  });

  it('[V92] restarted under the store: fails meanwhile, goes on by itself, keeps what it acknowledged', async () => {
    const url = await postgres.freshUrl();
    const store = open(url, 0);
    const design = { board: 'a', part: 'design' } as const;
    await store.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    await store.append(design, Uint8Array.of(1));
    await postgres.service.stop('kill');
    await expect(store.append(design, Uint8Array.of(2))).rejects.toMatchObject({ kind: 'unavailable' });
    await postgres.service.start();
    let failure: unknown;
    await until(
      () => `the store takes a row again: ${failure}`,
      () =>
        store.append(design, Uint8Array.of(3)).then(
          () => true,
          (cause: unknown) => {
            failure = cause;
            return false;
          },
        ),
    );
    expect((await store.load(design)).map((row) => [...row.bytes])).toEqual([[1], [3]]);
    await store.close();
  });
});
