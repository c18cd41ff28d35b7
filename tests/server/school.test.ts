/** A school is one address: a pupil who means harm must not lock out the class. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { CLOSE_CODES } from '../../engine/document/index.ts';
import { machineClock } from '../../server/index.ts';
import { HandClock } from '../support/hand-clock.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from './access-people.ts';
import type { RawClient } from './raw-client.ts';

const HOUR_MS = 60 * 60 * 1000;
const CLASS = 40;
const DEMO = 'shown';
/** The defaults, which the other tests of links raise. */
const DEFAULTS = {
  MAX_NEW_PER_ADDRESS: '',
  MAX_CONNECTIONS_PER_ADDRESS: '',
  MAX_CONNECTIONS_PER_PERSON: '',
  MAX_CONNECTIONS_OF_NEWCOMERS: '',
  MAX_CONNECTIONS_OF_STRANGERS: '',
};

let clock: HandClock;
let server: AccessServer;
let board: string;
let secret: string;
let pupils: Person[];

beforeEach(async () => {
  clock = new HandClock(machineClock);
  server = await startAccessServer({ clock, env: DEFAULTS });
  await server.store.addBoard({ id: DEMO, kind: 'demo', createdAt: 0 }, []);
  const teacher = new Person(server, '198.51.100.1');
  board = (await teacher.makeBoard()).id;
  secret = (await teacher.makeLink(board, 'co-maker')).secret;
  pupils = Array.from({ length: CLASS }, () => new Person(server));
});
afterEach(() => closeAccessServer(server));

/** Comes in by the link of the class. */
async function enter(person: Person): Promise<void> {
  const entered = await person.enter(board, secret);
  if (entered.status !== 200) throw new Error(`not let in: ${entered.text}`);
}

/** Opens so many sockets. @returns those that got in */
async function flood(person: Person, on: string, count: number): Promise<readonly RawClient[]> {
  const clients = Array.from({ length: count }, () => person.socket(on, 'design'));
  const isIn = await Promise.all(
    clients.map((client) =>
      Promise.race([
        client.waitFor((one) => one.kind === 'step1').then(() => true),
        client.closed.then(() => false),
      ]),
    ),
  );
  return clients.filter((_, i) => isIn[i]);
}

/** Everybody but the first opens both documents, edits, and has it stored. */
async function work(): Promise<void> {
  const sockets = await Promise.all(
    pupils.slice(1).map(async (pupil, i) => {
      const design = await pupil.socket(board, 'design').join();
      await pupil.socket(board, 'talk').join();
      design.edit((doc) => doc.getMap('knots').set(`r:${i}`, 1));
      design.mark(1);
      await design.savedMark(1);
      return design;
    }),
  );
  expect(sockets.map(({ closeCode }) => closeCode)).toEqual(sockets.map(() => null));
}

describe('a pupil who opens 400 sockets', () => {
  it('[V270] as somebody new, known, or nobody, keeps none of the class out', async () => {
    const bad = pupils[0]!;
    for (const pupil of pupils) await enter(pupil);
    expect((await flood(bad, board, 400)).length).toBeLessThanOrEqual(15);
    const nobody = await flood(new Person(server), DEMO, 400);
    expect(nobody.length).toBeLessThanOrEqual(100);
    await work();
    for (const { sockets } of server.people) for (const socket of sockets) socket.close();
    // A lesson later they are no longer new.
    clock.turn(HOUR_MS);
    const asKnown = await flood(bad, board, 400);
    expect(asKnown.length).toBeGreaterThan(15);
    expect(asKnown.length).toBeLessThanOrEqual(60);
    await work();
  });

  it('[V270] with one fresh cookie after the other, keeps none of those out who came before', async () => {
    for (const pupil of pupils) await enter(pupil);
    clock.turn(HOUR_MS);
    let inside = 0;
    for (let i = 0; i < 40; i += 1) {
      const fresh = new Person(server);
      await enter(fresh);
      inside += (await flood(fresh, board, 15)).length;
    }
    expect(inside).toBeLessThanOrEqual(400);
    await work();
  });

  it('[V270] is told that the server is busy', async () => {
    await enter(pupils[0]!);
    const inside = await flood(pupils[0]!, board, 16);
    expect(inside).toHaveLength(15);
    const codes = await Promise.all(
      pupils[0]!.sockets.filter((one) => !inside.includes(one)).map((one) => one.closed),
    );
    expect(codes).toEqual([CLOSE_CODES.busy]);
  });
});

