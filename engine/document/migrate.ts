/** Brings documents of earlier versions to the present one. */
import type * as Y from 'yjs';
import { oldFields } from './read-colourways.ts';
import {
  colourwayKey,
  DOCUMENT_VERSION,
  type DressField,
  dressKey,
  type HeadField,
  type Roots,
  readColourwayKey,
  readScope,
  rootsOf,
} from './schema.ts';
import { applyWrites, set, type Write } from './writes.ts';

/**
 * One step, from a version to the next. Several clients may take it at once, so its writes depend on the document's
 * content alone: the same content gives the same keys and values, and lists are only appended to with ids that a reader
 * takes once.
 */
export interface Migration {
  readonly from: number;
  readonly writes: (roots: Roots) => readonly Write[];
}

/** From version 1: each field of a colourway gets a key of its own, so that two people can change two of them at once. */
function fieldsOfColourways({ colourways, meta }: Roots): readonly Write[] {
  const board = readScope(meta.get('generation'))?.board;
  if (board === undefined) return [];
  const writes: Write[] = [];
  colourways.forEach((value, key) => {
    const parts = readColourwayKey(board, key);
    if (parts === null || parts.field !== null) return;
    const { colourway, colour } = parts;
    for (const [field, part] of oldFields(value, colour === null)) {
      const own =
        colour === null
          ? colourwayKey(board, colourway, field as HeadField)
          : dressKey(board, colourway, colour, field as DressField);
      if (!colourways.has(own)) writes.push(set(colourways, own, part));
    }
  });
  return writes;
}

/** The steps so far, in order. Version 1 is the first. */
const MIGRATIONS: readonly Migration[] = [{ from: 1, writes: fieldsOfColourways }];

/** From which version to which a document was brought, or why it was not. */
type MigrationResult =
  | { readonly ok: true; readonly from: number; readonly to: number }
  | {
      readonly ok: false;
      readonly error: {
        readonly kind: 'newer-version' | 'no-migration';
        readonly path: 'meta.version';
        readonly message: string;
        readonly version: number;
      };
    };

/**
 * Brings a document to the target version, each step in one transaction; writes nothing when it is there already or holds
 * no board. A newer document is refused. Rule D4.
 */
export function migrateDesign(
  doc: Y.Doc,
  origin: unknown,
  migrations: readonly Migration[] = MIGRATIONS,
  target: number = DOCUMENT_VERSION,
): MigrationResult {
  const roots = rootsOf(doc);
  const stored = roots.meta.get('version');
  const from = typeof stored === 'number' && Number.isSafeInteger(stored) && stored >= 1 ? stored : target;
  const fail = (
    kind: 'newer-version' | 'no-migration',
    version: number,
    message: string,
  ): MigrationResult => ({
    ok: false,
    error: { kind, path: 'meta.version', message, version },
  });
  if (from > target)
    return fail(
      'newer-version',
      from,
      `the document has version ${from}; this program reads up to ${target}`,
    );
  const steps: Migration[] = [];
  for (let version = from; version < target; version++) {
    const step = migrations.find((migration) => migration.from === version);
    if (step === undefined) return fail('no-migration', version, `there is no step from version ${version}`);
    steps.push(step);
  }
  for (const step of steps) {
    const writes = [...step.writes(roots), set(roots.meta, 'version', step.from + 1)];
    doc.transact(() => applyWrites(writes), origin);
  }
  return { ok: true, from, to: target };
}
