/** Saying something about a board: what the server takes, in whose name, and when it answers. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { copyTalk, readTalk, remarkIdOf, type Thread } from '../../../engine/document/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  type Answer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';
import { message } from '../raw-client.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

/** A store that can be made to fail or to wait where rows are written. */
class WilfulStore extends MemoryStore {
  fails = false;
  gate: Promise<void> | null = null;

  override async append(...args: Parameters<MemoryStore['append']>): ReturnType<MemoryStore['append']> {
    if (this.fails) throw new StoreError('unavailable', 'away');
    await this.gate;
    return super.append(...args);
  }
}

let clock: number;
let store: WilfulStore;
let server: AccessServer;
let owner: Person;
let board: string;
let sendings = 0;

beforeEach(async () => {
  clock = 1_800_000_000_000;
  store = new WilfulStore();
  server = await startAccessServer({ store, now: () => clock });
  owner = new Person(server);
  board = (await owner.makeBoard()).id;
});
afterEach(() => closeAccessServer(server));

function newId(): string {
  sendings += 1;
  return String(sendings).padStart(16, '0');
}

async function guest(role: Parameters<Person['makeLink']>[1]): Promise<Person> {
  const person = new Person(server);
  await person.enter(board, (await owner.makeLink(board, role)).secret);
  return person;
}

async function say(
  person: Person,
  command: Readonly<Record<string, unknown>>,
  more: Readonly<Record<string, unknown>> = {},
  on = board,
): Promise<Answer> {
  const by = { id: await person.idOn(on), name: 'Kai', hex: '#112233' };
  return person.ask('POST', `/api/boards/${on}/talk`, { id: newId(), by, command, ...more });
}

/** A pin to an entry of the cutting list. */
const entry = (of: unknown) => ({ kind: 'panel', entry: 'cutting', of });
const opening = (text = 'Longer tails?') => ({ kind: 'open-thread', pin: { kind: 'board' }, text });

/** What is on the disk now. */
async function stored(on = board): Promise<readonly Thread[]> {
  const doc = new Y.Doc();
  for (const row of await store.load({ board: on, part: 'talk' })) Y.applyUpdate(doc, row.bytes);
  return readTalk(doc).threads;
}

const textsOf = (threads: readonly Thread[]): unknown =>
  threads.map(({ remarks }) => remarks.map(({ text }) => text));

