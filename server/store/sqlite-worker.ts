/**
 * The thread that owns the SQLite file, so that a wait for the disk never stops the event loop. Started by SqliteStore
 * with `{ file, options }`. The file is opened at the first request and again at the next one after a failure to open.
 */
import { parentPort, workerData } from 'node:worker_threads';
import { machineClock } from '../clock.ts';
import { SqliteCore, type SqliteOptions, toStoreError } from './sqlite-core.ts';
import type {
  Answered,
  AskedName,
  AskedStore,
  Failure,
  FromWorker,
  StoreCall,
  ToWorker,
} from './sqlite-messages.ts';

const port = parentPort;
if (port === null) throw new TypeError('sqlite-worker runs as a worker thread only');
const { file, options } = workerData as { readonly file: string; readonly options: SqliteOptions };
let core: SqliteCore | null = null;

function openCore(): SqliteCore {
  core ??= new SqliteCore(file, options);
  return core;
}

function answer(message: FromWorker): void {
  port!.postMessage(message);
}

function toFailure(cause: unknown): Failure {
  const { kind, message } = toStoreError(cause);
  return { kind, message };
}

/** Buffers may be views of a larger pool, which would be copied whole on the way. */
function withOwnBytes<T>(value: T): T;
function withOwnBytes(value: unknown): unknown {
  if (value instanceof Uint8Array) return Uint8Array.from(value);
  if (Array.isArray(value)) return value.map(withOwnBytes);
  const isHolder = typeof value === 'object' && value !== null && 'bytes' in value;
  return isHolder ? { ...value, bytes: withOwnBytes(value.bytes) } : value;
}

function run<Name extends AskedName>(store: AskedStore, { name, args }: StoreCall<Name>): Answered<Name> {
  return withOwnBytes(store[name](...args));
}

port.on('message', (message: ToWorker) => {
  switch (message.kind) {
    case 'append':
      try {
        const began = machineClock.elapsed();
        const { seqs, changed } = openCore().commit(
          message.rows.map((row) => ({ ...row, bytes: message.bytes.subarray(row.from, row.to) })),
          message.changes,
        );
        answer({ kind: 'appended', seqs, changed, commitMs: machineClock.elapsed() - began });
      } catch (cause) {
        answer({ kind: 'append-failed', failure: toFailure(cause) });
      }
      return;
    case 'call':
      try {
        answer({ kind: 'answer', id: message.id, value: run(openCore(), message.call) });
      } catch (cause) {
        answer({ kind: 'call-failed', id: message.id, failure: toFailure(cause) });
      }
      return;
    case 'close':
      core?.close();
      core = null;
      answer({ kind: 'closed' });
      port.close();
  }
});
