/** Rooms at moments that seldom come: the store answers in the same breath, or has let go of the room. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import type { RoomMember } from '../../../server/sync/room-member.ts';
import { Saver } from '../../../server/sync/saver.ts';
import type { TrialOutcome, Trials } from '../../../server/sync/trials.ts';
import { ask } from '../../support/ask.ts';
import { COSTLY_UPDATES } from '../../support/costly-updates.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { KITES, MEMBER, openBareRoom } from '../bare-room.ts';
import { FaultyStore } from '../faulty-store.ts';
import { QUIET_OWNER } from '../quiet-owner.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

/** A store that gives its answers when told to, all at once. */
class HeldStore extends MemoryStore {
  isHeld = false;
  readonly #waiting: (() => void)[] = [];

  /** Answers that are held. */
  get held(): number {
    return this.#waiting.length;
  }

  answer(): void {
    this.isHeld = false;
    for (const go of this.#waiting.splice(0)) go();
  }

  override load: MemoryStore['load'] = async (...args) => this.#after(await super.load(...args));
  override append: MemoryStore['append'] = async (...args) => this.#after(await super.append(...args));

  #after<T>(value: T): T | Promise<T> {
    return this.isHeld ? new Promise((resolve) => this.#waiting.push(() => resolve(value))) : value;
  }
}

const edit = (key: string, value: string): Uint8Array => {
  const doc = new Y.Doc();
  doc.getMap('meta').set(key, value);
  return Y.encodeStateAsUpdate(doc);
};

test('[V27] rows that are read again are replaced only by a snapshot that holds them', async () => {
  const store = new HeldStore();
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const clock = new HandClock();
  const room = await openBareRoom(store, clock);
  // Another node stores much, and this one hears only that there is something to read.
  for (let i = 0; i < 600; i += 1) await store.append(KITES, edit(`other ${i}`, 'x'));
  store.isHeld = true;
  const read = room.reload();
  expect(room.receive(edit('own', 'y'), MEMBER, false)).toBe('taken');
  // Both answers are there when this node looks up: the rows, and that its own edit is stored.
  await until('both answers are held', () => store.held === 2);
  clock.turn(20);
  store.answer();
  await read;
  await until('the log was compacted or not', () => room.isSaved);
  await room.settle();
  const doc = new Y.Doc();
  for (const { bytes } of await store.load(KITES)) Y.applyUpdate(doc, bytes);
  expect(doc.getMap('meta').size).toBe(601);
  room.destroy();
});

test('[V95] a room that cannot read the store anew tries once a second until it can', async () => {
  const store = new FaultyStore(new MemoryStore());
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const clock = new HandClock();
  const room = await openBareRoom(store, clock);
  await store.append(KITES, edit('other', 'x'));
  let loads = 0;
  const { load } = store;
  store.load = (address) => {
    loads += 1;
    return load(address);
  };
  store.fault = { kind: 'unavailable', when: 'before' };
  const read = room.reload();
  for (let tries = 1; tries <= 4; tries += 1) {
    await turnsOfTheLoop();
    expect(loads).toBe(tries);
    clock.turn(999);
    await turnsOfTheLoop();
    expect(loads).toBe(tries);
    if (tries === 4) store.fault = null;
    clock.turn(1);
  }
  await read;
  expect([room.doc.getMap('meta').get('other'), loads, clock.waiting]).toEqual(['x', 5, 0]);
  room.destroy();
});

test('[V23] [V218] nothing is called saved by a room of which nothing is stored any more', async () => {
  const store = new MemoryStore();
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const clock = new HandClock();
  const saver = new Saver(store, KITES, QUIET_OWNER, clock);
  saver.abandon();
  saver.take(edit('title', 'late'));
  let isSaved = false;
  saver.whenSaved(() => {
    isSaved = true;
  });
  clock.turn(60_000);
  await turnsOfTheLoop();
  expect([isSaved, (await store.load(KITES)).length, saver.isIdle]).toEqual([false, 0, true]);
});

test('[V46] an import that a document has no room for is refused, and nothing is written', async () => {
  const server = await startTestServer({ env: { MAX_DOCUMENT_BYTES: '20000' } });
  const board = await makeBoard(server);
  const at = `${server.http}/api/boards/${board}/file`;
  const file = (await (await ask(at)).json()) as { title: string; piece: object };
  const statuses: number[] = [];
  for (let i = 0; i < 12; i += 1) {
    const body = JSON.stringify({ ...file, title: `kites ${i}`, piece: { notes: 'n'.repeat(4_000) } });
    statuses.push((await ask(at, { method: 'PUT', body })).status);
  }
  const taken = statuses.filter((status) => status === 200).length;
  expect(new Set(statuses)).toEqual(new Set([200, 507]));
  expect(((await (await ask(at)).json()) as { title: string }).title).toBe(`kites ${taken - 1}`);
  const rows = await server.store.load({ board, part: 'design' });
  expect(Y.mergeUpdates(rows.map(({ bytes }) => bytes)).length).toBeLessThan(20_000);
  await server.close();
});

test('[V41] [V219] a room that cannot be closed in good order ends alone, and opens anew', async () => {
  const server = await startTestServer();
  const board = await makeBoard(server);
  const client = await new RawClient(`${server.ws}/${board}/design`).join();
  const { room, release } = await server.rooms.hold({ board, part: 'design' });
  room.renew = async () => {
    throw new StoreError('damaged', 'a fault that nobody thought of');
  };
  release();
  client.close();
  await until('the room is gone', () => server.rooms.size === 0);
  expect(server.lines.some((line) => line.includes('room-broken'))).toBe(true);
  const again = await new RawClient(`${server.ws}/${board}/design`).join();
  again.send(message(100, 1));
  await again.savedMark(1);
  again.close();
  await server.close();
});

test('[V243] while an edit is tried others are taken, and of who has left meanwhile nothing is', async () => {
  const store = new MemoryStore();
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const answers: ((outcome: TrialOutcome) => void)[] = [];
  const trials = {
    try: () => new Promise<TrialOutcome>((resolve) => answers.push(resolve)),
  } as unknown as Trials;
  const room = await openBareRoom(store, new HandClock(), { trials });
  const { update } = COSTLY_UPDATES['one key written over and over as if it were new']!(3_000);
  const member = { ...MEMBER, send: () => {}, sendEdits: () => {} } as unknown as RoomMember;
  room.members.join(member);
  expect(room.receive(update, member, false)).toBe('costly');
  const [left, stayed] = [room.receiveTried(update, MEMBER, false), room.receiveTried(update, member, false)];
  expect(room.receive(edit('meanwhile', 'x'), MEMBER, false)).toBe('taken');
  expect(room.doc.getMap('meta').get('a')).toBeUndefined();
  for (const answer of answers) answer('fine');
  expect(await left).toMatchObject({ reason: 'busy' });
  expect(await stayed).toBe('taken');
  expect(room.doc.getMap('meta').toJSON()).toMatchObject({ meanwhile: 'x', a: 1 });
  // A thread that ended over it has not shown anything.
  const again = room.receiveTried(edit('more', 'x'), member, false);
  answers.at(-1)!('unknown');
  expect(await again).toMatchObject({ reason: 'busy' });
  room.destroy();
});
