/** How much may be stored over HTTP in an hour; see `written-bytes.ts`. */
import type { Context, MiddlewareHandler } from 'hono';
import { acrossBoards, type Share } from '../shares.ts';
import type { WrittenBytes } from '../written-bytes.ts';
import { kindOf } from './limit-requests.ts';
import { HttpProblem } from './problem.ts';

const TALK = /^\/api\/boards\/[^/]+\/talk\/?$/;

/** What the server copied for a request, or was sent with it without saying how much. */
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

/** Counts a body as it is read. A proxy may take its length away, so what comes without is no larger than any other. */
function noteBody(c: Context): void {
  const { raw } = c.req;
  if (raw.body === null) return;
  const counting = new TransformStream<Uint8Array, Uint8Array>({
    transform: (piece, controller) => {
      noteStored(c, piece.length);
      controller.enqueue(piece);
    },
  });
  c.req.raw = new Request(raw, { body: raw.body.pipeThrough(counting), duplex: 'half' });
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
    const isUnsaid = c.req.header('transfer-encoding') !== undefined;
    if (isUnsaid) noteBody(c);
    await next();
    const said = isUnsaid ? 0 : Number(c.req.header('content-length') ?? 0);
    if (c.res.status < 400) written.count(share, said + (stored.get(c) ?? 0));
  };
}
