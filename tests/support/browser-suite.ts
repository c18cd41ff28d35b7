/** A server with a data folder of its own and a browser, for all tests of a file. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type ChildServer, freePort, startChild } from '../server/child-server.ts';
import { launchBrowser } from './browser.ts';

export interface BrowserSuite {
  /** Only inside tests: before the first one there is none. */
  readonly browser: Browser;
  readonly http: string;
}

/** Starts both before the first test of the file and ends both after the last one. */
export function browserSuite(name: string): BrowserSuite {
  let browser: Browser | undefined;
  let server: ChildServer | undefined;
  let folder = '';
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), `${name}-`));
    server = await startChild({ PORT: String(await freePort()), DATA_DIR: folder });
    browser = await launchBrowser();
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop('SIGTERM');
    if (folder !== '') rmSync(folder, { recursive: true });
  });
  const started = <T>(value: T | undefined): T => {
    if (value === undefined) throw new Error(`${name}: nothing is started before the first test`);
    return value;
  };
  return {
    get browser() {
      return started(browser);
    },
    get http() {
      return started(server).http;
    },
  };
}