describe('a pupil who tries 800 times in ten seconds', () => {
  it('[V271] to open sockets, keeps none of the class out', async () => {
    for (const pupil of pupils) await enter(pupil);
    const nobody = new Person(server);
    await flood(nobody, board, 800);
    await flood(pupils[0]!, board, 800);
    await work();
  });

  it('[V271] faster than an address may, keeps out nobody who was there before', async () => {
    await closeAccessServer(server);
    server = await startAccessServer({ clock, env: { ...DEFAULTS, MAX_NEW_PER_ADDRESS: '50' } });
    const [known, other] = [new Person(server), new Person(server)];
    const { id } = await known.makeBoard();
    await known.socket(id, 'design').join();
    await flood(other, id, 60);
    await known.socket(id, 'design').join();
    await expect(other.socket(id, 'design').opened).rejects.toThrow('503');
  });

  it('[V271] links that open nothing, keeps nobody out whose link is right', async () => {
    const guesser = new Person(server);
    for (let i = 0; i < 800; i += 1) await guesser.enter(board, String(i).padStart(32, 'x'));
    for (const pupil of pupils) await enter(pupil);
    await work();
  });

  it('[V271] to become somebody new on an open board, keeps nobody out whom a link lets in', async () => {
    for (let i = 0; i < 800; i += 1) await new Person(server).ask('GET', `/api/boards/${DEMO}/me`);
    for (const pupil of pupils) await enter(pupil);
    await work();
  });
});

describe('a pupil who makes 600 requests that are refused', () => {
  it('[V272] keeps nobody from making boards, who goes on a little later or has a link', async () => {
    for (const pupil of pupils) await enter(pupil);
    const bad = pupils[0]!;
    const refused = await Promise.all(
      Array.from({ length: 600 }, () => bad.ask('POST', '/api/boards', { strings: 1 })),
    );
    expect(new Set(refused.map(({ status }) => status))).toEqual(new Set([422, 429]));
    // Requests on the board are their own.
    for (const pupil of pupils.slice(1))
      expect((await pupil.ask('POST', `/api/boards/${board}/copy`)).status).toBe(201);
    clock.turn(10_000);
    for (const pupil of pupils.slice(1))
      expect((await pupil.ask('POST', '/api/boards', { strings: 4, rows: 2 })).status).toBe(201);
  });

  it('[V272] on boards that are not theirs, keeps nobody from their own', async () => {
    for (const pupil of pupils) await enter(pupil);
    const nobody = new Person(server);
    const refused = await Promise.all(
      Array.from({ length: 1_200 }, () => nobody.ask('GET', `/api/boards/${board}`)),
    );
    expect(refused.filter(({ status }) => status === 429).length).toBeGreaterThan(0);
    expect(refused.find(({ status }) => status === 429)?.json).toMatchObject({ error: { kind: 'too-fast' } });
    for (const pupil of pupils.slice(1))
      expect((await pupil.ask('GET', `/api/boards/${board}`)).status).toBe(200);
  });

  it('[V272] and 600 good ones as somebody known, has their own share alone', async () => {
    for (const pupil of pupils) await enter(pupil);
    clock.turn(HOUR_MS);
    const bad = pupils[0]!;
    const answers = await Promise.all(
      Array.from({ length: 600 }, () => bad.ask('GET', `/api/boards/${board}/me`)),
    );
    expect(answers.filter(({ status }) => status === 429).length).toBeGreaterThan(0);
    for (const pupil of pupils.slice(1))
      expect((await pupil.ask('GET', `/api/boards/${board}/me`)).status).toBe(200);
  });
});
