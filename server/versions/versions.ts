/** The versions of boards, in the store. What is written is on the disk when its promise fulfils. */
import { randomBytes } from 'node:crypto';
import { OneByOne } from '../one-by-one.ts';
import type { ListedRecord, Store } from '../store/index.ts';
import { checkCopy, DEFAULT_SYNC_LIMITS, isCostlyAlone } from '../sync/index.ts';
import { packSnapshot, type Snapshot, unpackState } from './snapshot.ts';
import { byAge, thinnedOut, VERSION_CAPS, type VersionCaps, type VersionKind } from './thinning.ts';
import {
  MOST_HANDS,
  readVersion,
  VERSION_RECORD,
  type Version,
  type VersionAbout,
  writeAbout,
} from './version-about.ts';

export interface VersionsDeps {
  readonly store: Store;
  readonly now: () => number;
  readonly caps?: VersionCaps;
}

export interface Named {
  readonly name: string;
  readonly by: VersionAbout['by'];
}

/** Kinds that are kept without being asked for by name. */
type TakenKind = Exclude<VersionKind, 'named'>;

/** What a version is kept for, and from whose hands: see {@link VersionAbout}. */
export interface Keeping {
  readonly kind: TakenKind;
  /** When the design was so; not always now. */
  readonly at: number;
  readonly hands: Hands;
}

export interface Kept {
  /** Of the version that holds the design. */
  readonly id: string;
  readonly isNew: boolean;
}

/** No more named versions can be kept on the board. */
export interface TooMany {
  readonly full: 'count' | 'bytes';
}

export type Hands = VersionAbout['hands'];

/** So old the last change may be after which a version was kept for long, until it is kept anew from now on. */
const ANEW_MS = 60 * 60_000;

/** Whether a version stays for about as long as one that is held from now on, or until an owner deletes it. */
export function isHeldAnew({ kind, wipedAt }: Pick<VersionAbout, 'kind' | 'wipedAt'>, now: number): boolean {
  return kind === 'named' || (wipedAt !== null && now - wipedAt <= ANEW_MS);
}

/** The hands of one and of the other; null where either is not known, or they are too many. */
export function unite(one: Hands, other: Hands): Hands {
  if (one === null || other === null) return null;
  const all = [...new Set([...one, ...other])].sort();
  return all.length <= MOST_HANDS ? all : null;
}

/** How many ids this process has made: puts versions of the same millisecond in order. */
let made = 0;

/** A new id: told in order by its first two parts, not to be guessed by its last. */
function newVersionId(at: number): string {
  const turn = made.toString(36).padStart(4, '0');
  made = (made + 1) % 36 ** 4;
  return `${at.toString(36).padStart(9, '0')}-${turn}-${randomBytes(9).toString('base64url')}`;
}

/** Oldest first. Records that are no versions are passed over. */
function asVersions(records: readonly ListedRecord[]): readonly Version[] {
  return records
    .map(readVersion)
    .filter((version) => version !== null)
    .sort(byAge);
}

export class Versions {
  readonly #store: Store;
  readonly #now: () => number;
  readonly caps: VersionCaps;
  /** One is named on a board at a time; that the bounds hold among nodes sees the store to. */
  readonly #naming = new OneByOne();

  constructor(deps: VersionsDeps) {
    this.#store = deps.store;
    this.#now = deps.now;
    this.caps = deps.caps ?? VERSION_CAPS;
  }

