/**
 * The access store of one machine: SQLite in a worker thread of its own, so that a wait for the disk, or for another process that
 * holds the file, stops nobody who edits.
 */
import { Worker } from 'node:worker_threads';
import { type SqliteOpenOptions, ThreadCalls } from '../store/index.ts';
import type { AccessStore, GrantRecord, HandOverRecord, LinkRecord } from './access-store.ts';

/** A method and what it is called with. */
export interface AccessCall {
  readonly name: Exclude<keyof AccessStore, 'close'>;
  readonly args: readonly unknown[];
}

/** Short-lived memory of the thread; by default it would be up to 48 MB. */
const YOUNG_MB = 4;

export interface AccessThreadOptions extends SqliteOpenOptions {
  readonly file: string;
  /** The compiled worker. */
  readonly workerFile: URL;
}

/** Rejects with a StoreError when the file cannot be read or written. */
export class AccessThread implements AccessStore {
  readonly #calls: ThreadCalls<AccessCall>;

  private constructor({ file, workerFile, ...options }: AccessThreadOptions) {
    this.#calls = new ThreadCalls(
      () =>
        new Worker(workerFile, {
          workerData: { file, options },
          resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
        }),
    );
  }

  /** Opens the file, or makes it. Rejects when it cannot be opened. */
  static async open(options: AccessThreadOptions): Promise<AccessThread> {
    const store = new AccessThread(options);
    try {
      await store.personBySession('', 0);
      return store;
    } catch (cause) {
      await store.close();
      throw cause;
    }
  }

  addLink(link: LinkRecord): Promise<void> {
    return this.#ask('addLink', link);
  }

  linkById(boardId: string, linkId: string): Promise<LinkRecord | null> {
    return this.#ask('linkById', boardId, linkId);
  }

  linkByHash(boardId: string, secretHash: string): Promise<LinkRecord | null> {
    return this.#ask('linkByHash', boardId, secretHash);
  }

  links(boardId: string): Promise<readonly LinkRecord[]> {
    return this.#ask('links', boardId);
  }

  updateLink(...args: Parameters<AccessStore['updateLink']>): Promise<boolean> {
    return this.#ask('updateLink', ...args);
  }

  addGrant(grant: GrantRecord): Promise<void> {
    return this.#ask('addGrant', grant);
  }

  grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]> {
    return this.#ask('grantedLinks', personId, boardId);
  }

  boardsOf(personId: string, now: number): Promise<readonly string[]> {
    return this.#ask('boardsOf', personId, now);
  }

  addHandOver(handOver: HandOverRecord, now: number): Promise<void> {
    return this.#ask('addHandOver', handOver, now);
  }

  hasHandOver(boardId: string, codeHash: string, now: number): Promise<boolean> {
    return this.#ask('hasHandOver', boardId, codeHash, now);
  }

  takeHandOver(...args: Parameters<AccessStore['takeHandOver']>): Promise<string | null> {
    return this.#ask('takeHandOver', ...args);
  }

  forgetBoard(boardId: string): Promise<void> {
    return this.#ask('forgetBoard', boardId);
  }

  personBySession(sessionHash: string, since: number): Promise<string | null> {
    return this.#ask('personBySession', sessionHash, since);
  }

  addSession(sessionHash: string, personId: string, madeAt: number): Promise<void> {
    return this.#ask('addSession', sessionHash, personId, madeAt);
  }

  extendSession(sessionHash: string, now: number, ifBefore: number): Promise<boolean> {
    return this.#ask('extendSession', sessionHash, now, ifBefore);
  }

  dropSessions(before: number): Promise<number> {
    return this.#ask('dropSessions', before);
  }

  close(): Promise<void> {
    return this.#calls.close();
  }

  #ask<Name extends AccessCall['name']>(
    name: Name,
    ...args: Parameters<AccessStore[Name]>
  ): Promise<Awaited<ReturnType<AccessStore[Name]>>> {
    return this.#calls.ask({ name, args });
  }
}
