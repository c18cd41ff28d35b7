/** What waits in memory: bytes for readers, and edits for the disk. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { clientOf, firstOf } from '../../../server/sync/identity.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { addMebibyte, largeDesign } from '../../support/large-design.ts';
import { until } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { FaultyStore } from '../faulty-store.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const MIB = 1024 * 1024;
const LARGE_MIB = 16;
const LOOK_MS = 5_000;
/** Asks for all but the name, by a vector of a client of one's own as well, so that no two answers are the same bytes. */
function askForAll(client: RawClient): void {
  const name = client.socket.url.split('/sync/')[1]!;
  const held = new Map([
    [clientOf(firstOf(name)), 1],
    [42, 1],
  ]);
  client.send(message(0, 0, Y.encodeStateVector(held)));
}

const LARGE = largeDesign(LARGE_MIB);

let clock: HandClock;

beforeEach(() => {
  clock = new HandClock(machineClock);
});

async function addLarge(server: TestServer, id: string, kind: 'board' | 'demo'): Promise<void> {
  await server.store.addBoard({ id, kind, createdAt: 0 }, [{ part: 'design', bytes: LARGE }]);
}

function queued(server: TestServer): number {
  return Number(/^larkboard_queued_bytes (\d+)$/m.exec(server.metrics.text())![1]);
}

const raw = (client: RawClient): { pause(): void; resume(): void } =>
  (client.socket as unknown as { _socket: { pause(): void; resume(): void } })._socket;

/** Comes in, reads nothing from now on, and asks for all there is. */
async function askWithoutReading(client: RawClient): Promise<RawClient> {
  client.answers = false;
  client.socket.on('error', () => {});
  await client.opened;
  raw(client).pause();
  askForAll(client);
  return client;
}

describe('readers that do not read', () => {
  let server: TestServer;
  beforeEach(async () => {
    server = await startTestServer({ clock, env: { MAX_QUEUED_BYTES: String(64 * MIB) } });
    await addLarge(server, 'big', 'board');
  });
  afterEach(async () => {
    await server.close();
  });

  it('[V260] twelve that ask for a large document hold no more than they may, and are cut off', async () => {
    const clients = Array.from({ length: 12 }, () => new RawClient(`${server.ws}/big/design`));
    await Promise.all(clients.map(askWithoutReading));
    // One address has half of it; two answers fit in there, and the tail of what went before.
    await until('it is being sent', () => queued(server) > LARGE_MIB * MIB);
    expect(queued(server)).toBeLessThan(33 * MIB);
    const other = await new RawClient(`${server.ws}/${await makeBoard(server)}/design`).join();
    let most = 0;
    for (let look = 0; server.rooms.connections.size > 1; look += 1) {
      expect(look, 'looks without end').toBeLessThan(200);
      // They go on speaking, so that nobody asks whether they are there.
      for (const client of clients) if (client.socket.readyState === 1) client.send(message(3));
      await other.reached();
      clock.turn(LOOK_MS);
      await other.reached();
      most = Math.max(most, queued(server));
    }
    other.close();
    expect(most).toBeLessThan(33 * MIB);
    expect(queued(server)).toBe(0);
    expect(server.metrics.valueOf('larkboard_closed_total', { reason: 'tooSlow' })).toBe(12);
  });

  /** Two who do not read take the room; somebody else asks after them. */
  async function comeLate(): Promise<{ readonly idle: readonly RawClient[]; readonly late: RawClient }> {
    const idle = await Promise.all(
      [1, 2].map(() => askWithoutReading(new RawClient(`${server.ws}/big/design`))),
    );
    await until('the room is taken', () => queued(server) > 16 * MIB);
    const late = new RawClient(`${server.ws}/big/design`);
    await late.opened;
    askForAll(late);
    await late.reached();
    return { idle, late };
  }

  it('[V261] who comes while the room is taken gets the document when those who do not read are gone', async () => {
    const { idle, late } = await comeLate();
    expect(late.heard.filter(({ kind }) => kind === 'step2')).toEqual([]);
    // Everybody else is served meanwhile, by what waits for nobody.
    const small = await makeBoard(server);
    (await new RawClient(`${server.ws}/${small}/design`).join()).close();
    await until('the late one has it all', async () => {
      clock.turn(LOOK_MS);
      await late.reached();
      return late.doc.getMap('knots').size === LARGE_MIB;
    });
    expect(late.closeCode).toBeNull();
    late.close();
    for (const client of idle) client.close();
  });

  it('[V190] who waits for room hears that the line stands, as everybody does to whom nothing is said', async () => {
    const { idle, late } = await comeLate();
    const before = late.heard.length;
    for (let times = 0; times < 4; times += 1) {
      clock.turn(LOOK_MS);
      await late.reached();
    }
    expect(late.heard.slice(before)).toEqual([{ kind: 'presence', entries: [] }]);
    late.close();
    for (const client of idle) client.close();
  });

  it('[V261] edits of meanwhile are in what somebody gets who waited for room', async () => {
    const { idle, late } = await comeLate();
    const writer = new RawClient(`${server.ws}/big/design`);
    await writer.opened;
    writer.edit((doc) => doc.getMap('meta').set('title', 'meanwhile'));
    writer.mark(1);
    await writer.savedMark(1);
    for (const client of idle) client.close();
    await until('the late one has it all', () => late.doc.getMap('meta').get('title') === 'meanwhile');
    expect(late.doc.getMap('knots').size).toBe(LARGE_MIB);
    late.close();
    writer.close();
  });

  it('[V43] a state vector larger than any document has is kept by nobody', async () => {
    const client = new RawClient(`${server.ws}/big/design`);
    await client.opened;
    client.send(message(0, 0, new Uint8Array(300_000)));
    expect(await client.closed).toBe(CLOSE_CODES.malformed);
  });
});

