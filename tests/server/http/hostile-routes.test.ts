/** Every address of the server, tried by a page elsewhere, by somebody of another board, and by who makes up bodies and ids. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { countedAddress } from '../../../server/client-address.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';

let server: AccessServer;
let owner: Person;
let mallory: Person;
let board: string;
let ids: Readonly<Record<string, string>>;

/** Addresses that write, with what stands in place of their ids; a sweep must not miss one that is added. */
const WRITES = (): readonly (readonly [method: string, path: string, body?: unknown])[] => [
  ['POST', '/api/boards', { strings: 8, rows: 12 }],
  ['PUT', `/api/boards/${board}/file`, {}],
  ['POST', `/api/boards/${board}/copy`, {}],
  ['POST', `/api/boards/${board}/enter`, { secret: 'x'.repeat(32) }],
  ['POST', `/api/boards/${board}/links`, { role: 'owner' }],
  ['PATCH', `/api/boards/${board}/links/${ids.link}`, { label: 'mine' }],
  ['DELETE', `/api/boards/${board}/links/${ids.link}`],
  ['POST', `/api/boards/${board}/talk`, {}],
  ['POST', `/api/boards/${board}/versions`, { name: 'mine' }],
  ['POST', `/api/boards/${board}/versions/keep`, {}],
  ['PATCH', `/api/boards/${board}/versions/${ids.version}`, { name: 'mine' }],
  ['DELETE', `/api/boards/${board}/versions/${ids.version}`],
  ['POST', `/api/boards/${board}/proposals`, { title: 'mine' }],
  ...['hand-in', 'withdraw', 'decline', 'accept'].map(
    (what) => ['POST', `/api/boards/${board}/proposals/${ids.proposal}/${what}`, {}] as const,
  ),
  ['POST', `/api/boards/${board}/hand-over`, { carried: '' }],
  ['POST', `/api/boards/${board}/hand-over/take`, { code: 'x'.repeat(32) }],
  ['POST', `/api/boards/${board}/lessons`, {}],
  ['POST', `/api/lessons/${ids.lesson}/enter`, { secret: 'x'.repeat(32), name: 'me' }],
  ['PUT', `/api/lessons/${ids.lesson}/board`, {}],
  ...['link', 'people', 'end'].map(
    (what) => ['POST', `/api/lessons/${ids.lesson}/${what}`, { to: 'in' }] as const,
  ),
  ['PATCH', `/api/lessons/${ids.lesson}`, { isLocked: true }],
  ['DELETE', `/api/boards/${board}`],
  ['POST', '/api/archives'],
];

const READS = (): readonly string[] =>
  [
    '',
    '/file',
    '/sight',
    '/me',
    '/links',
    '/versions',
    `/versions/${ids.version}`,
    '/proposals',
    `/proposals/${ids.proposal}`,
    '/lessons',
    '/lessons/past',
    '/archive',
  ].map((rest) => `/api/boards/${board}${rest}`);

/** Everything that an owner can read of the board, as bytes to compare. */
async function stateOf(): Promise<string> {
  const parts = [];
  for (const path of [
    `/api/boards/${board}/file`,
    `/api/boards/${board}/links`,
    `/api/boards/${board}/versions`,
    `/api/boards/${board}/proposals`,
    `/api/boards/${board}/lessons`,
  ])
    parts.push((await owner.ask('GET', path)).text);
  return parts.join('\n');
}

beforeAll(async () => {
  server = await startAccessServer();
  owner = new Person(server);
  mallory = new Person(server, '198.51.100.7');
  ({ id: board } = await owner.makeBoard());
  const link = await owner.makeLink(board, 'reviewer');
  const version = await owner.ask('POST', `/api/boards/${board}/versions`, { name: 'First', person: 'Kai' });
  const helper = new Person(server, '192.0.2.9');
  await helper.enter(board, link.secret);
  const proposal = await helper.ask('POST', `/api/boards/${board}/proposals`, {
    title: 'Longer',
    name: 'Hal',
  });
  const lesson = await owner.ask('POST', `/api/boards/${board}/lessons`, {});
  ids = {
    lesson: String(lesson.json.id),
    link: link.id,
    version: String(version.json.id),
    proposal: String(proposal.json.id),
  };
  await mallory.makeBoard();
});
afterAll(() => closeAccessServer(server));

