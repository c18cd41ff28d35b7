/**
 * `/api/boards/:id/versions`: the list, one version, and what people do with them. Bringing one back is no request: it is an
 * edit of the page like any other.
 */
import { type Context, Hono } from 'hono';
import { canManage, LIMITS } from '../../engine/document/index.ts';
import { plainText } from '../../engine/index.ts';
import type { Pass } from '../authorize.ts';
import { type Admit, HttpProblem, limitBody, readFields } from '../http/index.ts';
import type { Rooms } from '../sync/index.ts';
import type { Snapshot } from './snapshot.ts';
import type { Snapshots } from './snapshots.ts';
import type { Version } from './version-about.ts';
import type { Named, TooMany, Versions } from './versions.ts';

/** A name and who gives it are far below. */
const BODY_BYTES = 4096;

export interface VersionRoutesDeps {
  readonly versions: Versions;
  readonly rooms: Rooms;
  readonly admit: Admit;
  readonly now: () => number;
  readonly snapshots: Snapshots;
}

/** What the page is told of a version. */
function show({ id, kind, at, name, by, title, strings, rows, size }: Version): Record<string, unknown> {
  return { id, kind, at, name, by, title, strings, rows, size };
}

function unknownVersion(): never {
  throw new HttpProblem(404, {
    kind: 'no-such-version',
    path: 'version',
    message: 'the board has no such version (any more)',
  });
}

/** The fields `name` and `person` of a body. @throws HttpProblem 400 or 422 */
async function readNaming(c: Context): Promise<{ readonly name: string; readonly person: string }> {
  const fields = await readFields(c, ['name', 'person']);
  const text = (path: 'name' | 'person'): string => {
    const field = fields[path] ?? '';
    if (typeof field !== 'string' || field.length > LIMITS.nameCharacters)
      throw new HttpProblem(422, {
        kind: 'bad-name',
        path,
        message: `${path} must be text of at most ${LIMITS.nameCharacters} characters`,
        values: { most: LIMITS.nameCharacters },
      });
    return field.trim();
  };
  const [name, person] = [text('name'), plainText(text('person'))];
  if (name === '' || plainText(name) !== name)
    throw new HttpProblem(422, {
      kind: 'bad-name',
      path: 'name',
      message: 'a version needs a name of plain text to be kept by',
      values: { most: LIMITS.nameCharacters },
    });
  return { name, person };
}

/** Mount under `/api/boards/:id/versions`. */
export function versionRoutes(deps: VersionRoutesDeps): Hono {
  const app = new Hono();
  const { versions } = deps;
  const limit = limitBody('a name', BODY_BYTES);

  const admit = async (
    c: Context,
    right: 'read' | 'write' | 'manage',
  ): Promise<{ readonly board: string; readonly pass: Pass }> => {
    const { record, pass } = await deps.admit(c, 'design');
    const may = right === 'read' || (right === 'write' ? pass.canWrite : canManage(pass.role));
    if (!may)
      throw new HttpProblem(403, {
        kind: 'forbidden',
        message: right === 'write' ? 'you may only look here' : 'only an owner of the board may do this',
      });
    return { board: record.id, pass };
  };

  const refuseFull = ({ full }: TooMany): never => {
    const { named, namedBytes } = versions.caps;
    throw new HttpProblem(409, {
      kind: 'too-many-versions',
      path: full,
      message: `a board keeps at most ${named} named versions of ${namedBytes} bytes together; an owner can delete some`,
      values: { most: named, mostBytes: namedBytes },
    });
  };

  const naming = async (c: Context, pass: Pass): Promise<Named> => {
    const { name, person } = await readNaming(c);
    return { name, by: pass.personId === null ? null : { personId: pass.personId, name: person } };
  };

  /** The design as it stands now: what other nodes have stored, and edits on their way to the disk, included. */
  const present = async (board: string): Promise<Snapshot> => {
    const hold = await deps.rooms.hold({ board, part: 'design' });
    try {
      await hold.room.catchUp();
      const snapshot = await deps.snapshots.read(hold.room);
      if (snapshot === null)
        throw new HttpProblem(409, { kind: 'empty-document', message: 'there is no design to keep yet' });
      return snapshot;
    } finally {
      hold.release();
    }
  };

  const idOf = (c: Context): string => {
    const id = c.req.param('version') ?? '';
    return /^[A-Za-z0-9_-]{1,64}$/.test(id) ? id : unknownVersion();
  };

  app.get('/', async (c) => {
    const { board, pass } = await admit(c, 'read');
    const list = await versions.list(board);
    return c.json({
      versions: list.map(show).reverse(),
      mostNamed: versions.caps.named,
      canName: pass.canWrite,
      canDelete: canManage(pass.role),
    });
  });

  app.post('/', limit, async (c) => {
    const { board, pass } = await admit(c, 'write');
    const named = await naming(c, pass);
    const made = await versions.name(board, await present(board), named);
    return 'full' in made ? refuseFull(made) : c.json(show(made), 201);
  });

  // Before a version is brought back: what stands there now, unless a version holds it already.
  app.post('/keep', async (c) => {
    const { board } = await admit(c, 'write');
    return c.json({ isNew: await versions.take(board, await present(board), 'before', deps.now()) });
  });

  app.get('/:version', async (c) => {
    const { board } = await admit(c, 'read');
    const state = await versions.state(board, idOf(c));
    if (state === null) unknownVersion();
    if (state === 'damaged')
      throw new HttpProblem(422, {
        kind: 'bad-version',
        path: 'version',
        message: 'this version cannot be read: it is not what this server keeps',
      });
    return c.body(Uint8Array.from(state), 200, {
      'Content-Type': 'application/octet-stream',
      'Cache-Control': 'private, no-store',
    });
  });

  app.patch('/:version', limit, async (c) => {
    const { board, pass } = await admit(c, 'write');
    const named = await naming(c, pass);
    const made = await versions.rename(board, idOf(c), named);
    if (made === null) unknownVersion();
    return 'full' in made ? refuseFull(made) : c.json(show(made));
  });

  app.delete('/:version', async (c) => {
    const { board } = await admit(c, 'manage');
    if (!(await versions.remove(board, idOf(c)))) unknownVersion();
    return c.json({ done: true });
  });

  return app;
}
