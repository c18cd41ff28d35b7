import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Access } from '../../../server/access/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
let now = 0;
let server: AccessServer;
beforeEach(async () => {
  now = 1_700_000_000_000;
  server = await startAccessServer({ now: () => now });
});
afterEach(() => closeAccessServer(server));

describe('sessions', () => {
  it('[V-A9] who comes back within a year stays who they are, and their cookie lasts anew', async () => {
    const owner = new Person(server);
    const { id } = await owner.makeBoard();
    const who = await owner.idOn(id);
    for (let visit = 0; visit < 4; visit += 1) {
      now += 300 * DAY_MS;
      const me = await owner.ask('GET', `/api/boards/${id}/me`);
      expect([me.status, me.json.personId]).toEqual([200, who]);
      expect(me.headers.get('set-cookie')).toMatch(/Max-Age=31536000; Path=\/; HttpOnly; SameSite=Lax/);
    }
    now += 300 * DAY_MS;
    const mine = await owner.ask('GET', '/api/mine');
    expect(mine.json).toEqual([{ id, role: 'owner' }]);
    expect(mine.headers.get('set-cookie')).toContain('Max-Age=31536000');
  });

  it('[V-A9] within a day nothing is written anew', async () => {
    const owner = new Person(server);
    const { id } = await owner.makeBoard();
    now += DAY_MS;
    expect((await owner.ask('GET', `/api/boards/${id}/me`)).headers.get('set-cookie')).toBeNull();
    now += 1;
    expect((await owner.ask('GET', `/api/boards/${id}/me`)).headers.get('set-cookie')).not.toBeNull();
    expect((await owner.ask('GET', `/api/boards/${id}/me`)).headers.get('set-cookie')).toBeNull();
  });

  it('[V-A9] after a year without a visit the cookie opens nothing, and a link does still', async () => {
    const owner = new Person(server);
    const { id, secret } = await owner.makeBoard();
    now += 365 * DAY_MS;
    expect((await owner.ask('GET', `/api/boards/${id}`)).status).toBe(200);
    now += 1;
    expect((await owner.ask('GET', `/api/boards/${id}`)).status).toBe(404);
    expect((await owner.ask('GET', `/api/boards/${id}/me`)).headers.get('set-cookie')).toBeNull();
    expect(await owner.socket(id, 'design').closed).toBe(4404);
    expect((await owner.enter(id, secret)).status).toBe(200);
    expect((await owner.ask('GET', `/api/boards/${id}`)).json.role).toBe('owner');
  });

  it('[V-A9] ended sessions are dropped, others stay', async () => {
    const access = new Access({ store: new MemoryAccessStore(), now: () => now, isOpen: () => false });
    const old = await access.newSession();
    now += 200 * DAY_MS;
    const recent = await access.newSession();
    now += 165 * DAY_MS;
    expect(await access.dropEndedSessions()).toBe(0);
    now += 1;
    expect(await access.dropEndedSessions()).toBe(1);
    expect(await access.personOf(old.secret)).toBeNull();
    expect(await access.personOf(recent.secret)).toBe(recent.personId);
  });
});
