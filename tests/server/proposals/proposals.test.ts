/** Proposals: who may make, see, change and answer them, and what a branch lets in. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  applyCommand,
  CLOSE_CODES,
  Design,
  mergeDesigns,
  ROLES,
  type Role,
  readDesign,
  readKeyed,
  readKeyedUpdate,
} from '../../../engine/document/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { countingIds } from '../../support/sample-board.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';
import type { RawClient } from '../raw-client.ts';

let clock: number;
let server: AccessServer;
let owner: Person;
let board: string;

beforeEach(async () => {
  clock = 1_800_000_000_000;
  server = await startAccessServer({ now: () => clock });
  owner = new Person(server);
  ({ id: board } = await owner.makeBoard());
});
afterEach(() => closeAccessServer(server));

async function someone(role: Role): Promise<{ person: Person; linkId: string }> {
  const link = await owner.makeLink(board, role);
  const person = new Person(server);
  expect((await person.enter(board, link.secret)).status).toBe(200);
  return { person, linkId: link.id };
}

const at = (of = board): string => `/api/boards/${of}/proposals`;

async function propose(person: Person, title = 'warmer edge'): Promise<string> {
  const made = await person.ask('POST', at(), { title, name: 'Wren' });
  expect(made.status, made.text).toBe(201);
  return made.json.id as string;
}

/** Opens the design as that person and edits it there. */
async function edit(person: Person, on: string, act: (design: Design) => void): Promise<void> {
  const client = await person.socket(on, 'design').join();
  const design = new Design(client.doc, { makerId: 'x', newId: countingIds('x') });
  client.edit(() => act(design));
  design.dispose();
  client.mark(1);
  await client.savedMark(1);
  client.close();
}

const tie =
  (row: number, k: number, knot: 0 | 1 | 2 | 3 | 4) =>
  (design: Design): void => {
    expect(design.run({ kind: 'set-knots', knots: [{ row, k, knot }] })).toEqual({ ok: true });
  };

async function titleOf(on: string): Promise<string> {
  const answer = await owner.ask('GET', `/api/boards/${on}`);
  return answer.json.title as string;
}

async function stateOf(person: Person, id: string): Promise<string> {
  return (await person.ask('GET', `${at()}/${id}`)).json.state as string;
}

describe('making one', () => {
  it.each(ROLES.map((role) => ({ role, may: role !== 'onlooker' })))(
    '[V-P1] a $role may propose: $may',
    async ({ role, may }) => {
      const { person } = await someone(role);
      const made = await person.ask('POST', at(), { title: 'warmer edge' });
      expect(made.status).toBe(may ? 201 : 403);
      expect((await owner.ask('GET', at())).json).toHaveLength(may ? 1 : 0);
    },
  );

  it('[V-P2] the branch shows the board under the same ids, in a document of its own', async () => {
    await edit(owner, board, tie(0, 0, 3));
    const { person } = await someone('reviewer');
    const id = await propose(person);
    expect(id).toMatch(/^[\w-]{22}$/);
    const here = (await owner.socket(board, 'design').join()).doc;
    const there = (await person.socket(id, 'design').join()).doc;
    expect(readDesign(there)).toEqual(readDesign(here));
    await edit(person, id, tie(2, 1, 1));
    expect(readDesign((await owner.socket(board, 'design').join()).doc)).toEqual(readDesign(here));
  });

  it('[V-P3] it is in the list of its board for all who may read it, and nowhere else', async () => {
    const { person } = await someone('learner');
    const { person: onlooker } = await someone('onlooker');
    const id = await propose(person);
    for (const one of [owner, person, onlooker]) {
      const list = (await one.ask('GET', at())).json as unknown as readonly Record<string, unknown>[];
      expect(list).toMatchObject([{ id, title: 'warmer edge', state: 'draft', name: 'Wren' }]);
      expect(list[0]!.isMine).toBe(one === person);
      expect(JSON.stringify(list)).not.toContain(await person.idOn(board));
    }
    for (const one of [owner, person]) expect((await one.ask('GET', '/api/mine')).text).not.toContain(id);
    const stranger = new Person(server);
    expect((await stranger.ask('GET', at())).status).toBe(404);
    expect((await stranger.ask('GET', `${at()}/${id}`)).status).toBe(404);
  });

  it('[V-P4] open ones are bounded: five a person, twenty a board, also when asked for at once', async () => {
    const { person } = await someone('learner');
    const asked = await Promise.all(
      Array.from({ length: 8 }, () => person.ask('POST', at(), { title: 'again' })),
    );
    expect(asked.filter(({ status }) => status === 201)).toHaveLength(5);
    expect(asked.find(({ status }) => status !== 201)?.json).toMatchObject({
      error: { kind: 'too-many-own-proposals' },
    });
    for (let i = 0; i < 3; i++) {
      const { person: other } = await someone('reviewer');
      for (let j = 0; j < 5; j++) await propose(other);
    }
    const { person: late } = await someone('co-maker');
    expect((await late.ask('POST', at(), { title: 'late' })).json).toMatchObject({
      error: { kind: 'too-many-proposals' },
    });
  });

  it('[V-P3] bad fields are named, titles and names that are not plain text among them', async () => {
    for (const [body, path] of [
      [{ title: '' }, 'title'],
      [{ title: 'x'.repeat(121) }, 'title'],
      [{ title: 'a', name: 7 }, 'name'],
      [{ title: 'nul \u0000' }, 'title'],
      [{ title: 'a', name: 'turned \u202e' }, 'name'],
      [{ title: 'a', owner: 'me' }, 'owner'],
    ] as const) {
      const answer = await owner.ask('POST', at(), body);
      expect(answer.status).toBe(422);
      expect(answer.json).toMatchObject({ error: { path } });
    }
  });
});

