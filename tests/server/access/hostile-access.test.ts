/** People who try to come in, stay in, or speak where they may not. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { BOARD_PARTS, CLOSE_CODES } from '../../../engine/document/index.ts';
import { hashSecret } from '../../../server/access/secrets.ts';
import { pageRoutes } from '../../../server/http/page-routes.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';
import { message, presenceMessage, type RawClient } from '../raw-client.ts';
import { temporaryFolder } from '../test-server.ts';

const DAY = 24 * 60 * 60 * 1000;
const ELSEWHERE = 'https://elsewhere.example';

/** A store that can be made to wait where a document is read. */
class SlowStore extends MemoryStore {
  gate: Promise<void> | null = null;
  waiting = 0;

  override async load(address: Parameters<MemoryStore['load']>[0]): ReturnType<MemoryStore['load']> {
    if (this.gate !== null) {
      this.waiting += 1;
      await this.gate;
    }
    return super.load(address);
  }
}

let clock: HandClock;
let store: SlowStore;
let server: AccessServer;
let owner: Person;
let board: string;
let ownerSecret: string;

beforeEach(async () => {
  clock = new HandClock(machineClock);
  store = new SlowStore();
  server = await startAccessServer({
    store,
    clock,
    demoFolder: new URL('../../../demo-data', import.meta.url).pathname,
  });
  owner = new Person(server);
  ({ id: board, secret: ownerSecret } = await owner.makeBoard());
});
afterEach(() => closeAccessServer(server));

async function friend(role: Parameters<Person['makeLink']>[1], endsAt: number | null = null) {
  const link = await owner.makeLink(board, role, endsAt);
  const person = new Person(server, '192.0.2.2');
  expect((await person.enter(board, link.secret)).status).toBe(200);
  return { person, link };
}

const revoke = (linkId: string) => owner.ask('DELETE', `/api/boards/${board}/links/${linkId}`);

/** Somebody else with the same cookie. */
function thief(of: Person): Person {
  const person = new Person(server, '192.0.2.66');
  person.cookie = of.cookie;
  return person;
}

async function titleKey(key: string): Promise<unknown> {
  return (await owner.socket(board, 'design').join()).doc.getMap('meta').get(key);
}

