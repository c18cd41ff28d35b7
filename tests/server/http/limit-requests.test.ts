import { Hono } from 'hono';
import { beforeEach, describe, expect, it } from 'vitest';
import {
  kindOf,
  limitRequests,
  REQUEST_LIMITS,
  type RequestKind,
} from '../../../server/http/limit-requests.ts';
import { answerProblem, HttpProblem } from '../../../server/http/problem.ts';
import type { Share } from '../../../server/shares.ts';

const ADA: Share = [
  { kind: 'newcomer', key: 'ada' },
  { kind: 'newcomers', key: 'kites 192.0.2.1' },
];
const BEA: Share = [
  { kind: 'newcomer', key: 'bea' },
  { kind: 'newcomers', key: 'kites 192.0.2.1' },
];
const CLEO: Share = [{ kind: 'person', key: 'cleo' }];
const SHARES: Readonly<Record<string, Share>> = { ada: ADA, bea: BEA, cleo: CLEO };

let now = 0;
let app: Hono;
/** Lets requests that wait go on. */
let open: () => void;

beforeEach(() => {
  now = 1_700_000_000_000;
  app = new Hono();
  app.onError((error, c) => {
    if (error instanceof HttpProblem) return answerProblem(c, error.status, error.problem);
    throw error;
  });
  const few = {
    rate: { person: 4, newcomer: 3, newcomers: 5, strangers: 0 },
    atOnce: { person: 2, newcomer: 2, newcomers: 3, strangers: 0 },
  };
  const limits = Object.fromEntries(Object.keys(REQUEST_LIMITS).map((kind) => [kind, few]));
  app.use(
    '*',
    limitRequests(
      async (c) => SHARES[c.req.header('x-who') ?? '']!,
      () => now,
      1,
      limits as Record<RequestKind, typeof few>,
    ),
  );
  const gate = new Promise<void>((resolve) => {
    open = resolve;
  });
  app.get('/api/boards/:id', (c) => c.text('read'));
  app.get('/api/boards/:id/versions', async (c) => {
    await gate;
    return c.text('waited');
  });
  app.post('/api/boards', () => {
    throw new HttpProblem(422, { kind: 'wrong-type', message: 'no' });
  });
});

const ask = async (who: string, path: string, method = 'GET'): Promise<Response> =>
  app.request(path, { method, headers: { 'x-who': who } });

describe('requests of one kind', () => {
  it('[V272] are so many in ten seconds for each part of a share, and it is said how long to wait', async () => {
    const statuses: number[] = [];
    for (const who of ['ada', 'ada', 'ada', 'ada', 'bea', 'bea', 'bea', 'cleo', 'cleo'])
      statuses.push((await ask(who, '/api/boards/kites')).status);
    expect(statuses).toEqual([200, 200, 200, 429, 200, 200, 429, 200, 200]);
    now += 4_000;
    const refused = await ask('ada', '/api/boards/kites');
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '6']);
    expect(await refused.json()).toMatchObject({ error: { kind: 'too-fast' } });
    // Another kind has its own.
    expect((await ask('ada', '/api/boards', 'POST')).status).toBe(422);
    now += 6_000;
    expect((await ask('ada', '/api/boards/kites')).status).toBe(200);
  });

  it('[V272] are so many at once, until they are answered, well or not', async () => {
    const asked = ['ada', 'ada', 'ada', 'bea', 'bea', 'cleo'].map((who) =>
      ask(who, '/api/boards/kites/versions'),
    );
    const [, , third, , fifth] = asked;
    expect([(await third!).status, (await fifth!).status]).toEqual([429, 429]);
    open();
    expect((await Promise.all(asked)).map(({ status }) => status)).toEqual([200, 200, 429, 200, 429, 200]);
    now += 10_000;
    for (let i = 0; i < 3; i += 1) expect((await ask('ada', '/api/boards', 'POST')).status).toBe(422);
  });

  it('[V272] [V427] each address counts as the kind that it is', () => {
    const at = '/api/boards/kites';
    const kinds: readonly (readonly [string, RequestKind])[] = [
      ['GET /', 'page'],
      ['GET /assets/index.js', 'page'],
      ['GET /readyz', 'page'],
      ['GET /api/demos', 'read'],
      ['GET /api/mine', 'read'],
      ['POST /api/boards', 'large'],
      [`GET ${at}`, 'read'],
      [`GET ${at}/me`, 'read'],
      [`GET ${at}/file`, 'large'],
      [`PUT ${at}/file`, 'large'],
      [`POST ${at}/copy`, 'large'],
      [`POST ${at}/talk`, 'write'],
      [`POST ${at}/enter`, 'enter'],
      [`GET ${at}/enter`, 'read'],
      [`POST ${at}/links`, 'write'],
      [`GET ${at}/versions`, 'read'],
      [`POST ${at}/versions`, 'large'],
      [`PATCH ${at}/versions/one`, 'write'],
      [`POST ${at}/versions/keep`, 'large'],
      [`GET ${at}/versions/one`, 'large'],
      [`GET ${at}/proposals`, 'read'],
      [`POST ${at}/proposals`, 'large'],
      [`GET ${at}/proposals/one`, 'read'],
      [`GET ${at}/proposals/one/states`, 'large'],
      [`GET ${at}/visits`, 'large'],
      [`GET ${at}/visits/one`, 'large'],
      [`GET ${at}/archive`, 'archive'],
      ['POST /api/archives', 'archive'],
      [`DELETE ${at}`, 'write'],
    ];
    for (const [request, kind] of kinds) {
      const [method, path] = request.split(' ');
      expect([request, kindOf(method!, path!)]).toEqual([request, kind]);
    }
  });
});
