/** `/api/demos` and `/api/boards`: make, read, copy, export and import boards. */
import { type Context, Hono } from 'hono';
import { canManage, LIMITS, type PlainProblemKind } from '../../engine/document/index.ts';
import { type Board, parseBoard } from '../../engine/index.ts';
import { type Boards, blankBoard } from '../boards/index.ts';
import type { Admit } from './admit.ts';
import { noteStored } from './limit-writing.ts';
import { HttpProblem } from './problem.ts';
import { type Fields, limitBody, readFields } from './read-body.ts';

export interface BoardRoutesDeps {
  readonly boards: Boards;
  readonly admit: Admit;
  /** Called when a board has been made, before the answer: whoever asked becomes its owner. Its fields join the answer. */
  readonly onMade: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
}

function refuse(path: string, kind: PlainProblemKind, message: string): never {
  throw new HttpProblem(422, { kind, path, message });
}

/** The board file in a body. @throws HttpProblem 422 with the place in the file */
function readFile(value: unknown, under: string): Board {
  const parsed = parseBoard(value);
  if (parsed.ok) return parsed.value;
  const { path } = parsed.error;
  throw new HttpProblem(parsed.error.kind === 'not-json' ? 400 : 422, {
    ...parsed.error,
    path: under === '' ? path : `${under}${path === '' ? '' : `.${path}`}`,
  });
}

function readCount(fields: Fields, name: string, fallback: number): number {
  const value = fields[name];
  if (value === undefined) return fallback;
  if (typeof value !== 'number') refuse(name, 'wrong-type', `${name} must be a number`);
  return value;
}

/** What a request for a new board asks for: a file, or a size. @throws HttpProblem */
function readNewBoard(fields: Fields): Board {
  if (fields.file !== undefined) {
    for (const name of ['strings', 'rows', 'title'])
      if (fields[name] !== undefined) refuse(name, 'unknown-field', `${name} comes from the file`);
    return readFile(fields.file, 'file');
  }
  const strings = readCount(fields, 'strings', 12);
  const rows = readCount(fields, 'rows', 24);
  const title = fields.title ?? '';
  if (typeof title !== 'string' || title.length > LIMITS.titleCharacters)
    refuse('title', 'wrong-type', `title must be text of at most ${LIMITS.titleCharacters} characters`);
  try {
    return blankBoard(strings, rows, title);
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    return refuse(cause.message.startsWith('rows') ? 'rows' : 'strings', 'out-of-range', cause.message);
  }
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
    const summary = await boards.create(
      readNewBoard(await readFields(c, ['strings', 'rows', 'title', 'file'])),
    );
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  app.get('/boards/:id', async (c) => {
    const { record, pass } = await admit(c, 'design');
    return c.json({ ...(await boards.summary(record)), role: pass.role, canWrite: pass.canWrite });
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
    const board = readFile(await c.req.text(), '');
    await boards.replace(record.id, board, canManage(pass.role));
    return c.json(await boards.summary(record));
  });

  app.post('/boards/:id/copy', async (c) => {
    const { record } = await admit(c, 'design');
    const summary = await boards.copy(record.id, (bytes) => noteStored(c, bytes));
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  return app;
}
