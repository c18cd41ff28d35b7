/** HTTP of archives and of deleting: `GET /boards/:id/archive`, `POST /archives`, `DELETE /boards/:id`. */
import { type Context, Hono, type MiddlewareHandler } from 'hono';
import { canManage } from '../../engine/document/index.ts';
import {
  type Admit,
  HttpProblem,
  limitBody,
  type Problem,
  type ProblemStatus,
  whenGone,
} from '../http/index.ts';
import type { Log } from '../log.ts';
import type { ByteBudget } from '../work/index.ts';
import { ArchiveError, MAX_PACKED_BYTES, MAX_UNPACKED_BYTES } from './archive-format.ts';
import type { Archives } from './archives.ts';

/** Of what in an archive some could not be read. */
const LACKS_HEADER = 'Larkboard-Lacks';
const MOST_NAMED = 20;

export interface ArchiveRoutesDeps {
  readonly archives: Archives;
  /** Bytes of archives that are received, unpacked, packed or sent, all together. */
  readonly budget: ByteBudget;
  readonly admit: Admit;
  readonly log: Log;
  /** Makes whoever asked the owner of a new board; its fields join the answer. */
  readonly onMade: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
}

/** What packing a board takes about: its versions, and most archives as they are sent. */
const PACKING_BYTES = 32 * 1024 * 1024;

const STATUS: Readonly<Record<ArchiveError['kind'], ProblemStatus>> = {
  'not-an-archive': 422,
  damaged: 422,
  'newer-archive': 422,
  'too-large': 413,
};

function asProblem(error: unknown): never {
  if (!(error instanceof ArchiveError)) throw error;
  const { kind, path, message } = error;
  const problem: Problem =
    kind === 'too-large'
      ? { kind, path, message, values: { mostBytes: MAX_UNPACKED_BYTES } }
      : { kind, path, message };
  throw new HttpProblem(STATUS[kind], problem, { cause: error });
}

/** The sub-app; mount under `/api`. */
export function archiveRoutes(deps: ArchiveRoutesDeps): Hono {
  const app = new Hono();
  const { archives } = deps;

  /** The board of the address, for its owner; where there are no links, for whoever may write. @throws HttpProblem */
  const admitOwner = async (c: Context): Promise<string> => {
    const { record, pass } = await deps.admit(c, 'design');
    if (record.kind !== 'board')
      throw new HttpProblem(403, {
        kind: 'forbidden',
        message: 'only a board of its own is archived or deleted',
      });
    if (!canManage(pass.role) && !(pass.personId === null && pass.canWrite))
      throw new HttpProblem(403, { kind: 'forbidden', message: 'only an owner may do this' });
    return record.id;
  };

  /** Takes room for an archive until its answer has gone. @throws HttpProblem 503 */
  const takeRoom = (c: Context, bytes: number): void => {
    if (!deps.budget.take(bytes)) {
      c.header('Retry-After', '10');
      throw new HttpProblem(503, {
        kind: 'busy',
        message: 'too many archives are on their way; try again soon',
      });
    }
    const give = (): void => deps.budget.give(bytes);
    if (!whenGone(c, give)) give();
  };

  app.get('/boards/:id/archive', async (c) => {
    const id = await admitOwner(c);
    takeRoom(c, PACKING_BYTES);
    const { bytes, lacks } = await archives.pack(id).catch(asProblem);
    if (bytes.length > PACKING_BYTES) takeRoom(c, bytes.length - PACKING_BYTES);
    c.header('Content-Type', 'application/zip');
    c.header('Content-Disposition', `attachment; filename="${id}.zip"`);
    c.header('Cache-Control', 'no-store');
    // There may be thousands; the manifest names all.
    if (lacks.length > 0) c.header(LACKS_HEADER, lacks.slice(0, MOST_NAMED).join(', '));
    return c.body(bytes as Uint8Array<ArrayBuffer>);
  });

  app.delete('/boards/:id', async (c) => {
    const id = await admitOwner(c);
    if (!(await archives.remove(id)))
      throw new HttpProblem(404, { kind: 'unknown-board', path: 'id', message: 'no such board' });
    deps.log.info('board-deleted', { board: id });
    return c.json({ id, isDeleted: true });
  });

  const roomForBody: MiddlewareHandler = async (c, next) => {
    // Who does not say how long it is may send the longest.
    const stated = Number(c.req.header('content-length') ?? MAX_PACKED_BYTES);
    takeRoom(c, stated > 0 && stated <= MAX_PACKED_BYTES ? stated : MAX_PACKED_BYTES);
    await next();
  };

  app.post('/archives', roomForBody, limitBody('an archive', MAX_PACKED_BYTES), async (c) => {
    const packed = new Uint8Array(await c.req.arrayBuffer());
    const { createdAt: _, ...summary } = await archives.load(packed).catch(asProblem);
    return c.json({ ...summary, ...(await deps.onMade(c, summary.id)) }, 201);
  });
  return app;
}
