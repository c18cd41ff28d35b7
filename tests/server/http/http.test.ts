import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readSettings } from '../../../server/index.ts';
import { forwardedAddress } from '../../../server/serve.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer, temporaryFolder } from '../test-server.ts';

let server: TestServer;

beforeEach(async () => {
  server = await startTestServer();
});
afterEach(async () => {
  await server.close();
});

interface ErrorBody {
  readonly error: { readonly kind: string; readonly path?: string; readonly message: string };
}

async function send(method: string, path: string, body?: string, headers: Record<string, string> = {}) {
  const answer = await ask(`${server.http}${path}`, {
    method,
    headers,
    ...(body === undefined ? {} : { body }),
  });
  const text = await answer.text();
  return { status: answer.status, text, json: JSON.parse(text) as unknown, headers: answer.headers };
}

it('what every answer says to a browser, and nothing more of the kind', async () => {
  const kinds =
    /^(?:content-security|cross-origin|origin-agent|permissions|referrer|strict-transport|x-(?!request-id))/;
  for (const path of ['/healthz', '/schema/board.json', '/api/boards/nowhere', '/nowhere']) {
    const { headers } = await ask(`${server.http}${path}`);
    expect([...headers].filter(([name]) => kinds.test(name)).sort()).toEqual([
      ['referrer-policy', 'no-referrer'],
      ['x-content-type-options', 'nosniff'],
    ]);
  }
});

/** A valid board file: 4 strings, 2 rows. */
function boardFile(change: Readonly<Record<string, unknown>> = {}): Record<string, unknown> {
  return {
    format: 'larkboard',
    version: 1,
    title: 'two rows',
    palette: [
      { id: 'a', name: 'Red', hex: '#aa0000' },
      { id: 'b', name: 'Blue', hex: '#0000aa' },
    ],
    strings: ['a', 'b', 'b', 'a'],
    rows: ['f b', 'fb'],
    start: 0,
    piece: {},
    gauge: {},
    colourways: [],
    ...change,
  };
}

describe('boards over HTTP', () => {
  it('[V1] a new board has the size and title asked for', async () => {
    const made = await send('POST', '/api/boards', '{"strings":10,"rows":14,"title":"tails"}');
    expect(made.status).toBe(201);
    const { id } = made.json as { id: string };
    expect(id).toMatch(/^[A-Za-z0-9_-]{22}$/);
    expect((await send('GET', `/api/boards/${id}`)).json).toEqual({
      id,
      kind: 'board',
      title: 'tails',
      strings: 10,
      rows: 14,
      createdAt: expect.any(Number),
      role: 'co-maker',
      canWrite: true,
    });
  });

  it('[V1] a file goes in and comes out the same', async () => {
    const made = await send('POST', '/api/boards', JSON.stringify({ file: boardFile() }));
    const { id } = made.json as { id: string };
    expect((await send('GET', `/api/boards/${id}/file`)).json).toEqual(boardFile());
  });

  it('[V2] an import reaches the people in the room as an edit, and is on the disk when answered', async () => {
    const id = await makeBoard(server);
    const maker = await new RawClient(`${server.ws}/${id}/design`).join();
    const answer = await send('PUT', `/api/boards/${id}/file`, JSON.stringify(boardFile()));
    expect(answer.status).toBe(200);
    await until('the edit arrives', () => maker.heard.some((one) => one.kind === 'update'));
    maker.close();
    await until('closed', () => server.rooms.size === 0);
    expect((await send('GET', `/api/boards/${id}/file`)).json).toEqual(boardFile());
  });

  it('[V3] a copy is another board with the same file', async () => {
    const made = await send('POST', '/api/boards', JSON.stringify({ file: boardFile() }));
    const { id } = made.json as { id: string };
    const copy = await send('POST', `/api/boards/${id}/copy`);
    expect(copy.status).toBe(201);
    const copied = (copy.json as { id: string }).id;
    expect(copied).not.toBe(id);
    expect((await send('GET', `/api/boards/${copied}/file`)).json).toEqual(boardFile());
  });

  it('[V4] the schema is JSON Schema 2020-12 and takes exported boards', async () => {
    const schema = (await send('GET', '/schema/board.json')).json as object;
    const check = new Ajv2020({ strict: false }).compile(schema);
    const file = (await send('GET', `/api/boards/${await makeBoard(server)}/file`)).json;
    expect(check(file), JSON.stringify(check.errors)).toBe(true);
    expect(check({ ...boardFile(), rows: 7 })).toBe(false);
  });
});

