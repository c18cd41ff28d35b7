/** Going on on another device, over HTTP: what a code is good for, for whom, how often and how long. */
import { Hono } from 'hono';
import { afterEach, describe, expect, it } from 'vitest';
import type { Standing } from '../../../server/access/access.ts';
import { GuessLimiter } from '../../../server/access/guess-limiter.ts';
import { type HandOverRoutesDeps, handOverRoutes } from '../../../server/access/hand-over-routes.ts';
import { HttpProblem } from '../../../server/http/index.ts';
import { HandOvers, isCarried, MOST_CARRIED } from '../../../server/access/hand-over.ts';
import { hashSecret } from '../../../server/access/secrets.ts';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { type AccessServer, Person, startAccessServer } from '../access-people.ts';

const HAND_OVER_MS = 10 * 60_000;

let server: AccessServer;
let clock = 1_700_000_000_000;
afterEach(async () => {
  for (const person of server.people) for (const { socket } of person.sockets) socket.terminate();
  await server.close();
});

async function start(links = new SqliteAccessStore(':memory:')): Promise<void> {
  clock = 1_700_000_000_000;
  server = await startAccessServer({ now: () => clock }, links);
}

const give = (person: Person, board: string, carried: unknown = 'progress') =>
  person.ask('POST', `/api/boards/${board}/hand-over`, { carried });
const take = (person: Person, board: string, code: unknown) =>
  person.ask('POST', `/api/boards/${board}/hand-over/take`, { code });

