export { ClauseSolver, type ClauseVerdict } from './clause-solver.ts';
export { addUp, SumBound, type Sums, sumClauses, type Weighted } from './sum-bound.ts';
