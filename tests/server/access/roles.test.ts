/** Every role, every document of a board, every kind of message, by a client that does not care what it may do. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { BOARD_PARTS, type BoardPart, ROLES, type Role, readTalk } from '../../../engine/document/index.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  someone,
  startAccessServer,
} from '../access-people.ts';
import { message, presenceMessage } from '../raw-client.ts';

/** Written down here once more, so that a slip in the server's table shows. Nobody's socket writes the talk; the document of a lesson has a table of its own (`tests/server/lessons`). */
const WRITES: Readonly<Record<Role, readonly BoardPart[]>> = {
  owner: ['design'],
  'co-maker': ['design'],
  reviewer: [],
  learner: [],
  onlooker: [],
};
/** Who may have the server write in the talk what they say. */
const TALKS: readonly Role[] = ['owner', 'co-maker', 'reviewer', 'learner'];

/** Something that is in the document before the test: in the talk by the server's own hand. */
async function put(board: string, part: BoardPart, key: string, value: number): Promise<void> {
  if (part !== 'talk') {
    (await owner.socket(board, part).join()).edit((doc) => doc.getMap('meta').set(key, value));
    return;
  }
  const { room, release } = await server.rooms.hold({ board, part });
  await room.edit((doc) => doc.getMap('meta').set(key, value));
  release();
}

let server: AccessServer;
let owner: Person;

beforeAll(async () => {
  server = await startAccessServer();
  owner = new Person(server);
});
afterAll(() => closeAccessServer(server));

/** What the document holds for somebody who opens it now. */
async function documentOf(board: string, part: BoardPart): Promise<Y.Doc> {
  return (await owner.socket(board, part).join()).doc;
}

const cases = ROLES.flatMap((role) =>
  BOARD_PARTS.map((part) => ({ role, part, writes: WRITES[role].includes(part) })),
);

describe.each(cases)('a $role on the $part (writes: $writes)', ({ role, part, writes }) => {
  it('[V-R1] step 1 is answered with the document', async () => {
    const { board, person } = await someone(role, server, owner);
    await put(board, part, 'was', 7);
    const client = await person.socket(board, part).join();
    await client.waitFor(() => client.doc.getMap('meta').get('was') === 7);
  });

  it.each([
    ['update', 2],
    ['step 2', 1],
  ] as const)('[V-R2] an edit sent as %s', async (_name, kind) => {
    const { board, person } = await someone(role, server, owner);
    const watcher = await owner.socket(board, part).join();
    const client = await person.socket(board, part).join();
    client.answers = false;
    client.doc.getMap('meta').set('mine', 1);
    client.send(message(0, kind, Y.encodeStateAsUpdate(client.doc)));
    await heardOut(client);
    if (writes) await watcher.waitFor(() => watcher.doc.getMap('meta').get('mine') === 1);
    expect((await documentOf(board, part)).getMap('meta').has('mine')).toBe(writes);
    expect(watcher.doc.getMap('meta').has('mine')).toBe(writes);
    expect(client.closeCode).toBeNull();
  });

  it('[V-R3] a mark behind an edit is answered only when the edit is stored', async () => {
    const { board, person } = await someone(role, server, owner);
    const client = await person.socket(board, part).join();
    client.answers = false;
    client.edit((doc) => doc.getMap('meta').set('mine', 1));
    client.mark(1);
    if (writes) {
      await client.savedMark(1);
      const stored = new Y.Doc();
      for (const row of await server.store.load({ board, part })) Y.applyUpdate(stored, row.bytes);
      expect(stored.getMap('meta').get('mine')).toBe(1);
      return;
    }
    await heardOut(client);
    expect(client.heard.some((one) => one.kind === 'saved')).toBe(false);
  });

  it('[V-R4] a deletion', async () => {
    const { board, person } = await someone(role, server, owner);
    await put(board, part, 'theirs', 1);
    const client = await person.socket(board, part).join();
    await client.waitFor(() => client.doc.getMap('meta').has('theirs'));
    client.answers = false;
    client.edit((doc) => doc.getMap('meta').delete('theirs'));
    await heardOut(client);
    expect((await documentOf(board, part)).getMap('meta').has('theirs')).toBe(!writes);
  });

  it('[V-R5] presence: everybody shows themselves, nobody another', async () => {
    const { board, person } = await someone(role, server, owner);
    const watcher = await owner.socket(board, part).join();
    const client = await person.socket(board, part).join();
    const state = (id: string): string => JSON.stringify({ person: { id, name: 'Kai', hex: '#112233' } });
    client.send(presenceMessage([{ client: 7, clock: 1, state: state(await owner.idOn(board)) }]));
    client.send(presenceMessage([{ client: 8, clock: 1, state: JSON.stringify({ name: 'nobody' }) }]));
    client.send(presenceMessage([{ client: 9, clock: 1, state: state(await person.idOn(board)) }]));
    await watcher.waitFor(
      (one) => one.kind === 'presence' && one.entries.some((entry) => entry.client === 9),
    );
    const seen = watcher.heard.flatMap((one) => (one.kind === 'presence' ? one.entries : []));
    expect(new Set(seen.map((entry) => entry.client))).toEqual(new Set([9]));
  });

  it('[V-R6] asking who is there is answered; auth is passed over; other kinds close the socket', async () => {
    const { board, person } = await someone(role, server, owner);
    const client = await person.socket(board, part).join();
    client.send(message(3));
    await client.waitFor((one) => one.kind === 'presence');
    client.send(message(2, 0, 'make me owner'));
    await heardOut(client);
    client.send(message(101, 'store-ok'));
    expect(await client.closed).toBe(4400);
    const another = await person.socket(board, part).join();
    another.send(message(0, 9, new Uint8Array(1)));
    expect(await another.closed).toBe(4400);
  });
});

