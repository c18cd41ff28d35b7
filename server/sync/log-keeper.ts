/** How long the log of a room's document is, and its compaction into one snapshot. */
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { StoreError } from '../store/index.ts';
import type { DocumentLog } from './log-rows.ts';
import type { Saver } from './saver.ts';

/** Rows, or bytes since the last snapshot, after which the log is compacted while people are in the room; on closing it takes fewer. */
const COMPACT_ROWS = 500;
const COMPACT_BYTES = 1024 * 1024;
const COMPACT_ROWS_CLOSING = 20;

interface LogKeeperDeps {
  readonly log: Log;
  readonly metrics: Metrics;
}

export class LogKeeper {
  readonly #name: string;
  readonly #deps: LogKeeperDeps;
  readonly #saver: Saver;
  #bytes = 0;
  #isCompacting = false;
  #fault: string | null = null;

  constructor(name: string, deps: LogKeeperDeps, saver: Saver) {
    this.#name = name;
    this.#deps = deps;
    this.#saver = saver;
  }

  /** Why some of the log cannot be read; then nothing is taken and nothing on the disk is touched. */
  get fault(): string | null {
    return this.#fault;
  }

  /** The document holds these rows now, so a snapshot of it may take their place; never to be said any sooner. */
  note({ rows, fault }: DocumentLog): void {
    if (fault !== null) {
      // No snapshot holds what could not be read, so none may ever take its place.
      if (this.#fault === null)
        this.#deps.log.error('log-unreadable', { room: this.#name, rows: rows.length, message: fault });
      this.#fault = fault;
      return;
    }
    const known = new Set(this.#saver.seqs);
    this.#saver.knows(rows.map((row) => row.seq).filter((seq) => !known.has(seq)));
    this.#bytes = rows.slice(1).reduce((sum, row) => sum + row.bytes.length, 0);
  }

  /** A row of so many bytes was added. */
  grow(bytes: number): void {
    this.#bytes += bytes;
  }

  /** Whether the log is long for a document of so many bytes, or (null) for a room that closes. */
  isLong(documentBytes: number | null): boolean {
    const rows = this.#saver.seqs.length;
    if (documentBytes === null) return rows >= COMPACT_ROWS_CLOSING;
    return rows > COMPACT_ROWS || this.#bytes > Math.max(COMPACT_BYTES, documentBytes);
  }

  /** Replaces the log by a snapshot, unless that is under way. */
  async compact(encode: () => Uint8Array): Promise<void> {
    if (this.#isCompacting || this.#fault !== null) return;
    this.#isCompacting = true;
    try {
      const snapshot = encode();
      this.#bytes = 0;
      await this.#saver.compact(snapshot);
      this.#deps.metrics.count('larkboard_compactions_total', 'Logs replaced by a snapshot.');
    } catch (cause) {
      if (!(cause instanceof StoreError)) throw cause;
      // The log stays as it is, complete; the next occasion tries again.
      this.#deps.log.warn('compaction-failed', { room: this.#name, message: cause.message });
    } finally {
      this.#isCompacting = false;
    }
  }
}
