/**
 * What of an archive from outside a new board may begin with. Done in a thread: whoever sends one says how much work it is.
 *
 * It is loaded as strangers' work, and makes no person of this server say anything: persons in it get new ids, alike for the same one, and
 * names stay as they were said. Ids of pairs, threads and versions stay, since pins and comparisons hang on them; those of proposals are
 * new, since they are those of their branches; the past does not come along. Who loads it owns the board and cannot change the remarks that were theirs elsewhere.
 */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import {
  type BoardPart,
  compactDesign,
  copyTalk,
  DOCUMENT_VERSION,
  readDesign,
  readTalk,
} from '../../engine/document/index.ts';
import { checkCopy, DEFAULT_SYNC_LIMITS, isTooCostly } from '../sync/index.ts';
import {
  isToCome,
  readVersion,
  thinnedOut,
  VERSION_CAPS,
  VERSION_RECORD,
  type Version,
} from '../versions/index.ts';
import type { Job } from '../work/index.ts';
import {
  ArchiveError,
  type ArchiveFault,
  DESIGN,
  MAX_ABOUT_BYTES,
  MAX_RECORD_BYTES,
  TALK,
} from './archive-format.ts';
import { type LoadedProposal, loadProposals } from './load-proposals.ts';
import { type ReadArchive, readArchive } from './read-archive.ts';

/** Documents and records of a new board. */
export interface LoadedArchive {
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
  readonly design: Uint8Array;
  readonly talk: Uint8Array;
  readonly records: readonly LoadedRecord[];
  readonly proposals: readonly LoadedProposal[];
}

type LoadedRecord = ReadArchive['records'][number];

export interface LoadInput {
  readonly packed: Uint8Array;
  /** When it is loaded, in ms since 1970: versions are thinned out as of then. */
  readonly now: number;
}

export type LoadOutput =
  | { readonly ok: true; readonly value: LoadedArchive }
  | { readonly ok: false; readonly error: ArchiveFault };

export const LOAD: Job<LoadInput, LoadOutput> = {
  name: 'archive-load',
  run: async ({ packed, now }) => {
    try {
      return { ok: true, value: await load(packed, now) };
    } catch (cause) {
      if (!(cause instanceof ArchiveError)) throw cause;
      return { ok: false, error: cause.fault };
    }
  },
};

async function load(packed: Uint8Array, now: number): Promise<LoadedArchive> {
  const archive = await readArchive(packed);
  const idOf = strangers();
  const { doc, bytes } = cleanDesign(archive.design, DESIGN);
  const { title, pattern } = readDesign(doc).board;
  const talk = cleanTalk(archive.talk, TALK, idOf);
  const records = versionsWithin(archive.records, now).map((record) => ({
    ...record,
    about: cleanAbout(record.about, record.id, idOf),
  }));
  const proposals = loadProposals(archive.records, {
    idOf,
    design: (update, path) => cleanDesign(update, path).bytes,
    talk: (update, path) => cleanTalk(update, path, idOf),
  });
  const size = { strings: pattern.colours.length, rows: pattern.rows };
  return { title, ...size, design: bytes, talk, records, proposals };
}

/**
 * The versions that a board may have: what belongs to nobody and leads nowhere else. Automatic ones are thinned out as on any board.
 * @throws ArchiveError 'too-large' when one is longer than any this server keeps, or named ones are more than it keeps
 */
