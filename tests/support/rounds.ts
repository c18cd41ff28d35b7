/** Long runs that go on for a time, however fast the machine is. */

/** A seed that differs from run to run; whoever uses it says which it was. */
export const anySeed = (): number => Date.now() % 1_000_000;

/**
 * Counts rounds from 0: so many at least, and more until a time is over.
 * @param seconds null: the rounds alone count
 */
export function* roundsOf(rounds: number, seconds: number | null): Generator<number> {
  const end = performance.now() + (seconds ?? 0) * 1000;
  for (let round = 0; round < rounds || performance.now() < end; round += 1) yield round;
}