describe('who pays for what is not read', () => {
  let server: AccessServer;
  const start = async (env: Readonly<Record<string, string>>): Promise<Person> => {
    server = await startAccessServer({ clock, env });
    await addLarge(server, 'shown', 'demo');
    return new Person(server);
  };
  afterEach(() => closeAccessServer(server));

  /** Asks by a socket of this person for an answer that is not read. @returns whether it is sent */
  async function isSent(person: Person, board: string): Promise<boolean> {
    const before = queued(server);
    const client = await askWithoutReading(person.socket(board, 'design'));
    // What comes after it on the same line has been read then.
    await until('the question is read', async () => {
      const behind = server.metrics.valueOf('larkboard_waiting_readers_total');
      return behind > waiting || queued(server) > before;
    });
    expect(client.closeCode).toBeNull();
    const isWaiting = server.metrics.valueOf('larkboard_waiting_readers_total') > waiting;
    waiting = server.metrics.valueOf('larkboard_waiting_readers_total');
    return !isWaiting;
  }
  let waiting = 0;
  beforeEach(() => {
    waiting = 0;
  });

  it('[V262] a person pays for all of their sockets, wherever they come from, and for nobody else’s', async () => {
    const owner = await start({ MAX_QUEUED_BYTES_PER_PERSON: String(4 * MIB) });
    const { id: board } = await owner.makeBoard();
    await server.store.append({ board, part: 'design' }, LARGE);
    const { secret } = await owner.makeLink(board, 'onlooker');
    const friend = new Person(server);
    await friend.enter(board, secret);
    const abroad = new Person(server, '198.51.100.7');
    abroad.cookie = owner.cookie;
    expect(await isSent(owner, board)).toBe(true);
    expect(await isSent(owner, board)).toBe(false);
    expect(await isSent(abroad, board)).toBe(false);
    expect(await isSent(friend, board)).toBe(true);
  });

  it('[V262] those whom no link let in share what is their address’s, fresh cookies or none', async () => {
    const owner = await start({ MAX_QUEUED_BYTES_PER_ADDRESS: String(4 * MIB) });
    expect(await isSent(new Person(server), 'shown')).toBe(true);
    const fresh = new Person(server);
    await fresh.idOn('shown');
    expect(fresh.cookie).not.toBe('');
    expect(await isSent(fresh, 'shown')).toBe(false);
    expect(await isSent(new Person(server), 'shown')).toBe(false);
    expect(await isSent(new Person(server, '198.51.100.7'), 'shown')).toBe(true);
    // Whom a link let in is served meanwhile.
    const { id } = await owner.makeBoard();
    await owner.socket(id, 'design').join();
  });

  it('[V262] they have half of all at most', async () => {
    await start({ MAX_QUEUED_BYTES: String(24 * MIB) });
    expect(await isSent(new Person(server, '198.51.100.1'), 'shown')).toBe(true);
    expect(await isSent(new Person(server, '198.51.100.2'), 'shown')).toBe(false);
  });
});

describe('edits that wait for the disk', () => {
  it('[V263] of all rooms together are bounded; rooms say so, and take edits again when the disk has caught up', async () => {
    const store = new FaultyStore(new MemoryStore());
    const server = await startTestServer({
      store,
      clock,
      env: { MAX_UNSAVED_BYTES_IN_ALL: String(2.5 * MIB) },
    });
    const rooms = await Promise.all(
      [1, 2, 3].map(async () => {
        const client = await new RawClient(`${server.ws}/${await makeBoard(server)}/design`).join();
        client.mark(1);
        await client.savedMark(1);
        return client;
      }),
    );
    const isTold = (client: RawClient, code: string): boolean =>
      client.heard.some((one) => one.kind === 'notice' && one.code === code);
    const unsaved = (): number => Number(/^larkboard_unsaved_bytes (\d+)$/m.exec(server.metrics.text())![1]);
    store.fault = { kind: 'full', when: 'before' };
    for (const client of rooms) {
      client.edit((doc) => addMebibyte(doc.getMap('knots'), 'one'));
      client.mark(2);
      await client.reached();
    }
    expect(unsaved()).toBeGreaterThan(2 * MIB);
    expect(unsaved()).toBeLessThan(2.5 * MIB);
    const [first, , third] = rooms;
    await until('the third is told', () => isTold(third!, 'store-read-only'));
    expect(server.lines.filter((line) => line.includes('"store-behind"'))).toHaveLength(1);
    expect(await server.boards.read(first!.socket.url.split('/').at(-2)!)).toBeTruthy();
    store.fault = null;
    clock.turn(5_000);
    for (const client of rooms) await client.savedMark(2);
    expect(isTold(third!, 'store-ok')).toBe(true);
    expect(unsaved()).toBe(0);
    for (const client of rooms) client.close();
    await server.close();
  });
});
