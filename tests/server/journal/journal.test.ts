/** Who changed what, as owners ask for it, and taking it back. */
import { afterEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, Design, type Edit, readEdit, takeBackVisit } from '../../../engine/document/index.ts';
import type { KnotCode } from '../../../engine/index.ts';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import type { Visit } from '../../../server/journal/read-visits.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { Caller, Hand, newId } from '../../support/caller.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { until } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, startAccessServer } from '../access-people.ts';
import { seededRandom } from '../chaos.ts';
import { startChild } from '../child-server.ts';
import { message, presenceMessage } from '../raw-client.ts';
import { temporaryFolder } from '../test-server.ts';

const BEGIN = 1_800_000_000_000;
const MINUTE = 60_000;
const open: AccessServer[] = [];
let clock = BEGIN;

afterEach(async () => {
  for (const server of open.splice(0)) await closeAccessServer(server);
  clock = BEGIN;
});

type ShownVisit = Visit & { readonly changes: number };

async function start(options: Parameters<typeof startAccessServer>[0] = {}, links?: SqliteAccessStore) {
  const server = await startAccessServer({ now: () => clock, ...options }, links);
  open.push(server);
  return server;
}

async function makeBoard(owner: Caller): Promise<string> {
  return (await owner.post<{ id: string }>('/api/boards', { strings: 8, rows: 12, title: 'kites' })).id;
}

async function guest(owner: Caller, board: string, role = 'co-maker'): Promise<Caller> {
  const { secret } = await owner.post<{ secret: string }>(`/api/boards/${board}/links`, {
    role,
    endsAt: null,
  });
  const caller = new Caller(owner.http);
  expect(await caller.enter(board, secret)).toBe(role);
  return caller;
}

/** Somebody in the room, under a name. */
async function come(caller: Caller, board: string, name: string): Promise<Hand> {
  const client = caller.socket(board, 'design');
  await client.join();
  const person = { id: await caller.idOn(board), name, hex: '#336699' };
  const state = JSON.stringify({ person, cursor: null, selection: null, view: null });
  client.send(presenceMessage([{ client: client.doc.clientID, clock: 1, state }]));
  return new Hand(client);
}

const visitsOf = async (owner: Caller, board: string): Promise<readonly ShownVisit[]> =>
  (await owner.get<{ visits: readonly ShownVisit[] }>(`/api/boards/${board}/visits`)).visits;

async function editsOf(owner: Caller, board: string, visit: string) {
  const { edits, since } = await owner.get<{ edits: string[]; since: [string, string, string][] }>(
    `/api/boards/${board}/visits/${encodeURIComponent(visit)}`,
  );
  const read = edits.map((text): Edit => {
    const one = readEdit(Buffer.from(text, 'base64'));
    if (!one.ok) throw new Error(one.error.kind);
    return one.edit;
  });
  return { edits: read, since };
}

const tie = (row: number, k: number, knot: KnotCode) =>
  ({ kind: 'set-knots', knots: [{ row, k, knot }] }) as const;

/** The knots of a row. */
const rowOf = (hand: Hand, row: number): readonly number[] => {
  const { knots, colours } = hand.design.snapshot.board.pattern;
  const width = colours.length >> 1;
  return [...knots.slice(row * width, (row + 1) * width)];
};

/** Waits until somebody's copy shows a knot. */
const shows = (hand: Hand, row: number, k: number, knot: number) =>
  until('the knot is there', () => rowOf(hand, row)[k] === knot);

