/** Who hears that proposals may be others now, and how often. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Role } from '../../../engine/document/index.ts';
import { MemoryAccessStore } from '../../../server/access/memory-access-store.ts';
import { machineClock } from '../../../server/index.ts';
import { ProposalNews } from '../../../server/proposals/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import type { RawClient } from '../raw-client.ts';

let hand: HandClock;
let server: AccessServer;
let owner: Person;
let board: string;

beforeEach(async () => {
  hand = new HandClock(machineClock);
  server = await startAccessServer({ clock: hand });
  owner = new Person(server);
  ({ id: board } = await owner.makeBoard());
});
afterEach(() => closeAccessServer(server));

async function someone(role: Role): Promise<Person> {
  const person = new Person(server);
  await person.enter(board, (await owner.makeLink(board, role)).secret);
  return person;
}

const at = (of = board): string => `/api/boards/${of}/proposals`;

async function propose(person: Person, title = 'warmer edge'): Promise<string> {
  const made = await person.ask('POST', at(), { title, name: 'Wren' });
  expect(made.status, made.text).toBe(201);
  return made.json.id as string;
}

/** So long after it was told of a board's proposals nothing more is told. */
const PAUSE_MS = 1_000;

/** Joins as a page does that shows proposals. */
const hearing = (person: Person, on: string): Promise<RawClient> =>
  person.socket(on, 'design', {}, '?hears=proposals').join();

const timesTold = ({ heard }: RawClient): number => heard.filter(({ kind }) => kind === 'proposals').length;

describe('hearing of it', () => {
  it('[V-P17] who asked to hear of it, on the board and its branches, is told of each change, and nobody else', async () => {
    const person = await someone('reviewer');
    const onlooker = await someone('onlooker');
    const other = new Person(server);
    const { id: elsewhere } = await other.makeBoard();
    const [first, second] = [await propose(person), await propose(person, 'another')];
    hand.turn(PAUSE_MS);
    const told = await Promise.all(
      [
        [owner, board],
        [onlooker, board],
        [person, board],
        [person, first],
        [owner, second],
      ].map(([who, on]) => hearing(who as Person, on as string)),
    );
    const untold = await Promise.all([
      owner.socket(board, 'design').join(),
      person.socket(first, 'design').join(),
      owner.socket(board, 'design', {}, '?hears=all&%E0%A4%A').join(),
      hearing(other, elsewhere),
    ]);
    const changes: (() => Promise<unknown>)[] = [
      () => person.ask('POST', `${at()}/${first}/hand-in`, {}),
      () => propose(owner, 'a third'),
      () => owner.ask('POST', `${at()}/${first}/decline`, { word: 'no' }),
      () => person.ask('POST', `${at()}/${second}/withdraw`, {}),
    ];
    for (const [done, change] of changes.entries()) {
      await change();
      const stillIn = told.filter(({ closeCode }) => closeCode === null);
      await until(`all are told of change ${done}`, () =>
        stillIn.every((one) => timesTold(one) === done + 1),
      );
      hand.turn(PAUSE_MS);
    }
    // Who worked on a branch that was answered hears that before the socket closes.
    expect(told.map(timesTold)).toEqual([4, 4, 4, 3, 4]);
    for (const one of untold) await one.reached();
    expect(untold.map(timesTold)).toEqual([0, 0, 0, 0]);
  });

  it('[V-P17] so are those on other nodes, and when these could not be told, once they can', async () => {
    const hub = new MemoryRelayHub();
    const [store, links] = [new MemoryStore(), new MemoryAccessStore()];
    const relay = hub.node();
    const nodes = [
      await startAccessServer({ store, relay: hub.node(), clock: hand }, links),
      await startAccessServer({ store, relay, clock: hand }, links),
    ] as const;
    const boss = new Person(nodes[0]);
    const { id } = await boss.makeBoard();
    const helper = new Person(nodes[1]);
    await helper.enter(id, (await boss.makeLink(id, 'reviewer')).secret);
    const branch = (await helper.ask('POST', at(id), { title: 'there' })).json.id as string;
    hand.turn(PAUSE_MS);
    const [onBoard, onBranch] = [await hearing(helper, id), await hearing(helper, branch)];
    const all = [onBoard, onBranch, await hearing(boss, branch)];
    await boss.ask('POST', at(id), { title: 'here' });
    await until('all are told', () => all.every((one) => timesTold(one) === 1));
    hand.turn(PAUSE_MS);
    relay.setUp(false);
    await boss.ask('POST', at(id), { title: 'unheard' });
    await until('who can be told is', () => timesTold(all[2]!) === 2);
    await onBoard.reached();
    expect(timesTold(onBoard)).toBe(1);
    relay.setUp(true);
    await until('the others are told too', () => [onBoard, onBranch].every((one) => timesTold(one) === 2));
    for (const node of nodes) await closeAccessServer(node);
  });

  it('[V-P17] what a store may have kept although it failed is told too', async () => {
    const person = await someone('reviewer');
    const id = await propose(person);
    hand.turn(PAUSE_MS);
    const client = await hearing(owner, board);
    const put = server.store.putRecord.bind(server.store);
    server.store.putRecord = async (...args) => {
      await put(...args);
      throw new StoreError('unavailable', 'injected after the commit');
    };
    expect((await person.ask('POST', `${at()}/${id}/hand-in`, {})).status).toBe(503);
    await until('the owner is told', () => timesTold(client) === 1);
    expect((await owner.ask('GET', `${at()}/${id}`)).json.state).toBe('open');
  });

  it('[V-P18] of one board it is told at once, and then once a second at most', () => {
    const turned = new HandClock();
    const told: string[] = [];
    const news = new ProposalNews(turned, { broke: () => {} }, (of) => told.push(of));
    for (let i = 0; i < 5; i++) news.changed('a');
    news.changed('b');
    expect(told).toEqual(['a', 'b']);
    turned.turn(PAUSE_MS - 1);
    expect(told).toHaveLength(2);
    turned.turn(1);
    expect(told).toEqual(['a', 'b', 'a']);
    turned.turn(PAUSE_MS);
    expect([told.length, turned.waiting]).toEqual([3, 0]);
    news.changed('a');
    news.changed('a');
    news.end();
    news.changed('c');
    turned.turn(PAUSE_MS);
    expect([told.length, turned.waiting]).toEqual([4, 0]);
  });
});
