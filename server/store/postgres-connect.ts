/** Connections to PostgreSQL, and what its errors mean. Boards and links share both. */
import pg from 'pg';
import { StoreError, type StoreFailure } from './store.ts';

export interface PgConnectOptions {
  readonly url: string;
  /** Connections at most. */
  readonly max: number;
  /** After so long between two statements of a transaction PostgreSQL ends it, and its locks with it; default 10,000 ms. */
  readonly idleInTransactionMs?: number;
  /** Hears of lost connections. Whoever waits for an answer on one is told besides. */
  readonly onLost: (error: Error) => void;
}

/**
 * What every connection begins with. Isolation and synchronous commit are set here because a database, or the role, may
 * have other defaults: what is written in this folder rests on each statement seeing what was committed before it began,
 * and on a commit being on the disk.
 */
const SESSION = '-c synchronous_commit=on -c default_transaction_isolation=read\\ committed';

/** Begins a transaction, whatever a pooler in between made of the settings. */
export const BEGIN = 'BEGIN ISOLATION LEVEL READ COMMITTED';

/** A pool. Connects when first used. */
export function openPgPool({ url, max, idleInTransactionMs = 10_000, onLost }: PgConnectOptions): pg.Pool {
  const pool = new pg.Pool({
    connectionString: url,
    max,
    connectionTimeoutMillis: 3_000,
    statement_timeout: 8_000,
    query_timeout: 10_000,
    idle_in_transaction_session_timeout: idleInTransactionMs,
    keepAlive: true,
    options: SESSION,
  });
  // The pool listens to those that are idle. One that is lost between two statements of a transaction would end the process.
  pool.on('connect', (client) => client.on('error', onLost));
  pool.on('error', () => {});
  return pool;
}

/** A connection of its own for what may take minutes: nothing is given up on for being slow. */
export function pgClientForLayout(url: string): pg.Client {
  return new pg.Client({
    connectionString: url,
    connectionTimeoutMillis: 3_000,
    keepAlive: true,
    options: SESSION,
  });
}

/** Codes: postgresql.org/docs/current/errcodes-appendix.html. */
function failureOf(code: string): StoreFailure {
  if (code === '53100' || code === '53200') return 'full';
  if (code === '25006') return 'read-only';
  if (code === '55P03' || code === '40P01' || code === '40001') return 'locked';
  if (code === 'XX001' || code === 'XX002') return 'damaged';
  return 'unavailable';
}

/** What an error of PostgreSQL, or of the way there, means to who asked. */
export function pgStoreError(cause: unknown): StoreError {
  if (cause instanceof StoreError) return cause;
  const code = String((cause as { code?: unknown })?.code ?? '');
  const message = cause instanceof Error ? cause.message : String(cause);
  return new StoreError(failureOf(code), code === '' ? message : `${code}: ${message}`, { cause });
}
