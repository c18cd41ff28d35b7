export { copyAtOneMoment } from './copy-files.ts';
export { lockFolder, UNFINISHED_RESTORE } from './folder-lock.ts';
export { openSqlite, type SqliteFile, sqliteCode } from './open-sqlite.ts';
export { openPgPool, pgStoreError } from './postgres-connect.ts';
export { bringPgLayout, type PgLayout } from './postgres-layout.ts';
export { PostgresStore } from './postgres-store.ts';
export { BOARDS_STEPS, SqliteCore, toStoreError } from './sqlite-core.ts';
export { isReadableInPlace, openLaidOut, type SqliteOpenOptions, type SqliteSteps } from './sqlite-layout.ts';
export { SqliteStore } from './sqlite-store.ts';
export {
  BOARD_KINDS,
  type BoardRecord,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  keepsPast,
  type ListedRecord,
  partsOf,
  type Renewal,
  type Store,
  type StoredRow,
  StoreError,
  type WrittenRow,
} from './store.ts';
export { syncToDisk } from './sync-files.ts';
export { type ThreadAnswer, ThreadCalls, type ThreadQuestion } from './thread-calls.ts';
