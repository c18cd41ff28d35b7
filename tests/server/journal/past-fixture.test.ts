/** What an earlier release left of who wrote what. See tests/fixtures/past-2026-11/README.md. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { PAST_FIXTURE, type Past, readPast } from '../../support/past-fixture.ts';

it('[V230] [V420] [V425] visits of November 2026, and what was done in them, are told as they were then', async () => {
  const { board, now, ...was } = JSON.parse(
    readFileSync(join(PAST_FIXTURE, 'expected.json'), 'utf8'),
  ) as Past & {
    readonly board: string;
    readonly now: number;
  };
  const is = JSON.parse(JSON.stringify(await readPast(board, now))) as Past;
  expect(is).toEqual(was);
  expect(was.visits.map(({ name }) => name)).toEqual(['Otto', 'Pia', 'Otto', 'Pia']);
  expect(was.rows.past).toBeGreaterThan(400);
});