describe('every address', () => {
  it('[V201] that writes refuses a page elsewhere, with its visitor’s cookie and whatever kind of form it sends', async () => {
    const before = await stateOf();
    for (const [method, path, body] of WRITES())
      for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'application/json'])
        for (const origin of ['https://elsewhere.example', 'null', 'http://localhost:1']) {
          const answer = await owner.ask(method, path, body, { origin, 'content-type': type });
          expect([method, path, origin, answer.status]).toEqual([method, path, origin, 403]);
          expect(answer.headers.get('access-control-allow-origin')).toBeNull();
        }
    expect(await stateOf()).toBe(before);
  });

  it('[V464] that writes refuses a page that says it is another’s, also where it names no origin', async () => {
    const before = await stateOf();
    const own = server.http;
    for (const [method, path, body] of WRITES())
      for (const [origin, site] of [
        [undefined, 'cross-site'],
        [undefined, 'same-site'],
        [undefined, 'of-our-own-making'],
        [own, 'cross-site'],
        [own, 'same-site'],
      ] as const) {
        const headers = { 'sec-fetch-site': site, ...(origin === undefined ? {} : { origin }) };
        const answer = await owner.ask(method, path, body, headers);
        expect([method, path, origin, site, answer.status]).toEqual([method, path, origin, site, 403]);
        expect(answer.json).toMatchObject({ error: { kind: 'other-origin' } });
      }
    expect(await stateOf()).toBe(before);
  });

  it('[V464] that writes takes what our own page, a person or a program sends, and what an allowed origin does', async () => {
    const path = `/api/boards/${board}/links/${ids.link}`;
    const sister = 'https://sister.example';
    const open = await startAccessServer({ env: { ALLOWED_ORIGINS: sister } });
    for (const headers of [
      { 'sec-fetch-site': 'same-origin' },
      { 'sec-fetch-site': 'none' },
      { 'sec-fetch-site': 'same-origin', origin: server.http },
      { origin: server.http },
      {},
    ] as readonly Readonly<Record<string, string>>[])
      expect((await owner.ask('PATCH', path, { name: 'ours' }, headers)).status).toBe(200);
    const person = new Person(open);
    for (const site of ['cross-site', 'same-site']) {
      const headers = { 'sec-fetch-site': site, origin: sister };
      const body = { strings: 8, rows: 12 };
      expect((await person.ask('POST', '/api/boards', body, headers)).status).toBe(201);
      expect(
        (await person.ask('POST', '/api/boards', body, { ...headers, origin: 'https://else.example' }))
          .status,
      ).toBe(403);
    }
    // Reading changes nothing, and tells a page elsewhere nothing.
    expect(
      (await owner.ask('GET', path.replace(/[/]links.*/, ''), undefined, { 'sec-fetch-site': 'cross-site' }))
        .status,
    ).toBe(200);
    await closeAccessServer(open);
  });

  it('[V463] is answered with what nobody keeps, errors too', async () => {
    const seen = new Set<number>();
    const expectUnkept = async (...[method, path, ...more]: Parameters<Person['ask']>): Promise<void> => {
      const answer = await owner.ask(method, path, ...more);
      seen.add(answer.status);
      expect([method, path, answer.headers.get('cache-control')]).toEqual([
        method,
        path,
        expect.stringMatching(/^(?:private, )?no-store$/),
      ]);
    };
    for (const path of [...READS(), ...READS().map((one) => one.replace(board, 'A'.repeat(22)))])
      await expectUnkept('GET', path);
    for (const [method, path, body] of WRITES()) {
      // Refused before a route sees it; with nothing that a route would take.
      await expectUnkept(method, path, body, { origin: 'https://elsewhere.example' });
      if (method !== 'DELETE') await expectUnkept(method, path, 'no object');
    }
    for (const path of [
      '/api',
      '/api/',
      '/api/nothing',
      '/api/demos',
      '/api/mine',
      '/healthz',
      '/readyz',
      '/metrics',
    ])
      await expectUnkept('GET', path);
    await expectUnkept('POST', `/api/boards/${board}/enter`, { secret: 'x'.repeat(100_000) });
    await expectUnkept('OPTIONS', `/api/boards/${board}`);
    for (const status of [200, 403, 404, 413, 422]) expect([...seen]).toContain(status);
  });

  it('[V201] that writes is among those tried', () => {
    // Whoever adds an address that writes adds it above.
    const files = readdirSync('server', { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.ts'),
    );
    const routes = files.flatMap((name) => [
      ...readFileSync(join('server', name), 'utf8').matchAll(/\bapp\.(?:post|put|patch|delete|on|all)\(/g),
    ]);
    expect(WRITES()).toHaveLength(routes.length);
  });

  it('[V202] is the same 404 for somebody of another board as for one that is not there', async () => {
    const before = await stateOf();
    const nowhere = 'A'.repeat(22);
    for (const path of READS()) {
      const [here, there] = [
        await mallory.ask('GET', path),
        await mallory.ask('GET', path.replace(board, nowhere)),
      ];
      expect([path, here.status, here.json.error]).toEqual([path, there.status, there.json.error]);
      expect([path, here.status]).toEqual([path, 404]);
    }
    for (const [method, path, body] of WRITES()) {
      if (!path.includes(board)) continue;
      const answer = await mallory.ask(method, path, body);
      const other = await mallory.ask(method, path.replace(board, nowhere), body);
      expect([method, path, answer.status, answer.json.error]).toEqual([
        method,
        path,
        other.status,
        other.json.error,
      ]);
      expect([method, path, answer.status]).toEqual([method, path, 404]);
    }
    expect(await stateOf()).toBe(before);
  });

  it('[V202] of a socket that leads to another document by its spelling opens nothing', async () => {
    for (const spelt of [
      `${board}/design/../talk`,
      `${board}%2fdesign`,
      `${board}/Design`,
      `${board}/design/`,
      `${board}/design%00`,
      `${board}//design`,
      `../sync/${board}/design`,
      `${board}/design;a`,
      `${board}/identity`,
    ]) {
      const [id = '', ...part] = spelt.split('/');
      const socket = mallory.socket(id, part.join('/') as 'design');
      const code = await socket.closed;
      expect([spelt, [4404, 1006].includes(code)]).toEqual([spelt, true]);
    }
  });
});

