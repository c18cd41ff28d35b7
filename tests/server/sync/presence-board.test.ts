/** Whose presence an id is, as time goes by. */
import { expect, test } from 'vitest';
import { PresenceBoard, type PresenceOwner } from '../../../server/sync/presence-board.ts';

const entry = (clock: number, name: string) => ({ client: 7, clock, state: JSON.stringify({ name }) });

test('[V30] an id stays with its socket however long that is silent, and is free once it has closed', () => {
  let now = 1_000_000;
  const board = new PresenceBoard<PresenceOwner>(() => now, 4096);
  const first: PresenceOwner = { openedAt: now, presenceId: null };
  const second: PresenceOwner = { openedAt: now + 1, presenceId: null };
  expect(board.hear(first, entry(1, 'first'), null)).toBe('taken');
  for (const silent of [0, 21_000, 60_000, 60 * 60_000]) {
    now += silent;
    expect(board.hear(second, entry(9, 'second'), null)).toBe('held');
    expect(board.ownerOf(7)).toBe(first);
    expect(board.expire()).toEqual([]);
  }
  board.leave(first);
  now += 10_000;
  expect(board.hear(second, entry(9, 'second'), null)).toBe('taken');
  expect(board.ownerOf(7)).toBe(second);
});
