/** Doors that two nodes on one PostgreSQL keep together. */
import { expect, it } from 'vitest';
import { PgAccessStore } from '../../server/access/index.ts';
import { machineClock } from '../../server/index.ts';
import { MAX_OPEN, MAX_OPEN_OF_ONE } from '../../server/proposals/proposal.ts';
import { MemoryRelayHub } from '../../server/relay/memory-relay.ts';
import { PostgresStore } from '../../server/store/index.ts';
import { Versions } from '../../server/versions/index.ts';
import { VERSION_CAPS } from '../../server/versions/thinning.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../server/access-people.ts';
import { postgresOfFile } from './real-services.ts';

const postgres = postgresOfFile('doors');

async function twoNodes(): Promise<readonly [AccessServer, AccessServer]> {
  const url = await postgres.freshUrl();
  const hub = new MemoryRelayHub();
  const start = async (): Promise<AccessServer> =>
    startAccessServer(
      { store: new PostgresStore({ url, clock: machineClock, gatherMs: 0 }), relay: hub.node() },
      await PgAccessStore.open(url, () => {}),
    );
  return [await start(), await start()];
}

const statusesOf = async (answers: readonly Promise<{ status: number }>[]): Promise<number[]> =>
  (await Promise.all(answers)).map(({ status }) => status);
const count = (statuses: readonly number[], status: number): number =>
  statuses.filter((one) => one === status).length;

it('[V462] a class of thirty comes in at once behind one address, by a link nobody came by yet, while somebody there guesses', async () => {
  const nodes = await twoNodes();
  const boss = new Person(nodes[0]);
  const { id } = await boss.makeBoard();
  const { secret } = await boss.makeLink(id, 'learner');
  const school = '198.51.100.20';
  const guesser = new Person(nodes[0], school);
  const guess = (n: number): Promise<{ status: number }> => guesser.enter(id, String(n).padStart(32, 'x'));
  const guesses = Array.from({ length: 60 }, (_, n) => guess(n));
  const pupils = Array.from({ length: 30 }, () => new Person(nodes[0], school).enter(id, secret));
  const more = Array.from({ length: 60 }, (_, n) => guess(100 + n));
  expect(await statusesOf(pupils)).toEqual(Array(30).fill(200));
  const wrong = await statusesOf([...guesses, ...more]);
  expect([count(wrong, 404), count(wrong, 429)]).toEqual([20, 100]);
  for (const node of nodes) await closeAccessServer(node);
});

it('[V465] [V-P4] open proposals stay within their bounds when two nodes make them at once', async () => {
  const nodes = await twoNodes();
  const boss = new Person(nodes[0]);
  const { id } = await boss.makeBoard();
  const { secret } = await boss.makeLink(id, 'reviewer');
  const people: Person[] = [];
  for (let n = 0; n < 6; n += 1) {
    const person = new Person(nodes[n % 2]!);
    await person.enter(id, secret);
    people.push(person);
  }
  /** The same person, at the other node. */
  const twin = (person: Person, n: number): Person => {
    const other = new Person(nodes[(n + 1) % 2]!);
    other.cookie = person.cookie;
    return other;
  };
  const propose = (person: Person): Promise<{ status: number }> =>
    person.ask('POST', `/api/boards/${id}/proposals`, { title: 'again' });
  const own = await statusesOf(
    [people[0]!, twin(people[0]!, 0)].flatMap((one) => [one, one, one, one]).map(propose),
  );
  expect([count(own, 201), count(own, 409)]).toEqual([MAX_OPEN_OF_ONE, 3]);
  const all = await statusesOf(
    people
      .slice(1)
      .flatMap((one, n) => [one, one, twin(one, n + 1), one, one])
      .map(propose),
  );
  expect([count(all, 201), count(all, 409)]).toEqual([MAX_OPEN - MAX_OPEN_OF_ONE, 10]);
  const list = await boss.ask('GET', `/api/boards/${id}/proposals`);
  expect(list.json).toHaveLength(MAX_OPEN);
  // Of those that were refused no branch is left.
  const { store } = nodes[0];
  expect(await store.boardsOfKind('branch')).toHaveLength(MAX_OPEN);
  for (const node of nodes) await closeAccessServer(node);
});

it('[V465] [V182] so do named versions, those that are named afterwards among them', async () => {
  const url = await postgres.freshUrl();
  const stores = [0, 1].map(() => new PostgresStore({ url, clock: machineClock, gatherMs: 0 }));
  await stores[0]!.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  const caps = { ...VERSION_CAPS, named: 7 };
  let now = 1_800_000_000_000;
  const nodes = stores.map((store) => new Versions({ store, now: () => now, caps }));
  const snapshot = (digest: string) => ({
    state: Uint8Array.of(1),
    digest,
    title: '',
    strings: 8,
    rows: 12,
    knots: 0,
  });
  for (let n = 0; n < 4; n += 1) {
    now += 60_000;
    await nodes[0]!.take('kites', snapshot(`${n}`), 'auto', now);
  }
  const automatic = await nodes[0]!.list('kites');
  expect(automatic).toHaveLength(4);
  const named = { name: 'x', by: null };
  const done = await Promise.all([
    ...Array.from({ length: 8 }, (_, n) => nodes[n % 2]!.name('kites', snapshot('named'), named)),
    ...automatic.map(({ id }, n) => nodes[n % 2]!.rename('kites', id, named)),
  ]);
  expect(done.filter((one) => one !== null && 'full' in one)).toHaveLength(5);
  const left = await nodes[1]!.list('kites');
  expect(left.filter(({ kind }) => kind === 'named')).toHaveLength(7);
  for (const store of stores) await store.close();
});
