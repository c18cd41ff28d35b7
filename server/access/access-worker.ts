/** The thread that owns the file of links and persons. Started by AccessThread with `{ file, options }`. */
import { parentPort, workerData } from 'node:worker_threads';
import {
  type SqliteOpenOptions,
  type ThreadAnswer,
  type ThreadQuestion,
  toStoreError,
} from '../store/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { AccessCall } from './access-thread.ts';
import { SqliteAccessStore } from './sqlite-access-store.ts';

const port = parentPort;
if (port === null) throw new TypeError('access-worker runs as a worker thread only');
const { file, options } = workerData as { readonly file: string; readonly options: SqliteOpenOptions };
let store: SqliteAccessStore | null = null;

/** The file is opened by the first who asks, and by the next one after it could not be. */
async function run({ name, args }: AccessCall): Promise<unknown> {
  store ??= new SqliteAccessStore(file, options);
  const act = store[name] as (...values: readonly unknown[]) => Promise<unknown>;
  return act.apply(store, [...args]);
}

async function answer({ id, call }: ThreadQuestion<AccessCall>): Promise<ThreadAnswer> {
  try {
    if (call !== null) return { id, value: await run(call) };
    await store?.close();
    return { id, value: null };
  } catch (cause) {
    const { kind, message } = toStoreError(cause);
    return { id, failure: { kind, message } };
  }
}

/** What cannot be answered ends the thread; whoever waits is refused then, and the next who asks begins another. */
const answerable: Answerable = { broke: () => process.exit(1) };

port.on('message', (question: ThreadQuestion<AccessCall>) =>
  unattended(answerable, 'answer', async () => {
    port.postMessage(await answer(question));
    if (question.call === null) port.close();
  }),
);