describe('saying something', () => {
  it('[V140] is on the disk when it is answered, in the name of the cookie, by the server’s clock; who reads along has it', async () => {
    const reader = await (await guest('onlooker')).socket(board, 'talk').join();
    const shop = await guest('reviewer');
    let open = (): void => {};
    store.gate = new Promise((resolve) => {
      open = resolve;
    });
    let isAnswered = false;
    const asked = say(shop, opening()).then((answer) => {
      isAnswered = true;
      return answer;
    });
    await reader.waitFor(() => readTalk(reader.doc).threads.length === 1);
    expect(isAnswered).toBe(false);
    open();
    const answer = await asked;
    expect(answer.status).toBe(201);
    const [thread] = await stored();
    expect(thread!.remarks).toEqual([
      {
        id: answer.json.remark,
        by: { id: await shop.idOn(board), name: 'Kai', hex: '#112233' },
        at: clock,
        text: 'Longer tails?',
        mentions: [],
      },
    ]);
    expect(thread!.id).toBe(answer.json.thread);
  });

  it('[V141] the same sending again, also at once or after a restart of the room, is one remark', async () => {
    const id = newId();
    const first = await say(owner, opening(), { id });
    const again = await Promise.all([
      say(owner, opening(), { id }),
      say(owner, opening('other words'), { id }),
    ]);
    expect([first.status, ...again.map(({ status }) => status)]).toEqual([201, 200, 200]);
    const thread = first.json.thread;
    const second = newId();
    for (const status of [201, 200]) {
      const answer = await say(owner, { kind: 'answer', thread, text: 'Yes.' }, { id: second });
      expect(answer.status).toBe(status);
      await until('the room is closed', () => server.rooms.size === 0);
    }
    // Taken back meanwhile, it does not come back.
    await say(owner, {
      kind: 'take-back-remark',
      thread,
      remark: remarkIdOf(await owner.idOn(board), second),
    });
    await say(owner, { kind: 'answer', thread, text: 'Yes.' }, { id: second });
    expect(textsOf(await stored())).toEqual([['Longer tails?', null]]);
  });

  it('[V141] two people may choose the same id', async () => {
    const friend = await guest('learner');
    const id = newId();
    const [a, b] = [await say(owner, opening('a'), { id }), await say(friend, opening('b'), { id })];
    expect([a.status, b.status]).toEqual([201, 201]);
    expect(textsOf(await stored())).toEqual([['a'], ['b']]);
  });

  it('[V142] one changes and takes back one’s own; everybody who talks marks threads done and open', async () => {
    const friend = await guest('learner');
    const { thread, remark } = (await say(owner, opening('Frist'))).json;
    const target = { thread, remark };
    for (const command of [
      { kind: 'change-remark', ...target, text: 'Mine now' },
      { kind: 'take-back-remark', ...target },
    ])
      expect(await say(friend, command)).toMatchObject({
        status: 403,
        json: { error: { kind: 'not-yours' } },
      });
    expect((await say(owner, { kind: 'change-remark', ...target, text: 'First' })).status).toBe(200);
    expect((await say(friend, { kind: 'set-done', thread, done: true })).status).toBe(200);
    expect((await stored())[0]).toMatchObject({
      remarks: [{ text: 'First' }],
      done: { by: { id: await friend.idOn(board) } },
    });
    await say(owner, { kind: 'set-done', thread, done: false });
    await say(owner, { kind: 'take-back-remark', ...target });
    expect((await stored())[0]).toMatchObject({ remarks: [{ text: null }], done: null });
  });

  it('[V143] what cannot be read is refused with its place, and nothing is written', async () => {
    const by = { id: await owner.idOn(board), name: 'Kai', hex: '#112233' };
    const good = { id: newId(), by, command: opening() };
    const bad: readonly (readonly [unknown, string, number])[] = [
      [[], '', 422],
      [{ ...good, id: 'short' }, 'id', 422],
      [{ ...good, extra: 1 }, 'extra', 422],
      [{ ...good, by: { ...by, name: 5 } }, 'by', 422],
      [{ ...good, by: { ...by, hex: 'red' } }, 'by', 422],
      [{ ...good, by: { ...by, name: '\u202e ' } }, 'by', 422],
      [{ ...good, by: { ...by, role: 'owner' } }, 'by.role', 422],
      [{ ...good, command: { kind: 'forget-all' } }, 'command.kind', 422],
      [{ ...good, command: { kind: 'toString' } }, 'command.kind', 422],
      [{ ...good, command: { ...opening(), at: 5 } }, 'command.at', 422],
      [{ ...good, command: { ...opening(), thread: 'x' } }, 'command.thread', 422],
      [{ ...good, command: opening(' ') }, 'command.text', 422],
      [{ ...good, command: opening('x'.repeat(4_001)) }, 'command.text', 422],
      [{ ...good, command: { ...opening(), pin: { kind: 'moon' } } }, 'command.pin', 422],
      [{ ...good, command: { ...opening(), pin: entry({ on: 'knot' }) } }, 'command.pin', 422],
      [{ ...good, command: { ...opening(), pin: entry({ on: 'value', name: 'x' }) } }, 'command.pin', 422],
      [{ ...good, command: { ...opening(), pin: { kind: 'board', html: '' } } }, 'command.pin.html', 422],
      [{ ...good, command: { ...opening(), mentions: Array(21).fill('a') } }, 'command.mentions', 422],
      [{ ...good, command: { ...opening(), mentions: ['a', 5] } }, 'command.mentions[1]', 422],
      [{ ...good, command: { kind: 'set-done', thread: 'a', done: 1 } }, 'command.done', 422],
      [{ ...good, command: { kind: 'answer', thread: 'none', text: 'x' } }, 'command.thread', 404],
    ];
    for (const [body, path, status] of bad) {
      const answer = await owner.ask('POST', `/api/boards/${board}/talk`, body);
      expect([body, answer.status, (answer.json.error as { path: string }).path]).toEqual([
        body,
        status,
        path,
      ]);
      clock += 10_000;
    }
    const large = { ...good, command: opening('x'.repeat(40_000)) };
    expect((await owner.ask('POST', `/api/boards/${board}/talk`, large)).status).toBe(413);
    expect(await stored()).toEqual([]);
  });

  it('[V144] who says more than people do has to wait; others go on', async () => {
    const friend = await guest('learner');
    const statuses: number[] = [];
    for (let i = 0; i < 25; i += 1) statuses.push((await say(owner, opening())).status);
    expect(statuses.filter((status) => status === 201)).toHaveLength(20);
    const refused = await say(owner, opening());
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '10']);
    expect((await say(friend, opening())).status).toBe(201);
    clock += 10_000;
    expect((await say(owner, opening())).status).toBe(201);
  });

  it('[V145] while the store fails nothing is taken; afterwards the same sending is', async () => {
    const keeper = await owner.socket(board, 'talk').join();
    store.fails = true;
    const id = newId();
    // The first is in the room when the store is found failing; it is not answered as said.
    const first = say(owner, opening(), { id });
    await until('the room knows', () => server.lines.some((line) => line.includes('store-failing')));
    expect((await say(owner, opening('later'))).status).toBe(503);
    store.fails = false;
    expect((await first).status).toBe(201);
    expect((await say(owner, opening(), { id })).status).toBe(200);
    expect(textsOf(await stored())).toEqual([['Longer tails?']]);
    expect(textsOf(readTalk(keeper.doc).threads)).toEqual([['Longer tails?']]);
  });

  it('[V145] a talk that has grown to the limit of a document takes no more', async () => {
    const small = await startTestServer({ env: { MAX_DOCUMENT_BYTES: '9000' } });
    const id = await makeBoard(small);
    const by = { id: 'me', name: 'Kai', hex: '#112233' };
    const statuses: number[] = [];
    for (let i = 0; i < 4; i += 1) {
      const body = JSON.stringify({ id: newId(), by, command: opening('x'.repeat(3_000)) });
      statuses.push((await ask(`${small.http}/api/boards/${id}/talk`, { method: 'POST', body })).status);
    }
    expect(statuses).toEqual([201, 507, 507, 507]);
    await small.close();
  });
});