describe('without a link', () => {
  it('[V-H1] the address of a board opens nothing and tells nothing', async () => {
    const stranger = new Person(server);
    const other = new Person(server);
    await other.makeBoard();
    const nowhere = 'A'.repeat(22);
    for (const person of [stranger, other]) {
      for (const [method, path, body] of [
        ['GET', '', undefined],
        ['GET', '/file', undefined],
        ['PUT', '/file', {}],
        ['POST', '/copy', {}],
        ['GET', '/me', undefined],
        ['GET', '/links', undefined],
        ['POST', '/links', { role: 'owner' }],
        ['POST', '/talk', {}],
        ['DELETE', '/links/x', undefined],
        ['POST', '/enter', { secret: 'x'.repeat(32) }],
      ] as const) {
        const known = await person.ask(method, `/api/boards/${board}${path}`, body);
        const unknown = await person.ask(method, `/api/boards/${nowhere}${path}`, body);
        expect(known.status, `${method} ${path}`).toBe(404);
        expect(known.text).toBe(unknown.text);
      }
      for (const part of BOARD_PARTS) {
        expect(await person.socket(board, part).closed).toBe(CLOSE_CODES.unknownBoard);
        expect(await person.socket(nowhere, part).closed).toBe(CLOSE_CODES.unknownBoard);
      }
    }
    expect(stranger.cookie).toBe('');
    expect((await stranger.ask('GET', '/api/demos')).text).not.toContain(board);
  });

  it('[V-H1] one sees the boards one holds a link of, and no others', async () => {
    const { person, link } = await friend('learner');
    expect((await owner.ask('GET', '/api/mine')).json).toEqual([{ id: board, role: 'owner' }]);
    expect((await person.ask('GET', '/api/mine')).json).toEqual([{ id: board, role: 'learner' }]);
    await revoke(link.id);
    expect((await person.ask('GET', '/api/mine')).json).toEqual([]);
    const stranger = new Person(server);
    expect((await stranger.ask('GET', '/api/mine')).json).toEqual([]);
    expect(stranger.cookie).toBe('');
  });

  it('[V-H2] the maker owns the board at once; the cookie is for the server alone', async () => {
    const maker = new Person(server);
    const made = await maker.ask('POST', '/api/boards', {}, { 'x-forwarded-proto': 'https' });
    expect(made.json).toMatchObject({ role: 'owner', secret: expect.stringMatching(/^[\w-]{32}$/) });
    const set = made.headers.get('set-cookie')!;
    for (const flag of ['HttpOnly', 'SameSite=Lax', 'Secure', 'Path=/']) expect(set).toContain(flag);
    expect((await maker.ask('GET', `/api/boards/${made.json.id}/me`)).json.role).toBe('owner');
    // A second board is the same person's.
    const again = await maker.ask('POST', '/api/boards', {});
    expect(again.headers.get('set-cookie')).toBeNull();
    const [first, second] = [made.json.id as string, again.json.id as string];
    expect(await maker.idOn(first)).toBe(await maker.idOn(second));
  });

  it('[V-H3] a demo board is looked at; the copy is the asker’s alone', async () => {
    const stranger = new Person(server);
    const other = new Person(server);
    const [demo] = JSON.parse((await stranger.ask('GET', '/api/demos')).text) as { id: string }[];
    const at = `/api/boards/${demo!.id}`;
    expect((await stranger.ask('GET', `${at}/me`)).json.role).toBe('onlooker');
    expect((await stranger.ask('PUT', `${at}/file`, {})).status).toBe(403);
    expect((await stranger.ask('POST', `${at}/links`, { role: 'owner' })).status).toBe(403);
    const client = await stranger.socket(demo!.id, 'design').join();
    client.answers = false;
    client.edit((doc) => doc.getMap('meta').set('mine', true));
    await heardOut(client);
    const reader = await other.socket(demo!.id, 'design').join();
    expect(reader.doc.getMap('meta').has('mine')).toBe(false);
    const copy = (await stranger.ask('POST', `${at}/copy`, {})).json.id as string;
    expect((await stranger.ask('GET', `/api/boards/${copy}/me`)).json.role).toBe('owner');
    expect((await other.ask('GET', `/api/boards/${copy}`)).status).toBe(404);
  });

  it('[V-H4] neither a made-up cookie, a person’s id, a link’s secret nor a hash is a session', async () => {
    const personId = await owner.idOn(board);
    for (const value of ['x'.repeat(32), personId, ownerSecret, hashSecret(ownerSecret), '', '%00']) {
      const person = new Person(server);
      person.cookie = `larkboard-person=${value}`;
      expect((await person.ask('GET', `/api/boards/${board}`)).status).toBe(404);
      expect(await person.socket(board, 'design').closed).toBe(CLOSE_CODES.unknownBoard);
    }
  });
});

