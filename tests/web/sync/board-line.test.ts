/** What a page knows of what is saved, and what it does when the server closes its line. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { CloseReason } from '../../../engine/document/index.ts';
import { BoardLine, type LineOptions } from '../../../web/sync/board-line.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { type MemoryRoom, MemoryRooms } from '../../support/memory-rooms.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

let rooms: MemoryRooms;
let room: MemoryRoom;
let doc: Y.Doc;
const lines: BoardLine[] = [];

beforeEach(() => {
  rooms = new MemoryRooms();
  room = rooms.room('kites/design');
  doc = new Y.Doc();
});
afterEach(() => {
  for (const line of lines.splice(0)) line.destroy();
});

function lineOf(more: Partial<LineOptions> = {}): BoardLine {
  const line = new BoardLine({
    doc,
    room: 'kites/design',
    server: 'ws://boards.example',
    canEdit: true,
    onChange: () => {},
    socket: rooms.socketClass,
    ...more,
  });
  line.provider.maxBackoffTime = 1;
  lines.push(line);
  return line;
}

const edit = (key: string, value: unknown = true): unknown => doc.getMap('knots').set(key, value);
const held = (): unknown => room.doc.getMap('knots').toJSON();

/** A line that has come up, with nothing unsaved. */
async function connected(more: Partial<LineOptions> = {}): Promise<BoardLine> {
  const line = lineOf(more);
  line.connect();
  await until('the line is up', () => line.saved === 'saved');
  return line;
}

describe('what is saved', () => {
  it('nothing counts as saved before the server has said so, neither of the copy nor of an edit', async () => {
    edit('before');
    room.isStoring = false;
    const line = lineOf();
    const states: string[] = [];
    const follow = (): unknown => states.push(line.saved);
    line.provider.on('sync', follow);
    expect([line.saved, line.isConnected]).toEqual(['offline', false]);
    line.connect();
    await until('the room has the copy', () => room.marks > 0);
    await turnsOfTheLoop(2);
    expect(held()).toEqual({ before: true });
    expect([line.saved, line.isUnsaved]).toEqual(['saving', true]);
    room.isStoring = true;
    await until('it is saved', () => line.saved === 'saved');
    room.isStoring = false;
    edit('after');
    expect(line.saved).toBe('saving');
    await turnsOfTheLoop(2);
    expect([held(), line.saved]).toEqual([{ before: true, after: true }, 'saving']);
    room.isStoring = true;
    await until('that is saved too', () => line.saved === 'saved');
    expect(states).not.toContain('saved');
  });

  it('many edits of one turn are asked about once, and each change of it is told', async () => {
    let told = 0;
    const line = await connected({
      onChange: () => {
        told += 1;
      },
    });
    const [before, toldBefore] = [room.marks, told];
    for (let i = 0; i < 50; i += 1) edit(`k${i}`);
    await until('all is saved', () => line.saved === 'saved');
    expect(room.marks - before).toBe(1);
    expect(told - toldBefore).toBe(2);
  });

  it('what is edited while the line is broken goes out with the next, and is saved then', async () => {
    const line = await connected();
    rooms.cut();
    expect(line.saved).toBe('offline');
    edit('away');
    await turnsOfTheLoop(2);
    expect([line.saved, line.isUnsaved, line.closeReason]).toEqual(['offline', true, null]);
    expect(held()).toEqual({});
    rooms.isDown = false;
    await until('it is saved', () => line.saved === 'saved');
    expect(held()).toEqual({ away: true });
  });

  it('what others edit is never in question', async () => {
    const line = await connected();
    const before = room.marks;
    room.doc.getMap('knots').set('theirs', true);
    await until('it is here', () => doc.getMap('knots').has('theirs'));
    expect([line.saved, room.marks]).toEqual(['saved', before]);
  });

  it('who may only look asks about nothing, and comes back like anybody', async () => {
    room.doc.getMap('knots').set('theirs', true);
    const line = await connected({ canEdit: false });
    room.close('restarted');
    edit('mine');
    await until('it is back', () => line.isConnected);
    expect([line.saved, line.isUnsaved, room.marks]).toEqual(['saved', false, 0]);
    expect(doc.getMap('knots').has('theirs')).toBe(true);
  });
});