it('[V145] a thread as long as threads get, and a talk of a later version, take no more, and why is said', async () => {
  const by = { id: 'me', name: 'Kai', hex: '#112233' };
  const remarks = Array.from({ length: 500 }, (_, i) => ({
    id: `r${i}`,
    by,
    at: i,
    text: 'on',
    mentions: [],
  }));
  const long = { id: 'long', pin: { kind: 'board' }, remarks, done: null } as const;
  const later = new Y.Doc();
  later.getMap('meta').set('version', 2);
  for (const [doc, command, error] of [
    [
      copyTalk({ threads: [long], isNewer: false }, (id) => id),
      { kind: 'answer', thread: 'long', text: 'and on' },
      { kind: 'limit', path: '', message: 'a thread has at most 500 remarks' },
    ],
    [
      later,
      opening(),
      { kind: 'newer-version', path: '', message: 'the talk was written by a later version' },
    ],
  ] as const) {
    const { id } = await owner.makeBoard();
    await store.append({ board: id, part: 'talk' }, Y.encodeStateAsUpdate(doc));
    const before = await stored(id);
    const answer = await say(owner, command, {}, id);
    expect([answer.status, answer.json.error]).toEqual([409, error]);
    expect(await stored(id)).toEqual(before);
  }
});

it('[V336] [K12] a full talk is tidied by its owner, who takes back what others said, and by nobody else', async () => {
  const small = await startAccessServer({ env: { MAX_DOCUMENT_BYTES: '12000' } });
  const [boss, noisy, other] = [new Person(small), new Person(small), new Person(small)];
  const { id } = await boss.makeBoard();
  for (const person of [noisy, other]) await person.enter(id, (await boss.makeLink(id, 'co-maker')).secret);
  const long = opening('x'.repeat(3_500));
  const said: Answer[] = [];
  while (said.at(-1)?.status !== 507) said.push(await say(noisy, long, {}, id));
  const shorter = opening('x'.repeat(2_000));
  expect((await say(noisy, shorter, {}, id)).status).toBe(507);
  const { thread, remark } = said[0]!.json;
  const takeBack = { kind: 'take-back-remark', thread, remark };
  expect((await say(other, takeBack, {}, id)).status).toBe(403);
  // Nobody's words are put in another's mouth.
  expect((await say(boss, { ...takeBack, kind: 'change-remark', text: 'y' }, {}, id)).status).toBe(403);
  // Again and again is no way to make it grow.
  const bytes = async (): Promise<number> => {
    const rows = await small.store.load({ board: id, part: 'talk' });
    return rows.reduce((sum, row) => sum + row.bytes.length, 0);
  };
  expect((await say(boss, takeBack, {}, id)).status).toBe(200);
  const before = await bytes();
  for (let i = 0; i < 5; i += 1) expect((await say(boss, takeBack, {}, id)).status).toBe(200);
  expect(await bytes()).toBe(before);
  expect((await say(noisy, shorter, {}, id)).status).toBe(201);
  await closeAccessServer(small);
});