function versionsWithin(records: readonly LoadedRecord[], now: number): readonly LoadedRecord[] {
  const versions = new Map<string, { readonly version: Version; readonly record: LoadedRecord }>();
  for (const record of records) {
    const { kind, id, about, bytes } = record;
    if (kind !== VERSION_RECORD) continue;
    if (bytes.length > MAX_RECORD_BYTES || Buffer.byteLength(about) > MAX_ABOUT_BYTES)
      throw new ArchiveError('too-large', `record ${id}`, `has more than ${MAX_RECORD_BYTES} bytes`);
    const version = readVersion({ board: '', kind, id, about, size: bytes.length });
    if (version === null) throw new ArchiveError('damaged', `record ${id}`, 'says nothing that can be read');
    versions.set(id, { version, record });
  }
  const list = [...versions.values()].map(({ version }) => version);
  const named = list.filter(({ kind }) => kind === 'named');
  const namedBytes = named.reduce((sum, { size }) => sum + size, 0);
  if (named.length > VERSION_CAPS.named || namedBytes > VERSION_CAPS.namedBytes)
    throw new ArchiveError('too-large', 'records', `are more named versions than ${VERSION_CAPS.named}`);
  for (const { id } of thinnedOut(list, now)) versions.delete(id);
  // Those from a time to come, which no board thins out, count as from the last of them: an archive may say any time.
  const toCome = list.filter((one) => isToCome(one, now));
  const last = Math.max(...toCome.map(({ at }) => at));
  for (const { id } of thinnedOut(toCome, last)) versions.delete(id);
  return [...versions.values()].map(({ record }) => record);
}

/** A document of an update from outside: no larger than a room would take, and checked like what rooms take. @throws ArchiveError */
function documentOf(update: Uint8Array, path: string, part: BoardPart): Y.Doc {
  if (update.length > DEFAULT_SYNC_LIMITS.documentBytes)
    throw new ArchiveError('too-large', path, `has more than ${DEFAULT_SYNC_LIMITS.documentBytes} bytes`);
  const check = checkCopy(update, part);
  if (check.kind === 'unmet') throw new ArchiveError('damaged', path, 'lacks a part of its own past');
  if (check.kind !== 'fits')
    throw new ArchiveError('damaged', path, `is no document that can be read: ${check.kind}`);
  // What takes Yjs too long to place would hold up every archive that waits.
  if (isTooCostly(update, check, DEFAULT_SYNC_LIMITS.steps))
    throw new ArchiveError('too-large', path, 'takes too many steps to read');
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  if (doc.store.pendingStructs !== null || doc.store.pendingDs !== null)
    throw new ArchiveError('damaged', path, 'lacks a part of its own past');
  return doc;
}

/** The design alone, under the same ids: nothing else that the update held comes along. */
function cleanDesign(update: Uint8Array, path: string): { readonly doc: Y.Doc; readonly bytes: Uint8Array } {
  const doc = documentOf(update, path, 'design');
  const version = doc.getMap('meta').get('version');
  if (typeof version === 'number' && version > DOCUMENT_VERSION)
    throw new ArchiveError(
      'newer-archive',
      path,
      `is of version ${version}; this server reads up to ${DOCUMENT_VERSION}`,
    );
  const compact = compactDesign(doc);
  if (compact === null) throw new ArchiveError('damaged', path, 'holds no board');
  return { doc: compact, bytes: Y.encodeStateAsUpdate(compact) };
}

/** Gives every person of an archive an id that is nobody's here: an archive cannot make a person of this server say something. */
function strangers(): (person: string) => string {
  const ids = new Map<string, string>();
  return (person) => {
    const known = ids.get(person) ?? `away-${randomBytes(12).toString('base64url')}`;
    ids.set(person, known);
    return known;
  };
}

/** What is told of a version, by a stranger. @throws ArchiveError */
function cleanAbout(about: string, id: string, idOf: (person: string) => string): string {
  let value: Record<string, unknown>;
  try {
    value = JSON.parse(about) as Record<string, unknown>;
  } catch (cause) {
    throw new ArchiveError('damaged', `record ${id}`, 'says nothing that can be read', { cause });
  }
  const by = value?.by as { personId?: unknown } | null | undefined;
  if (typeof by?.personId !== 'string') return about;
  return JSON.stringify({ ...value, by: { ...by, personId: idOf(by.personId) } });
}

/** The talk alone. @throws ArchiveError */
function cleanTalk(update: Uint8Array, path: string, idOf: (person: string) => string): Uint8Array {
  const talk = readTalk(documentOf(update, path, 'talk'));
  if (talk.isNewer) throw new ArchiveError('newer-archive', path, 'is of a later version');
  return Y.encodeStateAsUpdate(copyTalk(talk, idOf));
}
