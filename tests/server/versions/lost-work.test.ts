/** Nothing that another wipes is lost: many seeds of it. */
import './pack-at-once.ts';
import { expect, it } from 'vitest';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { LostWork, type Outcome } from './lost-work.ts';

const COUNT = cases(6, 400);
const STEPS = 120;
const outcomes: Outcome[] = [];

for (let seed = firstSeed; seed < firstSeed + COUNT; seed += 1)
  it(`[V402] [V403] [V405] whatever of another had stood ten seconds is in a version, whoever wiped it where, and whichever node was killed: seed ${seed}`, async () => {
    const outcome = await new LostWork(seed).run(STEPS);
    outcomes.push(outcome);
    expect({ lost: outcome.lost, unsaved: outcome.unsaved }, seedFailed(seed)).toEqual({
      lost: [],
      unsaved: 0,
    });
  });

it('the seeds came to what matters: work that was taken, and nodes that were killed', () => {
  const sum = (of: (one: Outcome) => number): number => outcomes.reduce((all, one) => all + of(one), 0);
  expect(sum(({ owed }) => owed)).toBeGreaterThan(COUNT * 3);
  expect(sum(({ kills }) => kills)).toBeGreaterThan(COUNT / 2);
});
