/**
 * The thread that owns the SQLite file, so that a wait for the disk never stops the event loop. Started by SqliteStore
 * with `{ file, options }`. The file is opened at the first request and again at the next one after a failure to open.
 */
import { parentPort, workerData } from 'node:worker_threads';
import { machineClock } from '../clock.ts';
import { SqliteCore, type SqliteOptions, toStoreError } from './sqlite-core.ts';
import type { Failure, FromWorker, StoreCall, ToWorker } from './sqlite-messages.ts';

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

function run(store: SqliteCore, call: StoreCall): Extract<FromWorker, { kind: 'answer' }>['value'] {
  switch (call.kind) {
    case 'addBoard':
      return store.addBoard(call.board, call.documents, call.records);
    case 'board':
      return store.board(call.board);
    case 'boardsOfKind':
      return store.boardsOfKind(call.boardKind);
    case 'boardsWithRecord':
      return store.boardsWithRecord(call.recordKind);
    case 'removeBoard':
      return store.removeBoard(call.board);
    case 'load':
      // Buffers may be views of a larger pool, which would be copied whole on the way.
      return store
        .load(call.address, call.options)
        .map((row) => ({ ...row, bytes: Uint8Array.from(row.bytes) }));
    case 'compact':
      return store.compact(call.address, call.seqs, call.snapshot, call.generation);
    case 'renew':
      return store.renew(call.address, call.renewal);
    case 'last-state': {
      const bytes = store.lastState(call.address, call.generation);
      return bytes === null ? null : Uint8Array.from(bytes);
    }
    case 'ended-generations':
      return store.endedGenerations(call.address);
    case 'records':
      return store.records(call.board, call.recordKind);
    case 'record': {
      const record = store.record(call.board, call.recordKind, call.id);
      return record === null ? null : { ...record, bytes: Uint8Array.from(record.bytes) };
    }
    case 'check':
      return store.check();
    case 'ping':
      store.ping();
      return true;
  }
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
