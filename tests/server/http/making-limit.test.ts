import { afterEach, describe, expect, it } from 'vitest';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';

let server: AccessServer;
afterEach(() => closeAccessServer(server));

const HOUR_MS = 60 * 60 * 1000;
const asked = { strings: 4, rows: 2 };

describe('what one address may have made', () => {
  it('[V166] beyond the limit of an hour no board, copy or archive is made for the address, and it is said how long to wait', async () => {
    let now = 1_700_000_000_000;
    server = await startAccessServer({ now: () => now, env: { MAX_BOARDS_PER_HOUR: '3' } });
    const maker = new Person(server);
    const { id } = await maker.makeBoard();
    expect((await maker.ask('POST', `/api/boards/${id}/copy`)).status).toBe(201);
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(201);
    now += HOUR_MS / 4;
    for (const path of ['/api/boards', `/api/boards/${id}/copy`, '/api/archives', '/api/boards/']) {
      const refused = await maker.ask('POST', path, asked);
      expect([path, refused.status, refused.headers.get('retry-after')]).toEqual([path, 429, '2700']);
      expect(refused.json).toMatchObject({ error: { kind: 'too-many-boards' } });
    }
    expect((await maker.ask('GET', `/api/boards/${id}`)).status).toBe(200);
    expect((await new Person(server, '192.0.2.9').ask('POST', '/api/boards', asked)).status).toBe(201);
    now += (HOUR_MS * 3) / 4;
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(201);
  });

  it('[V166] archives are counted both ways', async () => {
    server = await startAccessServer({ env: { MAX_ARCHIVES_PER_HOUR: '2' } });
    const maker = new Person(server);
    const { id } = await maker.makeBoard();
    expect((await maker.ask('GET', `/api/boards/${id}/archive`)).status).toBe(200);
    expect((await maker.ask('POST', '/api/archives', 'none')).status).toBe(422);
    expect((await maker.ask('GET', `/api/boards/${id}/archive`)).status).toBe(429);
    expect((await maker.ask('POST', '/api/archives', 'none')).status).toBe(429);
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(201);
  });

  it('[V166] a class of 40 behind one address, each making five boards, meets no limit', async () => {
    server = await startAccessServer();
    const pupils = Array.from({ length: 40 }, () => new Person(server));
    const answers = await Promise.all(
      pupils.flatMap((pupil) => Array.from({ length: 5 }, () => pupil.ask('POST', '/api/boards', asked))),
    );
    expect(answers.filter(({ status }) => status !== 201)).toEqual([]);
  });

  it('[V166] who is known has a share of their own; who is new shares one, whatever boards they own', async () => {
    let now = 1_700_000_000_000;
    server = await startAccessServer({ now: () => now, env: { MAX_BOARDS_PER_HOUR: '20' } });
    const known = new Person(server);
    const { id } = await known.makeBoard();
    now += HOUR_MS;
    // Each fresh cookie makes boards and copies of them, until all together are too many.
    const made: number[] = [];
    for (let i = 0; i < 4; i += 1) {
      const fresh = new Person(server);
      const own = await fresh.ask('POST', '/api/boards', asked);
      made.push(own.status);
      for (let copies = 0; own.status === 201 && copies < 12; copies += 1)
        made.push((await fresh.ask('POST', `/api/boards/${own.json.id}/copy`)).status);
    }
    expect(made.filter((status) => status === 201)).toHaveLength(20);
    for (let copies = 0; copies < 10; copies += 1)
      expect((await known.ask('POST', `/api/boards/${id}/copy`)).status).toBe(201);
    expect((await known.ask('POST', `/api/boards/${id}/copy`)).status).toBe(429);
  });

  it('[V272] what was refused has made nothing and does not count', async () => {
    server = await startAccessServer({ env: { MAX_BOARDS_PER_HOUR: '2' } });
    const maker = new Person(server);
    for (let i = 0; i < 6; i += 1)
      expect((await maker.ask('POST', '/api/boards', { strings: 1 })).status).toBe(422);
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(201);
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(201);
    expect((await maker.ask('POST', '/api/boards', asked)).status).toBe(429);
  });
});
