/**
 * `/api/boards/:id/visits`: who has been here and changed something, and what; for owners. Taking it back is no request: it is an edit of the page like any
 * other, behind a version of what stands there (`POST …/versions/keep`).
 */
import { type Context, Hono } from 'hono';
import { canManage } from '../../engine/document/index.ts';
import { type Admit, HttpProblem } from '../http/index.ts';
import type { Journal } from './journal.ts';

export interface VisitRoutesDeps {
  readonly journal: Journal;
  readonly admit: Admit;
}

/** Mount under `/api/boards/:id/visits`. */
export function visitRoutes({ journal, admit }: VisitRoutesDeps): Hono {
  const app = new Hono();

  const admitOwner = async (c: Context): Promise<string> => {
    const { record, pass } = await admit(c, 'design');
    if (!canManage(pass.role))
      throw new HttpProblem(403, {
        kind: 'forbidden',
        message: 'only an owner of the board may do this',
      });
    return record.id;
  };

  app.get('/', async (c) => {
    const visits = await journal.visits(await admitOwner(c));
    return c.json({ visits: visits.toReversed() });
  });

  app.get('/:visit', async (c) => {
    const board = await admitOwner(c);
    const found = await journal.edits(board, c.req.param('visit'));
    if (found === null)
      throw new HttpProblem(404, {
        kind: 'no-such-visit',
        path: 'visit',
        message: 'nothing is known of this visit (any more)',
      });
    const { visit, edits, since } = found;
    return c.json({ visit, edits: edits.map((edit) => Buffer.from(edit).toString('base64')), since });
  });

  return app;
}
