import { expect, it } from 'vitest';
import { ClauseSolver, SumBound } from '../../../../engine/solve/clauses/index.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

it('[Z15] a bound on a sum leaves exactly the values whose weights stay below it', () => {
  const seen = new Set<string>();
  for (let seed = 1; seed <= 60; seed++) {
    const random = seededRandom(seed);
    const weights = Array.from({ length: 1 + random.below(7) }, () =>
      seed % 2 === 0 ? 1 : 1 + random.below(6),
    );
    const solver = new ClauseSolver();
    solver.addVariables(weights.length);
    const most = 1 + random.below(weights.reduce((a, b) => a + b));
    const bound = new SumBound(
      solver,
      weights.map((weight, v) => ({ literal: 2 * v, weight })),
      most,
    );
    for (let below = most; below > 0; below--) {
      bound.stayBelow(below);
      for (let values = 0; values < 1 << weights.length; values++) {
        const assumed = weights.map((_, v) => 2 * v + (((values >> v) & 1) ^ 1));
        const sum = weights.reduce((total, weight, v) => total + ((values >> v) & 1) * weight, 0);
        const verdict = solver.search(assumed, 1e9);
        expect(verdict).toBe(sum < below ? 'met' : 'refuted');
        seen.add(verdict);
      }
    }
  }
  expect(seen.size).toBe(2);
});
