/** What is kept before an edit is stored: whose work it takes, how long that stood, and how much is changed at once. */
import { beforeEach, describe, expect, it } from 'vitest';
import { loadBoard } from '../../../engine/document/index.ts';
import { type Board, type KnotCode, NONE } from '../../../engine/pattern/index.ts';
import { StoreError } from '../../../server/store/index.ts';
import type { Snapshots } from '../../../server/versions/index.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { KITES, type Knots, knotsOf, Maker, type Node, SharedRooms } from './shared-rooms.ts';

const SECOND = 1_000;
const STRINGS = 12;
const ROWS = 8;

/** A board on which nothing is tied. */
const BLANK: Board = {
  ...sampleBoard(STRINGS, ROWS),
  pattern: { ...sampleBoard(STRINGS, ROWS).pattern, knots: new Uint8Array(ROWS * (STRINGS / 2)) },
};

type Place = { readonly row: number; readonly k: number };

/** The first places of the board, row by row. */
const PLACES: readonly Place[] = Array.from({ length: ROWS }, (_, row) =>
  Array.from({ length: STRINGS / 2 - (row & 1) }, (_, k) => ({ row, k })),
).flat();

const tied = (places: readonly Place[], knot: KnotCode = 1) => places.map((place) => ({ ...place, knot }));

let world: SharedRooms;
let node: Node;
let clients: number;

beforeEach(async () => {
  world = new SharedRooms();
  await world.begin(BLANK);
  node = world.node();
  clients = 100;
});

async function come(person: string, to = node): Promise<Maker> {
  const maker = new Maker(person, () => clients++);
  await maker.come(to);
  return maker;
}

async function tie(maker: Maker, places: readonly Place[], knot: KnotCode = 1): Promise<void> {
  maker.tie(tied(places, knot));
  await world.saved(maker);
}

/** One knot after the other, a second each. */
async function tieSlowly(maker: Maker, places: readonly Place[], knot: KnotCode = 1): Promise<void> {
  for (const place of places) {
    await tie(maker, [place], knot);
    await world.wait(SECOND);
  }
}

async function kinds(): Promise<string[]> {
  return (await world.versions.list(KITES.board)).map(({ kind }) => kind);
}

/** Whether one version holds all of these. */
async function isKept(knots: Knots): Promise<boolean> {
  return (await world.kept()).some((one) =>
    [...knots].every(([place, knot]) => one.knots.get(place) === knot),
  );
}

