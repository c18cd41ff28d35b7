/** When a room looks whether its document is worn, and what it does where that goes wrong; the rest is shown with people in it. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Log, Metrics } from '../../../../server/index.ts';
import { type Store, StoreError } from '../../../../server/store/index.ts';
import { LiveRenewals, type LiveRoom } from '../../../../server/sync/renewal/live-renewals.ts';
import type { Work } from '../../../../server/work/index.ts';
import { HandClock } from '../../../support/hand-clock.ts';
import { turnsOfTheLoop } from '../../../support/until.ts';

type Changes = { -readonly [K in keyof LiveRoom]?: LiveRoom[K] };
const BEGUN = { snapshot: new Uint8Array([1]), generation: 1, drawn: 'd', lastState: new Uint8Array([2]) };
const WORN = { bytes: 4_000, freshBytes: 100, begun: BEGUN };
const FRESH = { bytes: 1_500, freshBytes: 1_000, begun: null };

function roomOf(changes: Changes = {}, renewBytes = 1_000) {
  const clock = new HandClock();
  const done: string[] = [];
  const note =
    (what: string) =>
    (...args: readonly unknown[]): void =>
      void done.push([what, ...args].join(' '));
  const room = {
    name: 'kites/design',
    address: { board: 'kites', part: 'design' },
    isDamaged: false,
    isBroken: false,
    isOutdated: false,
    isStoreFailing: false,
    isStored: true,
    isBringing: false,
    held: { bytes: 4_000, updates: [], identity: { generation: 1, drawn: 'd' } },
    seqs: [1],
    members: { hasFollowers: true, askLacking: note('ask') },
    peers: { isShared: false, inTime: async () => true, tell: note('tell'), tellRenewed: note('renewed') },
    doc: new Y.Doc(),
    endTurn: () => {},
    stored: async () => true,
    handOver: note('handed over'),
    onOutdated: note('outdated'),
    broke: (what: string, cause: unknown) => note(`broke ${what}`)((cause as Error).message),
    ...changes,
  } as unknown as LiveRoom & Record<string, unknown>;
  let answer: () => Promise<unknown> = async () => WORN;
  const store = { renew: async () => true, load: async () => [] } as unknown as Record<string, unknown>;
  const renewals = new LiveRenewals(room, {
    store: store as unknown as Store,
    work: {
      run: () => {
        note('worked out')();
        return answer();
      },
    } as unknown as Work,
    clock,
    log: new Log(() => {}, clock.now, 'error'),
    metrics: new Metrics(),
    limits: { renewBytes },
  });
  return {
    room: room as Record<string, unknown>,
    store,
    clock,
    done,
    renewals,
    works: () => done.filter((one) => one === 'worked out').length,
    answers: (next: () => Promise<unknown>) => {
      answer = next;
    },
    look: async () => {
      renewals.look();
      await turnsOfTheLoop(30);
    },
  };
}
const fail = (cause: Error) => async (): Promise<never> => {
  throw cause;
};

describe('whether it is looked at', () => {
  it.each([
    ['is small', { held: { bytes: 999 } }],
    ['has nobody to hand over', { members: { hasFollowers: false } }],
    ['has a store that fails', { isStoreFailing: true }],
    ['is damaged', { isDamaged: true }],
    ['has ended', { isOutdated: true }],
    ['has a copy being brought over', { isBringing: true }],
    ['is no design', { address: { board: 'kites', part: 'talk' } }],
  ] as readonly (readonly [string, Changes])[])('it is not where it %s', async (_, changes) => {
    const { look, works, renewals } = roomOf(changes);
    await look();
    expect([works(), renewals.isBegun()]).toEqual([0, false]);
  });

  it('it is not where the server renews nothing', async () => {
    const { look, works } = roomOf({}, 0);
    await look();
    expect(works()).toBe(0);
  });

  it('one that is not worn is looked at again once it has grown by what it lacks to that, and a moment later', async () => {
    const { look, works, clock, room, answers } = roomOf();
    answers(async () => FRESH);
    await look();
    clock.turn(60_000);
    await look();
    expect(works()).toBe(1);
    // It lacks 500 bytes to twice what would begin the next one; a quarter of that is the least.
    (room.held as { bytes: number }).bytes = 4_500;
    await look();
    expect(works()).toBe(2);
  });

  it('where that cannot be found out it goes on, and is looked at ten seconds later', async () => {
    const { look, works, clock, answers, renewals, done } = roomOf();
    answers(fail(new Error('the thread ended')));
    await look();
    expect([renewals.isPaused, renewals.isBusy, done]).toEqual([false, false, ['worked out']]);
    clock.turn(9_999);
    await look();
    expect(works()).toBe(1);
    clock.turn(1);
    await look();
    expect(works()).toBe(2);
  });

  it('a room that ended meanwhile takes no renewal', async () => {
    for (const ended of ['isBroken', 'isOutdated']) {
      const { look, answers, room, done, renewals } = roomOf();
      answers(async () => {
        room[ended] = true;
        return WORN;
      });
      await look();
      expect([done, renewals.isPaused]).toEqual([['worked out'], false]);
    }
  });
});

describe('a renewal that does not come about', () => {
  it('lets the room go on, and asks for what was passed over', async () => {
    const { look, room, done, renewals } = roomOf({ isStored: false });
    await look();
    expect([done, renewals.isPaused]).toEqual([['worked out', 'ask'], false]);
    room.isStored = true;
  });

  it('tells the other nodes to go on, where it had told them to pause, and they were not in time', async () => {
    const { clock, renewals, done } = roomOf({
      peers: {
        isShared: true,
        inTime: async () => false,
        tell: (kind) => done.push(kind),
        tellRenewed: () => {},
      },
    });
    renewals.look();
    await turnsOfTheLoop(30);
    expect([done, renewals.isPaused]).toEqual([['worked out', 'pausing'], true]);
    clock.turn(250);
    await turnsOfTheLoop(30);
    expect([done, renewals.isPaused]).toEqual([['worked out', 'pausing', 'going-on', 'ask'], false]);
  });

  it('where it is not known what the store has, the room ends; a fault of ours is answered for', async () => {
    const one = roomOf();
    one.store.load = fail(new StoreError('unavailable', 'gone'));
    await one.look();
    expect(one.done).toEqual(['worked out', 'worked out', 'renewed 2', 'outdated', 'ask']);
    const other = roomOf();
    other.store.load = fail(new RangeError('ours'));
    await other.look();
    expect(other.done.at(-1)).toBe('broke hand-over ours');
    expect([other.renewals.isBusy, other.renewals.isPaused]).toEqual([false, false]);
  });
});

describe('another node', () => {
  it('that pauses this one and is heard of no more is waited for ten seconds', async () => {
    const { renewals, clock, done, works, look } = roomOf();
    renewals.pause();
    renewals.pause();
    await look();
    expect([renewals.isPaused, works()]).toEqual([true, 0]);
    clock.turn(10_000);
    expect([renewals.isPaused, done]).toEqual([false, ['ask']]);
    renewals.goOn();
    expect(done).toEqual(['ask']);
  });

  it('that renewed the document ends this room where it holds what is not stored, or what had ended is not known', async () => {
    const unsaved = roomOf({ isStored: false });
    unsaved.renewals.follow();
    await turnsOfTheLoop(30);
    expect(unsaved.done).toEqual(['outdated']);
    for (const lost of [async () => null, fail(new StoreError('unavailable', 'gone'))]) {
      const { renewals, store, done } = roomOf();
      Object.assign(store, { lastState: lost, endedGenerations: async () => [] });
      renewals.follow();
      await turnsOfTheLoop(30);
      expect([done, renewals.isPaused]).toEqual([['outdated'], false]);
    }
  });

  it('who joins meanwhile waits for it, and no longer than two seconds', async () => {
    const { renewals, clock, answers } = roomOf();
    await renewals.over();
    answers(() => new Promise(() => {}));
    expect(renewals.isBegun()).toBe(true);
    let isOver = false;
    void renewals.over().then(() => {
      isOver = true;
    });
    clock.turn(1_999);
    await turnsOfTheLoop(30);
    expect(isOver).toBe(false);
    clock.turn(1);
    await turnsOfTheLoop(30);
    expect(isOver).toBe(true);
  });
});
