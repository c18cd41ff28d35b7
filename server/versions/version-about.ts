/** What is told of a version without reading it: the small text beside its record. */
import { LIMITS } from '../../engine/document/index.ts';
import type { ListedRecord } from '../store/index.ts';
import type { AgingVersion, VersionKind } from './thinning.ts';

/** The kind of the store's records that are versions. */
export const VERSION_RECORD = 'version';

export interface VersionAbout {
  readonly kind: VersionKind;
  readonly at: number;
  /** Of a named one. */
  readonly name: string;
  /** Who named it: the person of the cookie, and the name they went by. Null for automatic ones and where nobody is known. */
  readonly by: { readonly personId: string; readonly name: string } | null;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
  /** When somebody changed what others had made and this holds; null = nobody has. */
  readonly wipedAt: number | null;
  /** Persons who made what this holds, beyond the first version; null = not known. A room does not know otherwise whose it is what it was opened with. */
  readonly hands: readonly string[] | null;
  /** SHA-256 of the content before it is packed, hex. */
  readonly digest: string;
}

/** A version as lists have it. */
export interface Version extends VersionAbout, AgingVersion {
  readonly board: string;
  readonly kind: VersionKind;
  /** The text as it is stored. */
  readonly about: string;
}

const KINDS: readonly VersionKind[] = ['auto', 'many', 'wiped', 'before', 'late', 'named'];
/** More than these are as good as anybody. */
export const MOST_HANDS = 40;

function isText(value: unknown, most: number): value is string {
  return typeof value === 'string' && value.length <= most;
}

function isCount(value: unknown): value is number {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;
}

function readBy(value: unknown): VersionAbout['by'] | undefined {
  if (value === null) return null;
  const { personId, name } = value as { personId?: unknown; name?: unknown };
  return isText(personId, 100) && isText(name, LIMITS.nameCharacters) ? { personId, name } : undefined;
}

/** Whose hands it is from; of versions of earlier releases, and where the text is none of ours, nobody knows. */
function readHands(value: unknown): VersionAbout['hands'] {
  const isKnown =
    Array.isArray(value) && value.length <= MOST_HANDS && value.every((one) => isText(one, 100));
  return isKnown ? (value as string[]) : null;
}

/** The version that a record is; null when its text is none of ours: records may come from another server's archive. */
export function readVersion(entry: ListedRecord): Version | null {
  let value: unknown;
  try {
    value = JSON.parse(entry.about);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return null;
  }
  if (typeof value !== 'object' || value === null) return null;
  const {
    kind: given,
    at,
    name,
    by: givenBy,
    title,
    strings,
    rows,
    wipedAt,
    hands,
    digest,
  } = value as Record<string, unknown>;
  const kind = KINDS.find((one) => one === given);
  const by = givenBy === undefined ? undefined : readBy(givenBy);
  if (kind === undefined || by === undefined || !isCount(at) || !isCount(strings) || !isCount(rows))
    return null;
  if (!isText(name, LIMITS.nameCharacters) || !isText(title, LIMITS.titleCharacters)) return null;
  if (!isText(digest, 64)) return null;
  const { board, id, size, about } = entry;
  const held = { wipedAt: isCount(wipedAt) ? wipedAt : null, hands: readHands(hands) };
  return { board, id, size, about, kind, at, name, by, title, strings, rows, ...held, digest };
}

/** As {@link readVersion} reads it. */
export function writeAbout(about: VersionAbout): string {
  const { kind, at, name, by, title, strings, rows, wipedAt, hands, digest } = about;
  // What nobody knows is not written: so versions are written as they always were where there is nothing to say.
  const held = { ...(wipedAt !== null && { wipedAt }), ...(hands !== null && { hands }) };
  return JSON.stringify({ kind, at, name, by, title, strings, rows, ...held, digest });
}
