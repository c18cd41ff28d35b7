/** `/api/demos` and `/api/boards`: make, read, copy, export and import boards. */
import { type Context, Hono } from 'hono';
import { LIMITS } from '../../engine/document/index.ts';
import type { Boards, Sent } from '../boards/index.ts';
import type { Admit } from './admit.ts';
import { noteStored } from './limit-writing.ts';
import { HttpProblem } from './problem.ts';
import { limitBody } from './read-body.ts';

export interface BoardRoutesDeps {
  readonly boards: Boards;
  readonly admit: Admit;
  /** Called when a board has been made, before the answer: whoever asked becomes its owner. Its fields join the answer. */
  readonly onMade: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
}

/** @throws HttpProblem with the place in what was sent */
function asSent<T>(sent: Sent<T>): T {
  if (sent.ok) return sent.value;
  throw new HttpProblem(sent.error.kind === 'not-json' ? 400 : 422, sent.error);
}

/** The sub-app; mount under `/api`. Every write is on the disk before it is answered. */
export function boardRoutes(deps: BoardRoutesDeps): Hono {
  const app = new Hono();
  const { boards, admit } = deps;
  const limit = limitBody('a board file', LIMITS.boardFileBytes);

  app.get('/demos', async (c) => {
    const demos = await boards.demos();
    const summaries = [];
    for (const demo of demos) summaries.push(await boards.summary(demo));
    return c.json(summaries.map(({ id, title, strings, rows }) => ({ id, title, strings, rows })));
  });

  app.post('/boards', limit, async (c) => {
    const summary = asSent(await boards.create(await c.req.text()));
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  app.get('/boards/:id', async (c) => {
    const { record, pass } = await admit(c, 'design');
    const { createdAt } = record;
    return c.json({ ...(await boards.summary(record)), createdAt, role: pass.role, canWrite: pass.canWrite });
  });

  app.get('/boards/:id/sight', async (c) => {
    const { record } = await admit(c, 'design');
    return c.json(await boards.glance(record.id));
  });

  app.get('/boards/:id/file', async (c) => {
    const { record } = await admit(c, 'design');
    const file = await boards.file(record.id);
    c.header('Content-Disposition', `attachment; filename="${record.id}.json"`);
    c.header('Content-Type', 'application/json');
    return c.body(file as Uint8Array<ArrayBuffer>);
  });

  app.put('/boards/:id/file', limit, async (c) => {
    const { record, pass } = await admit(c, 'design');
    if (!pass.canWrite)
      throw record.kind === 'demo'
        ? new HttpProblem(403, {
            kind: 'demo-board',
            message: 'a demo board is not edited; make a copy',
          })
        : new HttpProblem(403, { kind: 'forbidden', message: 'you may only look here' });
    asSent(await boards.replaceBy(record.id, await c.req.text(), pass.role, pass.personId));
    return c.json(await boards.summary(record));
  });

  app.post('/boards/:id/copy', async (c) => {
    const { record } = await admit(c, 'design');
    const summary = await boards.copy(record.id, (bytes) => noteStored(c, bytes));
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  return app;
}
