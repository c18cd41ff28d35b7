import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, vi } from 'vitest';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { lockFolder, openSqlite, SqliteCore } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { type OpenedStore, storeContract } from '../store-contract.ts';
import { sqliteStore, temporaryFolder } from '../test-server.ts';

storeContract('in memory', async () => {
  const store = new MemoryStore();
  return { store, reopen: null, dispose: () => store.close() };
});

storeContract('SQLite in its thread', async (): Promise<OpenedStore> => {
  const folder = temporaryFolder();
  const commits: number[] = [];
  let store = sqliteStore(folder.path, (_, rows) => commits.push(rows));
  return {
    store,
    commits,
    reopen: async () => {
      await store.close();
      store = sqliteStore(folder.path);
      return store;
    },
    dispose: async () => {
      await store.close();
      folder.remove();
    },
  };
});

describe('SQLite', () => {
  it('[V23] every connection waits for the disk at each commit: synchronous reads back as FULL', async () => {
    const folder = temporaryFolder();
    const pragma = vi.spyOn(Database.prototype, 'pragma');
    const core = new SqliteCore(join(folder.path, 'larkboard.db'));
    const access = new SqliteAccessStore(join(folder.path, 'access.db'));
    const unlock = lockFolder(folder.path);
    // As the backup opens a file that is in WAL mode already.
    const other = openSqlite(join(folder.path, 'larkboard.db'));
    const connections = new Set(pragma.mock.contexts as Database.Database[]);
    pragma.mockRestore();
    const read = [...connections].map((db) => [
      db.pragma('journal_mode', { simple: true }),
      db.pragma('synchronous', { simple: true }),
    ]);
    expect(read).toEqual([
      ['wal', 2],
      ['wal', 2],
      ['delete', 2],
      ['wal', 2],
    ]);
    other.close();
    unlock();
    core.close();
    await access.close();
    folder.remove();
  });

  it('[V23] a connection that does not keep to FULL is not used', () => {
    const folder = temporaryFolder();
    const pragma = vi.spyOn(Database.prototype, 'pragma');
    pragma.mockImplementation((text) => (text === 'synchronous' ? 1 : undefined));
    expect(() => new SqliteCore(join(folder.path, 'larkboard.db'))).toThrow('synchronous 1 instead of 2');
    expect(() => new SqliteAccessStore(join(folder.path, 'access.db'))).toThrow('synchronous 1 instead of 2');
    const opened = pragma.mock.contexts as Database.Database[];
    pragma.mockRestore();
    expect(opened.map((db) => db.open)).toEqual([false, false, false, false]);
    folder.remove();
  });

  it('[V79] a file made before there were records takes them', async () => {
    const folder = temporaryFolder();
    const first = sqliteStore(folder.path);
    await first.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    await first.close();
    const db = new Database(join(folder.path, 'larkboard.db'));
    db.exec(`DROP TABLE records; ALTER TABLE formers DROP COLUMN drawn; ALTER TABLE formers DROP COLUMN version;
      DROP TABLE past; ALTER TABLE rows DROP COLUMN written_by; PRAGMA user_version = 1`);
    db.close();
    const store = sqliteStore(folder.path);
    const record = { board: 'a', kind: 'version', id: 'v', about: '{}', bytes: Uint8Array.of(1) };
    expect(await store.records('a', null)).toEqual([]);
    expect(await store.putRecord(record)).toBe(true);
    expect((await store.check()).records).toBe(1);
    await store.close();
    folder.remove();
  });

  it('[V66] [V421] a row of the past that is not as it was written is named by the check', async () => {
    const folder = temporaryFolder();
    const design = { board: 'a', part: 'design' } as const;
    const first = sqliteStore(folder.path);
    await first.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, [
      { part: 'design', bytes: new Uint8Array([1]) },
    ]);
    const seqs = (await first.load(design)).map(({ seq }) => seq);
    await first.compact(design, seqs, new Uint8Array([2]), 1);
    expect((await first.check()).faults).toEqual([]);
    await first.close();
    const db = new Database(join(folder.path, 'larkboard.db'));
    db.exec(`UPDATE past SET bytes = x'07'`);
    db.close();
    const store = sqliteStore(folder.path);
    expect((await store.check()).faults).toEqual([
      `past row ${seqs[0]} of a/design is not as it was written`,
    ]);
    await store.close();
    folder.remove();
  });

  it('[V77] a record of no bytes is checked too; one that carries 0, as releases on Node 20 wrote it, is read', async () => {
    const folder = temporaryFolder();
    const first = sqliteStore(folder.path);
    await first.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    for (const id of ['of', 'then'])
      await first.putRecord({
        board: 'a',
        kind: 'branch',
        id,
        about: '{"of":"b"}',
        bytes: new Uint8Array(0),
      });
    expect((await first.check()).faults).toEqual([]);
    await first.close();
    const db = new Database(join(folder.path, 'larkboard.db'));
    db.exec(
      `UPDATE records SET about = '{"of":"c"}' WHERE id = 'of'; UPDATE records SET check_value = 0 WHERE id = 'then'`,
    );
    db.close();
    const store = sqliteStore(folder.path);
    await expect(store.record('a', 'branch', 'of')).rejects.toMatchObject({ kind: 'damaged' });
    expect((await store.record('a', 'branch', 'then'))?.about).toBe('{"of":"b"}');
    expect((await store.check()).faults).toEqual(['record branch/of of a is not as it was written']);
    await store.close();
    folder.remove();
  });
});