describe('bad input', () => {
  const whole = JSON.stringify(boardFile());
  const cases: readonly (readonly [string, string, number, string, string])[] = [
    ['a file cut off', whole.slice(0, 80), 400, 'not-json', ''],
    ['an empty body', '', 400, 'not-json', ''],
    ['an unknown knot', JSON.stringify(boardFile({ rows: ['f q', 'fb'] })), 422, 'unknown-knot', 'rows[0]'],
    [
      'a row with too few knots',
      JSON.stringify(boardFile({ rows: ['f', 'fb'] })),
      422,
      'wrong-count',
      'rows[0]',
    ],
    [
      '3 strings where the rows need 4',
      JSON.stringify(boardFile({ strings: ['a', 'b', 'a'] })),
      422,
      'wrong-count',
      'rows[0]',
    ],
    [
      'an unknown colour',
      JSON.stringify(boardFile({ strings: ['a', 'b', 'x', 'a'] })),
      422,
      'unknown-colour',
      'strings[2]',
    ],
    ['another format', '{"format":"else"}', 422, 'not-a-board', 'format'],
  ];
  it.each(cases)(
    '[V5] %s is refused with its place, and the board stays as it was',
    async (_name, body, status, kind, path) => {
      const id = await makeBoard(server);
      const before = (await send('GET', `/api/boards/${id}/file`)).text;
      const answer = await send('PUT', `/api/boards/${id}/file`, body);
      expect(answer.status).toBe(status);
      const { error } = answer.json as ErrorBody;
      expect(error.kind).toBe(kind);
      expect(error.path).toBe(path);
      expect(error.message.length).toBeGreaterThan(5);
      expect((await send('GET', `/api/boards/${id}/file`)).text).toBe(before);
      const made = await send('POST', '/api/boards', body === '' ? '' : `{"file":${body}}`);
      expect(made.status).toBeGreaterThanOrEqual(400);
      expect(made.status).toBeLessThan(500);
    },
  );

  it('[V5] sizes that cannot be are refused with the field', async () => {
    for (const [body, path] of [
      ['{"strings":1,"rows":4}', 'strings'],
      ['{"strings":8,"rows":-1}', 'rows'],
      ['{"strings":"8"}', 'strings'],
      ['{"colour":"red"}', 'colour'],
      ['{"title":7}', 'title'],
    ] as const) {
      const answer = await send('POST', '/api/boards', body);
      expect(answer.status, body).toBe(422);
      expect((answer.json as ErrorBody).error.path).toBe(path);
    }
  });

  it('[V6] a body of 20 MB is refused', async () => {
    const answer = await send('POST', '/api/boards', `{"title":"${'x'.repeat(20 * 1024 * 1024)}"}`);
    expect(answer.status).toBe(413);
    expect((answer.json as ErrorBody).error.kind).toBe('too-large');
  });

  it('[V7] unknown boards and addresses answer 404 as JSON', async () => {
    for (const path of ['/api/boards/nobody', '/api/boards/..%2f..', '/nowhere', '/api/nowhere']) {
      const answer = await send('GET', path);
      expect(answer.status, path).toBe(404);
      expect((answer.json as ErrorBody).error.message).not.toBe('');
    }
  });

  it('[V8] pages of another origin cannot write', async () => {
    const answer = await send('POST', '/api/boards', '{}', { origin: 'https://elsewhere.example' });
    expect(answer.status).toBe(403);
    expect((await send('POST', '/api/boards', '{}', { origin: server.http })).status).toBe(201);
  });
});

