import pg from 'pg';
import { expect, it } from 'vitest';
import { PgAccessStore } from '../../server/access/index.ts';
import { StoreError } from '../../server/store/index.ts';
import { accessStoreContract } from '../server/access-store-contract.ts';
import { postgresOfFile } from './real-services.ts';

const postgres = postgresOfFile('access');

const open = async (url: string): Promise<PgAccessStore> => PgAccessStore.open(url, () => {});

accessStoreContract('PostgreSQL', async () => open(await postgres.freshUrl()));

it('[V-A1] nodes that start together make the tables once, and see what the other wrote', async () => {
  const url = await postgres.freshUrl();
  const [a, b] = await Promise.all([open(url), open(url)]);
  await a.addSession('hash', 'person', 1);
  expect(await b.personBySession('hash', 0)).toBe('person');
  await expect(b.addSession('hash', 'another', 2)).rejects.toThrow(StoreError);
  expect(await a.personBySession('hash', 0)).toBe('person');
  await Promise.all([a.close(), b.close()]);
});

it('[V321] a disk of the database that is full is said to be, as for the boards', async () => {
  const url = await postgres.freshUrl();
  const store = await open(url);
  const client = new pg.Client(url);
  await client.connect();
  // What PostgreSQL says when it cannot make a file longer.
  await client.query(`CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'could not extend file' USING ERRCODE = 'disk_full'; END $$;
    CREATE TRIGGER full_disk BEFORE INSERT ON larkboard_sessions EXECUTE FUNCTION full_disk()`);
  await expect(store.addSession('hash', 'person', 1)).rejects.toMatchObject({ kind: 'full' });
  await client.end();
  await store.close();
});

it('[V530] of two nodes that are shown one code at once one lets in', async () => {
  const url = await postgres.freshUrl();
  const nodes = await Promise.all([open(url), open(url)]);
  const rounds = Array.from({ length: 20 }, (_, i) => `code ${i}`);
  for (const codeHash of rounds) {
    const code = {
      codeHash,
      personId: 'giver',
      boardId: 'kites',
      linkId: null,
      linkBoardId: 'kites',
      endsAt: 100,
      carried: codeHash,
    };
    await nodes[0]!.addHandOver(code, 1);
    const taken = await Promise.all(
      nodes.flatMap((node) => ['p', 'q'].map((person) => node.takeHandOver('kites', codeHash, person, 2))),
    );
    expect(taken.filter((one) => one !== null)).toEqual([codeHash]);
  }
  await Promise.all(nodes.map((node) => node.close()));
});
