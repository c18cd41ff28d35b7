/** Open rooms, without sockets: how many, who keeps them open, and what becomes of one that cannot open. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import { Log, Metrics } from '../../../server/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/limits.ts';
import { Rooms, TooManyRooms } from '../../../server/sync/rooms.ts';
import { Work } from '../../../server/work/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { FaultyStore } from '../faulty-store.ts';

const designOf = (board: string) => ({ board, part: 'design' }) as const;

async function opened(rooms = 2) {
  const clock = new HandClock();
  const inner = new MemoryStore();
  const store = new FaultyStore(inner);
  for (const id of ['a', 'b', 'c']) {
    const doc = new Y.Doc();
    writeBoard(doc, sampleBoard(), countingIds('w'));
    await store.addBoard({ id, kind: 'board', createdAt: 0 }, [
      { part: 'design', bytes: Y.encodeStateAsUpdate(doc) },
    ]);
  }
  const relay = new MemoryRelayHub().node();
  const all = new Rooms({
    store,
    relay,
    log: new Log(() => {}, clock.now, 'error'),
    metrics: new Metrics(),
    limits: { ...DEFAULT_SYNC_LIMITS, rooms },
    clock,
    trials: { try: async () => 'fine', count: () => {} } as never,
    work: new Work(null, clock),
  } as ConstructorParameters<typeof Rooms>[0]);
  /** Until the room is gone. */
  const gone = (board: string): Promise<unknown> =>
    until(`${board} is closed`, () => {
      clock.turn(250);
      return !all.isOpen(board, 'design');
    });
  return { rooms: all, store, relay, gone, close: () => all.close(0) };
}

describe('open rooms', () => {
  it('are as many as the server allows, and one that is left makes room for another', async () => {
    const { rooms, gone, close } = await opened();
    const [first] = [await rooms.hold(designOf('a')), await rooms.hold(designOf('b'))];
    await expect(rooms.hold(designOf('c'))).rejects.toThrow(TooManyRooms);
    // One that is open takes everybody.
    (await rooms.hold(designOf('b'))).release();
    first.release();
    await gone('a');
    const third = await rooms.hold(designOf('c'));
    expect([third.room.address.board, rooms.size]).toEqual(['c', 2]);
    await close();
  });

  it('stay as long as somebody holds them; who lets go twice lets go once', async () => {
    const { rooms, gone, close } = await opened();
    const [first, second] = [await rooms.hold(designOf('a')), await rooms.hold(designOf('a'))];
    expect(second.room).toBe(first.room);
    first.release();
    first.release();
    await turnsOfTheLoop(60);
    expect(rooms.isOpen('a', 'design')).toBe(true);
    second.release();
    await gone('a');
    await close();
  });

  it('that cannot open are gone, whoever asked is told, and the next who asks has it opened anew', async () => {
    const { rooms, store, close } = await opened();
    store.fault = { kind: 'unavailable', when: 'before' };
    const asked = await Promise.allSettled([rooms.hold(designOf('a')), rooms.hold(designOf('a'))]);
    expect(asked.map((one) => (one as PromiseRejectedResult).reason.kind)).toEqual([
      'unavailable',
      'unavailable',
    ]);
    await turnsOfTheLoop(60);
    expect([rooms.size, rooms.recordOf(designOf('a'))]).toEqual([0, null]);
    store.fault = null;
    expect((await rooms.hold(designOf('a'))).room.isBroken).toBe(false);
    await close();
  });

  it('are closed where their board is gone, those of other boards are not', async () => {
    const { rooms, close } = await opened();
    const holds = [await rooms.hold(designOf('a')), await rooms.hold(designOf('b'))];
    rooms.closeBoard('a');
    expect([rooms.removals, holds.length]).toEqual([1, 2]);
    expect(await close()).toBe(0);
    expect(rooms.size).toBe(0);
  });
});
