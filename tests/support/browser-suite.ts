/** What the browser tests of a file run on: the Chromium of the whole run, and its server or one of their own. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, inject } from 'vitest';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { joinBrowser } from './browser.ts';

/** What may be read here is there only inside tests: before the first one nothing is started. */
export interface BrowserSuite {
  /** Every context opened in it is closed after the test. */
  readonly browser: Browser;
  readonly http: string;
  /** A folder for what the tests of the file keep. It goes with them. */
  readonly folder: string;
}

export interface OwnServerSuite extends BrowserSuite {
  /** Ends the server and waits; nothing answers at its address until it is started. */
  stopServer(signal: NodeJS.Signals): Promise<void>;
  /** Starts it at the same address with the same data. */
  startServer(): Promise<void>;
}

/** Something that is there from the first test to the last one. */
function whileTesting<T>(start: () => Promise<T>, end: (value: T) => unknown): () => T {
  let value: T | undefined;
  beforeAll(async () => {
    value = await start();
  });
  afterAll(async () => {
    if (value !== undefined) await end(value);
  });
  return () => {
    if (value === undefined) throw new Error('nothing is started before the first test');
    return value;
  };
}

function joinedBrowser(): () => Browser {
  const browser = whileTesting(
    () => joinBrowser(inject('chromium')),
    (joined) => joined.close(),
  );
  afterEach(async () => {
    await Promise.all(
      browser()
        .contexts()
        .map((context) => context.close()),
    );
  });
  return browser;
}

function ownFolder(name: string): () => string {
  return whileTesting(
    async () => mkdtempSync(join(tmpdir(), `${name}-`)),
    (path) => rmSync(path, { recursive: true }),
  );
}

/** The shared Chromium and server, for all tests of the file. */
export function browserSuite(name: string): BrowserSuite {
  const [folder, browser] = [ownFolder(name), joinedBrowser()];
  return {
    get browser() {
      return browser();
    },
    get http() {
      return inject('server');
    },
    get folder() {
      return folder();
    },
  };
}

/**
 * The shared Chromium and a server of the file's own, for tests that stop it or want other settings.
 * @param env settings of the server, beside its port and folder
 * @param mainIn makes in the folder what Node is to start; default: the server that was built
 */
export function ownServerSuite(
  name: string,
  env: Readonly<Record<string, string>> = {},
  mainIn: (folder: string) => string | undefined = () => undefined,
): OwnServerSuite {
  const [folder, browser] = [ownFolder(name), joinedBrowser()];
  const main = whileTesting(
    async () => ({ path: mainIn(folder()) }),
    () => {},
  );
  const start = (at: Readonly<Record<string, string>>): Promise<ChildServer> =>
    startChild({ DATA_DIR: join(folder(), 'data'), ...env, ...at }, main().path);
  const stage = whileTesting(
    async () => ({ server: await start({}) }),
    ({ server }) => server.stop('SIGTERM'),
  );
  return {
    get browser() {
      return browser();
    },
    get http() {
      return stage().server.http;
    },
    get folder() {
      return folder();
    },
    stopServer: async (signal) => {
      await stage().server.stop(signal);
    },
    startServer: async () => {
      stage().server = await start({ PORT: String(stage().server.port) });
    },
  };
}