describe('a link that is taken back', () => {
  it('[V203] while somebody comes in by it, over and over, leaves them with nothing', async () => {
    for (let round = 0; round < 12; round++) {
      const link = await owner.makeLink(board, 'co-maker');
      const guest = new Person(server, `203.0.113.${round}`);
      const [entered] = await Promise.all([
        guest.enter(board, link.secret),
        owner.ask('DELETE', `/api/boards/${board}/links/${link.id}`),
      ]);
      // Both orders are right; what counts is that nothing is left of it.
      expect([200, 403, 404]).toContain(entered.status);
      const me = await guest.ask('GET', `/api/boards/${board}/me`);
      expect([round, me.status]).not.toEqual([round, 200]);
      const write = await guest.ask('POST', `/api/boards/${board}/versions`, { name: 'late' });
      expect([round, write.status]).not.toEqual([round, 201]);
    }
  });

  it('[V203] while edits pour in, none that comes after the answer is taken', async () => {
    const link = await owner.makeLink(board, 'co-maker');
    const guest = new Person(server, '203.0.113.200');
    await guest.enter(board, link.secret);
    const socket = await guest.socket(board, 'design').join();
    let sent = 0;
    const edit = (): void => {
      const at = sent++;
      socket.edit((doc) => doc.getMap('meta').set(`pour-${at}`, true));
    };
    let isPouring = true;
    const pouring = (async () => {
      for (; isPouring; await turnsOfTheLoop()) edit();
    })();
    await until('much was sent', () => sent >= 100);
    await owner.ask('DELETE', `/api/boards/${board}/links/${link.id}`);
    const atAnswer = sent;
    for (let i = 0; i < 50; i++) edit();
    isPouring = false;
    await pouring;
    expect(sent).toBeGreaterThan(atAnswer);
    expect(await socket.closed).toBe(CLOSE_CODES.revoked);
    const reader = await owner.socket(board, 'design').join();
    await heardOut(reader);
    const taken = [...reader.doc.getMap('meta').keys()].filter((key) => key.startsWith('pour-'));
    expect(taken.length).toBeGreaterThan(0);
    expect(taken.filter((key) => Number(key.slice(5)) >= atAnswer)).toEqual([]);
  });
});

describe('limits', () => {
  it('[V204] count a network of IPv6, not each of its addresses, and IPv4 however it is written', () => {
    for (const [address, counted] of [
      ['192.0.2.1', '192.0.2.1'],
      ['::ffff:192.0.2.1', '192.0.2.1'],
      ['2001:db8:a:b:1:2:3:4', '2001:db8:a:b::/64'],
      ['2001:DB8:a:b::', '2001:db8:a:b::/64'],
      ['[2001:db8:a:b::1]', '2001:db8:a:b::/64'],
      ['fe80::1%eth0', 'fe80:0:0:0::/64'],
      ['::1', '0:0:0:0::/64'],
      ['2001:db8::192.0.2.1', '2001:db8:0:0::/64'],
      ['unknown', 'unknown'],
    ] as const)
      expect([address, countedAddress(address)]).toEqual([address, counted]);
  });

  it('[V204] on guessing hold for who changes the address within a network', async () => {
    const tries: number[] = [];
    for (let i = 0; i < 22; i++) {
      const guess = new Person(server, `2001:db8:5:6::${(i + 1).toString(16)}`);
      tries.push((await guess.enter(board, `${'x'.repeat(30)}${i + 10}`)).status);
    }
    expect(tries.slice(0, 20).every((status) => status === 404)).toBe(true);
    expect(tries.slice(20)).toEqual([429, 429]);
  });
});
