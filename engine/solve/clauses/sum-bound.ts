/**
 * Sums of weights as clauses: a tree that adds two and two (Joshi, Martins and Manquinho, "Generalized totalizer encoding", 2015; with
 * equal weights the totalizer of Bailleux and Boufkhad 2003).
 */
import type { ClauseSolver } from './clause-solver.ts';

/** A literal and what it counts when it is true. */
export interface Weighted {
  readonly literal: number;
  /** Whole, 1 or more. */
  readonly weight: number;
}

/** For each sum that can come about, a literal that is true when it does, by some of what is true; sums of `most` or more are one. */
export type Sums = ReadonlyMap<number, number>;

/** Keeps the weights of what is true below a bound, which may be lowered again and again. */
export class SumBound {
  readonly #solver: ClauseSolver;
  readonly #sums: Sums;
  #bound: number;

  /** @param most the highest bound that will be asked for */
  constructor(solver: ClauseSolver, terms: readonly Weighted[], most: number) {
    this.#solver = solver;
    this.#sums = addUp(solver, terms, most);
    this.#bound = most + 1;
  }

  /** From now on the sum is less than `bound`, which is not above the last one. */
  stayBelow(bound: number): void {
    for (const [sum, literal] of this.#sums)
      if (sum >= bound && sum < this.#bound) this.#solver.add([literal ^ 1]);
    this.#bound = bound;
  }
}

/** Adds clauses that say which sums come about. */
export function addUp(solver: ClauseSolver, terms: readonly Weighted[], most: number): Sums {
  if (terms.length === 0) return new Map();
  const [first] = terms;
  if (terms.length === 1) return new Map([[Math.min(first!.weight, most), first!.literal]]);
  const middle = terms.length >> 1;
  const left = addUp(solver, terms.slice(0, middle), most);
  const right = addUp(solver, terms.slice(middle), most);
  const sums = new Map<number, number>();
  const literalOf = (sum: number): number => {
    const known = sums.get(Math.min(sum, most));
    if (known !== undefined) return known;
    const literal = 2 * solver.addVariables(1);
    sums.set(Math.min(sum, most), literal);
    return literal;
  };
  for (const [sum, literal] of left) solver.add([literal ^ 1, literalOf(sum)]);
  for (const [sum, literal] of right) solver.add([literal ^ 1, literalOf(sum)]);
  for (const [a, one] of left)
    for (const [b, other] of right) solver.add([one ^ 1, other ^ 1, literalOf(a + b)]);
  return sums;
}

/** About how many clauses a {@link SumBound} takes. */
export function sumClauses(terms: readonly Weighted[], most: number): number {
  if (terms.length < 2) return 0;
  const middle = terms.length >> 1;
  const size = (part: readonly Weighted[]): number =>
    Math.min(
      most,
      part.reduce((sum, { weight }) => sum + weight, 0),
    );
  const left = terms.slice(0, middle);
  const right = terms.slice(middle);
  return sumClauses(left, most) + sumClauses(right, most) + (size(left) + 1) * (size(right) + 1);
}