describe('visits', () => {
  it('[V423] two tabs are one, half an hour away begins another, and a room that was left in between does not', async () => {
    const server = await start();
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const ida = await guest(owner, board);
    const first = await come(ida, board, 'Ida');
    first.run(tie(0, 0, 2));
    await first.save();
    clock += 20 * MINUTE;
    const second = await come(ida, board, 'Ida');
    second.run(tie(0, 1, 2));
    await second.save();
    first.leave();
    second.leave();
    await until('the room is gone', () => server.rooms.size === 0);
    clock += 29 * MINUTE;
    await ida.work(board, (hand) => hand.run(tie(0, 2, 2)));
    await until('the room is gone', () => server.rooms.size === 0);
    clock += 31 * MINUTE;
    await ida.work(board, (hand) => hand.run(tie(0, 2, 3), tie(1, 0, 2)));
    expect(
      (await visitsOf(owner, board)).map(({ name, began, last, changes }) => [name, began, last, changes]),
    ).toEqual([
      ['', BEGIN + 80 * MINUTE, BEGIN + 80 * MINUTE, 2],
      ['Ida', BEGIN, BEGIN + 49 * MINUTE, 3],
    ]);
    // Who stays and looks for an hour is on the same visit.
    clock += 24 * 60 * MINUTE;
    const stays = await come(ida, board, 'Ida');
    stays.run(tie(2, 0, 2));
    await stays.save();
    for (let i = 0; i < 60; i += 1) {
      clock += MINUTE;
      // As the room does every few seconds.
      (await server.rooms.hold({ board, part: 'design' })).room.tick();
    }
    stays.run(tie(2, 1, 2));
    await stays.save();
    expect(await visitsOf(owner, board)).toHaveLength(3);
    stays.leave();
  });

  it('[V424] are for owners: nobody else hears of them, nor of what was done in one; and no longer than 30 days', async () => {
    const server = await start();
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const ida = await guest(owner, board);
    await ida.work(board, (hand) => hand.run(tie(0, 0, 2)));
    const [visit] = await visitsOf(owner, board);
    expect(visit).toMatchObject({ personId: await ida.idOn(board), changes: 1 });
    const at = `/api/boards/${board}/visits`;
    for (const role of ['co-maker', 'reviewer', 'learner', 'onlooker']) {
      const other = await guest(owner, board, role);
      for (const path of [at, `${at}/${visit!.id}`]) expect((await other.ask('GET', path)).status).toBe(403);
    }
    for (const path of [at, `${at}/${visit!.id}`])
      expect((await new Caller(server.http).ask('GET', path)).status).toBe(404);
    expect(await owner.ask('GET', `${at}/nobody.1`)).toMatchObject({
      status: 404,
      json: { error: { kind: 'no-such-visit' } },
    });
    const elsewhere = await makeBoard(owner);
    expect((await owner.ask('GET', `/api/boards/${elsewhere}/visits/${visit!.id}`)).status).toBe(404);
    clock += 31 * 24 * 60 * MINUTE;
    expect(await visitsOf(owner, board)).toEqual([]);
  });

  it('[V422] an edit is of who sent it, also where others send at once, under another client id, or by a file', async () => {
    const store = new MemoryStore();
    const server = await start({ store });
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const [ida, bo] = [await guest(owner, board), await guest(owner, board)];
    const [a, b] = [await come(ida, board, 'Ida'), await come(bo, board, 'Bo')];
    // What comes while a row is on its way to the disk goes there as one row.
    const rows = (await store.writtenRows({ board, part: 'design' })).length;
    a.run(tie(0, 0, 2), { kind: 'delete-row-pairs', from: 5, count: 1 });
    b.run(tie(0, 1, 2), { kind: 'delete-row-pairs', from: 3, count: 1 });
    const append = store.append.bind(store);
    let release = (): void => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    let isHeld = true;
    store.append = async (...row) => {
      if (isHeld) await held;
      return append(...row);
    };
    const opening = a.save();
    await a.client.reached();
    const both = [b.save()];
    await b.client.reached();
    a.run(tie(0, 2, 3));
    both.push(a.save());
    await a.client.reached();
    const { room, release: leave } = await server.rooms.hold({ board, part: 'design' });
    room.endTurn();
    isHeld = false;
    release();
    await Promise.all([opening, ...both]);
    leave();
    const written = await store.writtenRows({ board, part: 'design' });
    // How many go together is up to the saver; a row that two people wrote is in journal-jobs.test.ts.
    expect(written.slice(rows).map(({ by }) => by === '')).not.toContain(true);
    expect(written.length).toBeGreaterThan(rows);
    // Bo goes on under Ida's client id.
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(a.client.doc));
    forged.clientID = a.client.doc.clientID;
    const before = Y.encodeStateVector(forged);
    forged
      .getMap('meta')
      .set(`${String(forged.getMap('meta').get('generation')).split('.')[0]}.title`, 'forged');
    b.client.send(message(0, 2, Y.encodeStateAsUpdate(forged, before)));
    await b.save();
    await bo.ask('PUT', `/api/boards/${board}/file`, await owner.get(`/api/boards/${board}/file`));
    const visits = await visitsOf(owner, board);
    const done = new Map<string, string[]>();
    for (const visit of visits) {
      const { edits } = await editsOf(owner, board, visit.id);
      done.set(
        visit.name,
        edits.flatMap(({ changes }) =>
          changes.map(
            ({ root, key, after }) =>
              `${root} ${key.split(':').at(-2) ?? ''} ${after === null ? 'gone' : ''}`,
          ),
        ),
      );
    }
    const count = (name: string, what: RegExp): number =>
      done.get(name)!.filter((one) => what.test(one)).length;
    expect(count('Ida', /^rowPairs .*gone/)).toBe(1);
    expect(count('Bo', /^rowPairs .*gone/)).toBe(1);
    expect(count('Ida', /^meta/)).toBe(0);
    expect(count('Bo', /^meta/)).toBeGreaterThan(1);
    a.leave();
    b.leave();
  });
});

