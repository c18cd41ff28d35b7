import { Hono } from 'hono';
import { describe, expect, it, vi } from 'vitest';
import { ROLES, type Role } from '../../../engine/document/index.ts';
import { accessRoutes, MAX_LINKS, SESSION_COOKIE } from '../../../server/access/access-routes.ts';
import { GuessLimiter } from '../../../server/access/guess-limiter.ts';
import { Access } from '../../../server/access/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { hashSecret } from '../../../server/access/secrets.ts';
import { answerProblem, HttpProblem } from '../../../server/http/index.ts';
import { until } from '../../support/until.ts';

const DAY = 24 * 60 * 60 * 1000;

function setUp(options: { open?: string } = {}) {
  const clock = { now: 1_000_000 };
  const store = new MemoryAccessStore();
  const access = new Access({ store, now: () => clock.now, isOpen: (id) => id === options.open });
  const limiter = new GuessLimiter(() => clock.now, { tries: 3, windowMs: 60_000, addresses: 10 });
  const app = new Hono();
  app.onError((error, c) => {
    if (error instanceof HttpProblem) return answerProblem(c, error.status, error.problem);
    throw error;
  });
  app.route(
    '/api/boards/:id',
    accessRoutes(
      { access, limiter, addressOf: (c) => c.req.header('x-address') ?? 'a', isSecure: () => true },
      () => clock.now,
    ),
  );
  return { clock, store, access, app };
}

/** A browser: keeps its cookie and nothing else. */
function browser(app: Hono, address = 'a') {
  let cookie = '';
  return {
    get cookie() {
      return cookie;
    },
    async ask(method: string, path: string, body?: unknown) {
      const response = await app.request(path, {
        method,
        headers: { cookie, 'x-address': address },
        ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
      });
      const set = response.headers.get('set-cookie');
      if (set) cookie = set.split(';')[0] ?? '';
      return {
        status: response.status,
        set,
        headers: response.headers,
        json: (await response.json()) as never as Record<string, unknown> & {
          error?: { kind: string; path?: string };
        },
      };
    },
  };
}

async function owned(set: ReturnType<typeof setUp>, boardId = 'kites') {
  const { secret } = await set.access.makeLink(boardId, { role: 'owner', name: '', endsAt: null });
  const owner = browser(set.app);
  await owner.ask('POST', `/api/boards/${boardId}/enter`, { secret });
  return { owner, secret };
}

