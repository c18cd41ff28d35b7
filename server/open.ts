/** Opens the store and the relay that the settings name. */
import { join } from 'node:path';
import { type AccessStore, AccessThread, PgAccessStore } from './access/index.ts';
import type { Clock } from './clock.ts';
import type { Log } from './log.ts';
import type { Metrics } from './metrics.ts';
import { LocalRelay, RedisRelay, type Relay } from './relay/index.ts';
import type { Settings } from './settings.ts';
import { PostgresStore, SqliteStore, type Store } from './store/index.ts';

/** Name of the SQLite file in the data folder. */
export const DATABASE_FILE = 'larkboard.db';

/** Name of the SQLite file of links and persons, beside it. */
export const ACCESS_FILE = 'access.db';

/** Opens what is kept of links, where the boards are. Rejects when it cannot be opened. */
export async function openAccessStore(settings: Settings, log: Log): Promise<AccessStore> {
  const { databaseUrl, dataDir, maxStoreBytes } = settings;
  if (databaseUrl === null)
    return AccessThread.open({
      file: join(dataDir, ACCESS_FILE),
      workerFile: new URL('./access/access-worker.js', import.meta.url),
      ...(maxStoreBytes === null ? {} : { maxBytes: maxStoreBytes }),
    });
  return PgAccessStore.open(databaseUrl, (error) =>
    log.warn('database-connection-lost', { message: error.message }),
  );
}

/** Opens the store and asks it once, so that a bad setting shows at start. Rejects as the store does. */
export async function openStore(
  settings: Settings,
  metrics: Metrics,
  log: Log,
  clock: Clock,
): Promise<Store> {
  const { databaseUrl, gatherMs, maxStoreBytes } = settings;
  const onCommit = (ms: number, rows: number): void => {
    metrics.observe('larkboard_commit_ms', 'Time of one commit, the wait for the disk included.', ms);
    metrics.count('larkboard_committed_rows_total', 'Rows committed.', {}, rows);
  };
  const store =
    databaseUrl === null
      ? new SqliteStore({
          file: join(settings.dataDir, DATABASE_FILE),
          workerFile: new URL('./store/sqlite-worker.js', import.meta.url),
          clock,
          gatherMs,
          ...(maxStoreBytes === null ? {} : { maxBytes: maxStoreBytes }),
          onCommit,
        })
      : new PostgresStore({
          url: databaseUrl,
          clock,
          gatherMs,
          onCommit,
          onIdleError: (error) => log.warn('database-connection-lost', { message: error.message }),
        });
  await store.ping();
  return store;
}

/** Rejects when Redis is named and does not answer. */
export async function openRelay(settings: Settings, log: Log, clock: Clock): Promise<Relay> {
  if (settings.redisUrl === null) return new LocalRelay();
  return RedisRelay.open({
    url: settings.redisUrl,
    clock,
    onState: (isUp, reason) => (isUp ? log.info('relay-up') : log.warn('relay-down', { reason })),
  });
}
