/** The versions of boards, in the store. What is written is on the disk when its promise fulfils. */
import { randomBytes } from 'node:crypto';
import { OneByOne } from '../one-by-one.ts';
import type { ListedRecord, Store } from '../store/index.ts';
import { checkCopy, DEFAULT_SYNC_LIMITS, isCostlyAlone } from '../sync/index.ts';
import { packSnapshot, type Snapshot, unpackState } from './snapshot.ts';
import { byAge, thinnedOut, VERSION_CAPS, type VersionCaps, type VersionKind } from './thinning.ts';
import { readVersion, VERSION_RECORD, type Version, type VersionAbout, writeAbout } from './version-about.ts';

export interface VersionsDeps {
  readonly store: Store;
  readonly now: () => number;
  readonly caps?: VersionCaps;
}

export interface Named {
  readonly name: string;
  readonly by: VersionAbout['by'];
}

/** No more named versions can be kept on the board. */
export interface TooMany {
  readonly full: 'count' | 'bytes';
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
  async take(
    board: string,
    snapshot: Snapshot,
    kind: Exclude<VersionKind, 'named'>,
    at: number,
  ): Promise<boolean> {
    const before = (await this.list(board)).filter((version) => version.at <= at);
    const alike = kind === 'late' ? before : before.slice(-1);
    if (alike.some(({ digest }) => digest === snapshot.digest)) return false;
    await this.#put(board, snapshot, { kind, at, name: '', by: null });
    await this.thin(board);
    return true;
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
        const what = { kind: 'named', at: this.#now(), name, by } as const;
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
    what: Pick<VersionAbout, 'kind' | 'at' | 'name' | 'by'>,
    packed: { readonly bytes: Uint8Array; readonly among: readonly ListedRecord[] } | null = null,
  ): Promise<Version | null> {
    const { digest, title, strings, rows } = snapshot;
    const bytes = packed?.bytes ?? (await packSnapshot(snapshot));
    const about: VersionAbout = { ...what, title, strings, rows, digest };
    const id = newVersionId(what.at);
    const text = writeAbout(about);
    const record = { board, kind: VERSION_RECORD, id, about: text, bytes };
    if (!(await this.#store.putRecord(record, undefined, packed?.among))) return null;
    return { ...about, id, size: bytes.length, about: text };
  }
}
