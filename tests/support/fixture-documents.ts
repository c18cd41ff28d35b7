/** The documents of the fixture as bytes: those that the store holds, and the copies that browsers kept. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import * as Y from 'yjs';
import type { BoardPart } from '../../engine/document/index.ts';
import { BOARD_KINDS, partsOf, SqliteCore } from '../../server/store/index.ts';
import { temporaryFolder } from '../server/test-server.ts';
import { FIXTURE, FIXTURE_BROWSERS, readDump } from './store-fixture.ts';

export interface FixtureDocument {
  readonly board: string;
  readonly part: BoardPart;
  /** All of it as one update. */
  readonly update: Uint8Array;
}

/** What the store holds. */
export function storedDocuments(): readonly FixtureDocument[] {
  // Opening a file may write to it.
  const copy = temporaryFolder();
  copyFileSync(join(FIXTURE, 'larkboard.db'), join(copy.path, 'larkboard.db'));
  const core = new SqliteCore(join(copy.path, 'larkboard.db'));
  const found: FixtureDocument[] = [];
  for (const kind of BOARD_KINDS)
    for (const { id: board } of core.boardsOfKind(kind))
      for (const part of partsOf(kind)) {
        const rows = core.load({ board, part });
        if (rows.length > 0)
          found.push({ board, part, update: Y.mergeUpdates(rows.map(({ bytes }) => bytes)) });
      }
  core.close();
  copy.remove();
  return found;
}

/** What browsers kept while they were away, with edits that the store never saw. */
export function keptCopies(): readonly FixtureDocument[] {
  return FIXTURE_BROWSERS.flatMap((browser) =>
    readDump(browser).databases.flatMap(({ name, stores }) => {
      const board = name.replace(/^larkboard-/, '').replace(/-talk$/, '');
      const updates = (stores.find((store) => store.name === 'updates')?.entries ?? []).flatMap(({ kept }) =>
        'bytes' in kept ? [new Uint8Array(Buffer.from(kept.bytes, 'base64'))] : [],
      );
      const part = name.endsWith('-talk') ? ('talk' as const) : ('design' as const);
      return updates.length === 0 ? [] : [{ board, part, update: Y.mergeUpdates(updates) }];
    }),
  );
}
