/** The server as `npm start` runs it: what it does when it begins, and how it ends. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ask } from '../support/ask.ts';
import { bulk } from '../support/bulk.ts';
import { until } from '../support/until.ts';
import { type ChildServer, makeOwnBoard, startChild } from './child-server.ts';
import { RawClient } from './raw-client.ts';
import { temporaryFolder } from './test-server.ts';

let folder: ReturnType<typeof temporaryFolder>;
let server: ChildServer | null = null;

beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(async () => {
  await server?.stop('SIGKILL');
  server = null;
  folder.remove();
});

async function start(env: Readonly<Record<string, string>> = {}): Promise<ChildServer> {
  server = await startChild({ DATA_DIR: folder.path, LOG_LEVEL: 'info', ...env });
  return server;
}

const open = (name: string): Database.Database => new Database(join(folder.path, name));

/** What its log says of an event. */
const linesOf = (node: ChildServer, event: string): readonly Readonly<Record<string, unknown>>[] =>
  node
    .output()
    .split('\n')
    .filter((line) => line.includes(`"${event}"`))
    .map((line) => JSON.parse(line) as Record<string, unknown>);

describe('a server that begins', () => {
  it('[V-A9] drops sessions that ended while it was away, and says how many; those of who came lately stay', async () => {
    const { id, headers } = await makeOwnBoard(await start());
    await makeOwnBoard(server!);
    expect(linesOf(server!, 'sessions-dropped')).toEqual([]);
    await server!.stop('SIGTERM');
    const db = open('access.db');
    const mine = db.prepare('SELECT person_id AS person FROM grants WHERE board_id = ?').get(id) as {
      person: string;
    };
    const { changes } = db
      .prepare('UPDATE sessions SET created_at = 1 WHERE person_id <> ?')
      .run(mine.person);
    db.close();
    expect(changes).toBe(1);
    await start();
    await until('it says so', () => linesOf(server!, 'sessions-dropped').length > 0);
    expect(linesOf(server!, 'sessions-dropped')).toMatchObject([{ count: 1 }]);
    expect((await ask(`${server!.http}/api/boards/${id}/me`, { headers })).status).toBe(200);
    expect(await server!.stop('SIGTERM')).toBe(0);
  });
});

describe('a server that is told to end', () => {
  it('[V81] [V75] [V321] with edits for which the disk has no room says of how many boards, and ends with 1; what was saved stays', async () => {
    const { id, headers } = await makeOwnBoard(await start());
    await server!.stop('SIGTERM');
    // No more pages than there are.
    const full = await start({ MAX_STORE_BYTES: '4096', SHUTDOWN_MS: '100', GATHER_MS: '0' });
    const made = await ask(`${full.http}/api/boards`, { method: 'POST', body: '{}' });
    expect([made.status, await made.json()]).toMatchObject([507, { error: { kind: 'store-full' } }]);
    const maker = await new RawClient(`${full.ws}/${id}/design`, { headers }).join();
    maker.edit((doc) => doc.getMap('knots').set('big', bulk(100_000)));
    maker.mark(1);
    await maker.waitFor((one) => one.kind === 'notice' && one.code === 'store-read-only');
    // Whoever is in a hurry says so twice.
    full.process.kill('SIGTERM');
    expect(await full.stop('SIGINT')).toBe(1);
    expect(linesOf(full, 'stopping')).toHaveLength(1);
    expect(linesOf(full, 'stopped-with-unsaved-edits')).toMatchObject([{ level: 'error', rooms: 1 }]);
    expect(linesOf(full, 'stopped')).toEqual([]);
    const again = await start();
    expect((await ask(`${again.http}/api/boards/${id}`, { headers })).status).toBe(200);
    expect(await again.stop('SIGINT')).toBe(0);
    expect(linesOf(again, 'stopped')).toHaveLength(1);
  });
});
