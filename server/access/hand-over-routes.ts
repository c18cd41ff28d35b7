/** HTTP of going on on another device: a code for it, and what the code is good for. */
import { type Context, Hono } from 'hono';
import { HttpProblem, limitBody, readFields } from '../http/index.ts';
import type { Standing } from './access.ts';
import { type AccessRoutesDeps, ensurePerson, personOfRequest } from './access-routes.ts';
import { GuessLimiter, type GuessLimits } from './guess-limiter.ts';
import { type HandOvers, isCarried, MOST_CARRIED } from './hand-over.ts';

/** What goes along, with its field around it. */
const BODY_BYTES = MOST_CARRIED + 1024;
/** Codes that are given in ten minutes: to one person, and from one address, where a class of forty begins at once. */
const CODES: GuessLimits = { tries: 20, windowMs: 10 * 60_000, addresses: 10_000 };
const CODES_OF_ADDRESS: GuessLimits = { ...CODES, tries: 200 };
/** People who may come new from one address in ten minutes to look by a code. */
const NEWCOMERS: GuessLimits = { ...CODES, tries: 200 };

export interface HandOverRoutesDeps extends AccessRoutesDeps {
  readonly handOvers: HandOvers;
  /** Addresses of this server that other devices in the house may reach; told only to who sits at the machine. */
  readonly ownAddresses: (c: Context) => readonly string[];
}

/** The sub-app under `/api/boards/:id/hand-over`. Rules V530 to V535. */
export function handOverRoutes(deps: HandOverRoutesDeps, now: () => number): Hono {
  const app = new Hono();
  const { access, handOvers, limiter } = deps;
  const limit = limitBody('the body', BODY_BYTES);
  const [byPerson, byAddress, newcomers] = [CODES, CODES_OF_ADDRESS, NEWCOMERS].map(
    (limits) => new GuessLimiter(now, limits),
  ) as [GuessLimiter, GuessLimiter, GuessLimiter];
  const boardOf = (c: Context): string => c.req.param('id') ?? '';

  /** @throws HttpProblem 429 while somebody has to wait */
  const mustWait = (c: Context, of: GuessLimiter, key: string): void => {
    const waitMs = of.waitMs(key);
    if (waitMs === 0) return;
    c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
    throw new HttpProblem(429, { kind: 'too-many-tries', message: 'too many codes; wait and try again' });
  };

  const standingOf = async (c: Context): Promise<Standing> => {
    const standing = await access.standing(await personOfRequest(access, c), boardOf(c));
    if (standing !== null) return standing;
    throw new HttpProblem(404, {
      kind: 'unknown-board',
      path: 'id',
      message: 'no such board, or no link to it',
    });
  };

  app.get('/', async (c) => {
    await standingOf(c);
    return c.json({ addresses: deps.ownAddresses(c) });
  });

  app.post('/', limit, async (c) => {
    const standing = await standingOf(c);
    const { carried } = await readFields(c, ['carried']);
    if (!isCarried(carried))
      throw new HttpProblem(422, {
        kind: 'wrong-type',
        path: 'carried',
        message: `carried must be base64url of at most ${MOST_CARRIED} characters`,
      });
    const address = deps.addressOf(c);
    mustWait(c, byAddress, address);
    // On an open board whoever looks may be nobody yet.
    const personId = standing.personId || (await ensurePerson(deps, c));
    mustWait(c, byPerson, personId);
    byAddress.fail(address);
    byPerson.fail(personId);
    return c.json(await handOvers.give(personId, boardOf(c), standing, carried), 201);
  });

  app.post('/take', limitBody('the body', 4096), async (c) => {
    const { code } = await readFields(c, ['code']);
    const address = deps.addressOf(c);
    const refuse = (): never => {
      mustWait(c, limiter, address);
      limiter.fail(address);
      throw new HttpProblem(404, {
        kind: 'unknown-link',
        path: 'code',
        message: 'this code works no more: it was used, has ended or is wrong',
      });
    };
    // Only who holds a code becomes a person.
    mustWait(c, limiter, address);
    if (!(await handOvers.works(boardOf(c), code))) refuse();
    let personId = await personOfRequest(access, c);
    if (personId === null) {
      mustWait(c, newcomers, address);
      newcomers.fail(address);
      personId = await ensurePerson(deps, c);
    }
    const taken = (await handOvers.take(personId, boardOf(c), code)) ?? refuse();
    const { role, endsAt } = taken.standing;
    return c.json({ role, endsAt, carried: taken.carried });
  });

  return app;
}