describe('what the server gives notice of', () => {
  it('is shown until it says otherwise, and what waited is asked about again', async () => {
    const line = await connected();
    room.isStoring = false;
    room.say('store-read-only');
    edit('kept');
    await until('it is shown', () => line.saved === 'read-only');
    // What was asked when nothing could be stored is answered by nobody.
    const before = room.marks;
    room.say('store-ok');
    await until('it was asked again', () => room.marks > before);
    expect(line.saved).toBe('saving');
    room.isStoring = true;
    await until('it is saved', () => line.saved === 'saved');
  });

  it('what cannot be read is told from what cannot be stored, and too much written from both', async () => {
    const line = await connected();
    room.say('log-damaged');
    room.say('store-read-only');
    await until('the damage is shown', () => line.saved === 'damaged');
    room.say('write-limit');
    await turnsOfTheLoop();
    expect(line.saved).toBe('damaged');
    const before = room.marks;
    room.say('store-ok');
    await until('all is well', () => line.saved === 'saved');
    expect(room.marks).toBe(before);
    room.say('write-limit');
    await until('it is shown', () => line.saved === 'write-limit');
  });

  it('goes with the socket: the room says by itself what still holds', async () => {
    const line = await connected();
    room.say('log-damaged');
    room.say('store-read-only');
    room.say('write-limit');
    await until('it is shown', () => line.saved === 'damaged');
    room.close(null);
    await until('all is well', () => line.saved === 'saved');
    room.say('store-read-only');
    await until('it is shown', () => line.saved === 'read-only');
  });
});

describe('when the server closes the line', () => {
  const FINAL = [
    'malformed',
    'forbidden',
    'unknownBoard',
    'tooLarge',
    'revoked',
    'deleted',
    'outdated',
  ] as const;
  it.each(FINAL)('for %s the page hears why, and leaves it at that', async (reason) => {
    const line = await connected();
    room.close(reason);
    expect([line.closeReason, line.isEnded, line.saved]).toEqual([reason, true, 'offline']);
    const { provider } = line;
    expect([provider.shouldConnect, provider.ws]).toEqual([false, null]);
  });

  const PASSING = ['busy', 'storeFailed', 'restarted', 'tooFast', 'tooSlow', 'roleChanged'] as const;
  it.each(PASSING)(
    'for %s it says so and comes back, and then says so no more',
    async (reason: CloseReason) => {
      const line = await connected();
      room.close(reason);
      expect([line.closeReason, line.isEnded]).toEqual([reason, false]);
      await until('it is back', () => line.saved === 'saved');
      expect([line.closeReason, room.visits]).toEqual([null, 2]);
    },
  );

  it('a break, or a code of somebody else, is no word of the server', async () => {
    const line = await connected();
    room.close(null);
    expect([line.closeReason, line.isEnded]).toEqual([null, false]);
    await until('it is back', () => line.saved === 'saved');
  });

  it('[V108] as outdated, a copy with anything unconfirmed comes back with it, without a word', async () => {
    const line = await connected();
    room.isStoring = false;
    edit('late');
    room.close('outdated');
    expect([line.closeReason, line.isEnded]).toEqual([null, false]);
    room.isStoring = true;
    await until('it is saved', () => line.saved === 'saved');
    expect(held()).toEqual({ late: true });
    room.close('outdated');
    expect([line.closeReason, line.isEnded]).toEqual(['outdated', true]);
  });

  it('[B158] a full board stays one until all is stored: it asks after a pause, and not by itself', async () => {
    const clock = new HandClock();
    const line = await connected({ after: clock.after });
    room.isStoring = false;
    edit('too much');
    room.close('boardFull');
    expect([line.closeReason, line.isEnded, line.provider.shouldConnect]).toEqual([
      'boardFull',
      false,
      false,
    ]);
    clock.turn(3_000);
    await until('it asks', () => line.isConnected);
    expect([line.closeReason, line.saved]).toEqual(['boardFull', 'saving']);
    room.isStoring = true;
    await until('it is taken', () => line.saved === 'saved');
    expect([line.closeReason, clock.waiting]).toEqual([null, 0]);
  });

  it('[B158] given up meanwhile, it asks no more', async () => {
    const clock = new HandClock();
    const line = await connected({ after: clock.after });
    room.close('boardFull');
    line.destroy();
    clock.turn(600_000);
    await turnsOfTheLoop(2);
    expect([clock.waiting, room.visits]).toEqual([0, 1]);
  });
});

