/** Unpacks an archive from outside, believing nothing it says before it is checked. */
import { strFromU8 } from 'fflate';
import {
  ARCHIVE_FORMAT,
  ARCHIVE_VERSION,
  ArchiveError,
  type ArchiveRecord,
  DESIGN,
  MANIFEST,
  MAX_PARTS,
  MAX_UNPACKED_BYTES,
  TALK,
} from './archive-format.ts';
import { unpackEntry, zipEntries } from './unpack-zip.ts';
import { sumOf } from './write-archive.ts';

export interface ReadArchive {
  readonly title: string;
  readonly design: Uint8Array;
  readonly talk: Uint8Array;
  readonly records: readonly (Omit<ArchiveRecord, 'path'> & { readonly bytes: Uint8Array })[];
}

const PART = /^(?:[A-Za-z]+\.(?:json|txt|yjs)|records\/\d{4,6}\.bin)$/;
const RECORD_ID = /^[A-Za-z0-9_-]{1,64}$/;

/**
 * Reads an archive: each part is there, is as long as the manifest says and has its sum. Sizes are checked before unpacking.
 * @throws ArchiveError naming the part
 */
export async function readArchive(packed: Uint8Array): Promise<ReadArchive> {
  const files = await unpack(packed);
  const manifestBytes = files[MANIFEST];
  if (manifestBytes === undefined)
    throw new ArchiveError('not-an-archive', MANIFEST, 'is missing; this is another kind of zip file');
  const manifest = readManifest(manifestBytes);
  const part = (path: string): Uint8Array => {
    const stated = manifest.parts.get(path);
    const bytes = files[path];
    if (stated === undefined || bytes === undefined) throw new ArchiveError('damaged', path, 'is missing');
    if (bytes.length !== stated.bytes || sumOf(bytes) !== stated.sha256)
      throw new ArchiveError('damaged', path, 'is not as it was written');
    return bytes;
  };
  for (const path of manifest.parts.keys()) part(path);
  return {
    title: manifest.title,
    design: part(DESIGN),
    talk: part(TALK),
    records: manifest.records.map(({ kind, id, about, path }) => ({ kind, id, about, bytes: part(path) })),
  };
}

async function unpack(packed: Uint8Array): Promise<Readonly<Record<string, Uint8Array>>> {
  const files: Record<string, Uint8Array> = {};
  try {
    const entries = zipEntries(packed);
    const size = entries.reduce((sum, { bytes }) => sum + bytes, 0);
    const strange = entries.find(({ name }) => !PART.test(name));
    if (strange !== undefined)
      throw new ArchiveError('not-an-archive', strange.name.slice(0, 80), 'is no part of an archive');
    if (size > MAX_UNPACKED_BYTES || entries.length > MAX_PARTS)
      throw new ArchiveError('too-large', '', 'unpacked it is larger than an archive may be');
    for (const entry of entries) files[entry.name] = await unpackEntry(entry);
    return files;
  } catch (cause) {
    if (cause instanceof ArchiveError) throw cause;
    throw new ArchiveError(
      'not-an-archive',
      '',
      `is no zip file that can be unpacked (${(cause as Error).message})`,
      { cause },
    );
  }
}

interface CheckedManifest {
  readonly title: string;
  readonly parts: ReadonlyMap<string, { readonly bytes: number; readonly sha256: string }>;
  readonly records: readonly ArchiveRecord[];
}

function readManifest(bytes: Uint8Array): CheckedManifest {
  const bad = (where: string, message: string): ArchiveError =>
    new ArchiveError('damaged', `${MANIFEST}${where}`, message);
  let value: Record<string, unknown>;
  try {
    value = JSON.parse(strFromU8(bytes)) as Record<string, unknown>;
  } catch (cause) {
    throw new ArchiveError('damaged', MANIFEST, 'is not JSON', { cause });
  }
  if (value === null || value.format !== ARCHIVE_FORMAT)
    throw new ArchiveError('not-an-archive', `${MANIFEST}: format`, `must be "${ARCHIVE_FORMAT}"`);
  if (typeof value.version !== 'number') throw bad(': version', 'must be a number');
  if (value.version > ARCHIVE_VERSION)
    throw new ArchiveError(
      'newer-archive',
      `${MANIFEST}: version`,
      `is ${value.version}; this server reads up to ${ARCHIVE_VERSION}`,
    );
  if (!Array.isArray(value.parts)) throw bad(': parts', 'must be a list');
  if (!Array.isArray(value.records)) throw bad(': records', 'must be a list');
  const parts = new Map<string, { bytes: number; sha256: string }>();
  for (const [i, one] of (value.parts as Record<string, unknown>[]).entries()) {
    if (typeof one?.path !== 'string' || typeof one.bytes !== 'number' || typeof one.sha256 !== 'string')
      throw bad(`: parts[${i}]`, 'needs path, bytes and sha256');
    parts.set(one.path, { bytes: one.bytes, sha256: one.sha256 });
  }
  // Each part is one record's: else a small archive could fill the disk with the same part over and over.
  const taken = new Set<unknown>();
  const records = (value.records as Record<string, unknown>[]).map((one, i) => {
    const { kind, id, about, path } = one ?? {};
    if (![kind, id, about, path].every((field) => typeof field === 'string'))
      throw bad(`: records[${i}]`, 'needs kind, id, about and path');
    if (!RECORD_ID.test(String(id))) throw bad(`: records[${i}].id`, 'is no id of a record');
    if (taken.has(path)) throw bad(`: records[${i}].path`, 'is the part of another record');
    taken.add(path);
    return { kind, id, about, path } as ArchiveRecord;
  });
  return { title: typeof value.title === 'string' ? value.title : '', parts, records };
}