describe('a link taken back or ended', () => {
  it('[V-H5] puts out whoever came in by it, on every document, and nobody else', async () => {
    const { person, link } = await friend('co-maker');
    const { person: stays } = await friend('co-maker');
    const mine = await Promise.all(BOARD_PARTS.map((part) => person.socket(board, part).join()));
    const theirs = await Promise.all(BOARD_PARTS.map((part) => stays.socket(board, part).join()));
    expect((await revoke(link.id)).status).toBe(200);
    expect(await Promise.all(mine.map((client) => client.closed))).toEqual([4401, 4401]);
    for (const client of theirs) {
      client.mark(1);
      await client.savedMark(1);
    }
    expect(await person.socket(board, 'design').closed).toBe(CLOSE_CODES.revoked);
    expect((await person.ask('GET', `/api/boards/${board}/file`)).status).toBe(403);
    expect((await person.ask('PUT', `/api/boards/${board}/file`, {})).status).toBe(403);
    expect((await person.enter(board, link.secret)).status).toBe(404);
  });

  it('[V-H6] a cookie replayed from another machine goes with it', async () => {
    const { person, link } = await friend('co-maker');
    const other = thief(person);
    const stolen = await other.socket(board, 'design').join();
    await revoke(link.id);
    expect(await stolen.closed).toBe(CLOSE_CODES.revoked);
    expect(await other.socket(board, 'design').closed).toBe(CLOSE_CODES.revoked);
    expect((await other.ask('PUT', `/api/boards/${board}/file`, {})).status).toBe(403);
  });

  it('[V-H7] what is sent on a socket after that is not taken, even when its client ignores the close', async () => {
    const { person, link } = await friend('co-maker');
    const client = await person.socket(board, 'design').join();
    client.answers = false;
    client.edit((doc) => doc.getMap('meta').set('before', true));
    client.mark(1);
    await client.savedMark(1);
    // Does not read any more, so that it does not see the close; its writes go on.
    const raw = (client.socket as unknown as { _socket: { pause(): void; end(): void } })._socket;
    raw.pause();
    await revoke(link.id);
    client.edit((doc) => doc.getMap('meta').set('after', true));
    // The end of what it sends comes behind the edit: when the server has seen that, it has read the edit.
    raw.end();
    await until('the server has read to the end', () => server.rooms.connections.size === 0);
    expect(await titleKey('before')).toBe(true);
    expect(await titleKey('after')).toBeUndefined();
  });

  it('[V-H8] a link that ends puts out at its end, without anybody doing anything', async () => {
    const { person } = await friend('learner', clock.now() + DAY);
    const client = await person.socket(board, 'talk').join();
    clock.turn(DAY - 1);
    await client.reached();
    expect(client.closeCode).toBeNull();
    clock.turn(1);
    expect(await client.closed).toBe(CLOSE_CODES.revoked);
    expect(await person.socket(board, 'talk').closed).toBe(CLOSE_CODES.revoked);
  });

  it('[V-H8] an end set later holds for who is in already; an end taken away too', async () => {
    const { person, link } = await friend('learner');
    const at = `/api/boards/${board}/links/${link.id}`;
    const client = await person.socket(board, 'talk').join();
    await owner.ask('PATCH', at, { endsAt: clock.now() + DAY });
    await owner.ask('PATCH', at, { endsAt: null });
    clock.turn(2 * DAY);
    await client.reached();
    expect(client.closeCode).toBeNull();
    await owner.ask('PATCH', at, { endsAt: clock.now() + DAY });
    // It was asked meanwhile whether it is there, and has said so.
    await client.reached();
    clock.turn(DAY);
    expect(await client.closed).toBe(CLOSE_CODES.revoked);
  });

  it('[V-H9] who keeps a lesser link joins anew with the lesser role', async () => {
    const { person, link } = await friend('co-maker');
    await person.enter(board, (await owner.makeLink(board, 'onlooker')).secret);
    const client = await person.socket(board, 'design').join();
    await revoke(link.id);
    expect(await client.closed).toBe(CLOSE_CODES.roleChanged);
    const again = await person.socket(board, 'design').join();
    again.answers = false;
    again.edit((doc) => doc.getMap('meta').set('mine', true));
    await heardOut(again);
    expect(await titleKey('mine')).toBeUndefined();
  });

  it('[V-H10] a link taken back while the document is being read lets nobody in', async () => {
    const { person, link } = await friend('co-maker');
    let open = (): void => {};
    store.gate = new Promise((resolve) => {
      open = resolve;
    });
    const client = person.socket(board, 'talk');
    await until('the document is being read', () => store.waiting > 0);
    await revoke(link.id);
    store.gate = null;
    open();
    expect(await client.closed).toBe(CLOSE_CODES.revoked);
    expect(client.heard).toEqual([]);
  });
});

