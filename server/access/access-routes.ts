/** HTTP of access: who am I on this board, coming in by a link, and the owner's list of links. */
import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { getCookie, setCookie } from 'hono/cookie';
import { canManage, LIMITS, readRole } from '../../engine/document/index.ts';
import { type Access, type NewLink, SESSION_MS, type Standing } from './access.ts';
import type { LinkRecord } from './access-store.ts';
import type { GuessLimiter } from './guess-limiter.ts';

/** Name of the cookie that remembers a person. */
export const SESSION_COOKIE = 'larkboard-person';
/** A secret, or a link's name and end, is far below. */
const BODY_BYTES = 4096;

export interface AccessRoutesDeps {
  readonly access: Access;
  readonly limiter: GuessLimiter;
  /** Address of the asker, for the limit on guessing. */
  readonly addressOf: (c: Context) => string;
  /** Whether the page is served over https, so that the cookie may say Secure. */
  readonly isSecure: (c: Context) => boolean;
}

type Problem = { readonly kind: string; readonly path?: string; readonly message: string };

function refuse(c: Context, status: 400 | 403 | 404 | 409 | 413 | 429, error: Problem): Response {
  return c.json({ error }, status);
}

/** What a link looks like to its owner: everything but the secret, which nobody can read again. */
function showLink(link: LinkRecord): Record<string, unknown> {
  const { id, role, name, createdAt, endsAt, revokedAt } = link;
  return { id, role, name, createdAt, endsAt, revokedAt };
}

/** The person's id by their cookie; null without one. */
export async function personOfRequest(access: Access, c: Context): Promise<string | null> {
  return access.personOf(getCookie(c, SESSION_COOKIE));
}

/** The person's id by their cookie; makes a new person and sets the cookie when there is none. */
export async function ensurePerson(deps: AccessRoutesDeps, c: Context): Promise<string> {
  const known = await personOfRequest(deps.access, c);
  if (known !== null) return known;
  const { personId, secret } = await deps.access.newSession();
  giveCookie(deps, c, secret);
  return personId;
}

function giveCookie(deps: Pick<AccessRoutesDeps, 'isSecure'>, c: Context, secret: string): void {
  setCookie(c, SESSION_COOKIE, secret, {
    httpOnly: true,
    sameSite: 'Lax',
    secure: deps.isSecure(c),
    path: '/',
    maxAge: SESSION_MS / 1000,
  });
}

/** Lets session and cookie last anew; where pages begin, so that whoever comes back within a year stays who they are. */
async function renew(deps: Pick<AccessRoutesDeps, 'access' | 'isSecure'>, c: Context): Promise<void> {
  const secret = getCookie(c, SESSION_COOKIE);
  if (secret !== undefined && (await deps.access.renewSession(secret))) giveCookie(deps, c, secret);
}

/** Reads a new link or a change of one from a request's body. */
export function readLinkFields(
  body: unknown,
  now: number,
):
  | { ok: true; value: { role?: NewLink['role']; name?: string; endsAt?: number | null } }
  | { ok: false; error: Problem } {
  if (typeof body !== 'object' || body === null || Array.isArray(body))
    return {
      ok: false,
      error: { kind: 'not-an-object', path: '', message: 'the body must be a JSON object' },
    };
  const fields = body as Record<string, unknown>;
  const value: { role?: NewLink['role']; name?: string; endsAt?: number | null } = {};
  for (const key of Object.keys(fields)) {
    if (!['role', 'name', 'endsAt'].includes(key))
      return {
        ok: false,
        error: { kind: 'unknown-field', path: key, message: `a link has no field ${key}` },
      };
  }
  if (fields.role !== undefined) {
    const role = readRole(fields.role);
    if (role === null)
      return {
        ok: false,
        error: { kind: 'unknown-role', path: 'role', message: 'role must be one of the five roles' },
      };
    value.role = role;
  }
  if (fields.name !== undefined) {
    const name = fields.name;
    if (typeof name !== 'string' || name.length > LIMITS.nameCharacters)
      return {
        ok: false,
        error: {
          kind: 'bad-name',
          path: 'name',
          message: `name must be text of at most ${LIMITS.nameCharacters} characters`,
        },
      };
    value.name = name;
  }
  if (fields.endsAt !== undefined) {
    const endsAt = fields.endsAt;
    if (endsAt !== null && !(typeof endsAt === 'number' && Number.isSafeInteger(endsAt) && endsAt > now))
      return {
        ok: false,
        error: {
          kind: 'bad-end',
          path: 'endsAt',
          message: 'endsAt must be null or a time to come, in milliseconds since 1970',
        },
      };
    value.endsAt = endsAt;
  }
  return { ok: true, value };
}

async function readJson(c: Context): Promise<{ ok: true; value: unknown } | { ok: false; error: Problem }> {
  const text = await c.req.text();
  try {
    return { ok: true, value: JSON.parse(text) };
  } catch (cause) {
    return {
      ok: false,
      error: { kind: 'not-json', path: '', message: `the body is not JSON: ${(cause as Error).message}` },
    };
  }
}