describe('going on on another device', () => {
  it('[V530] [V531] a code of an owner lets a phone look once, with what goes along, and do nothing else', async () => {
    await start();
    const [owner, phone, other] = [new Person(server), new Person(server), new Person(server)];
    const { id, secret } = await owner.makeBoard();
    const given = await give(owner, id);
    expect(given.status).toBe(201);
    const { code, endsAt } = given.json as { code: string; endsAt: number };
    expect(endsAt).toBe(clock + HAND_OVER_MS);
    expect(code).toMatch(/^[\w-]{32}$/);
    expect(given.text).not.toContain(secret);
    expect((await phone.ask('GET', `/api/boards/${id}/me`)).status).toBe(404);
    const taken = await take(phone, id, code);
    expect([taken.status, taken.json]).toEqual([
      200,
      { role: 'onlooker', endsAt: null, carried: 'progress' },
    ]);
    expect(await phone.ask('GET', `/api/boards/${id}/me`)).toMatchObject({ json: { role: 'onlooker' } });
    expect((await phone.ask('GET', `/api/boards/${id}/file`)).status).toBe(200);
    for (const [method, path, body] of [
      ['GET', 'links', undefined],
      ['POST', 'links', { role: 'owner' }],
      ['POST', 'versions', { name: 'mine' }],
      ['DELETE', '', undefined],
    ] as const)
      expect(
        (await phone.ask(method, `/api/boards/${id}/${path}`.replace(/\/$/, ''), body)).status,
        path,
      ).toBe(403);
    // It is no link's secret, and works once.
    expect((await other.enter(id, code)).status).toBe(404);
    expect((await take(other, id, code)).json.error).toMatchObject({ kind: 'unknown-link', path: 'code' });
    expect(other.cookie).toBe('');
  });

  it('[V530] after ten minutes, or for another board, a code works no more; the next one takes its place', async () => {
    await start();
    const [owner, phone] = [new Person(server), new Person(server)];
    const [{ id }, { id: other }] = [await owner.makeBoard(), await owner.makeBoard()];
    const first = (await give(owner, id)).json.code;
    const second = (await give(owner, id, '')).json.code;
    expect([(await take(phone, id, first)).status, (await take(phone, other, second)).status]).toEqual([
      404, 404,
    ]);
    clock += HAND_OVER_MS;
    expect((await take(phone, id, second)).status).toBe(404);
    const third = (await give(owner, id, '')).json.code;
    clock += HAND_OVER_MS - 1;
    expect((await take(phone, id, third)).json.carried).toBe('');
  });

  it('[V531] the right ends with the link that it rests on, and never was more than that link is for', async () => {
    await start();
    const [owner, maker, phone, late] = Array.from({ length: 4 }, () => new Person(server)) as [
      Person,
      Person,
      Person,
      Person,
    ];
    const { id } = await owner.makeBoard();
    const link = await owner.makeLink(id, 'co-maker');
    await maker.enter(id, link.secret);
    const code = (await give(maker, id)).json.code;
    expect((await take(phone, id, code)).json.role).toBe('onlooker');
    const unused = (await give(maker, id)).json.code;
    await owner.ask('DELETE', `/api/boards/${id}/links/${link.id}`);
    expect((await phone.ask('GET', `/api/boards/${id}/me`)).status).toBe(404);
    expect((await take(late, id, unused)).status).toBe(404);
    expect((await late.ask('GET', `/api/boards/${id}/file`)).json.error).toMatchObject({ kind: 'revoked' });
    expect((await give(maker, id)).status).toBe(404);
  });

  it('[V531] the phone may hand on what it has, which is to look, and a link of its own makes it more', async () => {
    await start();
    const [owner, phone, next] = [new Person(server), new Person(server), new Person(server)];
    const { id, secret } = await owner.makeBoard();
    await take(phone, id, (await give(owner, id)).json.code);
    const code = (await give(phone, id)).json.code;
    expect((await take(next, id, code)).json.role).toBe('onlooker');
    expect((await phone.enter(id, secret)).json.role).toBe('owner');
  });

  it('[V532] nothing that opens the board is kept: the code is, as its hash', async () => {
    const links = new SqliteAccessStore(':memory:');
    await start(links);
    const owner = new Person(server);
    const { id } = await owner.makeBoard();
    const code = (await give(owner, id)).json.code as string;
    expect(await links.hasHandOver(id, code, clock)).toBe(false);
    expect(await links.hasHandOver(id, hashSecret(code), clock)).toBe(true);
  });

  it('[V533] what goes along is short text of one alphabet; all else is refused and keeps no code', async () => {
    await start();
    const [owner, stranger] = [new Person(server), new Person(server)];
    const { id } = await owner.makeBoard();
    for (const carried of [null, 7, 'two words', 'nul\u0000', 'a'.repeat(MOST_CARRIED + 1), ['a']])
      expect((await give(owner, id, carried)).status, String(carried).slice(0, 9)).toBe(422);
    expect((await give(owner, id, 'a'.repeat(2 * MOST_CARRIED))).status).toBe(413);
    expect((await give(owner, id, 'a'.repeat(MOST_CARRIED))).status).toBe(201);
    expect((await give(stranger, id)).status).toBe(404);
    expect([isCarried(''), isCarried('-_9zZ'), isCarried('+')]).toEqual([true, true, false]);
  });

  it('[V534] wrong codes are answered twenty a minute from one address, and codes given twenty in ten minutes', async () => {
    await start();
    const owner = new Person(server);
    const [guesser, phone] = [new Person(server, '198.51.100.9'), new Person(server)];
    const { id } = await owner.makeBoard();
    const tries: number[] = [];
    for (let i = 0; i < 22; i++) tries.push((await take(guesser, id, `${'x'.repeat(30)}${10 + i}`)).status);
    expect(tries.filter((status) => status === 404)).toHaveLength(20);
    expect(tries.slice(20)).toEqual([429, 429]);
    const code = (await give(owner, id)).json.code;
    expect((await take(phone, id, code)).status).toBe(200);
    const given: number[] = [];
    for (let i = 0; i < 20; i++) given.push((await give(owner, id)).status);
    expect(given).toEqual([...Array.from({ length: 19 }, () => 201), 429]);
    clock += 10 * 60_000;
    expect((await give(owner, id)).status).toBe(201);
  });

  it('[V535] whether devices in the house reach the server is asked by who may look', async () => {
    await start();
    const [owner, stranger] = [new Person(server), new Person(server)];
    const { id } = await owner.makeBoard();
    expect(await owner.ask('GET', `/api/boards/${id}/hand-over`)).toMatchObject({
      status: 200,
      json: { addresses: [] },
    });
    expect((await stranger.ask('GET', `/api/boards/${id}/hand-over`)).status).toBe(404);
  });
});

