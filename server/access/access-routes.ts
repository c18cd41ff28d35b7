/** HTTP of access: who am I on this board, coming in by a link, and the owner's list of links. */
import { type Context, Hono } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { canManage, LIMITS, readRole } from '../../engine/document/index.ts';
import { plainText } from '../../engine/index.ts';
import { HttpProblem, limitBody, type Problem, type ProblemStatus, readFields } from '../http/index.ts';
import { StoreError } from '../store/index.ts';
import { type Access, type NewLink, SESSION_MS, type Standing } from './access.ts';
import type { LinkRecord } from './access-store.ts';
import { GuessLimiter, type GuessLimits, KnownLinks } from './guess-limiter.ts';
import { hashSecret, isSecretShaped } from './secrets.ts';

/** Name of the cookie that remembers a person. */
export const SESSION_COOKIE = 'larkboard-person';
/** A secret, or a link's name and end, is far below. */
const BODY_BYTES = 4096;

/** Links of a board at most, those taken back included: a class of forty uses some dozens. */
export const MAX_LINKS = 1000;
/**
 * People who may come new from one address in ten minutes, by links of one board, and to look at open boards: each is a row on the
 * disk, waited for.
 */
export const NEWCOMERS: GuessLimits = { tries: 200, windowMs: 10 * 60_000, addresses: 10_000 };
const LOOKERS: GuessLimits = { ...NEWCOMERS, tries: 400 };
/** Wrong links that are looked up for one address in a minute; those that are being looked up count as wrong until they are not. */
const TRIES: GuessLimits = { tries: 3_000, windowMs: 60_000, addresses: 10_000 };

export interface AccessRoutesDeps {
  readonly access: Access;
  readonly limiter: GuessLimiter;
  /** Address of the asker, for the limit on guessing. */
  readonly addressOf: (c: Context) => string;
  /** Whether the page is served over https, so that the cookie may say Secure. */
  readonly isSecure: (c: Context) => boolean;
}

