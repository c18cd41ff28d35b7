/** The HTTP side of the server as one Hono app. Sockets are not here: see sync/upgrade.ts. */
import { randomUUID } from 'node:crypto';
import { type Context, Hono } from 'hono';
import { secureHeaders } from 'hono/secure-headers';
import { boardSchema } from '../engine/index.ts';
import type { Boards } from './boards/index.ts';
import type { Clock } from './clock.ts';
import {
  type Admit,
  askAhead,
  answerProblem,
  boardRoutes,
  HttpProblem,
  healthRoutes,
  limitMaking,
  limitWriting,
  limitRequests,
  type MakingLimits,
  type ProblemStatus,
  pageRoutes,
} from './http/index.ts';
import { FewLines } from './few-lines.ts';
import type { Log } from './log.ts';
import type { Metrics } from './metrics.ts';
import type { Share } from './shares.ts';
import { StoreError } from './store/index.ts';
import { isOwnPage } from './own-page.ts';
import { TooManyRooms } from './sync/index.ts';
import { type TalkRooms, talkRoutes } from './talk/index.ts';
import { TooBusy } from './work/index.ts';
import type { WrittenBytes } from './written-bytes.ts';

export interface AppDeps {
  readonly boards: Boards;
  readonly talk: TalkRooms;
  readonly admit: Admit;
  readonly metrics: Metrics;
  readonly log: Log;
  readonly clock: Clock;
  /** Folder of the built page. */
  readonly pageFolder: string;
  readonly allowedOrigins: readonly string[];
  readonly addressOf: (c: Context) => string;
  /** Whose share of the server a request uses. */
  readonly shareOf: (c: Context) => Promise<Share>;
  readonly making: MakingLimits;
  readonly written: WrittenBytes;
  /** So many times what is set for requests of each kind and share. */
  readonly requestTimes: number;
  readonly whyNotReady: () => Promise<string | null>;
  readonly isFromThisMachine: (c: Context) => boolean;
  readonly metricsToken: string | null;
  readonly onMade: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
  /** Sub-apps of other parts of the server, mounted under `/api`, before the boards. */
  readonly api?: readonly { readonly path: string; readonly app: Hono }[];
}

/**
 * Of Hono's own what holds for every answer: no guessing of types, no address told to other sites. Who may show the page in a frame is in its
 * policy (`page-routes.ts`), and the server is reached by plain HTTP too.
 */
const SECURE_HEADERS = {
  crossOriginResourcePolicy: false,
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
  strictTransportSecurity: false,
  xDnsPrefetchControl: false,
  xDownloadOptions: false,
  xFrameOptions: false,
  xPermittedCrossDomainPolicies: false,
  xXssProtection: false,
} as const;

/** Answers that nobody may keep, on their way either. */
const UNKEPT = /^\/(?:api(?:\/|$)|healthz$|readyz$|metrics$)/;

const READ_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

function statusOfStoreError(error: StoreError): ProblemStatus {
  switch (error.kind) {
    case 'unknown-board':
      return 404;
    case 'full':
      return 507;
    case 'read-only':
    case 'locked':
    case 'damaged':
    case 'unavailable':
    case 'outdated':
    case 'overtaken':
    case 'closed':
      return 503;
  }
}

/** All of HTTP: what is thrown below becomes an answer here, and nowhere else. */
export function createApp(deps: AppDeps): Hono {
  const app = new Hono();

  app.use('*', async (c, next) => {
    const given = c.req.header('x-request-id');
    const id = given !== undefined && /^[A-Za-z0-9_-]{1,64}$/.test(given) ? given : randomUUID();
    const began = deps.clock.elapsed();
    c.header('X-Request-Id', id);
    await next();
    const ms = deps.clock.elapsed() - began;
    deps.metrics.observe('larkboard_request_ms', 'From request to answer.', ms);
    // The path only: a query may hold what is nobody's business.
    deps.log.info('request', {
      request: id,
      method: c.req.method,
      path: c.req.path,
      status: c.res.status,
      ms: Math.round(ms * 10) / 10,
    });
  });

  app.use('*', secureHeaders(SECURE_HEADERS));

  // What is answered here is for one person at one moment: errors, and what no route answers, too.
  app.use('*', async (c, next) => {
    await next();
    const { headers } = c.res;
    if (UNKEPT.test(c.req.path) && !headers.get('cache-control')?.includes('no-store'))
      headers.set('Cache-Control', 'no-store');
  });

  app.use('/api/*', async (c, next) => {
    if (!READ_METHODS.has(c.req.method)) {
      const [origin, host, site] = ['origin', 'host', 'sec-fetch-site'].map((name) => c.req.header(name));
      if (!isOwnPage({ origin, host, site }, deps.allowedOrigins))
        throw new HttpProblem(403, {
          kind: 'other-origin',
          message: 'pages of another origin may not write here',
        });
    }
    await next();
  });

  app.use('*', limitRequests(deps.shareOf, deps.clock.now, deps.requestTimes));
  app.use('/api/*', limitWriting(deps.written, deps.shareOf, deps.addressOf));
  app.use('/api/*', limitMaking(deps.making, deps.shareOf, deps.addressOf, deps.clock.now));

  const storeLines = new FewLines(deps.clock.elapsed);
  app.onError((error, c) => {
    if (error instanceof HttpProblem) return answerProblem(c, error.status, error.problem);
    if (error instanceof StoreError) {
      const { kind, message } = error;
      // That a board is gone is nobody's fault.
      if (kind !== 'unknown-board') {
        deps.metrics.count('larkboard_store_errors_total', 'Requests that the store could not do.', { kind });
        const unwritten = storeLines.next(kind);
        if (unwritten !== null)
          deps.log.error('store-error', { method: c.req.method, path: c.req.path, kind, message, unwritten });
      }
      return answerProblem(c, statusOfStoreError(error), {
        // No request writes an ended generation.
        kind: kind === 'overtaken' ? 'store-unavailable' : `store-${kind}`,
        message: 'the board cannot be read or stored now; try again soon',
      });
    }
    if (error instanceof TooBusy) {
      c.header('Retry-After', '5');
      return answerProblem(c, 503, { kind: 'busy', message: error.message });
    }
    if (error instanceof TooManyRooms)
      return answerProblem(c, 503, { kind: 'busy', message: 'too many boards are open; try again soon' });
    deps.log.error('request-failed', {
      method: c.req.method,
      path: c.req.path,
      message: error.message,
      stack: error.stack,
    });
    return answerProblem(c, 500, { kind: 'internal', message: 'something went wrong in the server' });
  });
  app.notFound((c) =>
    answerProblem(c, 404, { kind: 'not-found', message: 'there is nothing at this address' }),
  );

  app.route('/', healthRoutes(deps));
  app.get('/schema/board.json', (c) => {
    c.header('Content-Type', 'application/schema+json; charset=utf-8');
    return c.body(JSON.stringify(boardSchema));
  });
  for (const { path, app: part } of deps.api ?? []) app.route(`/api${path}`, part);
  app.route('/api', talkRoutes({ ...deps, now: deps.clock.now }));
  app.route('/api', boardRoutes(deps));
  app.route('/', pageRoutes(deps.pageFolder, askAhead(app)));
  return app;
}