describe('the work of others', () => {
  it('[V402] 36 knots of 15 s are in a version before the edit that deletes them all is stored', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    for (const place of PLACES.slice(0, 36)) {
      await tie(ada, [place]);
      await world.wait(416);
    }
    const knots = knotsOf(ada.doc);
    expect(knots.size).toBe(36);
    node.writes.length = 0;
    bea.tie(tied(PLACES.slice(0, 36), NONE));
    // It is there at once for everybody, whatever is kept.
    ada.listen();
    expect(knotsOf(node.has(bea.room!) ? bea.doc : ada.doc).size).toBe(0);
    await world.saved(bea);
    expect(node.writes).toEqual(['putRecord', 'append']);
    expect(await isKept(knots)).toBe(true);
    expect(await kinds()).toEqual(['auto', 'wiped']);
  });

  it('[V402] whoever is killed between the two, an edit that is on the disk has its version there', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tieSlowly(ada, PLACES.slice(0, 20));
    const knots = knotsOf(ada.doc);
    bea.tie(tied(PLACES.slice(0, 20), NONE));
    world.clock.turn(10);
    // Killed at each moment: after so many turns of the loop.
    for (let turns = 0; ; turns += 1) {
      const isWiped = knotsOf(await world.stored()).size === 0;
      const isThere = await isKept(knots);
      expect(isThere || !isWiped, `after ${turns} turns`).toBe(true);
      if (isWiped) break;
      await turnsOfTheLoop();
    }
    node.kill();
    expect(await isKept(knots)).toBe(true);
  });

  it('[V402] [V405] knots that are taken one a second make one version, and the newest stays for it where it holds them', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tieSlowly(ada, PLACES.slice(0, 20));
    const knots = knotsOf(ada.doc);
    await world.wait(11 * SECOND);
    await tieSlowly(bea, PLACES.slice(0, 20), NONE);
    expect(await kinds()).toEqual(['auto', 'wiped']);
    expect(await isKept(knots)).toBe(true);
    // Kept by itself, and then relied on.
    await tieSlowly(ada, PLACES.slice(20, 26));
    await world.wait(121 * SECOND);
    await until('it is kept by itself', async () => (await kinds()).length === 3);
    await tieSlowly(bea, PLACES.slice(20, 26), NONE);
    expect(await kinds()).toEqual(['auto', 'wiped', 'wiped']);
  });

  it('[V402] on another node too', async () => {
    const second = world.node();
    const [ada, bea] = [await come('ada'), await come('bea', second)];
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(bea.doc);
    expect(knots.size).toBe(4);
    second.writes.length = 0;
    await tie(bea, PLACES.slice(0, 1), NONE);
    expect(second.writes).toEqual(['putRecord', 'append']);
    expect(await isKept(knots)).toBe(true);
  });

  it('[V402] [V406] one’s own is no other’s, in a second tab neither; nor is what has not stood', async () => {
    const [ada, tab] = [await come('ada'), await come('ada')];
    const bea = await come('bea');
    await tieSlowly(ada, PLACES.slice(0, 4));
    await tieSlowly(tab, PLACES.slice(4, 8));
    await world.wait(11 * SECOND);
    await tie(ada, PLACES.slice(2, 4), NONE);
    await tie(tab, PLACES.slice(0, 2), NONE);
    expect(await kinds()).toEqual(['auto']);
    await tie(bea, PLACES.slice(30, 31));
    await tie(ada, PLACES.slice(31, 32));
    await world.wait(3 * SECOND);
    await tie(bea, PLACES.slice(31, 32), NONE);
    expect(await kinds()).not.toContain('wiped');
    await tie(bea, PLACES.slice(4, 5), NONE);
    expect(await kinds()).toContain('wiped');
  });

  it('[V406] who goes on under another’s client id makes nothing theirs', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(ada.doc);
    bea.doc.clientID = ada.doc.clientID;
    await tie(bea, PLACES.slice(20, 21));
    await world.wait(11 * SECOND);
    await tie(bea, PLACES.slice(0, 4), NONE);
    expect(await isKept(knots)).toBe(true);
    expect(await kinds()).toContain('wiped');
  });

  it('[V406] of what a room is opened with the newest version says whose it is; after a kill nobody knows', async () => {
    const ada = await come('ada');
    await tieSlowly(ada, PLACES.slice(0, 4));
    ada.leave();
    await until('the room is gone', () => node.rooms.size === 0);
    expect(await kinds()).toEqual(['auto', 'auto']);
    ada.reload();
    await ada.come(node);
    await world.wait(60 * SECOND);
    await tie(ada, PLACES.slice(0, 1), NONE);
    expect(await kinds()).toEqual(['auto', 'auto']);
    const bea = await come('bea');
    const knots = knotsOf(bea.doc);
    await tie(bea, PLACES.slice(1, 2), NONE);
    expect(await isKept(knots)).toBe(true);
    expect(await kinds()).toContain('wiped');
    const before = (await kinds()).filter((kind) => kind === 'wiped').length;
    await tieSlowly(ada, PLACES.slice(10, 14));
    node.kill();
    ada.isLeft();
    await ada.come(world.node());
    await tie(ada, PLACES.slice(10, 11), NONE);
    expect((await kinds()).filter((kind) => kind === 'wiped').length).toBeGreaterThan(before);
  });

  it.each([
    ['a row is removed', (maker: Maker) => maker.design.run({ kind: 'delete-row-pairs', from: 0, count: 1 })],
    [
      'strings are removed',
      (maker: Maker) => maker.design.run({ kind: 'delete-string-pairs', from: 0, count: 1 }),
    ],
    ['another board is opened', (maker: Maker) => maker.design.run(loadBoard(BLANK))],
    [
      'the pattern is another',
      (maker: Maker) => maker.design.run({ kind: 'replace-pattern', pattern: BLANK.pattern }),
    ],
  ] as const)('[V403] %s: what was tied since the last version is kept', async (_what, act) => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tie(bea, PLACES.slice(-1));
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(bea.doc);
    expect(act(bea)).toEqual({ ok: true });
    await world.saved(bea);
    expect(await isKept(knots)).toBe(true);
    expect(await kinds()).toContain('wiped');
  });

  it('[V403] a knot that wins over one its maker has not seen', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tie(bea, PLACES.slice(-1));
    bea.isSlow = true;
    await tieSlowly(ada, PLACES.slice(0, 2));
    await world.wait(11 * SECOND);
    const knots = knotsOf(ada.doc);
    expect(knotsOf(bea.doc).size).toBe(1);
    await tie(bea, PLACES.slice(0, 1), 2);
    expect(await isKept(knots)).toBe(true);
  });

  it('[V403] an edit of another node that hides what was written here meanwhile', async () => {
    const second = world.node();
    const [ada, bea] = [await come('ada'), await come('bea', second)];
    await tie(bea, PLACES.slice(-1));
    await world.wait(11 * SECOND);
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(ada.doc);
    bea.design.run(loadBoard(BLANK));
    await world.saved(bea);
    await world.wait(SECOND);
    expect(knotsOf(ada.doc).size).toBe(0);
    expect(await isKept(knots)).toBe(true);
  });

  it('[V408] before what somebody late made is brought over', async () => {
    const ada = await come('ada');
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(ada.doc);
    await node.recorder.beforeBringing(ada.room!);
    expect(await kinds()).toEqual(['auto', 'wiped']);
    expect(await isKept(knots)).toBe(true);
  });
});

