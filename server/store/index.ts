export { copyAtOneMoment } from './copy-files.ts';
export { lockFolder, UNFINISHED_RESTORE } from './folder-lock.ts';
export { MemoryStore } from './memory-store.ts';
export { openSqlite, type SqliteFile, sqliteCode } from './open-sqlite.ts';
export { openPgPool, pgStoreError } from './postgres-connect.ts';
export { bringPgLayout, type PgLayout } from './postgres-layout.ts';
export { type PgStep, PostgresStore, type PostgresStoreOptions } from './postgres-store.ts';
export { BOARDS_STEPS, SqliteCore, type SqliteOptions, type StoreStep, toStoreError } from './sqlite-core.ts';
export { isReadableInPlace, openLaidOut, type SqliteOpenOptions, type SqliteSteps } from './sqlite-layout.ts';
export { SqliteStore, type SqliteStoreOptions } from './sqlite-store.ts';
export {
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  type LastState,
  type ListedRecord,
  type Renewal,
  type RowOptions,
  type Store,
  type StoredRow,
  StoreError,
  type StoreFailure,
} from './store.ts';
export { syncToDisk } from './sync-files.ts';
export { type ThreadAnswer, ThreadCalls, type ThreadQuestion } from './thread-calls.ts';
