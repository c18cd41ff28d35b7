import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { accessStoreContract } from '../access-store-contract.ts';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

accessStoreContract('memory', () => new MemoryAccessStore());
accessStoreContract('SQLite', () => {
  const folder = mkdtempSync(join(tmpdir(), 'access-store-'));
  folders.push(folder);
  return new SqliteAccessStore(join(folder, 'access.db'));
});
