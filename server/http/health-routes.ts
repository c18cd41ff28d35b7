/** `/healthz`: the process answers. `/readyz`: it can serve boards. `/metrics`: what to watch, for who runs the server. */
import { createHash, timingSafeEqual } from 'node:crypto';
import { type Context, Hono } from 'hono';
import type { Metrics } from '../metrics.ts';
import { answerProblem, HttpProblem } from './problem.ts';

export interface HealthDeps {
  readonly metrics: Metrics;
  /** Rejects, or says why not, when the server should get no new visitors. */
  readonly whyNotReady: () => Promise<string | null>;
  /** Whether the asker sits at the server's own machine. */
  readonly isFromThisMachine: (c: Context) => boolean;
  /** Who shows it in `Authorization: Bearer …` may read the metrics from elsewhere; null = nobody. */
  readonly metricsToken: string | null;
}

/** Whether the header shows the token. Takes as long whatever is wrong with it. */
function shows(authorization: string | undefined, token: string): boolean {
  const said = /^Bearer +(\S+)$/i.exec(authorization ?? '')?.[1] ?? '';
  const [one, other] = [said, token].map((text) => createHash('sha256').update(text).digest());
  return timingSafeEqual(one!, other!);
}

/** The sub-app; mount under `/`. */
export function healthRoutes(deps: HealthDeps): Hono {
  const app = new Hono();
  app.get('/healthz', (c) => c.json({ status: 'alive' }));
  app.get('/readyz', async (c) => {
    const reason = await deps.whyNotReady();
    return reason === null
      ? c.json({ status: 'ready' })
      : answerProblem(c, 503, { kind: 'not-ready', message: reason });
  });
  app.get('/metrics', (c) => {
    const { metricsToken: token } = deps;
    if (!deps.isFromThisMachine(c) && (token === null || !shows(c.req.header('authorization'), token)))
      throw new HttpProblem(403, { kind: 'forbidden', message: 'metrics are for who runs the server' });
    c.header('Content-Type', 'text/plain; version=0.0.4; charset=utf-8');
    return c.body(deps.metrics.text());
  });
  return app;
}
