import { describe, expect, it } from 'vitest';
import { ClauseSolver } from '../../../../engine/solve/clauses/index.ts';
import { cases, firstSeed, seedFailed } from '../../../support/depth.ts';
import { type SeededRandom, seededRandom } from '../../../support/seeded-random.ts';

const VARIABLES = 9;

function randomClauses(random: SeededRandom): number[][] {
  return Array.from({ length: 20 + random.below(30) }, () =>
    Array.from({ length: 1 + random.below(4) + (random.chance(0.9) ? 1 : 0) }, () =>
      random.below(2 * VARIABLES),
    ),
  );
}

/** Whether some values meet the clauses, by trying all. */
function canBeMet(clauses: readonly (readonly number[])[]): boolean {
  for (let values = 0; values < 1 << VARIABLES; values++)
    if (
      clauses.every((clause) => clause.some((literal) => ((values >> (literal >> 1)) & 1) !== (literal & 1)))
    )
      return true;
  return false;
}

function solverOf(clauses: readonly (readonly number[])[]): ClauseSolver {
  const solver = new ClauseSolver();
  solver.addVariables(VARIABLES);
  for (const clause of clauses) solver.add(clause);
  return solver;
}

describe('ClauseSolver', () => {
  it('[Z15] meets clauses exactly where trying everything does, and names assumptions that conflict', () => {
    const seen = { met: 0, refuted: 0, cores: 0 };
    const first = firstSeed;
    for (let seed = first; seed < first + cases(400, 20_000); seed++) {
      const random = seededRandom(seed);
      const clauses = randomClauses(random);
      const solver = solverOf(clauses);
      // One solver is asked again and again, as the picture search does, and gets further clauses in between.
      for (let round = 0; round < 4; round++) {
        const assumptions = random
          .shuffle(Array.from({ length: VARIABLES }, (_, v) => 2 * v + random.below(2)))
          .slice(0, random.below(5));
        const verdict = solver.search(assumptions, 1e9);
        const isMet = canBeMet([...clauses, ...assumptions.map((literal) => [literal])]);
        expect(verdict, seedFailed(seed)).toBe(isMet ? 'met' : 'refuted');
        if (verdict === 'met') {
          const holds = (literal: number): boolean => solver.values[literal >> 1] !== (literal & 1);
          expect(
            clauses.every((clause) => clause.some(holds)) && assumptions.every(holds),
            seedFailed(seed),
          ).toBe(true);
          seen.met++;
        } else {
          expect(assumptions, seedFailed(seed)).toEqual(expect.arrayContaining(solver.core));
          expect(canBeMet([...clauses, ...solver.core.map((literal) => [literal])]), seedFailed(seed)).toBe(
            false,
          );
          seen.refuted++;
          if (solver.core.length > 1) seen.cores++;
        }
        const further = Array.from({ length: 3 }, () => random.below(2 * VARIABLES));
        clauses.push(further);
        solver.add(further);
      }
    }
    expect(Math.min(seen.met, seen.refuted, seen.cores)).toBeGreaterThan(20);
  });

  it('[Z15] shows that pigeons do not fit into fewer holes, forgetting and tidying on the way', () => {
    const holes = 7;
    const solver = new ClauseSolver();
    solver.addVariables((holes + 1) * holes);
    const sits = (pigeon: number, hole: number): number => 2 * (pigeon * holes + hole);
    for (let pigeon = 0; pigeon <= holes; pigeon++)
      solver.add(Array.from({ length: holes }, (_, hole) => sits(pigeon, hole)));
    for (let hole = 0; hole < holes; hole++)
      for (let pigeon = 0; pigeon <= holes; pigeon++)
        for (let other = pigeon + 1; other <= holes; other++)
          solver.add([sits(pigeon, hole) ^ 1, sits(other, hole) ^ 1]);
    expect(solver.search([], 10_000)).toBe('out');
    expect(solver.search([], 1e10)).toBe('refuted');
    expect(solver.conflicts).toBeGreaterThan(4000);
    expect(solver.search([], 1e10)).toBe('refuted');
  });
});
