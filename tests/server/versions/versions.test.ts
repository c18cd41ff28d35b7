/** Versions as people ask for them over HTTP, and who may. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Design, ROLES, readDesign } from '../../../engine/document/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { VERSION_CAPS, VERSION_RECORD, Versions } from '../../../server/versions/index.ts';
import { packSnapshot, unpackState } from '../../../server/versions/snapshot.ts';
import { ask } from '../../support/ask.ts';
import { turnsOfTheLoop } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';

let clock: number;
let store: MemoryStore;
let server: AccessServer;
let owner: Person;
let board: string;

beforeEach(async () => {
  clock = 1_800_000_000_000;
  store = new MemoryStore();
  server = await startAccessServer({
    store,
    now: () => clock,
    demoFolder: new URL('../../../demo-data', import.meta.url).pathname,
  });
  owner = new Person(server);
  ({ id: board } = await owner.makeBoard());
});
afterEach(() => closeAccessServer(server));

interface Shown {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly at: number;
  readonly by: { readonly personId: string; readonly name: string } | null;
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
}

const at = (path = '', id = board) => `/api/boards/${id}/versions${path}`;

/** What stands beside the record of a named version. */
const aboutNamed = (at: number): string =>
  JSON.stringify({
    kind: 'named',
    at,
    name: 'x',
    by: null,
    title: '',
    strings: 8,
    rows: 12,
    digest: 'd',
  });

async function listOf(person: Person, id = board): Promise<readonly Shown[]> {
  const answer = await person.ask('GET', at('', id));
  expect(answer.status, answer.text).toBe(200);
  return (answer.json as { versions: Shown[] }).versions;
}

async function keep(person: Person, name: string, id = board): Promise<Shown> {
  const answer = await person.ask('POST', at('', id), { name, person: 'Wren' });
  expect(answer.status, answer.text).toBe(201);
  return answer.json as unknown as Shown;
}

async function guest(role: Parameters<Person['makeLink']>[1], of = owner, id = board): Promise<Person> {
  const person = new Person(server, '192.0.2.2');
  const { secret } = await of.makeLink(id, role);
  expect((await person.enter(id, secret)).status).toBe(200);
  return person;
}

/** Gives the board another title through the room, as any edit. */
async function retitle(title: string): Promise<void> {
  await server.boards.replace(board, { ...(await server.boards.read(board)), title });
}

async function titleOf(person: Person, id: string): Promise<string> {
  const answer = await ask(server.http + at(`/${id}`), { headers: { cookie: person.cookie } });
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('application/octet-stream');
  expect(answer.headers.get('cache-control')).toBe('private, no-store');
  const doc = new Y.Doc();
  Y.applyUpdate(doc, new Uint8Array(await answer.arrayBuffer()));
  return readDesign(doc).board.title;
}