describe('on a branch', () => {
  it.each([
    ['owner', 'owner', true],
    ['co-maker', 'co-maker', true],
    ['reviewer', 'reviewer', false],
    ['learner', 'learner', false],
    ['onlooker', 'onlooker', false],
  ] as const)('[V-P6] a %s of the board is %s there and edits: %s', async (role, there, edits) => {
    const { person: proposer } = await someone('learner');
    const id = await propose(proposer);
    const { person } = await someone(role);
    const me = await person.ask('GET', `/api/boards/${id}/me`);
    expect(me.json).toMatchObject({ role: there, branchOf: board });
    const client = await person.socket(id, 'design').join();
    client.answers = false;
    client.edit((doc) => doc.getMap('meta').set('mine', true));
    await heardOut(client);
    const seen = (await owner.socket(id, 'design').join()).doc;
    expect(seen.getMap('meta').has('mine')).toBe(edits);
  });

  it.each(['reviewer', 'learner', 'co-maker'] as const)(
    '[V-P6] its proposer edits there, being a %s on the board',
    async (role) => {
      const { person } = await someone(role);
      const id = await propose(person);
      expect((await person.ask('GET', `/api/boards/${id}/me`)).json.role).toBe('co-maker');
      await edit(person, id, tie(1, 0, 4));
      const { doc } = await owner.socket(id, 'design').join();
      expect(readDesign(doc).board.pattern.knots[4]).toBe(4);
    },
  );

  it('[V-P7] a link taken back closes the branch too, and nothing more is taken there', async () => {
    const { person, linkId } = await someone('reviewer');
    const id = await propose(person);
    const client = await person.socket(id, 'design').join();
    await owner.ask('DELETE', `/api/boards/${board}/links/${linkId}`);
    await until('the socket on the branch is closed', () => client.closeCode !== null);
    expect(client.closeCode).toBe(CLOSE_CODES.revoked);
    expect((await person.ask('GET', `/api/boards/${id}`)).status).toBe(403);
    expect((await person.ask('PUT', `/api/boards/${id}/file`, {})).status).toBe(403);
    expect((await person.ask('POST', `${at()}/${id}/hand-in`, {})).status).toBe(404);
    const again = person.socket(id, 'design');
    await until('the socket is refused', () => again.closeCode !== null);
    expect(again.closeCode).toBe(CLOSE_CODES.revoked);
  });

  it('[V-P7] a link that ends closes the branch too', async () => {
    const link = await owner.makeLink(board, 'reviewer', clock + 60_000);
    const person = new Person(server);
    await person.enter(board, link.secret);
    const id = await propose(person);
    const client = await person.socket(id, 'design').join();
    clock += 61_000;
    await until('the socket on the branch is closed', () => client.closeCode !== null);
    expect(client.closeCode).toBe(CLOSE_CODES.revoked);
  });

  it('[V-P8] it has no links and no branches of its own', async () => {
    const id = await propose(owner);
    expect((await owner.ask('POST', `/api/boards/${id}/links`, { role: 'owner' })).status).toBe(403);
    expect((await owner.ask('GET', `/api/boards/${id}/links`)).status).toBe(403);
    expect((await owner.ask('POST', at(id), { title: 'nested' })).status).toBe(409);
  });

  it('[V-P9] once it is answered everybody only looks', async () => {
    const { person } = await someone('co-maker');
    const id = await propose(person);
    const client = await person.socket(id, 'design').join();
    expect((await owner.ask('POST', `${at()}/${id}/decline`, { word: 'too wide' })).status).toBe(200);
    await until('the socket is closed to come back with less', () => client.closeCode !== null);
    expect(client.closeCode).toBe(CLOSE_CODES.roleChanged);
    for (const one of [person, owner])
      expect((await one.ask('GET', `/api/boards/${id}/me`)).json.role).toBe('onlooker');
    expect((await person.ask('PUT', `/api/boards/${id}/file`, {})).status).toBe(403);
  });
});

