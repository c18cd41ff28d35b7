/** What a release of November 2026 left of who wrote what, and how it is read. See tests/fixtures/past-2026-11/README.md. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type KeyChange, readEdit } from '../../engine/document/index.ts';
import { machineClock } from '../../server/index.ts';
import { Journal } from '../../server/journal/index.ts';
import { Log } from '../../server/log.ts';
import { Work } from '../../server/work/index.ts';
import { sqliteStore, startTestServer, temporaryFolder } from '../server/test-server.ts';

export const PAST_FIXTURE = fileURLToPath(new URL('../fixtures/past-2026-11/', import.meta.url));

export interface Past {
  readonly rows: { readonly past: number; readonly log: number; readonly ended: number };
  readonly visits: readonly {
    readonly name: string;
    readonly changes: number;
    readonly edits: readonly (readonly KeyChange[])[];
    readonly since: readonly unknown[];
  }[];
}

/** What the present release reads of the fixture. @param now ms since 1970, soon after it was made */
export async function readPast(board: string, now: number): Promise<Past> {
  const folder = temporaryFolder();
  copyFileSync(join(PAST_FIXTURE, 'larkboard.db'), join(folder.path, 'larkboard.db'));
  const store = sqliteStore(folder.path);
  const server = await startTestServer({ store, env: { RENEW_BYTES: '0' } });
  const log = new Log(() => {}, machineClock.now);
  const journal = new Journal({
    store,
    rooms: server.rooms,
    work: new Work(null, machineClock),
    log,
    now: () => now,
  });
  const written = await store.writtenRows({ board, part: 'design' });
  const past = written.filter(({ generation }) => generation !== null);
  const visits = [];
  for (const { id, name, changes } of await journal.visits(board)) {
    const found = (await journal.edits(board, id))!;
    const edits = found.edits.map((bytes) => {
      const read = readEdit(bytes);
      if (!read.ok) throw new Error(`an edit is ${read.error.kind}`);
      return read.edit.changes;
    });
    visits.push({ name, changes, edits, since: found.since });
  }
  await server.close();
  folder.remove();
  const ended = new Set(past.map(({ generation }) => generation)).size;
  return { rows: { past: past.length, log: written.length - past.length, ended }, visits };
}
