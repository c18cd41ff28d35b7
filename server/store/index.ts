export { lockFolder } from './folder-lock.ts';
export { MemoryStore } from './memory-store.ts';
export { openSqlite, type SqliteFile } from './open-sqlite.ts';
export { openPgPool, pgStoreError } from './postgres-connect.ts';
export { bringPgLayout, type PgLayout } from './postgres-layout.ts';
export { type PgStep, PostgresStore, type PostgresStoreOptions } from './postgres-store.ts';
export { SqliteCore, type SqliteOptions, type StoreStep } from './sqlite-core.ts';
export { openLaidOut, type SqliteOpenOptions, type SqliteSteps } from './sqlite-layout.ts';
export { SqliteStore, type SqliteStoreOptions } from './sqlite-store.ts';
export {
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type Former,
  type KeptRecord,
  type RecordEntry,
  type Renewal,
  type RowOptions,
  type Store,
  type StoredRow,
  StoreError,
  type StoreFailure,
} from './store.ts';