describe('answering', () => {
  const seenOf = async (id: string): Promise<string> =>
    (await owner.ask('GET', `${at()}/${id}/states`)).json.seen as string;

  it('[V-P10] handed in, accepted with a word: its proposer sees the outcome', async () => {
    const { person } = await someone('reviewer');
    const id = await propose(person);
    expect((await person.ask('POST', `${at()}/${id}/hand-in`, {})).json).toMatchObject({ state: 'open' });
    const done = await owner.ask('POST', `${at()}/${id}/accept`, {
      seen: await seenOf(id),
      word: 'lovely',
      isPart: true,
    });
    expect(done.status, done.text).toBe(200);
    expect((await person.ask('GET', `${at()}/${id}`)).json).toMatchObject({
      state: 'accepted',
      word: 'lovely',
      isPart: true,
      isMine: true,
      closedAt: clock,
    });
  });

  it.each(ROLES.filter((role) => role !== 'owner'))(
    '[V-P11] a %s neither accepts nor declines, not even an own one',
    async (role) => {
      const { person } = await someone(role);
      const id = await propose(role === 'onlooker' ? owner : person);
      const seen = await seenOf(id);
      for (const [what, body] of [
        ['accept', { seen, isPart: false }],
        ['decline', { word: '' }],
      ] as const)
        expect((await person.ask('POST', `${at()}/${id}/${what}`, body)).status).toBe(403);
      expect(await stateOf(owner, id)).toBe('draft');
    },
  );

  it('[V-P12] only its proposer hands it in and withdraws it', async () => {
    const { person } = await someone('learner');
    const { person: other } = await someone('co-maker');
    const id = await propose(person);
    for (const one of [other, owner])
      for (const what of ['hand-in', 'withdraw'])
        expect((await one.ask('POST', `${at()}/${id}/${what}`, {})).status).toBe(403);
    expect((await person.ask('POST', `${at()}/${id}/withdraw`, {})).json).toMatchObject({
      state: 'withdrawn',
    });
  });

  it('[V-P12] an answer is final', async () => {
    const { person } = await someone('learner');
    const id = await propose(person);
    const seen = await seenOf(id);
    await owner.ask('POST', `${at()}/${id}/decline`, { word: '' });
    for (const one of [owner, person])
      for (const [what, body] of [
        ['accept', { seen, isPart: false }],
        ['decline', { word: '' }],
        ['hand-in', {}],
        ['withdraw', {}],
      ] as const)
        expect((await one.ask('POST', `${at()}/${id}/${what}`, body)).status).toBeGreaterThanOrEqual(403);
    expect(await stateOf(owner, id)).toBe('declined');
  });

  it('[V-P12] of two answers at once one counts', async () => {
    const { person } = await someone('learner');
    const id = await propose(person);
    const seen = await seenOf(id);
    const [a, b] = await Promise.all([
      owner.ask('POST', `${at()}/${id}/accept`, { seen, isPart: false }),
      person.ask('POST', `${at()}/${id}/withdraw`, {}),
    ]);
    expect([a.status, b.status].sort()).toEqual([200, 409]);
    expect(await stateOf(owner, id)).toBe(a.status === 200 ? 'accepted' : 'withdrawn');
  });

  it('[V-P13] what was changed since it was looked at is not accepted', async () => {
    const { person } = await someone('learner');
    const id = await propose(person);
    const seen = await seenOf(id);
    await edit(person, id, tie(0, 0, 2));
    const answer = await owner.ask('POST', `${at()}/${id}/accept`, { seen, isPart: false });
    expect(answer.status).toBe(409);
    expect(answer.json).toMatchObject({ error: { kind: 'proposal-moved' } });
    expect(await stateOf(owner, id)).toBe('draft');
    expect(
      (await owner.ask('POST', `${at()}/${id}/accept`, { seen: await seenOf(id), isPart: false })).status,
    ).toBe(200);
  });

  it('[V-P14] a proposal of one board is none of another', async () => {
    const { person } = await someone('reviewer');
    const id = await propose(person);
    const mine = new Person(server);
    const { id: elsewhere } = await mine.makeBoard();
    for (const [method, path, body] of [
      ['GET', '', undefined],
      ['GET', '/states', undefined],
      ['POST', '/accept', { seen: 'x', isPart: false }],
      ['POST', '/decline', { word: '' }],
      ['POST', '/withdraw', {}],
    ] as const)
      expect((await mine.ask(method, `${at(elsewhere)}/${id}${path}`, body)).status).toBe(404);
    expect((await mine.ask('GET', `/api/boards/${id}`)).status).toBe(404);
    const socket = mine.socket(id, 'design');
    await until('the socket is refused', () => socket.closeCode !== null);
    expect(socket.closeCode).toBe(CLOSE_CODES.unknownBoard);
    expect(await stateOf(owner, id)).toBe('draft');
  });

  it('[V-P14] a page of another origin proposes and answers nothing', async () => {
    const id = await propose(owner);
    const from = { origin: 'https://elsewhere.example' };
    expect((await owner.ask('POST', at(), { title: 'x' }, from)).status).toBe(403);
    expect((await owner.ask('POST', `${at()}/${id}/decline`, { word: '' }, from)).status).toBe(403);
  });

  it('[V-P15] both sides come whole, and merging them is taken by the board as one edit', async () => {
    const { person } = await someone('reviewer');
    const id = await propose(person);
    await edit(person, id, tie(0, 0, 2));
    await edit(owner, board, (design) => design.run({ kind: 'set-title', title: 'the board went on' }));
    const { base, present } = (await owner.ask('GET', `${at()}/${id}/states`)).json as {
      base: string;
      present: string;
    };
    const sides = [base, present].map((text) => readKeyedUpdate(Buffer.from(text, 'base64'))!);
    await edit(owner, board, (design) => {
      const ours = readKeyed(design.doc)!;
      const { changes, conflicts } = mergeDesigns(sides[0]!, ours, sides[1]!);
      expect([changes.map(({ kind }) => kind), conflicts]).toEqual([['knot'], []]);
      expect(design.run(applyCommand(changes, sides[1]!))).toEqual({ ok: true });
    });
    expect(await titleOf(board)).toBe('the board went on');
    const { doc } = await person.socket(board, 'design').join();
    expect(readDesign(doc).board.pattern.knots[0]).toBe(2);
  });

  it('[V-P16] of those answered the last forty stay; older ones go with their branches', async () => {
    const ids: string[] = [];
    for (let i = 0; i < 42; i++) {
      const id = await propose(owner, `idea ${i}`);
      clock += 1000;
      await owner.ask('POST', `${at()}/${id}/decline`, { word: '' });
      ids.push(id);
    }
    const list = (await owner.ask('GET', at())).json as unknown as readonly { id: string }[];
    expect(list.map(({ id }) => id)).toEqual(ids.slice(2));
    expect(await server.store.board(ids[0]!)).toBeNull();
    expect(await server.store.board(ids[2]!)).not.toBeNull();
    expect((await owner.ask('GET', `/api/boards/${ids[0]}`)).status).toBe(404);
  });
});