describe('much at once, and visits', () => {
  it('[V401] a share of the board: of what is tied, whoever tied it and when; three times a minute at most', async () => {
    const ada = await come('ada');
    await tie(ada, PLACES.slice(0, 12));
    const knots = knotsOf(ada.doc);
    await tie(ada, PLACES.slice(0, 12), NONE);
    expect(await kinds()).toEqual(['auto', 'many']);
    expect(await isKept(knots)).toBe(true);
    for (let n = 0; n < 6; n += 1) await tie(ada, PLACES.slice(0, 12), ((n % 4) + 1) as KnotCode);
    expect((await kinds()).filter((kind) => kind === 'many')).toHaveLength(3);
    await world.wait(61 * SECOND);
    await tie(ada, PLACES.slice(0, 12), NONE);
    expect((await kinds()).filter((kind) => kind === 'many')).toHaveLength(4);
    // Few of many are not much.
    await world.wait(61 * SECOND);
    await tie(ada, PLACES.slice(0, 5));
    expect((await kinds()).filter((kind) => kind === 'many')).toHaveLength(4);
  });

  it('[V400] before the first edit of a visit, which ends after half an hour', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tieSlowly(ada, PLACES.slice(0, 30));
    const knots = knotsOf(ada.doc);
    expect(await kinds()).toEqual(['auto']);
    node.writes.length = 0;
    await tie(bea, PLACES.slice(-1));
    expect(node.writes).toEqual(['putRecord', 'append']);
    expect(await isKept(knots)).toBe(true);
    expect(await kinds()).toEqual(['auto', 'auto']);
    await world.wait(60 * SECOND);
    await tie(ada, PLACES.slice(32, 33));
    node.writes.length = 0;
    await tie(bea, PLACES.slice(33, 34));
    expect(node.writes).toEqual(['append']);
    await world.wait(31 * 60 * SECOND);
    // It may be in one already that was taken since, by itself.
    const left = knotsOf(ada.doc);
    await tie(ada, PLACES.slice(34, 35));
    expect(await isKept(left)).toBe(true);
  });

  it('[V400] thirty people who come in and begin make one version', async () => {
    const people: Maker[] = [];
    for (let n = 0; n < 30; n += 1) people.push(await come(`learner ${n}`));
    for (const [n, maker] of people.entries()) {
      await tie(maker, [PLACES[n]!]);
      await world.wait(100);
    }
    expect(await kinds()).toEqual(['auto']);
  });
});

describe('what cannot be kept', () => {
  it('[V407] where the store does not take it the edit is not saved, and people are told', async () => {
    const [ada, bea] = [await come('ada'), await come('bea')];
    await tieSlowly(ada, PLACES.slice(0, 4));
    await world.wait(11 * SECOND);
    const knots = knotsOf(ada.doc);
    const put = world.store.putRecord;
    world.store.putRecord = async () => {
      throw new StoreError('full', 'no room');
    };
    bea.tie(tied(PLACES.slice(0, 4), NONE));
    await world.wait(10);
    await until('it is told', () => bea.notices.length > 0);
    expect([bea.saved < bea.made, knotsOf(await world.stored()).size, bea.notices.length]).toEqual([
      true,
      4,
      1,
    ]);
    world.store.putRecord = put;
    await world.wait(5 * SECOND);
    await world.saved(bea);
    expect([knotsOf(await world.stored()).size, await isKept(knots)]).toEqual([0, true]);
  });

  it('[V407] a state that cannot be read keeps no edit from the disk; the log says so, and it is counted', async () => {
    const broken = {
      read: async () => {
        throw new Error('the thread for large work stopped');
      },
    } as unknown as Snapshots;
    const other = world.node(broken);
    const ada = await come('ada', other);
    await tie(ada, PLACES.slice(0, 4));
    expect(knotsOf(await world.stored()).size).toBe(4);
    expect(other.lines.filter((line) => line.includes('version-failed'))).toHaveLength(1);
    expect(other.metrics.valueOf('larkboard_version_failures_total')).toBe(1);
  });
});
