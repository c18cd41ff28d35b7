/**
 * One Chromium and one server for all browser tests of a run. Started before the first of them, ended after the last; the workers
 * get the addresses. Every visitor brings a context, boards and a client address of their own, so that nobody meets another. A test that stops
 * the server or wants other settings has its own (`ownServerSuite`). Chromium's build without windows opens a board for a third of the
 * processor time, and is taken first.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { startChild } from '../server/child-server.ts';
import { serveBrowser } from './browser.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the Chromium that all browser tests share. */
    readonly chromium: string;
    /** Address of the server that all browser tests share, but for those with a server of their own. */
    readonly server: string;
  }
}

/** A proxy's word is believed, so that visitors differ by address; sockets bring none, so that their number must not count. */
const SHARED = {
  TRUST_PROXY: '1',
  MAX_CONNECTIONS_PER_ADDRESS: '10000',
  MAX_NEW_PER_ADDRESS: '100000',
  MAX_CONNECTIONS_PER_PERSON: '10000',
  MAX_CONNECTIONS_OF_NEWCOMERS: '10000',
  MAX_CONNECTIONS_OF_STRANGERS: '10000',
  REQUEST_TIMES: '100',
  // What is saved is on the disk as ever; it only gathers for a shorter time.
  GATHER_MS: '5',
};

export async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'larkboard-stage-'));
  const [browser, server] = await Promise.all([serveBrowser(), startChild({ ...SHARED, DATA_DIR: folder })]);
  provide('chromium', browser.wsEndpoint());
  provide('server', server.http);
  return async () => {
    await browser.close();
    await server.stop('SIGTERM');
    rmSync(folder, { recursive: true });
  };
}
