/**
 * How much a share may have made and packed in an hour: each new board stays on the disk, each archive is work for the
 * processor. Counted on each node for itself. Boards count when they were made, archives also where the answer is a refusal.
 */
import type { Context, MiddlewareHandler } from 'hono';
import { acrossBoards, PerSpan, type Share, type ShareLimits } from '../shares.ts';
import { HttpProblem } from './problem.ts';

/** In an hour, from one address, by those who are new or whom nobody knows. A person who is known has a tenth of it alone. */
export interface MakingLimits {
  /** New boards, copies, branches, lessons and boards from archives. */
  readonly boards: number;
  /** Archives loaded or packed. */
  readonly archives: number;
}

/** A class of 40 behind one address, each making a board every five minutes, stays below. */
export const DEFAULT_MAKING_LIMITS: MakingLimits = { boards: 600, archives: 120 };

const HOUR_MS = 60 * 60 * 1000;
/** What one person has at least, where nobody else uses any. */
const LEAST = 10;

const MAKES_BOARD = /^\/api\/(?:boards|archives|boards\/[^/]+\/(?:copy|proposals|lessons))\/?$/;
const ARCHIVE = /^\/api\/(?:archives|boards\/[^/]+\/archive)\/?$/;

function shared(most: number): ShareLimits {
  const one = Math.min(most, Math.max(LEAST, Math.ceil(most / 10)));
  return { person: one, newcomer: one, newcomers: most, strangers: most };
}

/** Answers 429 with `Retry-After` beyond the limit of an hour. @param now ms since 1970 */
export function limitMaking(
  limits: MakingLimits,
  shareOf: (c: Context) => Promise<Share>,
  addressOf: (c: Context) => string,
  now: () => number,
): MiddlewareHandler {
  const boards = new PerSpan(shared(limits.boards), HOUR_MS);
  const archives = new PerSpan(shared(limits.archives), HOUR_MS);
  return async (c, next) => {
    const { method, path } = c.req;
    const makesBoard = method === 'POST' && MAKES_BOARD.test(path);
    const isArchive = (method === 'POST' || method === 'GET') && ARCHIVE.test(path);
    if (!makesBoard && !isArchive) {
      await next();
      return;
    }
    const share = acrossBoards(await shareOf(c), addressOf(c));
    // Counted before it is made, so that many at once are no way round the limit.
    const boardMs = makesBoard ? boards.add(share, now()) : 0;
    const archiveMs = isArchive && boardMs === 0 ? archives.add(share, now()) : 0;
    if (boardMs > 0 || archiveMs > 0) {
      if (makesBoard && boardMs === 0) boards.takeBack(share);
      c.header('Retry-After', String(Math.ceil((boardMs + archiveMs) / 1000)));
      throw new HttpProblem(429, {
        kind: 'too-many-boards',
        message: 'too many boards were made from here in the last hour; try again later',
      });
    }
    await next();
    if (makesBoard && c.res.status >= 400) boards.takeBack(share);
  };
}