describe('a code and what it rests on', () => {
  const code = 'c'.repeat(32);

  it('[V531] is good for nothing where the right ended at that moment, nor is anything that is no code', async () => {
    await start();
    const store = new SqliteAccessStore(':memory:');
    const standing = { linkId: 'l', branchOf: null } as unknown as Standing;
    const over = new HandOvers({ access: { standing: async () => null }, store, now: () => clock });
    const given = await over.give('p', 'b', standing, 'progress');
    expect([
      await over.works('b', given.code),
      await over.works('b', 7),
      await over.works('b', 'no code'),
    ]).toEqual([true, false, false]);
    for (const tried of [7, null, 'no code', code]) expect(await over.take('q', 'b', tried)).toBeNull();
    expect(await over.take('q', 'b', given.code)).toBeNull();
    store.close();
  });

  /** The routes alone, with whoever asks new, and codes that work. */
  function routes(more: Partial<Record<keyof HandOverRoutesDeps, unknown>> = {}) {
    let people = 0;
    const app = new Hono();
    app.onError((error) => {
      if (!(error instanceof HttpProblem)) throw error;
      return new Response(null, { status: error.status });
    });
    const deps = {
      access: {
        personOf: async () => null,
        newSession: async () => {
          people += 1;
          return { personId: `p${people}`, secret: code };
        },
        standing: async () => ({ personId: '', role: 'onlooker', endsAt: null, linkId: 'l', branchOf: null }),
      },
      handOvers: {
        give: async (person: string) => ({ code: person, endsAt: 0 }),
        works: async () => true,
        take: async () => ({ standing: { role: 'onlooker', endsAt: null }, carried: '' }),
      },
      limiter: new GuessLimiter(() => clock),
      addressOf: () => '192.0.2.7',
      isSecure: () => false,
      ownAddresses: () => ['http://192.0.2.1:4000'],
      ...more,
    } as unknown as HandOverRoutesDeps;
    app.route(
      '/:id/hand-over',
      handOverRoutes(deps, () => clock),
    );
    const post = (path: string, body: object) =>
      app.request(`/b/hand-over${path}`, { method: 'POST', body: JSON.stringify(body) });
    return { app, post };
  }

  it('[V530] who is nobody yet becomes a person with the code that they are given on an open board', async () => {
    await start();
    const { app, post } = routes();
    const given = await post('', { carried: '' });
    expect([given.status, await given.json()]).toEqual([201, { code: 'p1', endsAt: 0 }]);
    expect(given.headers.get('set-cookie')).toMatch(/^larkboard-person=/);
    expect(await (await app.request('/b/hand-over')).json()).toEqual({
      addresses: ['http://192.0.2.1:4000'],
    });
  });

  it('[V534] from one address 200 codes are given in ten minutes, and 200 people come new by codes', async () => {
    await start();
    for (const [path, body, ok] of [
      ['', { carried: '' }, 201],
      ['/take', { code }, 200],
    ] as const) {
      const { post } = routes();
      const statuses: number[] = [];
      for (let i = 0; i < 201; i++) statuses.push((await post(path, body)).status);
      expect(statuses).toEqual([...Array.from({ length: 200 }, () => ok), 429]);
    }
  });

  it('[V534] a code that somebody else took meanwhile counts as a wrong one', async () => {
    await start();
    const limiter = new GuessLimiter(() => clock, { tries: 1, windowMs: 60_000, addresses: 9 });
    const handOvers = { works: async () => true, take: async () => null };
    const { post } = routes({ handOvers, limiter });
    expect([(await post('/take', { code })).status, (await post('/take', { code })).status]).toEqual([
      404, 429,
    ]);
  });
});