describe('a copy larger than a message may be', () => {
  const MESSAGE_BYTES = 400;
  /** What is in the copy is not shorter than this. */
  const LONG = 'x'.repeat(1500);

  it('goes in pieces, each when the server asks, and is saved only when all of it is there', async () => {
    edit('long', LONG);
    room.isStoring = false;
    const line = lineOf({ messageBytes: MESSAGE_BYTES });
    line.connect();
    await until('it is asked about', () => room.marks > 0);
    expect(held()).toEqual({ long: LONG });
    expect(room.pieces).toBe(Math.ceil(Y.encodeStateAsUpdate(doc).length / (MESSAGE_BYTES / 2)));
    expect(line.saved).toBe('saving');
    room.isStoring = true;
    await until('it is saved', () => line.saved === 'saved');
  });

  it('begins anew on the next line, and a question that comes late is answered with nothing', async () => {
    edit('long', LONG);
    room.asksOn = false;
    const line = lineOf({ messageBytes: MESSAGE_BYTES });
    line.connect();
    await until('the first piece is there', () => room.pieces === 1);
    room.asksOn = true;
    room.close(null);
    await until('it is saved', () => line.saved === 'saved');
    expect(held()).toEqual({ long: LONG });
    expect(room.pieces - 1).toBe(Math.ceil(Y.encodeStateAsUpdate(doc).length / (MESSAGE_BYTES / 2)));
    const [pieces, marks] = [room.pieces, room.marks];
    room.tell(Uint8Array.of(102, 0));
    await turnsOfTheLoop(2);
    expect([room.pieces, room.marks]).toEqual([pieces, marks]);
  });

  it('one that fits goes whole', async () => {
    edit('short');
    await connected({ messageBytes: MESSAGE_BYTES });
    expect([held(), room.pieces]).toEqual([{ short: true }, 0]);
  });
});

it.each([
  ['a saved mark', 100],
  ['for a piece', 102],
])('a frame that says %s and does not is a fault, and none to pass over', async (_what, kind) => {
  const line = await connected();
  const hear = (): void => line.provider.ws?.onmessage?.({ data: Uint8Array.of(kind, 255) } as never);
  expect(hear).toThrow('that is none');
});

describe('what the browser says of its connection', () => {
  it('[W950] without one it is offline at once, whatever the socket says, and another is tried', async () => {
    const net = new EventTarget();
    const line = await connected({ net });
    const before = room.visits;
    rooms.isDown = true;
    net.dispatchEvent(new Event('offline'));
    expect([line.saved, line.isConnected, room.sockets.size]).toEqual(['offline', false, 0]);
    edit('away');
    expect([line.saved, line.isUnsaved]).toEqual(['offline', true]);
    await turnsOfTheLoop(3);
    rooms.isDown = false;
    net.dispatchEvent(new Event('online'));
    await until('it is saved', () => line.saved === 'saved');
    expect([held(), room.visits - before]).toEqual([{ away: true }, 1]);
  });

  it('[W950] a server on this machine answers without one: the line is back by itself', async () => {
    const net = new EventTarget();
    const line = await connected({ net });
    net.dispatchEvent(new Event('offline'));
    expect(line.saved).toBe('offline');
    await until('it is back', () => line.saved === 'saved');
    const before = room.visits;
    net.dispatchEvent(new Event('online'));
    await turnsOfTheLoop(3);
    expect([line.saved, room.visits]).toEqual(['saved', before]);
  });

  it('[W950] a line that was closed for good, or given up, stays so', async () => {
    const net = new EventTarget();
    const line = await connected({ net });
    room.close('revoked');
    const before = room.visits;
    for (const name of ['offline', 'online']) net.dispatchEvent(new Event(name));
    await turnsOfTheLoop(3);
    expect([line.closeReason, room.visits]).toEqual(['revoked', before]);
    line.destroy();
    net.dispatchEvent(new Event('online'));
    await turnsOfTheLoop(3);
    expect(room.visits).toBe(before);
  });

  it('[W952] until the first socket has come or failed the line is coming, and not offline', async () => {
    const line = lineOf();
    expect(line.isComing).toBe(true);
    rooms.isDown = true;
    line.connect();
    expect(line.isComing).toBe(true);
    await until('it has failed', () => !line.isComing);
    expect(line.saved).toBe('offline');
    rooms.isDown = false;
    const other = await connected();
    expect(other.isComing).toBe(false);
  });
});
