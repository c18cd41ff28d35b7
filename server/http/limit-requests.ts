/** How many requests of each kind a share may make in ten seconds, and have under way at once. */
import type { Context, MiddlewareHandler } from 'hono';
import { InUse, PerSpan, type Share, type ShareLimits } from '../shares.ts';
import { HttpProblem } from './problem.ts';
import { whenGone } from './when-gone.ts';

/**
 * `page`: files of the page, and what watches the server. `read`, `write`: of the API. `large`: what reads or writes a whole
 * design. `archive`: packs or loads one. `enter`: comes in by a link, which has limits of its own.
 */
export type RequestKind = 'page' | 'read' | 'write' | 'large' | 'archive' | 'enter';

interface KindLimits {
  /** In ten seconds. */
  readonly rate: ShareLimits;
  readonly atOnce: ShareLimits;
}

/** A person at work stays far below, and so does a class of 40 who are all new. */
export const REQUEST_LIMITS: Readonly<Record<RequestKind, KindLimits>> = {
  page: {
    rate: { person: 1_000, newcomer: 1_000, newcomers: 10_000, strangers: 4_000 },
    atOnce: { person: 100, newcomer: 100, newcomers: 1_000, strangers: 400 },
  },
  read: {
    rate: { person: 300, newcomer: 300, newcomers: 6_000, strangers: 1_000 },
    atOnce: { person: 50, newcomer: 50, newcomers: 500, strangers: 100 },
  },
  write: {
    rate: { person: 300, newcomer: 300, newcomers: 4_000, strangers: 400 },
    atOnce: { person: 50, newcomer: 50, newcomers: 500, strangers: 100 },
  },
  large: {
    rate: { person: 100, newcomer: 50, newcomers: 1_000, strangers: 400 },
    atOnce: { person: 20, newcomer: 10, newcomers: 200, strangers: 200 },
  },
  archive: {
    rate: { person: 30, newcomer: 30, newcomers: 60, strangers: 60 },
    atOnce: { person: 2, newcomer: 2, newcomers: 8, strangers: 4 },
  },
  enter: {
    rate: { person: 100, newcomer: 100, newcomers: 3_000, strangers: 3_000 },
    atOnce: { person: 20, newcomer: 20, newcomers: 400, strangers: 400 },
  },
};

const SPAN_MS = 10_000;
const KINDS = Object.keys(REQUEST_LIMITS) as RequestKind[];

const ARCHIVE = /^\/api\/(?:archives|boards\/[^/]+\/archive)\/?$/;
const ENTER = /^\/api\/(?:boards|lessons)\/[^/]+\/enter\/?$/;
/** What reads a whole design, or all that was ever done to it, and what makes or keeps one. */
const LARGE_READ =
  /^\/api\/(?:boards\/[^/]+\/(?:file|sight|proposals\/[^/]+\/states|versions\/[^/]+|visits(?:\/[^/]+)?)|lessons\/[^/]+\/board)\/?$/;
const LARGE_WRITE =
  /^\/api\/(?:boards(?:\/[^/]+\/(?:file|copy|proposals|lessons|versions|versions\/keep))?|lessons\/[^/]+\/board)\/?$/;

/** Which kind of request it is. */
export function kindOf(method: string, path: string): RequestKind {
  if (!path.startsWith('/api/')) return 'page';
  if (ARCHIVE.test(path)) return 'archive';
  const isRead = method === 'GET' || method === 'HEAD' || method === 'OPTIONS';
  if (ENTER.test(path) && !isRead) return 'enter';
  if ((isRead ? LARGE_READ : LARGE_WRITE).test(path)) return 'large';
  return isRead ? 'read' : 'write';
}

function timesAll(times: number, { person, newcomer, newcomers, strangers }: ShareLimits): ShareLimits {
  return {
    person: times * person,
    newcomer: times * newcomer,
    newcomers: times * newcomers,
    strangers: times * strangers,
  };
}

/**
 * Answers 429 beyond the limits.
 * @param shareOf whose share a request uses
 * @param now ms since 1970
 * @param times how many times the limits are allowed
 */
export function limitRequests(
  shareOf: (c: Context) => Promise<Share>,
  now: () => number,
  times = 1,
  limits: Readonly<Record<RequestKind, KindLimits>> = REQUEST_LIMITS,
): MiddlewareHandler {
  const perKind = <T>(make: (of: KindLimits) => T): Readonly<Record<RequestKind, T>> =>
    Object.fromEntries(KINDS.map((kind) => [kind, make(limits[kind])])) as Record<RequestKind, T>;
  const rates = perKind(({ rate }) => new PerSpan(timesAll(times, rate), SPAN_MS));
  const underWay = perKind(({ atOnce }) => new InUse(timesAll(times, atOnce)));
  return async (c, next) => {
    const kind = kindOf(c.req.method, c.req.path);
    const share = await shareOf(c);
    const waitMs = rates[kind].add(share, now());
    const isTooMuch = !underWay[kind].hasRoomFor(share);
    if (waitMs > 0 || isTooMuch) {
      c.header('Retry-After', String(Math.max(1, Math.ceil(waitMs / 1000))));
      throw new HttpProblem(429, { kind: 'too-fast', message: `too many requests of one kind: ${kind}` });
    }
    underWay[kind].enter(share);
    const leave = (): void => underWay[kind].leave(share);
    const isLeft = whenGone(c, leave);
    try {
      await next();
    } finally {
      if (!isLeft) leave();
    }
  };
}