describe('in another’s name', () => {
  const state = (id: string): string => JSON.stringify({ person: { id, name: 'Kai', hex: '#112233' } });

  it('[V-H11] presence carries the person of the cookie or is refused', async () => {
    const { person } = await friend('co-maker');
    const watcher = await owner.socket(board, 'design').join();
    const client = await person.socket(board, 'design').join();
    client.send(presenceMessage([{ client: 5, clock: 1, state: state(await owner.idOn(board)) }]));
    client.send(presenceMessage([{ client: 5, clock: 2, state: '{"person":null}' }]));
    client.send(presenceMessage([{ client: 5, clock: 3, state: state(await person.idOn(board)) }]));
    // Once shown, another name is refused as well.
    client.send(presenceMessage([{ client: 5, clock: 4, state: state(await owner.idOn(board)) }]));
    client.send(presenceMessage([{ client: 5, clock: 5, state: state(await person.idOn(board)) }]));
    await watcher.waitFor((one) => one.kind === 'presence' && one.entries.some((entry) => entry.clock === 5));
    const shown = watcher.heard.flatMap((one) => (one.kind === 'presence' ? one.entries : []));
    const ids = shown.map((entry) => (entry.state as { person: { id: string } }).person.id);
    expect(new Set(ids)).toEqual(new Set([await person.idOn(board)]));
  });

  it('[V-H12] who has no cookie shows nobody, also on a demo board', async () => {
    const [demo] = JSON.parse((await owner.ask('GET', '/api/demos')).text) as { id: string }[];
    const watcher = await owner.socket(demo!.id, 'design').join();
    const nobody = await new Person(server).socket(demo!.id, 'design').join();
    for (const id of [await owner.idOn(board), 'anybody'])
      nobody.send(presenceMessage([{ client: 6, clock: 1, state: state(id) }]));
    nobody.send(presenceMessage([{ client: 6, clock: 1, state: '{"name":"Kai"}' }]));
    owner.sockets[0]!.send(presenceMessage([{ client: 7, clock: 1, state: state(await owner.idOn(board)) }]));
    await watcher.waitFor(
      (one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 7),
    );
    const shown = watcher.heard.flatMap((one) => (one.kind === 'presence' ? one.entries : []));
    expect(shown.map((entry) => entry.client)).toEqual([7]);
  });
});

describe('from another origin', () => {
  it('[V-H13] a page elsewhere opens no socket with its visitor’s cookie', async () => {
    for (const origin of [ELSEWHERE, 'null', `${server.http}.elsewhere.example`, 'http://127.0.0.1:1'])
      await expect(owner.socket(board, 'design', { origin }).opened).rejects.toThrow('403');
    await owner.socket(board, 'design', { origin: server.http }).join();
  });

  it('[V-H14] nor does it write', async () => {
    const { link } = await friend('co-maker');
    const at = `/api/boards/${board}`;
    for (const origin of [ELSEWHERE, 'null'])
      for (const [method, path, body] of [
        ['POST', '/api/boards', {}],
        ['PUT', `${at}/file`, {}],
        ['POST', `${at}/copy`, {}],
        ['POST', `${at}/enter`, { secret: ownerSecret }],
        ['POST', `${at}/links`, { role: 'owner' }],
        ['PATCH', `${at}/links/${link.id}`, { name: 'taken' }],
        ['DELETE', `${at}/links/${link.id}`, undefined],
      ] as const) {
        const answer = await owner.ask(method, path, body, { origin });
        expect([answer.status, (answer.json.error as { kind: string }).kind]).toEqual([403, 'other-origin']);
      }
    const links = JSON.parse((await owner.ask('GET', `${at}/links`)).text) as { name: string }[];
    expect(links).toHaveLength(2);
    expect(links.map((one) => one.name)).toEqual(['', '']);
    // Nor may it read what its visitor may.
    const read = await owner.ask('GET', at, undefined, { origin: ELSEWHERE });
    expect([...read.headers.keys()].filter((name) => name.startsWith('access-control-'))).toEqual([]);
  });

  it('[V-H21] nor does it put the page in a frame or scripts into it', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder.path, 'index.html'), '<!doctype html>');
    const answer = await pageRoutes(folder.path).request(`/board/${board}`);
    const policy = answer.headers.get('content-security-policy')!.split('; ');
    expect(policy).toEqual(
      expect.arrayContaining(["frame-ancestors 'none'", "script-src 'self'", "connect-src 'self'"]),
    );
    folder.remove();
  });
});