it('[V332] whoever withdraws over and over pushes out nobody else’s proposal, and is not kept without end', async () => {
  const [{ person: quiet }, { person: busy }] = [await someone('reviewer'), await someone('reviewer')];
  const declined = await propose(quiet, 'answered');
  await owner.ask('POST', `${at()}/${declined}/decline`, { word: 'no' });
  const withdrawn = await propose(quiet, 'taken back');
  await quiet.ask('POST', `${at()}/${withdrawn}/withdraw`);
  const ids: string[] = [];
  for (let i = 0; i < 42; i++) {
    clock += 1000;
    const id = await propose(busy, `idea ${i}`);
    expect((await busy.ask('POST', `${at()}/${id}/withdraw`)).status).toBe(200);
    ids.push(id);
  }
  const list = (await owner.ask('GET', at())).json as unknown as readonly { id: string }[];
  expect(list.map(({ id }) => id).sort()).toEqual([declined, withdrawn, ...ids.slice(-5)].sort());
  for (const id of [declined, withdrawn]) expect(await server.store.board(id)).not.toBeNull();
  expect(await server.store.board(ids[0]!)).toBeNull();
});

it('[V332] where many people have withdrawn, who withdraws next loses their own', async () => {
  const ids: string[] = [];
  for (let i = 0; i < 41; i++) {
    clock += 1000;
    const { person } = await someone('reviewer');
    const id = await propose(person, `idea ${i}`);
    expect((await person.ask('POST', `${at()}/${id}/withdraw`)).status).toBe(200);
    ids.push(id);
  }
  const list = (await owner.ask('GET', at())).json as unknown as readonly { id: string }[];
  expect(list.map(({ id }) => id)).toEqual(ids.slice(0, 40));
});