describe('links and roles', () => {
  it('[V-A2] a board does not admit to exist without a link', async () => {
    const set = setUp();
    await owned(set);
    const stranger = browser(set.app);
    for (const path of ['/me', '/links']) {
      const known = await stranger.ask('GET', `/api/boards/kites${path}`);
      const unknown = await stranger.ask('GET', `/api/boards/no-such-board${path}`);
      expect(known.status).toBe(404);
      expect(known.json).toEqual(unknown.json);
    }
  });

  it('[V-A2] a link is shown once, kept as a hash, and gives its role', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    for (const role of ROLES) {
      const made = await owner.ask('POST', '/api/boards/kites/links', { role, name: `for ${role}` });
      expect(made.status).toBe(201);
      const secret = made.json.secret as string;
      const listed = await owner.ask('GET', '/api/boards/kites/links');
      expect(JSON.stringify(listed.json)).not.toContain(secret);
      expect(JSON.stringify(listed.json)).not.toContain(hashSecret(secret));
      expect(JSON.stringify(await set.store.links('kites'))).not.toContain(secret);
      const friend = browser(set.app);
      const entered = await friend.ask('POST', '/api/boards/kites/enter', { secret });
      expect(entered.json.role).toBe(role);
      expect((await friend.ask('GET', '/api/boards/kites/me')).json.role).toBe(role);
    }
  });

  it('[V-A2] the cookie is HttpOnly, SameSite and Secure, and carries no person id', async () => {
    const set = setUp();
    const { secret } = await set.access.makeLink('kites', { role: 'learner', name: '', endsAt: null });
    const entered = await browser(set.app).ask('POST', '/api/boards/kites/enter', { secret });
    expect(entered.set).toContain(SESSION_COOKIE);
    expect(entered.set).toMatch(/HttpOnly/);
    expect(entered.set).toMatch(/SameSite=Lax/);
    expect(entered.set).toMatch(/Secure/);
    expect(entered.set).not.toContain(entered.json.personId as string);
  });

  it.each(ROLES.filter((role): role is Exclude<Role, 'owner'> => role !== 'owner'))(
    '[V-A3] a %s neither lists, makes, changes nor takes back links',
    async (role) => {
      const set = setUp();
      const { owner } = await owned(set);
      const made = await owner.ask('POST', '/api/boards/kites/links', { role });
      const friend = browser(set.app);
      await friend.ask('POST', '/api/boards/kites/enter', { secret: made.json.secret });
      const before = await set.store.links('kites');
      for (const [method, path, body] of [
        ['GET', 'links', undefined],
        ['POST', 'links', { role: 'owner' }],
        ['PATCH', `links/${made.json.id}`, { name: 'mine' }],
        ['DELETE', `links/${made.json.id}`, undefined],
      ] as const)
        expect((await friend.ask(method, `/api/boards/kites/${path}`, body)).status).toBe(403);
      expect(await set.store.links('kites')).toEqual(before);
    },
  );

  it('[V-A4] a link taken back opens nothing, and who came in by it has no standing left', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const made = await owner.ask('POST', '/api/boards/kites/links', { role: 'co-maker' });
    const friend = browser(set.app);
    await friend.ask('POST', '/api/boards/kites/enter', { secret: made.json.secret });
    const narrowed: string[] = [];
    set.access.onNarrowed((id) => narrowed.push(id));
    expect((await owner.ask('DELETE', `/api/boards/kites/links/${made.json.id}`)).status).toBe(200);
    expect(narrowed).toEqual(['kites']);
    expect((await friend.ask('GET', '/api/boards/kites/me')).status).toBe(404);
    expect(
      (await browser(set.app).ask('POST', '/api/boards/kites/enter', { secret: made.json.secret })).status,
    ).toBe(404);
  });

  it('[V-A4] who holds two links keeps the better one that is left', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const strong = await owner.ask('POST', '/api/boards/kites/links', { role: 'co-maker' });
    const weak = await owner.ask('POST', '/api/boards/kites/links', { role: 'onlooker' });
    const friend = browser(set.app);
    for (const made of [weak, strong])
      await friend.ask('POST', '/api/boards/kites/enter', { secret: made.json.secret });
    expect((await friend.ask('GET', '/api/boards/kites/me')).json.role).toBe('co-maker');
    await owner.ask('DELETE', `/api/boards/kites/links/${strong.json.id}`);
    expect((await friend.ask('GET', '/api/boards/kites/me')).json.role).toBe('onlooker');
  });

  it('[V-A4] a link ends at its end', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const made = await owner.ask('POST', '/api/boards/kites/links', {
      role: 'learner',
      endsAt: set.clock.now + DAY,
    });
    const friend = browser(set.app);
    await friend.ask('POST', '/api/boards/kites/enter', { secret: made.json.secret });
    set.clock.now += DAY - 1;
    expect((await friend.ask('GET', '/api/boards/kites/me')).status).toBe(200);
    set.clock.now += 1;
    expect((await friend.ask('GET', '/api/boards/kites/me')).status).toBe(404);
  });

  it('[V-A4] the last owner link without an end cannot be taken back or given an end', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const [link] = await set.store.links('kites');
    expect((await owner.ask('DELETE', `/api/boards/kites/links/${link?.id}`)).status).toBe(409);
    expect(
      (await owner.ask('PATCH', `/api/boards/kites/links/${link?.id}`, { endsAt: set.clock.now + DAY }))
        .status,
    ).toBe(409);
    await owner.ask('POST', '/api/boards/kites/links', { role: 'owner' });
    expect((await owner.ask('DELETE', `/api/boards/kites/links/${link?.id}`)).status).toBe(200);
  });

  it('[V-A4] two owners who take back each other leave an owner', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const { owner: other } = await owned(set);
    const [one, two] = await set.store.links('kites');
    const answers = await Promise.all([
      owner.ask('DELETE', `/api/boards/kites/links/${two?.id}`),
      other.ask('DELETE', `/api/boards/kites/links/${one?.id}`),
    ]);
    expect(answers.map(({ status }) => status)).toContain(409);
    const left = (await set.store.links('kites')).filter(({ revokedAt }) => revokedAt === null);
    expect(left.length).toBeGreaterThan(0);
  });

  it('[V-A5] guessing is slowed down by address, and whoever there has the right link comes in all the same', async () => {
    const set = setUp();
    const { secret } = await owned(set);
    const guesser = browser(set.app, 'b');
    const guess = 'x'.repeat(32);
    for (let i = 0; i < 3; i++)
      expect((await guesser.ask('POST', '/api/boards/kites/enter', { secret: guess })).status).toBe(404);
    const refused = await guesser.ask('POST', '/api/boards/kites/enter', { secret: guess });
    expect([refused.status, refused.json.error?.kind, guesser.cookie]).toEqual([429, 'too-many-tries', '']);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect((await browser(set.app, 'b').ask('POST', '/api/boards/kites/enter', { secret })).status).toBe(200);
    set.clock.now += 60_000;
    expect((await guesser.ask('POST', '/api/boards/kites/enter', { secret: guess })).status).toBe(404);
  });

  it('[V-A5] [V462] wrong links are looked up no faster for one address than a whole school comes in; right ones do not count', async () => {
    const set = setUp();
    const { secret, owner } = await owned(set);
    const enter = (who: ReturnType<typeof browser>, shown: string) =>
      who.ask('POST', '/api/boards/kites/enter', { secret: shown });
    const [guesser, known] = [browser(set.app, 'b'), browser(set.app, 'b')];
    const looked = vi.spyOn(set.store, 'linkByHash');
    for (let i = 0; i < 100; i++) expect((await enter(known, secret)).status).toBe(200);
    looked.mockClear();
    for (let i = 0; i < 3_100; i++) await enter(guesser, 'x'.repeat(32));
    expect(looked).toHaveBeenCalledTimes(3_000);
    // Whoever shows a link that was right before guesses nothing, and comes in; one that nobody came by yet waits.
    const pupil = browser(set.app, 'b');
    expect((await enter(pupil, secret)).status).toBe(200);
    const another = await owner.ask('POST', '/api/boards/kites/links', { role: 'learner' });
    const fresh = another.json.secret as string;
    const refused = await enter(pupil, fresh);
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '60']);
    expect((await enter(browser(set.app, 'c'), fresh)).status).toBe(200);
    expect((await enter(pupil, fresh)).status).toBe(200);
    // One that is taken back is right no more, and a guess like any other.
    await owner.ask('DELETE', `/api/boards/kites/links/${another.json.id as string}`);
    const statuses = [(await enter(pupil, fresh)).status, (await enter(pupil, fresh)).status];
    expect(statuses).toEqual([429, 429]);
    set.clock.now += 60_000;
    expect((await enter(pupil, fresh)).status).toBe(404);
  });

  it('[V462] what is being looked up counts as wrong until it is known to be right, so many at once are no way round', async () => {
    const set = setUp();
    await owned(set);
    // Nobody came by it yet.
    const { secret } = await set.access.makeLink('kites', { role: 'learner', name: '', endsAt: null });
    const linkByHash = set.store.linkByHash.bind(set.store);
    let open = (): void => {};
    const gate = new Promise<void>((resolve) => {
      open = resolve;
    });
    let [begun, guessed] = [0, 0];
    set.store.linkByHash = async (...link) => {
      begun += 1;
      if (link[1] === hashSecret('x'.repeat(32))) guessed += 1;
      await gate;
      return linkByHash(...link);
    };
    const enter = (shown: string) =>
      browser(set.app, 'b').ask('POST', '/api/boards/kites/enter', { secret: shown });
    // A class of thirty among three thousand guesses, before the store has answered any of them.
    const pupils = Array.from({ length: 30 }, () => enter(secret));
    const guesses = Array.from({ length: 3_100 }, () => enter('x'.repeat(32)));
    await until('all that may be are being looked up', () => begun === 3_000);
    open();
    expect((await Promise.all(pupils)).map(({ status }) => status)).toEqual(Array(30).fill(200));
    const answers = (await Promise.all(guesses)).map(({ status }) => status);
    expect(guessed).toBe(2_970);
    expect(answers.filter((status) => status === 404)).toHaveLength(3);
    expect(answers.filter((status) => status === 429)).toHaveLength(3_097);
    // The right ones are counted no more.
    for (let i = 0; i < 40; i += 1) await enter('x'.repeat(32));
    expect(guessed).toBe(3_000);
  });

  it('[V-A5] a secret of one board opens no other', async () => {
    const set = setUp();
    const { secret } = await owned(set, 'kites');
    await owned(set, 'boats');
    expect((await browser(set.app).ask('POST', '/api/boards/boats/enter', { secret })).status).toBe(404);
  });

  it('[V-A9] whoever holds a link makes only so many people at once, on one board; who is known still comes in', async () => {
    const set = setUp();
    const { secret } = await owned(set);
    const enter = (who: ReturnType<typeof browser>) => who.ask('POST', '/api/boards/kites/enter', { secret });
    const known = browser(set.app, 'a');
    expect((await enter(known)).status).toBe(200);
    // The owner and this one came from there too.
    for (let i = 2; i < 200; i++) expect((await enter(browser(set.app, 'a'))).status).toBe(200);
    const refused = await enter(browser(set.app, 'a'));
    expect([refused.status, refused.json.error?.kind, refused.set]).toEqual([
      429,
      'too-many-newcomers',
      null,
    ]);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect((await enter(known)).status).toBe(200);
    expect((await enter(browser(set.app, 'b'))).status).toBe(200);
    // Other boards' links have their own.
    const boats = await owned(set, 'boats');
    const other = browser(set.app, 'a');
    expect((await other.ask('POST', '/api/boards/boats/enter', { secret: boats.secret })).status).toBe(200);
    set.clock.now += 10 * 60_000;
    expect((await enter(browser(set.app, 'a'))).status).toBe(200);
  });

  it('[V-A5] a board has a bounded number of links, and a name is one line', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    const make = (name: string) => owner.ask('POST', '/api/boards/kites/links', { role: 'learner', name });
    for (const name of ['two\nlines', 'nul\u0000', 'turned \u202e', 'half \ud83d'])
      expect([(await make(name)).status, (await make(name)).json.error]).toMatchObject([
        422,
        { kind: 'bad-name', path: 'name' },
      ]);
    for (let count = 1; count < MAX_LINKS; count++) expect((await make('')).status).toBe(201);
    const refused = await make('');
    expect([refused.status, refused.json.error]).toMatchObject([
      409,
      { kind: 'too-many-links', values: { most: MAX_LINKS } },
    ]);
  });

  it('[V-A6] an open board can be looked at by everybody and owned by nobody new', async () => {
    const set = setUp({ open: 'demo' });
    const stranger = browser(set.app);
    expect((await stranger.ask('GET', '/api/boards/demo/me')).json.role).toBe('onlooker');
    expect((await stranger.ask('POST', '/api/boards/demo/links', { role: 'owner' })).status).toBe(403);
  });

  it('[V-A9] one address makes only so many people at once, and everybody still looks', async () => {
    const set = setUp({ open: 'demo' });
    const come = async (address: string): Promise<readonly unknown[]> => {
      const { status, set: cookie, json } = await browser(set.app, address).ask('GET', '/api/boards/demo/me');
      return [status, json.role, cookie !== null, json.personId !== ''];
    };
    for (let i = 0; i < 400; i += 1) await come('a');
    expect(await come('a')).toEqual([200, 'onlooker', false, false]);
    expect(await come('b')).toEqual([200, 'onlooker', true, true]);
    set.clock.now += 10 * 60_000;
    expect(await come('a')).toEqual([200, 'onlooker', true, true]);
  });

  it('[V5] bad fields are named', async () => {
    const set = setUp();
    const { owner } = await owned(set);
    for (const [body, kind, path] of [
      ['{', 'not-json', ''],
      [[], 'not-an-object', ''],
      [{}, 'missing-field', 'role'],
      [{ role: 'king' }, 'unknown-role', 'role'],
      [{ role: 'learner', name: 'x'.repeat(61) }, 'bad-name', 'name'],
      [{ role: 'learner', endsAt: set.clock.now }, 'bad-end', 'endsAt'],
      [{ role: 'learner', colour: 'red' }, 'unknown-field', 'colour'],
    ] as const) {
      const answer = await owner.ask('POST', '/api/boards/kites/links', body);
      expect(answer.status).toBe(kind === 'not-json' ? 400 : 422);
      expect(answer.json.error).toMatchObject({ kind, path });
    }
    expect(await set.store.links('kites')).toHaveLength(1);
  });
});
