/** How much may be stored over HTTP in an hour; see `written-bytes.ts`. */
import type { Context, MiddlewareHandler } from 'hono';
import { acrossBoards, type Share } from '../shares.ts';
import type { WrittenBytes } from '../written-bytes.ts';
import { kindOf } from './limit-requests.ts';
import { HttpProblem } from './problem.ts';

const TALK = /^\/api\/boards\/[^/]+\/talk\/?$/;

/** An archive. */
const LONGEST = 64 * 1024 * 1024;

/** What the server copied for a request, beside what was sent with it. */
const stored = new WeakMap<Context, number>();

/** Notes that the server copied so many bytes for a request that sent next to nothing. */
export function noteStored(c: Context, bytes: number): void {
  stored.set(c, (stored.get(c) ?? 0) + bytes);
}

/** Whether a request may have much stored. Links are given and taken back, and boards deleted, whatever was written. */
function isWriting({ method, path }: Context['req']): boolean {
  if (method !== 'POST' && method !== 'PUT') return false;
  const kind = kindOf(method, path);
  return kind === 'large' || kind === 'archive' || TALK.test(path);
}

/** Answers 429 with `Retry-After` beyond the limit. What was refused has stored nothing and does not count. */
export function limitWriting(
  written: WrittenBytes,
  shareOf: (c: Context) => Promise<Share>,
  addressOf: (c: Context) => string,
): MiddlewareHandler {
  return async (c, next) => {
    if (!isWriting(c.req)) {
      await next();
      return;
    }
    const share = acrossBoards(await shareOf(c), addressOf(c));
    const waitMs = written.waitMs(share);
    if (waitMs > 0) {
      c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
      throw new HttpProblem(429, {
        kind: 'too-much-written',
        message: 'too much was written from here in the last hour; try again later',
      });
    }
    // Who does not say how long it is may send the longest.
    const sent = c.req.header('transfer-encoding') === undefined ? c.req.header('content-length') : LONGEST;
    await next();
    if (c.res.status < 400) written.count(share, Number(sent ?? 0) + (stored.get(c) ?? 0));
  };
}