describe('taking back what somebody did', () => {
  it('[V425] leaves what others did since, gives back what others had done before, and says whose it is', async () => {
    const server = await start();
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const [ida, bo] = [await guest(owner, board), await guest(owner, board)];
    const [o, a, b] = [
      await come(owner, board, 'Ona'),
      await come(ida, board, 'Ida'),
      await come(bo, board, 'Bo'),
    ];
    const does = async (hand: Hand, row: number, k: number, knot: KnotCode): Promise<void> => {
      hand.run(tie(row, k, knot));
      await hand.save();
      for (const other of [o, a, b]) await shows(other, row, k, knot);
    };
    await does(a, 0, 0, 2);
    await does(a, 0, 1, 2);
    await does(b, 0, 1, 3);
    await does(a, 0, 2, 2);
    await does(b, 0, 2, 3);
    await does(a, 0, 2, 4);
    const visit = (await visitsOf(owner, board)).find(({ name }) => name === 'Ida')!;
    expect(visit.changes).toBe(3);
    const { edits, since } = await editsOf(owner, board, visit.id);
    expect(since.map(([, , name]) => name)).toEqual(['Bo']);
    const [first, second, third] = rowOf(o, 0);
    expect([first, second, third]).toEqual([2, 3, 4]);
    const { kept, result } = takeBackVisit(edits, o.design);
    expect(result).toEqual({ ok: true });
    expect(rowOf(o, 0).slice(0, 3)).toEqual([0, 3, 3]);
    expect(kept).toEqual([]);
    o.design.undo();
    expect(rowOf(o, 0).slice(0, 3)).toEqual([2, 3, 4]);
    for (const hand of [o, a, b]) hand.leave();
  });

  it('[V425] outlives snapshots, a renewal, and another node', async () => {
    const store = new MemoryStore();
    const hub = new MemoryRelayHub();
    const links = new SqliteAccessStore(':memory:');
    const env = { RENEW_BYTES: '20000' };
    const [here, there] = [
      await start({ store, relay: hub.node(), env }, links),
      await start({ store, relay: hub.node(), env }, links),
    ];
    const owner = new Caller(here.http);
    const board = await makeBoard(owner);
    const ida = await guest(owner, board);
    await ida.work(board, (hand) => hand.run(tie(11, 0, 4)));
    // Bo, on another node, wears the board until it is renewed.
    const bo = await guest(owner, board);
    const away = new Caller(there.http, bo.cookie.value);
    const random = seededRandom(5);
    await away.work(board, (hand) => {
      for (let i = 0; i < 4_000; i += 1)
        hand.run(
          tie(
            Math.floor(random() * 10),
            Math.floor(random() * 3),
            (1 + Math.floor(random() * 4)) as KnotCode,
          ),
        );
    });
    await until('all rooms are gone', () => here.rooms.size + there.rooms.size === 0);
    expect(await store.endedGenerations({ board, part: 'design' })).toHaveLength(1);
    for (let i = 0; i < 30; i += 1)
      await away.work(board, (hand) => hand.run(tie(10, i % 3, (1 + (i % 4)) as KnotCode)));
    await until('all rooms are gone', () => here.rooms.size + there.rooms.size === 0);
    expect(await store.load({ board, part: 'design' })).not.toHaveLength(31);
    const visits = await visitsOf(owner, board);
    expect(visits.map(({ personId }) => personId)).toEqual([await bo.idOn(board), await ida.idOn(board)]);
    for (const visit of visits) {
      const { edits } = await editsOf(owner, board, visit.id);
      await owner.work(board, (hand) => {
        expect(takeBackVisit(edits, hand.design)).toMatchObject({ kept: [], result: { ok: true } });
      });
    }
    await owner.work(board, (hand) => {
      for (let row = 0; row < 12; row += 1) expect(new Set(rowOf(hand, row))).toEqual(new Set([0]));
    });
  });

  it('[V426] what a copy of an ended generation brings is of who came with it, and can be taken back', async () => {
    const server = await start({ env: { RENEW_BYTES: '20000' } });
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const [ida, bo] = [await guest(owner, board), await guest(owner, board)];
    const away = await come(ida, board, 'Ida');
    await away.save();
    away.leave();
    const copy = away.client.doc;
    await bo.work(board, (hand) => {
      for (let i = 0; i < 4_000; i += 1) hand.run(tie(i % 10, i % 3, (1 + (i % 4)) as KnotCode));
      for (let row = 0; row < 10; row += 1) for (let k = 0; k < 3; k += 1) hand.run(tie(row, k, 0));
    });
    await until('it is renewed', () => server.rooms.size === 0);
    clock += 5 * MINUTE;
    const late = ida.socket(board, 'design');
    const design = new Design(copy, { makerId: 'ida', newId, captureMs: 0 });
    expect(design.run(tie(11, 1, 4))).toEqual({ ok: true });
    late.doc = copy;
    await late.opened;
    late.send(message(0, 0, Y.encodeStateVector(copy)));
    expect(await late.closed).toBe(CLOSE_CODES.outdated);
    const personId = await ida.idOn(board);
    const visit = (await visitsOf(owner, board)).find((one) => one.personId === personId);
    expect(visit).toMatchObject({ last: clock, changes: 1 });
    const { edits } = await editsOf(owner, board, visit!.id);
    await owner.work(board, (hand) => {
      expect(rowOf(hand, 11)[1]).toBe(4);
      expect(takeBackVisit(edits, hand.design)).toMatchObject({ kept: [], result: { ok: true } });
      expect(rowOf(hand, 11)[1]).toBe(0);
    });
  });

  it('[V425] outlives kill -9: what was saved can be taken back, by whom it was', async () => {
    const folder = temporaryFolder();
    const env = { DATA_DIR: folder.path };
    const server = await startChild(env);
    const owner = new Caller(server.http);
    const board = await makeBoard(owner);
    const ida = await guest(owner, board);
    const hand = await come(ida, board, 'Ida');
    hand.run(tie(3, 1, 4));
    await hand.save();
    await server.stop('SIGKILL');
    const again = await startChild(env);
    const back = new Caller(again.http, owner.cookie.value);
    const [visit, ...others] = await visitsOf(back, board);
    expect([visit!.name, visit!.changes, others]).toEqual(['Ida', 1, []]);
    const { edits } = await editsOf(back, board, visit!.id);
    await back.work(board, (own) => {
      expect(rowOf(own, 3)[1]).toBe(4);
      takeBackVisit(edits, own.design);
      expect(rowOf(own, 3)[1]).toBe(0);
    });
    await again.stop('SIGTERM');
    folder.remove();
  });

  it('[V425] of any sequence of edits by three people: each knot is what somebody else left, or what it was', async () => {
    for (let seed = firstSeed; seed < firstSeed + cases(6, 60); seed += 1) {
      const random = seededRandom(seed);
      const store = new MemoryStore();
      const server = await start({ store });
      const owner = new Caller(server.http);
      const board = await makeBoard(owner);
      const people = [owner, await guest(owner, board), await guest(owner, board)];
      const hands = await Promise.all(people.map((person, i) => come(person, board, `p${i}`)));
      /** Who set each knot to what, oldest first. */
      const told = new Map<string, { readonly who: number; readonly knot: number }[]>();
      for (let i = 0; i < 40; i += 1) {
        const who = Math.floor(random() * 3);
        const [row, k] = [Math.floor(random() * 2), Math.floor(random() * 3)];
        const knot = (1 + Math.floor(random() * 4)) as KnotCode;
        hands[who]!.run(tie(row, k, knot));
        await hands[who]!.save();
        for (const hand of hands) await shows(hand, row, k, knot);
        const before = told.get(`${row} ${k}`) ?? [{ who: -1, knot: 0 }];
        told.set(`${row} ${k}`, before.at(-1)!.knot === knot ? before : [...before, { who, knot }]);
      }
      const mine = (await visitsOf(owner, board)).find(({ name }) => name === 'p1');
      if (mine !== undefined) {
        const { edits } = await editsOf(owner, board, mine.id);
        expect(takeBackVisit(edits, hands[0]!.design)).toMatchObject({ kept: [], result: { ok: true } });
        for (const [place, steps] of told) {
          const [row, k] = place.split(' ').map(Number) as [number, number];
          const others = steps.filter(({ who }) => who !== 1);
          const wanted = steps.at(-1)!.who === 1 ? others.at(-1)!.knot : steps.at(-1)!.knot;
          expect(rowOf(hands[0]!, row)[k], `knot ${place}; ${seedFailed(seed)}`).toBe(wanted);
        }
      }
      for (const hand of hands) hand.leave();
      await closeAccessServer(open.pop()!);
    }
  });
});