it('[V-P7] [V-P9] what closes a branch closes it on every node', async () => {
  const hub = new MemoryRelayHub();
  const [store, links] = [new MemoryStore(), new MemoryAccessStore()];
  const [here, there] = [
    await startAccessServer({ store, relay: hub.node() }, links),
    await startAccessServer({ store, relay: hub.node() }, links),
  ];
  const boss = new Person(here);
  const { id } = await boss.makeBoard();
  const helper = new Person(there);
  const link = await boss.makeLink(id, 'reviewer');
  await helper.enter(id, link.secret);
  const branches: string[] = [];
  for (const title of ['declined', 'put out'])
    branches.push((await helper.ask('POST', at(id), { title })).json.id as string);
  const sockets: RawClient[] = [];
  for (const branch of branches) sockets.push(await helper.socket(branch, 'design').join());
  await boss.ask('POST', `${at(id)}/${branches[0]}/decline`, { word: '' });
  await until('the declined branch is closed there', () => sockets[0]!.closeCode !== null);
  expect(sockets[0]!.closeCode).toBe(CLOSE_CODES.roleChanged);
  await boss.ask('DELETE', `/api/boards/${id}/links/${link.id}`);
  await until('the other branch is closed there', () => sockets[1]!.closeCode !== null);
  expect(sockets[1]!.closeCode).toBe(CLOSE_CODES.revoked);
  for (const node of [here, there]) await closeAccessServer(node);
});

it('[V-P16] branches go with their board, and whoever works there is put out', async () => {
  const { person } = await someone('reviewer');
  const id = await propose(person);
  const other = new Person(server);
  const { id: elsewhere } = await other.makeBoard();
  const kept = (await other.ask('POST', at(elsewhere), { title: 'stays' })).json.id as string;
  const client = await person.socket(id, 'design').join();
  for (const one of [person, owner]) expect((await one.ask('DELETE', `/api/boards/${id}`)).status).toBe(403);
  expect((await owner.ask('DELETE', `/api/boards/${board}`)).status).toBe(200);
  await until('the socket on the branch is closed', () => client.closeCode !== null);
  expect(client.closeCode).toBe(CLOSE_CODES.deleted);
  expect(await server.store.board(id)).toBeNull();
  expect((await person.ask('GET', `/api/boards/${id}`)).status).toBe(404);
  expect((await other.ask('GET', `/api/boards/${kept}`)).status).toBe(200);
});

it('[V-P16] a branch left by a process that ended in between is swept at the next start', async () => {
  const id = await propose(owner);
  const { id: other } = await owner.makeBoard();
  const kept = (await owner.ask('POST', at(other), { title: 'stays' })).json.id as string;
  await server.store.removeBoard(board);
  expect(await server.store.board(id)).not.toBeNull();
  const again = await startAccessServer({ store: server.store });
  expect(await server.store.board(id)).toBeNull();
  expect(await server.store.board(kept)).not.toBeNull();
  expect(again.lines.some((line) => line.includes('branches-swept'))).toBe(true);
  await closeAccessServer(again);
});

it('[V-P16] a branch that no proposal names is swept too, unless it is being made right now', async () => {
  const id = await propose(owner);
  const kept = await propose(owner, 'stays');
  await server.store.removeRecord(board, 'proposal', id);
  for (const [later, swept] of [
    [60_000, 0],
    [2 * 60 * 60_000, 1],
  ] as const) {
    clock += later;
    expect([later, await server.proposals?.sweep()]).toEqual([later, swept]);
    expect(await server.store.board(kept)).not.toBeNull();
  }
  expect(await server.store.board(id)).toBeNull();
});

it('[V-P2] a branch is a whole document to newcomers', async () => {
  const id = await propose(owner);
  const rows = await server.store.load({ board: id, part: 'design' });
  const doc = new Y.Doc();
  for (const { bytes } of rows) Y.applyUpdate(doc, bytes);
  expect(readDesign(doc).board.pattern.colours).toHaveLength(8);
});