describe('aimed at the wrong document', () => {
  it('[V-H15] a design edit sent to another document does not reach the design', async () => {
    const { person } = await friend('learner');
    const design = await person.socket(board, 'design').join();
    const before = (await owner.ask('GET', `/api/boards/${board}/file`)).text;
    design.answers = false;
    design.doc.getMap('meta').set('title', 'mine');
    const whole = message(0, 2, Y.encodeStateAsUpdate(design.doc));
    // It takes no edits at all.
    const talk: RawClient = await person.socket(board, 'talk').join();
    talk.answers = false;
    talk.send(whole);
    await heardOut(talk);
    expect(talk.closeCode).toBeNull();
    // To a document that they may write, the whole of another is no edit.
    const { id: own } = await person.makeBoard();
    const mine = await person.socket(own, 'design').join();
    mine.answers = false;
    mine.send(whole);
    expect(await mine.closed).toBe(CLOSE_CODES.malformed);
    expect((await owner.ask('GET', `/api/boards/${board}/file`)).text).toBe(before);
    expect((await owner.socket(board, 'talk').join()).doc.getMap('meta').size).toBe(0);
  });

  it('[V-H16] an edit of one board sent to another is refused', async () => {
    const mallory = new Person(server);
    const { id: own } = await mallory.makeBoard();
    const away = await mallory.socket(own, 'design').join();
    const { person } = await friend('co-maker');
    const client = await person.socket(board, 'design').join();
    const before = (await owner.ask('GET', `/api/boards/${board}/file`)).text;
    client.answers = false;
    client.send(message(0, 2, Y.encodeStateAsUpdate(away.doc)));
    expect(await client.closed).toBe(CLOSE_CODES.malformed);
    expect((await owner.ask('GET', `/api/boards/${board}/file`)).text).toBe(before);
  });

  it('[V-H17] a link of one board opens no other, and its id changes no other', async () => {
    const mallory = new Person(server);
    const { id: own, secret } = await mallory.makeBoard();
    expect((await mallory.enter(board, secret)).status).toBe(404);
    const { link } = await friend('co-maker');
    for (const method of ['PATCH', 'DELETE'])
      expect((await mallory.ask(method, `/api/boards/${own}/links/${link.id}`, { name: 'x' })).status).toBe(
        404,
      );
    expect((await mallory.ask('GET', `/api/boards/${board}`)).status).toBe(404);
  });
});

describe('guessing', () => {
  it('[V-H18] many tries at once are slowed down, and leave no person behind', async () => {
    const guesser = new Person(server, '192.0.2.99');
    const answers = await Promise.all(
      Array.from({ length: 60 }, (_, i) => guesser.enter(board, String(i).padStart(32, 'x'))),
    );
    const statuses = answers.map((answer) => answer.status);
    expect(statuses.filter((status) => status === 404)).toHaveLength(20);
    expect(statuses.filter((status) => status === 429)).toHaveLength(40);
    expect(guesser.cookie).toBe('');
    // Who shares the address and has a link is not kept waiting.
    expect((await new Person(server, '192.0.2.99').enter(board, ownerSecret)).status).toBe(200);
    // Others are not kept waiting, and good tries do not count.
    const visitor = new Person(server, '192.0.2.3');
    for (let i = 0; i < 30; i += 1) expect((await visitor.enter(board, ownerSecret)).status).toBe(200);
    clock.turn(60_000);
    expect((await guesser.enter(board, 'x'.repeat(32))).status).toBe(404);
  });

  it('[V-H19] a body too large for a secret is refused before it is read', async () => {
    const answer = await new Person(server).ask('POST', `/api/boards/${board}/enter`, {
      secret: 'x'.repeat(100_000),
    });
    expect(answer.status).toBe(413);
  });

  it('[V-H20] the log and the metrics hold no secret, cookie or person', async () => {
    const { person, link } = await friend('co-maker');
    await person.socket(board, 'design').join();
    await revoke(link.id);
    await person.enter(board, link.secret);
    const metrics = await (await ask(`${server.http}/metrics`)).text();
    const said = `${server.lines.join('\n')}\n${metrics}`;
    expect(said).toContain('/enter');
    for (const secret of [
      link.secret,
      ownerSecret,
      person.cookie.split('=')[1]!,
      owner.cookie.split('=')[1]!,
    ])
      for (const form of [secret, hashSecret(secret)]) expect(said).not.toContain(form);
    expect(said).not.toContain(await owner.idOn(board));
  });
});
