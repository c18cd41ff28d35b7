/** Opens the store and the relay that the settings name. */
import { join } from 'node:path';
import type { Log } from './log.ts';
import type { Metrics } from './metrics.ts';
import { LocalRelay, type Relay } from './relay/index.ts';
import type { Settings } from './settings.ts';
import { SqliteStore, type Store } from './store/index.ts';

/** Name of the SQLite file in the data folder. */
export const DATABASE_FILE = 'larkboard.db';

/** Opens the store and asks it once, so that a bad setting shows at start. Rejects as the store does. */
export async function openStore(settings: Settings, metrics: Metrics): Promise<Store> {
  const store = new SqliteStore({
    file: join(settings.dataDir, DATABASE_FILE),
    workerFile: new URL('./store/sqlite-worker.js', import.meta.url),
    gatherMs: settings.gatherMs,
    ...(settings.maxStoreBytes === null ? {} : { maxBytes: settings.maxStoreBytes }),
    onCommit: (ms, rows) => {
      metrics.observe('larkboard_commit_ms', 'Time of one commit, the wait for the disk included.', ms);
      metrics.count('larkboard_committed_rows_total', 'Rows committed.', {}, rows);
    },
  });
  await store.ping();
  return store;
}

export async function openRelay(_settings: Settings, _log: Log): Promise<Relay> {
  return new LocalRelay();
}