it('[V146] on any node: read along on one, said and answered on the others, once', async () => {
  const hub = new MemoryRelayHub();
  const shared = new WilfulStore();
  const relay = hub.node();
  const here = await startTestServer({ store: shared, relay: hub.node() });
  const there = await startTestServer({ store: shared, relay });
  const id = await makeBoard(here);
  const by = { id: 'me', name: 'Kai', hex: '#112233' };
  const post = async (node: typeof here, command: unknown, sending = newId()) =>
    (await (
      await ask(`${node.http}/api/boards/${id}/talk`, {
        method: 'POST',
        body: JSON.stringify({ id: sending, by, command }),
      })
    ).json()) as { thread: string };
  const talkOf = async (node: typeof here) => {
    const hold = await node.rooms.hold({ board: id, part: 'talk' });
    return { doc: hold.room.doc, release: hold.release };
  };
  const [a, b] = [await talkOf(here), await talkOf(there)];
  // The relay brings nothing to the other node, which has the talk open: it has to look for itself.
  relay.setUp(false);
  const sending = newId();
  const { thread } = await post(here, opening(), sending);
  expect(readTalk(b.doc).threads).toEqual([]);
  await post(there, { kind: 'answer', thread, text: 'Yes.' });
  relay.setUp(true);
  await post(there, opening(), sending);
  await until('both have both', () =>
    [a, b].every(
      ({ doc }) => JSON.stringify(textsOf(readTalk(doc).threads)) === '[["Longer tails?","Yes."]]',
    ),
  );
  for (const { release } of [a, b]) release();
  await here.close();
  await there.close();
});

describe('who means harm', () => {
  it('[V147] nobody speaks in another’s name: not by the body, and not by a socket', async () => {
    const mallory = await guest('co-maker');
    const theirs = { id: await owner.idOn(board), name: 'Owner', hex: '#000000' };
    expect(await say(mallory, opening(), { by: theirs })).toMatchObject({
      status: 403,
      json: { error: { kind: 'not-you', path: 'by.id' } },
    });
    const { thread } = (await say(owner, opening())).json as { thread: string };
    const socket = await mallory.socket(board, 'talk').join();
    await socket.waitFor(() => readTalk(socket.doc).threads.length === 1);
    socket.answers = false;
    socket.doc.getMap('remarks').set(`${thread}:forged`, { by: theirs, at: 1, order: 1 });
    socket.doc.getMap('remarks').set(`${thread}:forged:says`, { text: 'I agree to all', mentions: [] });
    for (const kind of [1, 2]) socket.send(message(0, kind, Y.encodeStateAsUpdate(socket.doc)));
    await heardOut(socket);
    expect(socket.closeCode).toBeNull();
    const fresh = await owner.socket(board, 'talk').join();
    expect(textsOf(readTalk(fresh.doc).threads)).toEqual([['Longer tails?']]);
    expect(textsOf(await stored())).toEqual([['Longer tails?']]);
  });

  it('[V148] another board’s thread is not there; onlookers, strangers and who was put out do not speak', async () => {
    const mallory = new Person(server);
    const away = (await mallory.makeBoard()).id;
    const { thread } = (await say(owner, opening())).json;
    expect((await say(mallory, { kind: 'answer', thread, text: 'x' }, {}, away)).status).toBe(404);
    const by = { id: await mallory.idOn(away), name: 'M', hex: '#000000' };
    const body = { id: newId(), by, command: opening() };
    expect((await mallory.ask('POST', `/api/boards/${board}/talk`, body)).status).toBe(404);
    expect((await say(await guest('onlooker'), opening())).status).toBe(403);
    const friend = new Person(server);
    const link = await owner.makeLink(board, 'reviewer');
    await friend.enter(board, link.secret);
    const me = { id: await friend.idOn(board), name: 'Kai', hex: '#112233' };
    await owner.ask('DELETE', `/api/boards/${board}/links/${link.id}`);
    const late = { id: newId(), by: me, command: opening() };
    expect((await friend.ask('POST', `/api/boards/${board}/talk`, late)).status).toBe(403);
    // The same bytes sent once more by somebody else, with their own cookie.
    expect((await mallory.ask('POST', `/api/boards/${away}/talk`, late)).status).toBe(403);
    expect(textsOf(await stored())).toEqual([['Longer tails?']]);
    expect(await stored(away)).toEqual([]);
  });

  it('[V148] a page of another origin does not speak with its visitor’s cookie', async () => {
    const by = { id: await owner.idOn(board), name: 'Kai', hex: '#112233' };
    const body = { id: newId(), by, command: opening() };
    const headers = { origin: 'https://elsewhere.example' };
    expect((await owner.ask('POST', `/api/boards/${board}/talk`, body, headers)).status).toBe(403);
    expect(await stored()).toEqual([]);
  });
});