describe('named versions', () => {
  it('[V180] hold the design as it was, under the ids it has', async () => {
    const first = await keep(owner, 'first try');
    await retitle('kites in the wind');
    clock += 1000;
    const second = await keep(owner, '  second try ');
    const named = (await listOf(owner)).filter(({ kind }) => kind === 'named');
    expect(named.map(({ name, kind, title }) => [name, kind, title])).toEqual([
      ['second try', 'named', 'kites in the wind'],
      ['first try', 'named', 'kites'],
    ]);
    expect(second).toMatchObject({ strings: 8, rows: 12, at: clock });
    expect(await titleOf(owner, first.id)).toBe('kites');
    expect(await titleOf(owner, second.id)).toBe('kites in the wind');
    // Pins and proposals know rows and strings by their ids: those of the version are those of the board.
    const answer = await ask(server.http + at(`/${second.id}`), { headers: { cookie: owner.cookie } });
    const [doc, live] = [new Y.Doc(), (await owner.socket(board, 'design').join()).doc];
    Y.applyUpdate(doc, new Uint8Array(await answer.arrayBuffer()));
    const [kept, now] = [doc, live].map((one) => new Design(one, { makerId: 'x', newId: () => 'x' }));
    for (const row of [0, 5, 11]) expect(kept!.rowAddressOf(row)).toEqual(now!.rowAddressOf(row));
    expect(kept!.addressOf(3, 2)).toEqual(now!.addressOf(3, 2));
  });

  it('[V181] carry the person of the cookie, by the name they go by', async () => {
    const friend = await guest('co-maker');
    const made = await keep(friend, 'hers');
    expect(made.by).toEqual({ personId: await friend.idOn(board), name: 'Wren' });
    for (const name of ['', 'nul \u0000', 'turned \u202e', 'half \ud83d'])
      expect(await owner.ask('PATCH', at(`/${made.id}`), { name })).toMatchObject({
        status: 422,
        json: { error: { kind: 'bad-name', path: 'name' } },
      });
    // An automatic one belongs to nobody until somebody names it; a renamed one stays whose it was.
    const renamed = await owner.ask('PATCH', at(`/${made.id}`), { name: 'ours', person: 'Finch' });
    expect(renamed.json).toMatchObject({ name: 'ours', by: made.by });
  });

  it('[V182] as many as the cap, then a clear no; deleting one makes room', async () => {
    const bytes = Uint8Array.of(1);
    for (let n = 1; n < VERSION_CAPS.named; n += 1)
      await store.putRecord({ board, kind: VERSION_RECORD, id: `n${n}`, about: aboutNamed(n), bytes });
    const last = await keep(owner, 'the last that fits');
    const refused = await owner.ask('POST', at(), { name: 'one more' });
    expect(refused.status).toBe(409);
    expect(refused.json).toMatchObject({
      error: { kind: 'too-many-versions', message: expect.stringContaining(`${VERSION_CAPS.named} named`) },
    });
    // A room that is left keeps one by itself, and which of the two is first would be chance.
    const { release } = await server.rooms.hold({ board, part: 'design' });
    await owner.ask('POST', at('/keep'));
    await retitle('other');
    await owner.ask('POST', at('/keep'));
    release();
    const automatic = (await listOf(owner)).find(({ kind }) => kind === 'before')!;
    expect((await owner.ask('PATCH', at(`/${automatic.id}`), { name: 'x' })).status).toBe(409);
    // Another name for one that is kept already takes no more room.
    expect((await owner.ask('PATCH', at(`/${last.id}`), { name: 'y' })).status).toBe(200);
    expect((await owner.ask('DELETE', at(`/${last.id}`))).status).toBe(200);
    expect((await owner.ask('PATCH', at(`/${automatic.id}`), { name: 'x' })).status).toBe(200);
  });

  it('[V182] many at once are no way round the cap', async () => {
    class SlowRecords extends MemoryStore {
      override async putRecord(...args: Parameters<MemoryStore['putRecord']>): Promise<boolean> {
        // As a disk is: who lists meanwhile does not see it yet.
        await turnsOfTheLoop();
        return super.putRecord(...args);
      }
    }
    const slow = new SlowRecords();
    await slow.addBoard({ id: board, kind: 'board', createdAt: 0 }, []);
    const few = new Versions({ store: slow, now: () => clock, caps: { ...VERSION_CAPS, named: 2 } });
    const snapshot = { state: Uint8Array.of(1), digest: 'd', title: '', strings: 8, rows: 12, knots: 0 };
    const named = { name: 'x', by: null };
    const made = await Promise.all(Array.from({ length: 6 }, () => few.name(board, snapshot, named)));
    expect(made.filter((one) => 'full' in one)).toHaveLength(4);
    expect(await few.list(board)).toHaveLength(2);
  });

  it('[V182] as many bytes as the cap', async () => {
    await store.putRecord({
      board,
      kind: VERSION_RECORD,
      id: 'large',
      about: aboutNamed(1),
      bytes: new Uint8Array(VERSION_CAPS.namedBytes - 10),
    });
    expect((await owner.ask('POST', at(), { name: 'x' })).json).toMatchObject({
      error: { kind: 'too-many-versions', path: 'bytes' },
    });
  });

  it('[V183] what stands there before a version is brought back is kept, once', async () => {
    // A room that is left keeps one by itself, and which of the two is first would be chance.
    const { release } = await server.rooms.hold({ board, part: 'design' });
    expect((await owner.ask('POST', at('/keep'))).json).toEqual({ isNew: true });
    expect((await owner.ask('POST', at('/keep'))).json).toEqual({ isNew: false });
    await retitle('other');
    clock += 1;
    expect((await owner.ask('POST', at('/keep'))).json).toEqual({ isNew: true });
    const before = await listOf(owner);
    release();
    expect(before.map(({ kind, title }) => [kind, title])).toEqual([
      ['before', 'other'],
      ['before', 'kites'],
    ]);
  });
});

