/**
 * Who changed what on a board. Nothing is written down for it: each row of a design's log says who wrote it, and stays as the past of the document when
 * a snapshot takes its place. What people did is worked out of these rows when an owner asks.
 */
import type { Log } from '../log.ts';
import { type DocumentAddress, type Store, StoreError, type WrittenRow } from '../store/index.ts';
import { type Rooms, readWrittenBy } from '../sync/index.ts';
import { bytesOf, type Job, type Work } from '../work/index.ts';
import { FOLD, type ListedVisit, VISIT_EDITS, type VisitEdits, VISITS } from './journal-jobs.ts';
import type { JournalRow } from './replay.ts';

/** So long rows of the past are kept, and visits told of. */
const KEPT_MS = 30 * 24 * 60 * 60_000;
/** Rows of the past of one board, beside what they build on; beyond it the oldest go, until half of it is left. */
const MOST_BYTES = 4 * 1024 * 1024;
/** Going through rows takes as long as reading a document of some times their bytes. */
const TIMES = 4;

export interface JournalDeps {
  readonly store: Store;
  readonly rooms: Rooms;
  readonly work: Work;
  readonly log: Log;
  readonly now: () => number;
  readonly mostBytes?: number;
}

export class Journal {
  readonly #deps: JournalDeps;
  /** Boards whose past is being shortened. */
  readonly #folding = new Set<string>();

  constructor(deps: JournalDeps) {
    this.#deps = deps;
  }

  /** The visits of the last 30 days in which something was changed, oldest first. */
  async visits(board: string): Promise<readonly ListedVisit[]> {
    const since = this.#deps.now() - KEPT_MS;
    const rows = await this.#rows(board);
    return (await this.#run(VISITS, rows, rows)).filter(({ last }) => last >= since);
  }

  /** What was done in one of them; null when it is not known. */
  async edits(board: string, visit: string): Promise<VisitEdits | null> {
    const rows = await this.#rows(board);
    return this.#run(VISIT_EDITS, { rows, visit }, rows);
  }

  /** Shortens the past of a document where it is long or old; after rows have gone there. */
  async shorten(address: DocumentAddress, present: number, documentBytes: number): Promise<void> {
    const { store, work, now, log, mostBytes = MOST_BYTES } = this.#deps;
    const name = `${address.board}/${address.part}`;
    if (this.#folding.has(name)) return;
    this.#folding.add(name);
    try {
      const before = now() - KEPT_MS;
      const { bytes, oldestBy } = await store.pastSize(address);
      const isOld = (readWrittenBy(oldestBy)?.at ?? before) < before;
      if (!isOld && bytes <= mostBytes + documentBytes) return;
      const rows = journalRows(await store.writtenRows(address), present).filter(({ isPast }) => isPast);
      const input = { rows, present, before, mostBytes: mostBytes / 2 };
      const fold = await work.run(FOLD, input, bytesOf(rows.map(({ bytes }) => bytes)));
      if (fold === null) return;
      const isDone = await store.foldPast(address, fold);
      log.info('past-shortened', { name, rows: fold.seqs.length, isDone });
    } catch (cause) {
      // It stays as it is, complete; the next occasion tries again.
      if (!(cause instanceof StoreError)) throw cause;
      log.warn('past-not-shortened', { name, message: cause.message });
    } finally {
      this.#folding.delete(name);
    }
  }

  /** All rows of a design, those on their way to the disk included, here and on other nodes. */
  async #rows(board: string): Promise<readonly JournalRow[]> {
    const { store, rooms } = this.#deps;
    const address: DocumentAddress = { board, part: 'design' };
    const hold = await rooms.hold(address);
    try {
      await hold.room.catchUp();
      if (!(await hold.room.stored())) throw new StoreError('unavailable', 'the document is not stored now');
      return journalRows(await store.writtenRows(address), hold.room.generation);
    } finally {
      hold.release();
    }
  }

  #run<In, Out>(job: Job<In, Out>, input: In, rows: readonly JournalRow[]): Promise<Out> {
    return this.#deps.work.run(job, input, bytesOf(rows.map(({ bytes }) => bytes)) * TIMES);
  }
}

/** Rows that can be read; those of a document whose log is damaged are as many as can be. */
function journalRows(
  rows: readonly WrittenRow[],
  present: number,
): readonly (JournalRow & { readonly seq: number; readonly isPast: boolean })[] {
  return rows
    .filter(({ isDamaged }) => isDamaged !== true)
    .map(({ seq, generation, by, bytes }) => ({
      seq,
      generation: generation ?? present,
      by,
      bytes,
      isPast: generation !== null,
    }));
}
