/**
 * How much one address may have made and packed in an hour: each new board stays on the disk, each archive is work for the
 * processor. Counted on each node for itself, and also where the answer is a refusal.
 */
import type { Context, MiddlewareHandler } from 'hono';
import { HttpProblem } from './problem.ts';

export interface MakingLimits {
  /** New boards, copies, branches and boards from archives. */
  readonly boards: number;
  /** Archives loaded or packed. */
  readonly archives: number;
}

/** A class of 40 behind one address, each making a board every five minutes, stays below. */
export const DEFAULT_MAKING_LIMITS: MakingLimits = { boards: 600, archives: 120 };

const HOUR_MS = 60 * 60 * 1000;
/** Addresses remembered at most; beyond it the oldest are forgotten. */
const MOST_ADDRESSES = 10_000;

const MAKES_BOARD = /^\/api\/(?:boards|archives|boards\/[^/]+\/(?:copy|proposals))\/?$/;
const ARCHIVE = /^\/api\/(?:archives|boards\/[^/]+\/archive)\/?$/;

/** Counts by address, anew each hour from the first. */
class HourlyCount {
  readonly #most: number;
  readonly #counts = new Map<string, { since: number; count: number }>();

  constructor(most: number) {
    this.#most = most;
  }

  /** Adds one. @returns ms to wait when it is beyond the limit, else 0 */
  add(address: string, now: number): number {
    let entry = this.#counts.get(address);
    if (entry === undefined || now - entry.since >= HOUR_MS) {
      this.#counts.delete(address);
      entry = { since: now, count: 0 };
      this.#counts.set(address, entry);
      const oldest = this.#counts.keys().next();
      if (this.#counts.size > MOST_ADDRESSES && !oldest.done) this.#counts.delete(oldest.value);
    }
    entry.count += 1;
    return entry.count > this.#most ? entry.since + HOUR_MS - now : 0;
  }
}

/** Answers 429 with `Retry-After` beyond the limit of an hour. @param now ms since 1970 */
export function limitMaking(
  limits: MakingLimits,
  addressOf: (c: Context) => string,
  now: () => number,
): MiddlewareHandler {
  const boards = new HourlyCount(limits.boards);
  const archives = new HourlyCount(limits.archives);
  return async (c, next) => {
    const { method, path } = c.req;
    const waits: number[] = [];
    if (method === 'POST' && MAKES_BOARD.test(path)) waits.push(boards.add(addressOf(c), now()));
    if ((method === 'POST' || method === 'GET') && ARCHIVE.test(path))
      waits.push(archives.add(addressOf(c), now()));
    const waitMs = Math.max(0, ...waits);
    if (waitMs > 0) {
      c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
      throw new HttpProblem(429, {
        kind: 'too-many-boards',
        message: 'too many boards were made from this address in the last hour; try again later',
      });
    }
    await next();
  };
}
