/** What waits for what in PostgreSQL, with renewing and deleting held open between their statements. */
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { type DocumentAddress, PostgresStore, type Store } from '../../server/store/index.ts';
import type { PgStep, PostgresStoreOptions } from '../../server/store/postgres-store.ts';
import { cases, firstSeed, seedFailed } from '../support/depth.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { until } from '../support/until.ts';
import { postgresOfFile } from './real-services.ts';

const RENEW_STEPS: readonly PgStep[] = [
  'renew:begin',
  'renew:locked',
  'renew:former',
  'renew:rows',
  'renew:snapshot',
];
const REMOVE_STEPS: readonly PgStep[] = ['remove:begin', 'remove:locked', 'remove:board', 'remove:all'];

const bytesOf = (...values: number[]): Uint8Array => Uint8Array.from(values);
const design = (board: string): DocumentAddress => ({ board, part: 'design' });

const postgres = postgresOfFile('locks');
let url: string;
let watcher: pg.Client;
let stores: PostgresStore[];
let held: HeldNode;

beforeEach(async () => {
  url = await postgres.freshUrl();
  watcher = new pg.Client(url);
  watcher.on('error', () => {});
  await watcher.connect();
  stores = [];
  held = new HeldNode();
});
afterEach(async () => {
  // Also where a test failed meanwhile.
  held.letGo();
  await Promise.all(stores.map((store) => store.close()));
  await watcher.end();
});

function open(options: Partial<PostgresStoreOptions> = {}): PostgresStore {
  const store = new PostgresStore({ url, clock: machineClock, gatherMs: 0, ...options });
  stores.push(store);
  return store;
}

/** A node that stops at a step until it is let go on. */
class HeldNode {
  step: PgStep | null = null;
  isThere = false;
  #letGo = (): void => {};

  readonly onStep = async (step: PgStep): Promise<void> => {
    if (step !== this.step) return;
    const held = new Promise<void>((resolve) => {
      this.#letGo = resolve;
    });
    this.isThere = true;
    await held;
  };

  holdAt(step: PgStep): void {
    this.step = step;
    this.isThere = false;
  }

  letGo(): void {
    this.step = null;
    this.#letGo();
  }
}

async function addBoard(store: Store, id: string): Promise<void> {
  await store.addBoard({ id, kind: 'board', createdAt: 1 }, [{ part: 'design', bytes: bytesOf(1) }]);
}

/** Ends generation 0, so that there is a last state to bring copies over to. */
async function endOldest(store: Store, id: string): Promise<void> {
  const seqs = (await store.load(design(id))).map(({ seq }) => seq);
  const renewal = { seqs, snapshot: bytesOf(1), generation: 0, drawn: '', lastState: bytesOf(1) };
  expect(await store.renew(design(id), renewal)).toBe(true);
}

async function rowsOf(store: Store, address: DocumentAddress): Promise<string[]> {
  return (await store.load(address)).map(({ bytes }) => [...bytes].join());
}

/** Begins the renewal of a board's design, or its deletion. */
async function begin(store: Store, board: string, step: PgStep): Promise<boolean> {
  if (step.startsWith('remove')) return store.removeBoard(board);
  const seqs = (await store.load(design(board))).map(({ seq }) => seq);
  return store.renew(design(board), {
    seqs,
    snapshot: bytesOf(9),
    generation: 1,
    drawn: '',
    lastState: bytesOf(1),
  });
}

/** How many statements wait for a lock. */
async function waiting(): Promise<number> {
  const found = await watcher.query<{ n: string }>(
    `SELECT count(*) AS n FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'`,
  );
  return Number(found.rows[0]!.n);
}