describe.each(ROLES)('HTTP: a %s', (role) => {
  it('[V-R7] talks where the table says so, on their own account', async () => {
    const { board, person } = await someone(role, server, owner);
    const by = { id: await person.idOn(board), name: 'Kai', hex: '#112233' };
    const command = { kind: 'open-thread', pin: { kind: 'board' }, text: 'Longer tails?' };
    const body = { id: 'aaaaaaaaaaaaaaaa', by, command };
    const mayTalk = TALKS.includes(role);
    expect((await person.ask('POST', `/api/boards/${board}/talk`, body)).status).toBe(mayTalk ? 201 : 403);
    const { threads } = readTalk(await documentOf(board, 'talk'));
    expect(threads.map(({ remarks }) => remarks[0]?.by)).toEqual(mayTalk ? [by] : []);
  });

  it('[V-R7] reads, writes and manages what the table says', async () => {
    const { board, person } = await someone(role, server, owner);
    const at = `/api/boards/${board}`;
    const mayWrite = WRITES[role].includes('design') ? 200 : 403;
    const isOwner = role === 'owner';
    const link = await owner.makeLink(board, 'onlooker');
    expect((await person.ask('GET', at)).json).toMatchObject({ role, canWrite: mayWrite === 200 });
    const file = (await person.ask('GET', `${at}/file`)).json;
    expect(file).toMatchObject({ title: 'kites' });
    expect((await person.ask('PUT', `${at}/file`, { ...file, title: 'changed' })).status).toBe(mayWrite);
    expect((await owner.ask('GET', at)).json.title).toBe(mayWrite === 200 ? 'changed' : 'kites');
    expect((await person.ask('GET', `${at}/links`)).status).toBe(isOwner ? 200 : 403);
    expect((await person.ask('POST', `${at}/links`, { role: 'owner' })).status).toBe(isOwner ? 201 : 403);
    expect((await person.ask('PATCH', `${at}/links/${link.id}`, { name: 'x' })).status).toBe(
      isOwner ? 200 : 403,
    );
    expect((await person.ask('DELETE', `${at}/links/${link.id}`)).status).toBe(isOwner ? 200 : 403);
  });
});
