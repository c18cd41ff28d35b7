/** Nodes that do not hear of each other: who may stay is asked, not told. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import type { LinkRecord } from '../../../server/access/access-store.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';

/** Links whose reading can be held up, or fail. */
class WatchedLinks extends MemoryAccessStore {
  held: Promise<void> | null = null;
  fault: StoreError | null = null;
  asked = 0;
  running = 0;
  most = 0;

  override async grantedLinks(personId: string, boardId: string): Promise<readonly LinkRecord[]> {
    this.asked += 1;
    this.running += 1;
    this.most = Math.max(this.most, this.running);
    await this.held;
    this.running -= 1;
    if (this.fault !== null) throw this.fault;
    return super.grantedLinks(personId, boardId);
  }
}

let hub: MemoryRelayHub;
let relays: readonly ReturnType<MemoryRelayHub['node']>[];
let links: WatchedLinks;
let store: MemoryStore;
let clock: HandClock;
let here: AccessServer;
let there: AccessServer;
let owner: Person;

beforeEach(async () => {
  hub = new MemoryRelayHub();
  relays = [hub.node(), hub.node()];
  links = new WatchedLinks();
  store = new MemoryStore();
  clock = new HandClock(machineClock);
  here = await startAccessServer({ store, relay: relays[0]! }, links);
  there = await startAccessServer({ store, relay: relays[1]!, clock }, links);
  owner = new Person(here);
});
afterEach(async () => {
  for (const server of [here, there]) await closeAccessServer(server);
});

const cutOff = (): void => {
  for (const relay of relays) relay.setUp(false);
};

/** A person who came in by a link at the other node, with a socket there. */
async function enterThere(board: string, secret: string) {
  const person = new Person(there);
  expect((await person.enter(board, secret)).status).toBe(200);
  return person.socket(board, 'design').join();
}

async function stored(board: string, key: string): Promise<boolean> {
  const doc = new Y.Doc();
  for (const { bytes } of await store.load({ board, part: 'design' })) Y.applyUpdate(doc, bytes);
  return doc.getMap('meta').has(key);
}

describe('a node that does not hear of the others', () => {
  it('[V307] puts out whose link was taken back elsewhere, and takes no more of theirs', async () => {
    const board = await owner.makeBoard();
    const [taken, kept] = [
      await owner.makeLink(board.id, 'co-maker'),
      await owner.makeLink(board.id, 'co-maker'),
    ];
    const gone = await enterThere(board.id, taken.secret);
    const stays = await enterThere(board.id, kept.secret);
    cutOff();
    expect((await owner.ask('DELETE', `/api/boards/${board.id}/links/${taken.id}`)).status).toBe(200);
    clock.turn(1_000);
    expect(await gone.closed).toBe(CLOSE_CODES.revoked);
    gone.edit((doc) => doc.getMap('meta').set('from who is out', 1));
    stays.edit((doc) => doc.getMap('meta').set('from who is in', 1));
    stays.mark(1);
    await stays.savedMark(1);
    expect(await stored(board.id, 'from who is in')).toBe(true);
    expect(await stored(board.id, 'from who is out')).toBe(false);
    expect(stays.closeCode).toBeNull();
    // It goes on asking.
    const asked = links.asked;
    await until('it is asked again', () => {
      clock.turn(1_000);
      return links.asked > asked;
    });
    await owner.ask('DELETE', `/api/boards/${board.id}/links/${kept.id}`);
    await until('the other is out', () => {
      clock.turn(1_000);
      return stays.closeCode !== null;
    });
    expect(stays.closeCode).toBe(CLOSE_CODES.revoked);
  });

  it('[V307] asks eight at a time, then and when it hears of them again', async () => {
    const board = await owner.makeBoard();
    const { secret } = await owner.makeLink(board.id, 'co-maker');
    const person = new Person(there);
    await person.enter(board.id, secret);
    const sockets = await Promise.all(
      Array.from({ length: 30 }, () => person.socket(board.id, 'design').join()),
    );
    const isHeld = async (again: () => void): Promise<void> => {
      let letGo = (): void => {};
      links.held = new Promise((resolve) => {
        letGo = resolve;
      });
      links.most = 0;
      again();
      await until('as many ask as may', () => links.running === 8);
      await turnsOfTheLoop(20);
      const asked = links.asked;
      links.held = null;
      letGo();
      await until('everybody was asked for', () => links.asked >= asked + 22 && links.running === 0);
      expect(links.most).toBe(8);
    };
    await isHeld(() => {
      cutOff();
      clock.turn(1_000);
    });
    await isHeld(() => relays[1]!.setUp(true));
    expect(sockets.map(({ closeCode }) => closeCode)).toEqual(Array(30).fill(null));
  });

  it('[V307] leaves people in while it cannot read who may be, and asks again', async () => {
    const board = await owner.makeBoard();
    const { id, secret } = await owner.makeLink(board.id, 'co-maker');
    const socket = await enterThere(board.id, secret);
    cutOff();
    await owner.ask('DELETE', `/api/boards/${board.id}/links/${id}`);
    links.fault = new StoreError('unavailable', 'the database is away');
    const { asked } = links;
    clock.turn(1_000);
    await until('it was asked', () => links.asked > asked && links.running === 0);
    await heardOut(socket);
    expect(socket.closeCode).toBeNull();
    links.fault = null;
    clock.turn(3_000);
    expect(await socket.closed).toBe(CLOSE_CODES.revoked);
  });

  it('[V307] asks for nobody while it hears of them', async () => {
    const board = await owner.makeBoard();
    const { secret } = await owner.makeLink(board.id, 'co-maker');
    const socket = await enterThere(board.id, secret);
    const { asked } = links;
    for (let second = 0; second < 10; second += 1) clock.turn(1_000);
    await heardOut(socket);
    expect(links.asked).toBe(asked);
  });
});
