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
