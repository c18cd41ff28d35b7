/** A server for tests on a free port, and the makers who join it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import WebSocket from 'ws';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import type { Authorize } from '../../server/authorize.ts';
import {
  authorizeByAddress,
  type Clock,
  Log,
  Metrics,
  machineClock,
  type RunningServer,
  readSettings,
  type ServeDeps,
  startServer,
} from '../../server/index.ts';
import { LocalRelay, type Relay } from '../../server/relay/index.ts';
import { SqliteStore, type Store } from '../../server/store/index.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';
import { ask } from '../support/ask.ts';

export interface TestServerOptions {
  readonly store?: Store;
  readonly relay?: Relay;
  readonly authorize?: Authorize;
  readonly env?: Readonly<Record<string, string>>;
  readonly demoFolder?: string;
  /** What decides who may come in, made for the store of the boards; default: whoever knows the address. */
  readonly access?: (store: Store) => Pick<ServeDeps, 'authorize' | 'onMade' | 'api' | 'access' | 'onClose'>;
  /** The time of day alone; the rest goes by the machine's clock. */
  readonly now?: () => number;
  readonly clock?: Clock;
  readonly worker?: URL;
  /** Folder of the built page; default: none. */
  readonly pageFolder?: string;
}

export interface TestServer extends RunningServer {
  readonly http: string;
  readonly ws: string;
  readonly store: Store;
  readonly metrics: Metrics;
  /** Lines of the log so far. */
  readonly lines: string[];
}

export async function startTestServer(options: TestServerOptions = {}): Promise<TestServer> {
  const settings = readSettings({ PORT: '0', SHUTDOWN_MS: '1000', GATHER_MS: '0', ...options.env });
  const store = options.store ?? new MemoryStore();
  const metrics = new Metrics();
  const lines: string[] = [];
  const clock = { ...(options.clock ?? machineClock), ...(options.now && { now: options.now }) };
  const server = await startServer({
    settings,
    store,
    relay: options.relay ?? new LocalRelay(),
    metrics,
    log: new Log((line) => lines.push(line), clock.now, 'debug'),
    clock,
    authorize: options.authorize ?? authorizeByAddress,
    ...options.access?.(store),
    pageFolder: options.pageFolder ?? join(tmpdir(), 'larkboard-no-page'),
    demoFolder: options.demoFolder ?? null,
    ...(options.worker && { worker: options.worker }),
  });
  const at = `127.0.0.1:${server.port}`;
  return { ...server, http: `http://${at}`, ws: `ws://${at}/sync`, store, metrics, lines };
}

/** A folder that is removed by the returned function. */
export function temporaryFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'larkboard-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** The store in its worker thread, as it runs in production. */
export function sqliteStore(
  folder: string,
  onCommit: (commitMs: number, rows: number) => void = () => {},
): SqliteStore {
  return new SqliteStore({
    file: join(folder, 'larkboard.db'),
    workerFile: new URL('../../dist/server/store/sqlite-worker.js', import.meta.url),
    clock: machineClock,
    gatherMs: 0,
    onCommit,
  });
}

/** Makes a board of 8 strings and 12 rows over HTTP. */
export async function makeBoard(server: TestServer): Promise<string> {
  const answer = await ask(`${server.http}/api/boards`, {
    method: 'POST',
    body: JSON.stringify({ strings: 8, rows: 12, title: 'kites' }),
  });
  if (answer.status !== 201) throw new Error(`board not made: ${answer.status} ${await answer.text()}`);
  return ((await answer.json()) as { id: string }).id;
}

/** A maker with the stock provider, as any y-websocket client joins. */
export function stockMaker(server: TestServer, room: string): { doc: Y.Doc; provider: WebsocketProvider } {
  const doc = new Y.Doc();
  const provider = new WebsocketProvider(server.ws, room, doc, {
    WebSocketPolyfill: WebSocket as unknown as typeof globalThis.WebSocket,
    disableBc: true,
  });
  return { doc, provider };
}
