/**
 * How deep a run goes. `npm test` shows all behaviour with few cases; `npm run test:long` tries many in the test files that read this.
 * Both are the same on every machine and every day; `SEED` begins elsewhere, `CASES` sets how many, so that a seed that failed is
 * repeated by `SEED=n CASES=1 npx vitest run <file>`.
 */

/** Whether this is the long run. */
export const isLong = process.env.TEST_DEPTH === 'long';

/** Where seeds begin. */
export const firstSeed = Number(process.env.SEED ?? 1);

/** A number of cases, seeds, kills … @param few in `npm test` @param many in the long run */
export function cases(few: number, many: number): number {
  return Number(process.env.CASES ?? (isLong ? many : few));
}

/** What a failure says of a seed. */
export function seedFailed(seed: number): string {
  return `seed ${seed} failed; SEED=${seed} CASES=1 repeats it`;
}