function refuse(status: ProblemStatus, problem: Problem): never {
  throw new HttpProblem(status, problem);
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
export async function ensurePerson(
  deps: Pick<AccessRoutesDeps, 'access' | 'isSecure'>,
  c: Context,
): Promise<string> {
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

/**
 * Lets session and cookie last anew; where pages begin, so that whoever comes back within a year stays who they are. While that cannot be
 * written they last as long as before, and the next visit tries again: nobody is turned away for it.
 */
async function extend(deps: Pick<AccessRoutesDeps, 'access' | 'isSecure'>, c: Context): Promise<void> {
  const secret = getCookie(c, SESSION_COOKIE);
  if (secret === undefined) return;
  try {
    if (await deps.access.extendSession(secret)) giveCookie(deps, c, secret);
  } catch (cause) {
    if (!(cause instanceof StoreError)) throw cause;
  }
}

/** What may be said of a link, all of it optional. */
interface LinkFields {
  readonly role?: NewLink['role'];
  readonly name?: string;
  readonly endsAt?: number | null;
}

/** A new link, or a change of one, in a request's body. @throws HttpProblem 400 or 422 with the bad field */
async function readLinkFields(c: Context, now: number): Promise<LinkFields> {
  const { role, name, endsAt } = await readFields(c, ['role', 'name', 'endsAt']);
  return {
    ...(role === undefined ? {} : { role: roleOf(role) }),
    ...(name === undefined ? {} : { name: nameOf(name) }),
    ...(endsAt === undefined ? {} : { endsAt: endOf(endsAt, now) }),
  };
}

function roleOf(value: unknown): NewLink['role'] {
  const message = 'role must be one of the five roles';
  return readRole(value) ?? refuse(422, { kind: 'unknown-role', path: 'role', message });
}

function nameOf(value: unknown): string {
  // No control characters: not every store keeps them. Nor marks that turn what stands beside the name.
  const isName = typeof value === 'string' && value.length <= LIMITS.nameCharacters;
  if (isName && plainText(value) === value && !/\p{Cc}/u.test(value)) return value;
  const message = `name must be one line of at most ${LIMITS.nameCharacters} characters`;
  const values = { most: LIMITS.nameCharacters };
  return refuse(422, { kind: 'bad-name', path: 'name', message, values });
}

function endOf(value: unknown, now: number): number | null {
  if (value === null || (typeof value === 'number' && Number.isSafeInteger(value) && value > now))
    return value;
  const message = 'endsAt must be null or a time to come, in milliseconds since 1970';
  return refuse(422, { kind: 'bad-end', path: 'endsAt', message });
}

function refuseLink(): never {
  return refuse(404, {
    kind: 'unknown-link',
    path: 'secret',
    message: 'this link opens nothing: it is wrong, has ended or was taken back',
  });
}

/** The sub-app under `/api/boards/:id`. Mount with `app.route('/api/boards/:id', accessRoutes(deps, now))`. */
export function accessRoutes(deps: AccessRoutesDeps, now: () => number): Hono {
  const app = new Hono();
  const { access } = deps;
  const limit = limitBody('the body', BODY_BYTES);

  const boardOf = (c: Context): string => c.req.param('id') ?? '';
  /** What the asker is on the board. @throws HttpProblem 404 when it is not there for them */
  const standingOf = async (c: Context): Promise<Standing> =>
    (await access.standing(await personOfRequest(access, c), boardOf(c))) ??
    refuse(404, { kind: 'unknown-board', path: 'id', message: 'no such board, or no link to it' });

  /** Lets only owners of a board pass. @throws HttpProblem */
  const mustOwn = async (c: Context): Promise<void> => {
    const standing = await standingOf(c);
    if (!canManage(standing.role))
      refuse(403, { kind: 'forbidden', message: 'only an owner of the board may do this' });
    if (standing.branchOf !== null)
      refuse(403, {
        kind: 'branch',
        message: 'a branch has no links of its own; they are made on the board it is of',
      });
  };

  const newcomers = new GuessLimiter(now, NEWCOMERS);
  const lookers = new GuessLimiter(now, LOOKERS);
  /** A new person, who is kept; beyond the limit nobody. */
  const newcomer = async (c: Context, limiter: GuessLimiter, key: string): Promise<string> => {
    if (limiter.waitMs(key) > 0) return '';
    limiter.fail(key);
    return ensurePerson(deps, c);
  };

  app.get('/me', async (c) => {
    await extend(deps, c);
    const standing = await standingOf(c);
    // Whoever looks at an open board becomes a person, so that they can show themselves to the others there.
    const personId = standing.personId || (await newcomer(c, lookers, deps.addressOf(c)));
    return c.json({
      personId,
      role: standing.role,
      endsAt: standing.endsAt,
      branchOf: standing.branchOf,
    });
  });

  const refuseTries = (c: Context, waitMs: number): never => {
    c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
    return refuse(429, {
      kind: 'too-many-tries',
      message: 'too many links that open nothing; wait and try again',
    });
  };

  const tries = new GuessLimiter(now, TRIES);
  const knownLinks = new KnownLinks(now);

  /**
   * Whether a secret opens the board now. Only what turns out wrong is counted, yet nothing is looked up beyond what would be allowed if all
   * that is being looked up were wrong. A link that let somebody in before is past that: where others guess as fast as they may, a class
   * behind the same address still comes in.
   */
  const opens = async (c: Context, secret: unknown, address: string): Promise<boolean> => {
    if (!isSecretShaped(secret)) return false;
    const [board, hash] = [boardOf(c), hashSecret(secret)];
    const isKnown = knownLinks.has(board, hash);
    const waitMs = isKnown ? 0 : tries.waitMs(address);
    if (waitMs > 0) refuseTries(c, waitMs);
    const since = isKnown ? null : tries.fail(address);
    const isRight = await access.opens(board, secret);
    if (!isRight) {
      knownLinks.forget(board, hash);
      return false;
    }
    if (since !== null) tries.wasRight(address, since);
    knownLinks.note(board, hash);
    return true;
  };

  app.post('/enter', limit, async (c) => {
    const { secret } = await readFields(c, ['secret']);
    const address = deps.addressOf(c);
    // Only who holds a link becomes a person: guesses leave nothing behind. Nor do they keep anybody waiting whose link is right: of
    // 192 random bits none is found by trying faster, and a school is one address.
    if (!(await opens(c, secret, address))) {
      const waitMs = deps.limiter.waitMs(address);
      if (waitMs > 0) refuseTries(c, waitMs);
      deps.limiter.fail(address);
      refuseLink();
    }
    const byBoard = `${boardOf(c)} ${address}`;
    const personId = (await personOfRequest(access, c)) || (await newcomer(c, newcomers, byBoard));
    if (personId === '') {
      c.header('Retry-After', String(Math.ceil(newcomers.waitMs(byBoard) / 1000)));
      refuse(429, { kind: 'too-many-newcomers', message: 'too many new people from one address at once' });
    }
    const standing = (await access.exchange(personId, boardOf(c), secret)) ?? refuseLink();
    return c.json({ personId: standing.personId, role: standing.role, endsAt: standing.endsAt });
  });

  app.get('/links', async (c) => {
    await mustOwn(c);
    return c.json((await access.links(boardOf(c))).map(showLink));
  });

  app.post('/links', limit, async (c) => {
    await mustOwn(c);
    const { role, name = '', endsAt = null } = await readLinkFields(c, now());
    if (role === undefined)
      return refuse(422, { kind: 'missing-field', path: 'role', message: 'a link needs a role' });
    if ((await access.links(boardOf(c))).length >= MAX_LINKS)
      return refuse(409, {
        kind: 'too-many-links',
        message: `a board has at most ${MAX_LINKS} links`,
        values: { most: MAX_LINKS },
      });
    const { link, secret } = await access.makeLink(boardOf(c), { role, name, endsAt });
    return c.json({ ...showLink(link), secret }, 201);
  });

  const change = async (
    c: Context,
    patch: { name?: string; endsAt?: number | null; revoked?: true },
  ): Promise<Response> => {
    const done = await access.changeLink(boardOf(c), c.req.param('linkId') ?? '', patch);
    switch (done) {
      case 'unknown':
        return refuse(404, {
          kind: 'unknown-link',
          path: 'linkId',
          message: 'the board has no such link',
        });
      case 'last-owner':
        return refuse(409, {
          kind: 'last-owner',
          message: 'a board keeps at least one owner link without an end',
        });
      case 'done':
        return c.json({ done: true });
    }
  };

  app.patch('/links/:linkId', limit, async (c) => {
    await mustOwn(c);
    const { role, ...patch } = await readLinkFields(c, now());
    if (role !== undefined)
      refuse(422, { kind: 'fixed-field', path: 'role', message: 'a link keeps its role; make another link' });
    return change(c, patch);
  });

  app.delete('/links/:linkId', async (c) => {
    await mustOwn(c);
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
    await extend(deps, c);
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
