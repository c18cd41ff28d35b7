/** A server with a data folder of its own and a browser, for all tests of a file. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type ChildServer, freePort, startChild } from '../server/child-server.ts';
import { launchBrowser } from './browser.ts';

/** What may be read here is there only inside tests: before the first one nothing is started. */
export interface BrowserSuite {
  readonly browser: Browser;
  readonly http: string;
  /** The server's data folder. What a test puts there goes with it. */
  readonly folder: string;
  /** Ends the server and waits; nothing answers at its address until it is started. */
  stopServer(signal: NodeJS.Signals): Promise<void>;
  /** Starts it at the same address with the same data. */
  startServer(): Promise<void>;
}

/**
 * Starts server and browser before the first test of the file and ends both after the last one.
 * @param env settings of the server, beside its port and folder
 */
export function browserSuite(name: string, env: Readonly<Record<string, string>> = {}): BrowserSuite {
  let browser: Browser | undefined;
  let server: ChildServer | undefined;
  let folder: string | undefined;
  let port = 0;
  const started = <T>(value: T | undefined): T => {
    if (value === undefined) throw new Error(`${name}: nothing is started before the first test`);
    return value;
  };
  const startServer = async (): Promise<void> => {
    server = await startChild({ PORT: String(port), DATA_DIR: started(folder), ...env });
  };
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), `${name}-`));
    port = await freePort();
    [browser] = await Promise.all([launchBrowser(), startServer()]);
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop('SIGTERM');
    if (folder !== undefined) rmSync(folder, { recursive: true });
  });
  return {
    get browser() {
      return started(browser);
    },
    get http() {
      return started(server).http;
    },
    get folder() {
      return started(folder);
    },
    stopServer: async (signal) => {
      await started(server).stop(signal);
    },
    startServer,
  };
}
