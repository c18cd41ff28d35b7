/** A clock that is set back, as it happens when a machine began with a wrong one. */
import type { Duplex } from 'node:stream';
import { expect, test } from 'vitest';
import { GuessLimiter } from '../../server/access/guess-limiter.ts';
import { NewPeople } from '../../server/access/new-people.ts';
import { Metrics } from '../../server/index.ts';
import { PerSpan, Regulars, shareOfStrangers } from '../../server/shares.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';
import { Rate } from '../../server/sync/index.ts';
import { Outgoing } from '../../server/sync/outgoing.ts';
import { PresenceBoard, type PresenceOwner } from '../../server/sync/presence-board.ts';
import { ReaderQueue } from '../../server/sync/reader-queue.ts';
import { VERSION_CAPS, Versions } from '../../server/versions/index.ts';
import type { Snapshot } from '../../server/versions/snapshot.ts';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;
const THEN = 1_800_000_000_000;

test('[V335] a rate does not stick', () => {
  const rate = new Rate(1);
  for (let i = 0; i < 10; i += 1) expect(rate.allows(THEN)).toBe(true);
  expect(rate.allows(THEN)).toBe(false);
  for (let i = 0; i < 10; i += 1) expect(rate.allows(THEN - DAY)).toBe(true);
  expect(rate.allows(THEN - DAY)).toBe(false);
});

test('[V335] who guessed links too often waits a window, not a day, and is counted as before', () => {
  let now = THEN;
  const limiter = new GuessLimiter(() => now, { tries: 2, windowMs: MINUTE, addresses: 10 });
  const failTwice = (): void => {
    limiter.fail('a');
    limiter.fail('a');
  };
  failTwice();
  expect(limiter.waitMs('a')).toBe(MINUTE);
  now -= DAY;
  expect(limiter.waitMs('a')).toBe(0);
  failTwice();
  expect(limiter.waitMs('a')).toBe(MINUTE);
});

test('[V335] what a share is used for in a span of time is counted anew', () => {
  const perSpan = new PerSpan({ person: 1, newcomer: 1, newcomers: 1, strangers: 1 }, 60 * MINUTE);
  const share = shareOfStrangers('192.0.2.7');
  expect([perSpan.add(share, THEN), perSpan.add(share, THEN)]).toEqual([0, 60 * MINUTE]);
  expect([perSpan.add(share, THEN - DAY), perSpan.add(share, THEN - DAY)]).toEqual([0, 60 * MINUTE]);
});

test('[V335] whose cookie it is is looked up anew, and who is new is so for an hour', () => {
  const regulars = new Regulars();
  regulars.note('lb=1', 'kites', [{ kind: 'person', key: 'wren' }], THEN);
  expect(regulars.find('lb=1', 'kites', THEN)).not.toBeNull();
  expect(regulars.find('lb=1', 'kites', THEN - DAY)).toBeNull();
  let now = THEN;
  const people = new NewPeople(() => now);
  people.add('wren');
  now -= DAY;
  expect(people.has('wren')).toBe(true);
  now += 60 * MINUTE;
  expect(people.has('wren')).toBe(false);
});

test('[V335] a reader that takes nothing is noticed', () => {
  const outgoing = new Outgoing({
    queuedBytes: 10_000_000,
    queuedBytesPerPerson: 4_000_000,
    queuedBytesPerAddress: 1_000_000,
  });
  const line = { writableLength: 5, writableHighWaterMark: 16_384, destroyed: false };
  const queue = new ReaderQueue(line as unknown as Duplex, outgoing, outgoing.open('person', 'wren'));
  expect(queue.isStuck(THEN, 20_000)).toBe(false);
  expect(queue.isStuck(THEN - DAY, 20_000)).toBe(false);
  expect(queue.isStuck(THEN - DAY + 20_000, 20_000)).toBe(false);
  expect(queue.isStuck(THEN - DAY + 20_001, 20_000)).toBe(true);
});

test('[V335] people of a node that says nothing any more go, and who moved here is heard', () => {
  let now = THEN;
  const board = new PresenceBoard<PresenceOwner>(() => now, 4_096);
  board.hearRemote({ client: 7, clock: 1, state: '{}' });
  board.hearRemote({ client: 8, clock: 1, state: '{}' });
  now -= DAY;
  expect(board.expire()).toEqual([]);
  now += 20_001;
  const moved: PresenceOwner = { openedAt: now, presenceId: null };
  expect(board.hear(moved, { client: 8, clock: 2, state: '{}' }, null)).toBe('taken');
  now += 45_000;
  expect(board.expire()).toEqual([{ client: 7, clock: 2, state: 'null' }]);
  // An echo is one for five seconds, not for a day.
  board.leave(moved);
  now -= DAY;
  board.expire();
  const early: PresenceOwner = { openedAt: THEN - 3 * DAY, presenceId: null };
  expect(board.hear(early, { client: 8, clock: 4, state: '{}' }, null)).toBe('taken');
});

test('[V335] the time of a commit is never less than nothing', () => {
  const metrics = new Metrics();
  metrics.observe('larkboard_commit_ms', 'Time.', -DAY);
  expect(metrics.text()).toContain('larkboard_commit_ms_sum 0\n');
});

test('[V335] versions kept from now on are not thinned out for those of a time to come', async () => {
  const store = new MemoryStore();
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, []);
  let now = THEN;
  const caps = { ...VERSION_CAPS, automatic: 4, automaticBytes: 1e9 };
  const versions = new Versions({ store, now: () => now, caps });
  const take = async (title: string): Promise<void> => {
    const size = { strings: 8, rows: 12, knots: 0 };
    const snapshot: Snapshot = { state: new Uint8Array(3), digest: title, title, ...size };
    await versions.take('kites', snapshot, 'auto', now);
    now += MINUTE;
  };
  for (const title of ['a', 'b', 'c', 'd']) await take(title);
  now -= 30 * DAY;
  for (const title of ['e', 'f', 'g']) await take(title);
  const titles = async (): Promise<string[]> => (await versions.list('kites')).map((one) => one.title);
  expect(await titles()).toEqual(['e', 'f', 'g', 'a', 'b', 'c', 'd']);
  // Among themselves they are thinned as ever.
  for (const title of ['h', 'i']) await take(title);
  expect((await titles()).slice(0, 4)).toEqual(['e', 'g', 'h', 'i']);
});