describe('demo boards', () => {
  it('[V10] are made at the first start, the same for everybody, and only looked at', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder.path, 'demo'));
    writeFileSync(join(folder.path, 'demo', 'tail.json'), JSON.stringify(boardFile()));
    const store = new MemoryStore();
    const other = await startTestServer({ store, demoFolder: join(folder.path, 'demo') });
    const twin = await startTestServer({ demoFolder: join(folder.path, 'demo') });
    try {
      const demos = (await (await ask(`${other.http}/api/demos`)).json()) as unknown;
      expect(demos).toEqual([{ id: 'demo-tail', title: 'two rows', strings: 4, rows: 2 }]);
      const put = await ask(`${other.http}/api/boards/demo-tail/file`, {
        method: 'PUT',
        body: JSON.stringify(boardFile({ title: 'mine now' })),
      });
      expect(put.status).toBe(403);
      expect(((await put.json()) as ErrorBody).error.kind).toBe('demo-board');
      const copy = await ask(`${other.http}/api/boards/demo-tail/copy`, { method: 'POST' });
      expect(copy.status).toBe(201);
      const [row] = await store.load({ board: 'demo-tail', part: 'design' });
      const [same] = await twin.store.load({ board: 'demo-tail', part: 'design' });
      expect(row?.bytes).toEqual(same?.bytes);
    } finally {
      await other.close();
      await twin.close();
      folder.remove();
    }
  });

  it('[V10] a demo file that is not valid stops the start with its name and place', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder.path, 'bad.json'), JSON.stringify(boardFile({ rows: ['q q'] })));
    await expect(startTestServer({ demoFolder: folder.path })).rejects.toThrow(/bad\.json.*rows\[0\]/);
    folder.remove();
  });
});

describe('to watch it', () => {
  it('[V11] liveness and readiness are apart, and a drained server is not ready', async () => {
    expect((await send('GET', '/readyz')).status).toBe(200);
    server.drain();
    expect((await send('GET', '/readyz')).status).toBe(503);
    expect((await send('GET', '/healthz')).status).toBe(200);
  });

  it('[V12] metrics are in the Prometheus text format', async () => {
    await makeBoard(server);
    const answer = await ask(`${server.http}/metrics`);
    expect(answer.headers.get('content-type')).toContain('text/plain; version=0.0.4');
    const text = await answer.text();
    for (const line of text.trimEnd().split('\n'))
      expect(line).toMatch(/^(# (HELP|TYPE) \w+ .+|\w+(\{[^}]*\})? -?[0-9.e+-]+)$/);
    expect(text).toMatch(/^larkboard_rooms \d+$/m);
    expect(text).toMatch(/^larkboard_request_ms_count [1-9]/m);
  });

  it('[V13] each request is one line of JSON with an id, and no query', async () => {
    const answer = await send('GET', '/api/demos?secret=hush', undefined, {
      'x-request-id': 'abc-1',
      cookie: 'k=hush',
    });
    expect(answer.headers.get('x-request-id')).toBe('abc-1');
    const line = server.lines
      .map((text) => JSON.parse(text) as Record<string, unknown>)
      .find((one) => one.request === 'abc-1');
    expect(line).toMatchObject({ event: 'request', method: 'GET', path: '/api/demos', status: 200 });
    expect(server.lines.join('')).not.toContain('hush');
  });
});

describe('settings', () => {
  it('[V14] a value that cannot be is an error naming the variable', () => {
    for (const [name, value] of [
      ['PORT', 'eighty'],
      ['PORT', '70000'],
      ['MAX_ROOMS', '0'],
      ['LOG_LEVEL', 'loud'],
      ['ALLOWED_ORIGINS', 'https://a.example/path'],
      ['TRUST_PROXY', 'yes'],
    ] as const)
      expect(() => readSettings({ [name]: value }), name).toThrow(name);
    expect(readSettings({}).port).toBe(8080);
    expect(readSettings({}).host).toBe('127.0.0.1');
  });

  it("[V15] the address is the proxy's word only where the proxy is trusted", () => {
    expect(forwardedAddress('1.2.3.4, 5.6.7.8', '127.0.0.1', true)).toBe('5.6.7.8');
    expect(forwardedAddress('1.2.3.4', '127.0.0.1', false)).toBe('127.0.0.1');
    expect(forwardedAddress(undefined, '127.0.0.1', true)).toBe('127.0.0.1');
    expect(forwardedAddress('2001:db8:1:2:aaaa::1', '127.0.0.1', true)).toBe('2001:db8:1:2::/64');
  });
});
