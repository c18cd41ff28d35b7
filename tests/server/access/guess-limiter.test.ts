/** Who tries links, and how many of them are remembered. */
import { expect, it } from 'vitest';
import { GuessLimiter } from '../../../server/access/guess-limiter.ts';

const WINDOW = 60_000;

it('[V204] beyond as many addresses as are remembered the oldest is forgotten, and nobody else', () => {
  let now = 1_800_000_000_000;
  const limiter = new GuessLimiter(() => now, { tries: 1, windowMs: WINDOW, addresses: 3 });
  const waits = (): number[] => ['a', 'b', 'c', 'd'].map((address) => limiter.waitMs(address));
  for (const address of ['a', 'b', 'c']) {
    limiter.fail(address);
    now += 1_000;
  }
  expect(waits()).toEqual([WINDOW - 3_000, WINDOW - 2_000, WINDOW - 1_000, 0]);
  // Whoever guesses again in a window of their own stands where they were.
  limiter.fail('a');
  limiter.fail('d');
  expect(waits()).toEqual([0, WINDOW - 2_000, WINDOW - 1_000, WINDOW]);
  // Who begins another window is the newest, whenever they first came.
  now += WINDOW - 2_000;
  expect(limiter.waitMs('b')).toBe(0);
  limiter.fail('b');
  limiter.fail('e');
  expect([limiter.waitMs('b'), limiter.waitMs('c')]).toEqual([WINDOW, 0]);
});
