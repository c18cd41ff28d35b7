/**
 * Logs as they were read last, so that one that was read a moment ago is not checked again, byte for byte the same: a room opens and closes
 * with each who looks in alone. Only small ones are kept, and few.
 */
import type { StoredRow } from '../store/index.ts';
import type { DocumentLog } from './log-rows.ts';

const MOST_LOGS = 64;
/** Of all rows of one. What is found out of them takes some times as much. */
const MOST_BYTES = 16 * 1024;

export class RecentLogs {
  /** By the name of the room, the one read last at the end. */
  readonly #logs = new Map<string, DocumentLog>();

  /** What was found when these very rows were read; null when it is not known. O(bytes) of a small log. Rule V520. */
  find(name: string, rows: readonly StoredRow[]): DocumentLog | null {
    const log = this.#logs.get(name);
    if (log === undefined || log.rows.length !== rows.length) return null;
    const isSame = rows.every(({ seq, bytes, isDamaged }, i) => {
      const known = log.rows[i]!;
      return !isDamaged && seq === known.seq && Buffer.compare(bytes, known.bytes) === 0;
    });
    return isSame ? log : null;
  }

  /** Keeps what was found, if it is small and sound. */
  keep(name: string, log: DocumentLog): void {
    this.#logs.delete(name);
    if (log.fault !== null || log.rows.reduce((sum, { bytes }) => sum + bytes.length, 0) > MOST_BYTES) return;
    this.#logs.set(name, log);
    if (this.#logs.size <= MOST_LOGS) return;
    for (const [oldest] of this.#logs) {
      this.#logs.delete(oldest);
      return;
    }
  }
}
