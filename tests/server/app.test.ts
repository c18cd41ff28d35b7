/** What a request is answered that the server cannot do. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StoreError } from '../../server/store/index.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';
import type { StoreFailure } from '../../server/store/store.ts';
import { ask } from '../support/ask.ts';
import { until } from '../support/until.ts';
import { RawClient } from './raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from './test-server.ts';

/** A store that lists no records while something is wrong with it. */
class AilingStore extends MemoryStore {
  fault: Error | null = null;

  override async records(...args: Parameters<MemoryStore['records']>): ReturnType<MemoryStore['records']> {
    if (this.fault !== null) throw this.fault;
    return super.records(...args);
  }
}

let store: AilingStore;
let server: TestServer;
let board: string;
beforeAll(async () => {
  store = new AilingStore();
  server = await startTestServer({ store, env: { MAX_ROOMS: '1' } });
  board = await makeBoard(server);
});
afterAll(() => server.close());

async function versions(fault: Error): Promise<{ status: number; kind: string; text: string }> {
  store.fault = fault;
  const answer = await ask(`${server.http}/api/boards/${board}/versions`);
  store.fault = null;
  const text = await answer.text();
  return { status: answer.status, kind: (JSON.parse(text) as { error: { kind: string } }).error.kind, text };
}

/** Lines of the log that say this. */
const lines = (event: string): readonly string[] =>
  server.lines.filter((line) => line.includes(`"${event}"`));

describe('a request that the server cannot do', () => {
  it('[V331] [V346] is answered by what the store is short of, which stands in log and metrics', async () => {
    const statuses: Readonly<Record<StoreFailure, number>> = {
      'unknown-board': 404,
      full: 507,
      'read-only': 503,
      locked: 503,
      damaged: 503,
      unavailable: 503,
      outdated: 503,
      overtaken: 503,
      closed: 503,
    };
    for (const [kind, status] of Object.entries(statuses)) {
      const answer = await versions(new StoreError(kind as StoreFailure, 'table larkboard_rows of 10.1.2.3'));
      // To whoever asks it is all one whether another was quicker.
      const told = kind === 'overtaken' ? 'store-unavailable' : `store-${kind}`;
      expect([kind, answer.status, answer.kind]).toEqual([kind, status, told]);
      expect(answer.text).not.toContain('10.1.2.3');
      // That a board is gone is no fault of the store.
      const isFault = kind !== 'unknown-board';
      expect(server.metrics.valueOf('larkboard_store_errors_total', { kind })).toBe(isFault ? 1 : 0);
      expect(lines('store-error').some((line) => line.includes(`"${kind}"`))).toBe(isFault);
    }
  });

  it('[V331] is a fault of the server where nothing else is known of it: said in the log with its place, in no answer', async () => {
    const answer = await versions(new TypeError('seven is no board'));
    expect([answer.status, answer.kind]).toEqual([500, 'internal']);
    expect(answer.text).not.toContain('seven');
    expect(lines('request-failed')).toEqual([expect.stringMatching(/seven is no board.*app\.test/)]);
    expect((await ask(`${server.http}/api/boards/${board}/versions`)).status).toBe(200);
  });

  it('[V54] waits for room where as many boards are open as may be; once one is closed it is done', async () => {
    const inside = await new RawClient(`${server.ws}/${board}/design`).join();
    const other = await makeBoard(server);
    const file = (): Promise<Response> => ask(`${server.http}/api/boards/${other}/file`);
    const refused = await file();
    expect([refused.status, await refused.json()]).toMatchObject([503, { error: { kind: 'busy' } }]);
    await inside.close();
    await until('the room is gone', () => server.rooms.size === 0);
    expect((await file()).status).toBe(200);
  });
});
