import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../server/store/index.ts';
import { type OpenedStore, storeContract } from './store-contract.ts';
import { sqliteStore, temporaryFolder } from './test-server.ts';

storeContract('in memory', async () => {
  const store = new MemoryStore();
  return { store, reopen: null, dispose: () => store.close() };
});

storeContract('SQLite in its thread', async (): Promise<OpenedStore> => {
  const folder = temporaryFolder();
  let store = sqliteStore(folder.path);
  return {
    store,
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
  it('[V79] a file made before there were records takes them', async () => {
    const folder = temporaryFolder();
    const first = sqliteStore(folder.path);
    await first.addBoard({ id: 'a', kind: 'board', createdAt: 1 }, []);
    await first.close();
    const db = new Database(join(folder.path, 'larkboard.db'));
    db.exec('DROP TABLE records');
    db.close();
    const store = sqliteStore(folder.path);
    const record = { board: 'a', kind: 'version', id: 'v', about: '{}', bytes: Uint8Array.of(1) };
    expect(await store.records('a', null)).toEqual([]);
    expect(await store.putRecord(record)).toBe(true);
    expect((await store.check()).records).toBe(1);
    await store.close();
    folder.remove();
  });
});