describe('renewing and deleting in PostgreSQL', () => {
  it.each([...RENEW_STEPS, ...REMOVE_STEPS])(
    '[V300] held open at %s, edits of other boards are stored meanwhile',
    async (step) => {
      const [ending, other] = [open({ onStep: held.onStep }), open()];
      for (const id of ['a', 'b']) await addBoard(other, id);
      held.holdAt(step);
      const ended = begin(ending, 'a', step);
      await until('it is held', () => held.isThere);
      await other.append(design('b'), bytesOf(2), { generation: 1 });
      expect(await other.putRecord({ board: 'b', kind: 'k', id: 'r', about: '', bytes: bytesOf(3) })).toBe(
        true,
      );
      await addBoard(other, 'c');
      held.letGo();
      expect(await ended).toBe(true);
      expect(await rowsOf(other, design('b'))).toEqual(['1', '2']);
      expect((await other.check()).faults).toEqual([]);
    },
  );

  it('[V301] held open anywhere while a batch waits: no append is answered and then absent', async () => {
    const [ending, other] = [open({ onStep: held.onStep }), open()];
    const seeds = Array.from({ length: cases(18, 1000) }, (_, i) => firstSeed + i);
    let waited = 0;
    for (const seed of seeds) {
      const random = seededRandom(seed);
      const step = random.pick(random.chance(0.6) ? RENEW_STEPS : REMOVE_STEPS);
      // Boards that come before and after in the order in which rows are locked.
      const [own, before, after] = [`m${seed}`, `a${seed}`, `z${seed}`];
      for (const id of [own, before, after]) await addBoard(other, id);
      for (const id of [own, before, after]) await endOldest(other, id);
      held.holdAt(step);
      const ended = begin(ending, own, step);
      await until('it is held', () => held.isThere);
      const addresses = Array.from({ length: 1 + random.below(5) }, () =>
        random.pick([
          design(own),
          design(own),
          { board: own, part: 'talk' } as const,
          design(before),
          design(after),
        ]),
      );
      let settled = 0;
      const outcomes = addresses.map(async (address, index) => {
        // Of a generation before the present one, as when a late copy is brought over.
        const lastState = { generation: 0, bytes: bytesOf(1, 50 + index), version: 0 };
        const options = {
          ...(random.chance(0.8) && { generation: 1 }),
          ...(address.part === 'design' && random.chance(0.2) && { lastState }),
        };
        try {
          await other.append(address, bytesOf(50 + index), options);
          return { address, index, options, refused: null };
        } catch (cause) {
          return { address, index, options, refused: (cause as { kind: string }).kind };
        } finally {
          settled += 1;
        }
      });
      await until('the batch waits, or is through', async () => {
        if (settled === addresses.length) return true;
        return (await waiting()) > 0;
      });
      if (settled < addresses.length) waited += 1;
      held.letGo();
      const isEnded = await ended;
      const takenBy = new Map<string, number>();
      for (const { address, index, options, refused } of await Promise.all(outcomes))
        if (options.lastState !== undefined && refused === null) {
          expect(takenBy.has(address.board), seedFailed(seed)).toBe(false);
          takenBy.set(address.board, index);
        }
      for (const { address, index, options, refused } of await Promise.all(outcomes)) {
        const why = `${seedFailed(seed)}: ${step}, ${JSON.stringify(address)}`;
        const rows = await rowsOf(other, address);
        const isThere = rows.includes(`${50 + index}`);
        // Of two that would write the same last state one does.
        if (options.lastState !== undefined && refused === 'overtaken') {
          expect([isThere, takenBy.get(address.board) !== index], why).toEqual([false, true]);
          continue;
        }
        if (address.board !== own) expect([refused, isThere], why).toEqual([null, true]);
        else if (step === 'remove:begin') {
          // Answered before anything was locked, and then deleted with all the rest; or refused.
          expect(isThere, why).toBe(false);
          expect([null, 'unknown-board'], why).toContain(refused);
        } else if (step.startsWith('remove'))
          expect([refused, isThere], why).toEqual(['unknown-board', false]);
        else if (address.part === 'design' && isEnded && options.generation === 1)
          expect([refused, isThere], why).toEqual(['outdated', false]);
        else expect([refused, isThere], why).toEqual([null, true]);
      }
      if (step.startsWith('renew') && isEnded) expect(await rowsOf(other, design(own))).toContain('9');
      if (step.startsWith('remove'))
        for (const generation of [0, 1])
          expect(await other.lastState(design(own), generation), seedFailed(seed)).toBe(null);
    }
    expect((await other.check()).faults).toEqual([]);
    // Most of them came while it was held open.
    expect(waited).toBeGreaterThan(seeds.length / 3);
  });

  it.each(['serializable', 'repeatable read', 'read uncommitted'])(
    '[V302] a database whose default is %s changes nothing about it',
    async (isolation) => {
      const name = new URL(url).pathname.slice(1);
      await watcher.query(
        `ALTER DATABASE ${name} SET default_transaction_isolation TO '${isolation}';
         ALTER DATABASE ${name} SET synchronous_commit TO off`,
      );
      const [ending, other] = [open({ onStep: held.onStep }), open()];
      const lastState = { generation: 1, bytes: bytesOf(7), version: 0 };
      for (const [board, options] of [
        ['a', { generation: 1 }],
        // These go with a second statement, and so within a transaction.
        ['b', { generation: 1, lastState }],
      ] as const) {
        await addBoard(other, board);
        held.holdAt('renew:snapshot');
        const ended = begin(ending, board, 'renew:snapshot');
        await until('it is held', () => held.isThere);
        const late = expect(other.append(design(board), bytesOf(2), options)).rejects.toMatchObject({
          kind: 'outdated',
        });
        await until('the append waits', async () => (await waiting()) > 0);
        held.letGo();
        expect(await ended).toBe(true);
        await late;
        expect(await rowsOf(other, design(board))).toEqual(['9']);
        expect([...(await other.lastState(design(board), 1))!]).toEqual([1]);
      }
    },
  );

  it('[V303] a node that stops between two statements is let go of, and nothing of it stays', async () => {
    const [ending, other] = [open({ onStep: held.onStep, idleInTransactionMs: 200 }), open()];
    await addBoard(other, 'a');
    held.holdAt('renew:snapshot');
    const ended = begin(ending, 'a', 'renew:snapshot');
    await until('it is held', () => held.isThere);
    await other.append(design('a'), bytesOf(2), { generation: 1 });
    held.letGo();
    await expect(ended).rejects.toMatchObject({ kind: 'unavailable' });
    expect(await rowsOf(other, design('a'))).toEqual(['1', '2']);
    expect(await other.lastState(design('a'), 1)).toBe(null);
    // The node goes on by itself.
    expect(await begin(ending, 'a', 'renew:begin')).toBe(true);
  });

  it('[V303] the database killed between two statements fails that write, and not the process', async () => {
    const lost: string[] = [];
    const ending = open({ onStep: held.onStep, onIdleError: ({ message }) => lost.push(message) });
    await addBoard(ending, 'a');
    held.holdAt('remove:board');
    const ended = expect(begin(ending, 'a', 'remove:board')).rejects.toMatchObject({ kind: 'unavailable' });
    await until('it is held', () => held.isThere);
    await postgres.service.stop('kill');
    await until('the line is lost', () => lost.length > 0);
    held.letGo();
    await ended;
    await postgres.service.start();
    await until('it answers again', () =>
      ending.ping().then(
        () => true,
        () => false,
      ),
    );
    expect(await rowsOf(ending, design('a'))).toEqual(['1']);
  });
});
