/** `/healthz`: the process answers. `/readyz`: it can serve boards. `/metrics`: what to watch. */
import { Hono } from 'hono';
import type { Metrics } from '../metrics.ts';
import { answerProblem } from './problem.ts';

export interface HealthDeps {
  readonly metrics: Metrics;
  /** Rejects, or says why not, when the server should get no new visitors. */
  readonly whyNotReady: () => Promise<string | null>;
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
    c.header('Content-Type', 'text/plain; version=0.0.4; charset=utf-8');
    return c.body(deps.metrics.text());
  });
  return app;
}
