/** `/api/demos` and `/api/boards`: make, read, copy, export and import boards. */
import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { LIMITS } from '../../engine/document/index.ts';
import { type Board, formatBoard, parseBoard } from '../../engine/index.ts';
import type { Asker, Authorize, Pass } from '../authorize.ts';
import { type Boards, blankBoard } from '../boards/index.ts';
import type { BoardRecord } from '../store/index.ts';
import { HttpProblem, statusOfDenial } from './problem.ts';

export interface BoardRoutesDeps {
  readonly boards: Boards;
  readonly authorize: Authorize;
  readonly askerOf: (c: Context) => Asker;
  /** Called when a board has been made, before the answer: whoever asked becomes its owner. Its fields join the answer. */
  readonly onMade: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
}

function refuse(path: string, kind: string, message: string): never {
  throw new HttpProblem(422, { kind, path, message });
}

/** The board file in a body. @throws HttpProblem 422 with the place in the file */
function readFile(value: unknown, under: string): Board {
  const parsed = parseBoard(value);
  if (parsed.ok) return parsed.value;
  const { kind, path, message } = parsed.error;
  throw new HttpProblem(kind === 'not-json' ? 400 : 422, {
    kind,
    path: under === '' ? path : `${under}${path === '' ? '' : `.${path}`}`,
    message,
  });
}

/** The JSON object in a body. @throws HttpProblem 400 */
async function readObject(c: Context): Promise<Readonly<Record<string, unknown>>> {
  let value: unknown;
  try {
    value = JSON.parse(await c.req.text());
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    throw new HttpProblem(400, {
      kind: 'not-json',
      path: '',
      message: `the body is not JSON: ${cause.message}`,
    });
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new HttpProblem(400, {
      kind: 'not-an-object',
      path: '',
      message: 'the body must be a JSON object',
    });
  return value as Readonly<Record<string, unknown>>;
}

function readCount(fields: Readonly<Record<string, unknown>>, name: string, fallback: number): number {
  const value = fields[name];
  if (value === undefined) return fallback;
  if (typeof value !== 'number') refuse(name, 'wrong-type', `${name} must be a number`);
  return value;
}

const NEW_FIELDS = ['strings', 'rows', 'title', 'file'];

/** What a request for a new board asks for: a file, or a size. @throws HttpProblem */
function readNewBoard(fields: Readonly<Record<string, unknown>>): Board {
  for (const name of Object.keys(fields))
    if (!NEW_FIELDS.includes(name)) refuse(name, 'unknown-field', `a new board has no field ${name}`);
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

export function boardRoutes(deps: BoardRoutesDeps): Hono {
  const app = new Hono();
  const { boards } = deps;

  const admit = async (c: Context, right: 'read' | 'write'): Promise<{ record: BoardRecord; pass: Pass }> => {
    const id = c.req.param('id') ?? '';
    const record = /^[A-Za-z0-9_-]{1,64}$/.test(id) ? await boards.record(id) : null;
    if (record === null)
      throw new HttpProblem(404, { kind: 'unknown-board', path: 'id', message: 'no such board' });
    const pass = await deps.authorize(deps.askerOf(c), record, 'design');
    if ('denied' in pass)
      throw new HttpProblem(statusOfDenial(pass.denied), {
        kind: pass.denied === 'unknownBoard' ? 'unknown-board' : pass.denied,
        path: 'id',
        message: pass.message,
      });
    if (right === 'write' && !pass.canWrite)
      throw new HttpProblem(403, {
        kind: record.kind === 'demo' ? 'demo-board' : 'forbidden',
        message:
          record.kind === 'demo' ? 'a demo board is not edited; make a copy' : 'you may only look here',
      });
    return { record, pass };
  };
  const limit = bodyLimit({
    maxSize: LIMITS.boardFileBytes,
    onError: () => {
      throw new HttpProblem(413, {
        kind: 'too-large',
        message: `a board file has at most ${LIMITS.boardFileBytes} bytes`,
      });
    },
  });

  app.get('/demos', async (c) => {
    const demos = await boards.demos();
    const summaries = [];
    for (const demo of demos) summaries.push(await boards.summary(demo));
    return c.json(summaries.map(({ id, title, strings, rows }) => ({ id, title, strings, rows })));
  });

  app.post('/boards', limit, async (c) => {
    const summary = await boards.create(readNewBoard(await readObject(c)));
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  app.get('/boards/:id', async (c) => {
    const { record, pass } = await admit(c, 'read');
    return c.json({ ...(await boards.summary(record)), role: pass.role, canWrite: pass.canWrite });
  });

  app.get('/boards/:id/file', async (c) => {
    const { record } = await admit(c, 'read');
    const file = formatBoard(await boards.read(record.id));
    c.header('Content-Disposition', `attachment; filename="${record.id}.json"`);
    return c.json(file);
  });

  app.put('/boards/:id/file', limit, async (c) => {
    const { record } = await admit(c, 'write');
    const board = readFile(await c.req.text(), '');
    await boards.replace(record.id, board);
    return c.json(await boards.summary(record));
  });

  app.post('/boards/:id/copy', async (c) => {
    const { record } = await admit(c, 'read');
    const summary = await boards.create(await boards.read(record.id));
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });

  return app;
}