  /** Oldest first. Records that are no versions are passed over. */
  async list(board: string): Promise<readonly Version[]> {
    return asVersions(await this.#store.records(board, VERSION_RECORD));
  }

  /** The document of a version as one update; null when there is no such version, `damaged` when it is no document. */
  async state(board: string, id: string): Promise<Uint8Array | 'damaged' | null> {
    const record = await this.#store.record(board, VERSION_RECORD, id);
    if (record === null) return null;
    const state = await unpackState(record.bytes);
    if (state === null) return 'damaged';
    const check = checkCopy(state, 'design');
    // It may have come by an archive. What this server keeps takes hardly a step, and a page would hang over it.
    const isFit = check.kind === 'fits' && !isCostlyAlone(check, DEFAULT_SYNC_LIMITS.steps);
    return isFit ? state : 'damaged';
  }

  /**
   * Keeps an automatic version and thins out the others, unless the one before it is the same; of a late one, any.
   * @param at when the design was so; not always now
   * @returns whether there is a new one
   */
  async take(board: string, snapshot: Snapshot, kind: TakenKind, at: number): Promise<boolean> {
    return (await this.keep(board, snapshot, { kind, at, hands: null })).isNew;
  }

  /**
   * As {@link take}, and tells which version holds the design then. Where it is kept because somebody changes what others made (`wiped`),
   * the one that holds it stays for long, whatever it was kept for.
   */
  async keep(board: string, snapshot: Snapshot, { kind, at, hands }: Keeping): Promise<Kept> {
    const before = (await this.list(board)).filter((version) => version.at <= at);
    const alike = (kind === 'late' ? before : before.slice(-1)).find(
      ({ digest }) => digest === snapshot.digest,
    );
    if (alike !== undefined && (await this.#rely(alike, kind, hands))) return { id: alike.id, isNew: false };
    const wipedAt = kind === 'wiped' ? this.#now() : null;
    const put = await this.#put(board, snapshot, { kind, at, name: '', by: null, wipedAt, hands });
    if (put === null) throw new Error('a version was refused that depends on no other');
    await this.thin(board);
    return { id: put.id, isNew: true };
  }

  /**
   * Keeps a version for long, because somebody changes what others made and it holds.
   * @returns false when there is no such version (any more)
   */
  async hold(board: string, id: string): Promise<boolean> {
    const version = (await this.list(board)).find((one) => one.id === id);
    if (version === undefined) return false;
    if (isHeldAnew(version, this.#now())) return true;
    const kind = version.kind === 'auto' || version.kind === 'many' ? 'wiped' : version.kind;
    return this.#note(version, { kind, wipedAt: this.#now() });
  }

  /** Lets a version stand for another of the same design. @returns false when it is not there as it was */
  async #rely(version: Version, kind: TakenKind, hands: Hands): Promise<boolean> {
    if (kind === 'wiped') return this.hold(version.board, version.id);
    const isByRoom = kind === 'auto' || kind === 'many';
    return !isByRoom || this.#note(version, { hands: unite(version.hands, hands) });
  }

  /** Changes what is told of a version, if it is told otherwise. @returns false when it is not there as it was */
  async #note(version: Version, change: Partial<VersionAbout>): Promise<boolean> {
    const about = writeAbout({ ...version, ...change });
    if (about === version.about) return true;
    const record = await this.#store.record(version.board, VERSION_RECORD, version.id);
    if (record === null) return false;
    return this.#store.putRecord({ ...record, about }, version.about);
  }

  /** The newest version of a board that is not from a time to come; null when there is none. */
  async newest(board: string, at: number): Promise<Version | null> {
    return (await this.list(board)).filter((version) => version.at <= at).at(-1) ?? null;
  }

  /** Keeps the design under a name. */
  async name(board: string, snapshot: Snapshot, { name, by }: Named): Promise<Version | TooMany> {
    const bytes = await packSnapshot(snapshot);
    return this.#naming.run(board, async () => {
      // Other nodes name some too: of two that counted the same, one is told and counts anew.
      for (;;) {
        const there = await this.#store.records(board, VERSION_RECORD);
        const full = this.#whyFull(asVersions(there), bytes.length);
        if (full !== null) return full;
        const what = { kind: 'named', at: this.#now(), name, by, wipedAt: null, hands: null } as const;
        const version = await this.#put(board, snapshot, what, { bytes, among: there });
        if (version !== null) return version;
      }
    });
  }

  /**
   * Gives a version a name, or another one; from then on it is kept.
   * @returns null when there is no such version (any more)
   */
  rename(board: string, id: string, named: Named): Promise<Version | TooMany | null> {
    return this.#naming.run(board, () => this.#rename(board, id, named));
  }

  async #rename(board: string, id: string, { name, by }: Named): Promise<Version | TooMany | null> {
    // Somebody else may change the same version at this moment; then it is read anew.
    for (;;) {
      const there = await this.#store.records(board, VERSION_RECORD);
      const versions = asVersions(there);
      const version = versions.find((one) => one.id === id);
      const record = version === undefined ? null : await this.#store.record(board, VERSION_RECORD, id);
      if (version === undefined || record === null) return null;
      const full = version.kind === 'named' ? null : this.#whyFull(versions, version.size);
      if (full !== null) return full;
      const about = writeAbout({ ...version, kind: 'named', name, by: version.by ?? by });
      if (await this.#store.putRecord({ ...record, about }, version.about, there))
        return { ...version, kind: 'named', name, by: version.by ?? by, about };
    }
  }

  /** @returns false when there is no such version */
  remove(board: string, id: string): Promise<boolean> {
    return this.#store.removeRecord(board, VERSION_RECORD, id);
  }

  /** Forgets what the rule no longer keeps. */
  async thin(board: string): Promise<void> {
    const versions = await this.list(board);
    const about = new Map(versions.map((version) => [version.id, version.about]));
    // Only as it was when the rule looked: somebody may have named it since.
    for (const { id } of thinnedOut(versions, this.#now(), this.caps))
      await this.#store.removeRecord(board, VERSION_RECORD, id, about.get(id)!);
  }

  #whyFull(versions: readonly Version[], size: number): TooMany | null {
    const named = versions.filter(({ kind }) => kind === 'named');
    if (named.length >= this.caps.named) return { full: 'count' };
    const bytes = named.reduce((sum, version) => sum + version.size, size);
    return bytes > this.caps.namedBytes ? { full: 'bytes' } : null;
  }

  /** @returns null, and keeps nothing, where others than those named are there */
  async #put(
    board: string,
    snapshot: Snapshot,
    what: Omit<VersionAbout, 'title' | 'strings' | 'rows' | 'digest'>,
    packed: { readonly bytes: Uint8Array; readonly among: readonly ListedRecord[] } | null = null,
  ): Promise<Version | null> {
    const { digest, title, strings, rows } = snapshot;
    const bytes = packed?.bytes ?? (await packSnapshot(snapshot));
    const about: VersionAbout = { ...what, title, strings, rows, digest };
    const id = newVersionId(what.at);
    const text = writeAbout(about);
    const record = { board, kind: VERSION_RECORD, id, about: text, bytes };
    if (!(await this.#store.putRecord(record, undefined, packed?.among))) return null;
    return { ...about, board, id, size: bytes.length, about: text };
  }
}