describe('who may do what with versions', () => {
  it.each(ROLES)('[V184] %s: look, name and delete as the role allows', async (role) => {
    const version = await keep(owner, 'kept');
    const person = role === 'owner' ? owner : await guest(role);
    const [canName, canDelete] = [role === 'owner' || role === 'co-maker', role === 'owner'];
    const list = await person.ask('GET', at());
    expect(list.json).toMatchObject({ canName, canDelete, mostNamed: VERSION_CAPS.named });
    expect(await titleOf(person, version.id)).toBe('kites');
    const write = canName ? [201, 200, 200] : [403, 403, 403];
    expect([
      (await person.ask('POST', at(), { name: 'a' })).status,
      (await person.ask('POST', at('/keep'))).status,
      (await person.ask('PATCH', at(`/${version.id}`), { name: 'b' })).status,
    ]).toEqual(write);
    expect((await person.ask('DELETE', at(`/${version.id}`))).status).toBe(canDelete ? 200 : 403);
    const left = (await listOf(owner)).filter(({ id }) => id === version.id);
    expect(left.map(({ name }) => name)).toEqual(canDelete ? [] : [canName ? 'b' : 'kept']);
  });

  it('[V185] a stranger, and who had a link, learn nothing', async () => {
    const version = await keep(owner, 'kept');
    const friend = await guest('co-maker');
    const link = (
      (await owner.ask('GET', `/api/boards/${board}/links`)).json as unknown as { id: string; role: string }[]
    ).find(({ role }) => role === 'co-maker')!;
    await owner.ask('DELETE', `/api/boards/${board}/links/${link.id}`);
    const expected = { stranger: 404, friend: 403 };
    for (const [who, person] of Object.entries({ stranger: new Person(server), friend }))
      for (const [method, path, body] of [
        ['GET', '', undefined],
        ['GET', `/${version.id}`, undefined],
        ['POST', '', { name: 'x' }],
        ['POST', '/keep', {}],
        ['PATCH', `/${version.id}`, { name: 'x' }],
        ['DELETE', `/${version.id}`, undefined],
      ] as const)
        expect((await person.ask(method, at(path), body)).status, `${who} ${method} ${path}`).toBe(
          expected[who as keyof typeof expected],
        );
    expect((await listOf(owner)).map(({ name }) => name)).toEqual(['kept']);
  });

  it("[V185] another board's version is not there, whoever owns that board", async () => {
    const other = new Person(server);
    const { id: theirs } = await other.makeBoard();
    const secret = await keep(other, 'theirs', theirs);
    for (const [method, body] of [
      ['GET', undefined],
      ['PATCH', { name: 'mine' }],
      ['DELETE', undefined],
    ] as const) {
      const answer = await owner.ask(method, at(`/${secret.id}`), body);
      expect([answer.status, answer.json]).toMatchObject([404, { error: { kind: 'no-such-version' } }]);
    }
    expect((await listOf(other, theirs)).map(({ name }) => name)).toEqual(['theirs']);
  });

  it('[V185] ids that are none, and records of another kind, are not there', async () => {
    await store.putRecord({ board, kind: 'proposal', id: 'p', about: '{}', bytes: Uint8Array.of(1) });
    for (const id of ['p', 'nope', '..%2F..%2Fsecrets', '%00', 'x'.repeat(65), "'--"])
      for (const method of ['GET', 'DELETE']) {
        const answer = await owner.ask(method, at(`/${id}`));
        expect([answer.status, answer.json], `${method} ${id}`).toMatchObject([
          404,
          { error: { kind: expect.any(String) } },
        ]);
      }
    expect(await store.record(board, 'proposal', 'p')).not.toBeNull();
  });

  it('[V185] names and bodies that are too large or of a wrong shape change nothing', async () => {
    for (const [body, status, path] of [
      [{ name: 'x'.repeat(61) }, 422, 'name'],
      [{ name: '   ' }, 422, 'name'],
      [{ name: 7 }, 422, 'name'],
      [{}, 422, 'name'],
      [{ name: 'x', person: 'y'.repeat(61) }, 422, 'person'],
      [{ name: 'x', kind: 'auto' }, 422, 'kind'],
      [{ name: 'x', by: { personId: 'somebody' } }, 422, 'by'],
      [['x'], 422, ''],
    ] as const) {
      const answer = await owner.ask('POST', at(), body);
      expect([answer.status, answer.json], JSON.stringify(body)).toMatchObject([status, { error: { path } }]);
    }
    expect((await owner.ask('POST', at(), { name: 'x'.repeat(10_000) })).status).toBe(413);
    expect(await listOf(owner)).toEqual([]);
  });

  it('[V185] a page of another site keeps, names and deletes nothing', async () => {
    const version = await keep(owner, 'kept');
    const from = { origin: 'https://elsewhere.example' };
    expect((await owner.ask('POST', at(), { name: 'x' }, from)).status).toBe(403);
    expect((await owner.ask('PATCH', at(`/${version.id}`), { name: 'x' }, from)).status).toBe(403);
    expect((await owner.ask('DELETE', at(`/${version.id}`), undefined, from)).status).toBe(403);
    expect((await listOf(owner)).map(({ name }) => name)).toEqual(['kept']);
  });

  it('[V186] demo boards have no versions and take none', async () => {
    const [demo] = (await owner.ask('GET', '/api/demos')).json as unknown as { id: string }[];
    const list = await owner.ask('GET', at('', demo!.id));
    expect(list.json).toMatchObject({ versions: [], canName: false, canDelete: false });
    expect((await owner.ask('POST', at('', demo!.id), { name: 'x' })).status).toBe(403);
    expect((await owner.ask('POST', at('/keep', demo!.id))).status).toBe(403);
    expect(await store.records(demo!.id, null)).toEqual([]);
  });

  it('[V187] a record that is no version is passed over; one whose bytes are none says so', async () => {
    const about = {
      kind: 'named',
      at: 5,
      name: 'odd',
      by: null,
      title: '',
      strings: 8,
      rows: 12,
      digest: 'd',
    };
    const put = (id: string, text: string, bytes = Uint8Array.of(9, 9, 9)) =>
      store.putRecord({ board, kind: VERSION_RECORD, id, about: text, bytes });
    await put('a', 'not json');
    await put('b', 'null');
    await put('c', JSON.stringify({ ...about, at: 'yesterday' }));
    await put('d', JSON.stringify({ ...about, name: 'x'.repeat(1000) }));
    await put('e', JSON.stringify({ ...about, by: { personId: 7 } }));
    await put('f', JSON.stringify(about));
    // A few bytes that unpack to far more than any design has.
    const state = new Uint8Array(40 * 1024 * 1024);
    await put(
      'g',
      JSON.stringify(about),
      (await packSnapshot({
        state,
        digest: '',
        title: '',
        strings: 8,
        rows: 12,
        knots: 0,
      })) as Uint8Array<ArrayBuffer>,
    );
    expect((await listOf(owner)).map(({ id }) => id).sort()).toEqual(['f', 'g']);
    for (const id of ['f', 'g'])
      expect(await owner.ask('GET', at(`/${id}`))).toMatchObject({
        status: 422,
        json: { error: { kind: 'bad-version' } },
      });
  });

  it('what is wrong with the server is not told as damage of a version', async () => {
    expect(await unpackState(Uint8Array.of(9, 9, 9))).toBe(null);
    await expect(unpackState({ bytes: 9 } as unknown as Uint8Array)).rejects.toThrow(TypeError);
  });

  it('of a board that holds no design none is kept, and why is said', async () => {
    const { id } = await owner.makeBoard();
    const design = { board: id, part: 'design' } as const;
    const seqs = (await store.load(design)).map(({ seq }) => seq);
    await store.compact(design, seqs, Uint8Array.of(0, 0));
    const answer = await owner.ask('POST', at('', id), { name: 'nothing', person: 'Wren' });
    expect([answer.status, answer.json.error]).toMatchObject([
      409,
      { kind: expect.stringContaining('empty') },
    ]);
    expect(await listOf(owner, id)).toEqual([]);
  });

  it('a removed board leaves no versions', async () => {
    await keep(owner, 'kept');
    await store.removeBoard(board);
    expect(await store.records(board, null)).toEqual([]);
    expect((await owner.ask('GET', at())).status).toBe(404);
  });
});