/** The sub-app under `/api/boards/:id`. Mount with `app.route('/api/boards/:id', accessRoutes(deps, now))`. */
export function accessRoutes(deps: AccessRoutesDeps, now: () => number): Hono {
  const app = new Hono();
  const { access } = deps;
  const limit = bodyLimit({
    maxSize: BODY_BYTES,
    onError: (c) =>
      refuse(c, 413, { kind: 'too-large', message: `the body has at most ${BODY_BYTES} bytes` }),
  });

  const boardOf = (c: Context): string => c.req.param('id') ?? '';
  const unknownBoard = (c: Context): Response =>
    refuse(c, 404, { kind: 'unknown-board', path: 'id', message: 'no such board, or no link to it' });

  /** The asker's standing when they own the board; otherwise the answer to give. */
  const ownerOf = async (c: Context): Promise<Standing | Response> => {
    const standing = await access.standing(await personOfRequest(access, c), boardOf(c));
    if (standing === null) return unknownBoard(c);
    if (!canManage(standing.role))
      return refuse(c, 403, { kind: 'forbidden', message: 'only an owner of the board may do this' });
    if (standing.branchOf !== null)
      return refuse(c, 403, {
        kind: 'branch',
        message: 'a branch has no links of its own; they are made on the board it is of',
      });
    return standing;
  };

  app.get('/me', async (c) => {
    await renew(deps, c);
    const standing = await access.standing(await personOfRequest(access, c), boardOf(c));
    if (standing === null) return unknownBoard(c);
    // Whoever looks at an open board becomes a person, so that they can show themselves to the others there.
    const personId = standing.personId || (await ensurePerson(deps, c));
    return c.json({
      personId,
      role: standing.role,
      endsAt: standing.endsAt,
      branchOf: standing.branchOf,
    });
  });

  app.post('/enter', limit, async (c) => {
    const body = await readJson(c);
    if (!body.ok) return refuse(c, 400, body.error);
    const address = deps.addressOf(c);
    const waitMs = deps.limiter.waitMs(address);
    if (waitMs > 0) {
      c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
      return refuse(c, 429, {
        kind: 'too-many-tries',
        message: 'too many links that open nothing; wait and try again',
      });
    }
    const secret = (body.value as { secret?: unknown } | null)?.secret;
    // Counted before the look-up, so that many tries at once are no way round the limit.
    deps.limiter.fail(address);
    // Only who holds a link becomes a person: guesses leave nothing behind.
    const standing = (await access.opens(boardOf(c), secret))
      ? await access.exchange(await ensurePerson(deps, c), boardOf(c), secret)
      : null;
    if (standing === null) {
      return refuse(c, 404, {
        kind: 'unknown-link',
        path: 'secret',
        message: 'this link opens nothing: it is wrong, has ended or was taken back',
      });
    }
    deps.limiter.forgive(address);
    return c.json({ personId: standing.personId, role: standing.role, endsAt: standing.endsAt });
  });

  app.get('/links', async (c) => {
    const owner = await ownerOf(c);
    if (owner instanceof Response) return owner;
    return c.json((await access.links(boardOf(c))).map(showLink));
  });

  app.post('/links', limit, async (c) => {
    const owner = await ownerOf(c);
    if (owner instanceof Response) return owner;
    const body = await readJson(c);
    if (!body.ok) return refuse(c, 400, body.error);
    const fields = readLinkFields(body.value, now());
    if (!fields.ok) return refuse(c, 400, fields.error);
    if (fields.value.role === undefined)
      return refuse(c, 400, { kind: 'missing-field', path: 'role', message: 'a link needs a role' });
    const { link, secret } = await access.makeLink(boardOf(c), {
      role: fields.value.role,
      name: fields.value.name ?? '',
      endsAt: fields.value.endsAt ?? null,
    });
    return c.json({ ...showLink(link), secret }, 201);
  });

  const change = async (
    c: Context,
    patch: { name?: string; endsAt?: number | null; revoked?: true },
  ): Promise<Response> => {
    const done = await access.changeLink(boardOf(c), c.req.param('linkId') ?? '', patch);
    switch (done) {
      case 'unknown':
        return refuse(c, 404, {
          kind: 'unknown-link',
          path: 'linkId',
          message: 'the board has no such link',
        });
      case 'last-owner':
        return refuse(c, 409, {
          kind: 'last-owner',
          message: 'a board keeps at least one owner link without an end',
        });
      case 'done':
        return c.json({ done: true });
    }
  };

  app.patch('/links/:linkId', limit, async (c) => {
    const owner = await ownerOf(c);
    if (owner instanceof Response) return owner;
    const body = await readJson(c);
    if (!body.ok) return refuse(c, 400, body.error);
    const fields = readLinkFields(body.value, now());
    if (!fields.ok) return refuse(c, 400, fields.error);
    if (fields.value.role !== undefined)
      return refuse(c, 400, {
        kind: 'fixed-field',
        path: 'role',
        message: 'a link keeps its role; make another link',
      });
    const { name, endsAt } = fields.value;
    return change(c, {
      ...(name === undefined ? {} : { name }),
      ...(endsAt === undefined ? {} : { endsAt }),
    });
  });

  app.delete('/links/:linkId', async (c) => {
    const owner = await ownerOf(c);
    if (owner instanceof Response) return owner;
    return change(c, { revoked: true });
  });

  return app;
}

/** Boards shown at most; the rest are reached by their addresses. */
const MOST_OWN_BOARDS = 200;

/** `GET /`: the boards that the asker holds a link of, with their role there. Mount under `/api/mine`. */
export function ownBoardsRoutes(deps: Pick<AccessRoutesDeps, 'access' | 'isSecure'>): Hono {
  const app = new Hono();
  app.get('/', async (c) => {
    await renew(deps, c);
    const personId = await personOfRequest(deps.access, c);
    if (personId === null) return c.json([]);
    const own: { id: string; role: string }[] = [];
    for (const id of (await deps.access.boardsOf(personId)).slice(0, MOST_OWN_BOARDS)) {
      const standing = await deps.access.standing(personId, id);
      if (standing !== null) own.push({ id, role: standing.role });
    }
    return c.json(own);
  });
  return app;
}
