export { ClauseSolver, type ClauseVerdict } from './clause-solver.ts';
export { SumBound, sumClauses, type Weighted } from './sum-bound.ts';
