/**
 * Looks for the route of least cost through one set of clauses: first one that meets all wishes; where there is none, wishes that cannot
 * all be met, which bound the cost from below (cores, as in Fu and Malik 2006 and what followed), and then ever cheaper routes, until no
 * cheaper one is left.
 */
import type { Budget } from './budget.ts';
import {
  addUp,
  type ClauseVerdict,
  SumBound,
  type Sums,
  sumClauses,
  type Weighted,
} from './clauses/index.ts';
import { costOf, type Route, type Routing } from './routing.ts';
import { type Held, RoutingClauses } from './routing-clauses.ts';

/** Steps of a search between two looks at the budget. */
const SLICE = 2_000_000;
/** Steps for each try to leave a wish out of those that cannot all be met. */
const SHRINK_STEPS = 15_000;
/** Beyond so many a set of wishes is not made smaller. */
const SHRINK_MOST = 80;
/** Of a core so many unmet wishes are told apart. */
const MOST_COUNTED = 8;
/** Sums that take more clauses than this are not counted. */
const MOST_SUM_CLAUSES = 400_000;

/** How many of a core are unmet, and how many are assumed not to be. */
interface CoreCount {
  readonly sums: Sums;
  readonly sum: number;
}

export class RoutedSearch {
  /** The cheapest route found; null before the first. */
  best: Route | null = null;
  /** What it costs. */
  cost = Infinity;
  /** Steps that it took to write the clauses. */
  readonly size: number;
  /** Proven: no route costs less. */
  lowerBound = 0;
  /** Whether there is no route at all. */
  isImpossible = false;

  readonly #routing: Routing;
  readonly #clauses: RoutingClauses;
  /** Wishes still assumed, with what is left of their weight. */
  readonly #assumed: Map<number, number>;
  /** Assumed wishes that were found to conflict. */
  #core: readonly number[] = [];
  /** Cores taken out and not yet counted. */
  readonly #uncounted: { readonly core: readonly number[]; readonly weight: number }[] = [];
  /** Of assumed literals that say that a sum does not come about: which. */
  readonly #counts = new Map<number, CoreCount>();
  #sum: SumBound | null = null;

  /** @param held what of a route stays; then `refuted` and `lowerBound` are of what is left */
  constructor(routing: Routing, budget: Budget, held: Held | null = null) {
    this.#routing = routing;
    this.#clauses = new RoutingClauses(routing, held);
    this.#assumed = new Map(this.#clauses.wishes.map(({ literal, weight }) => [literal, weight]));
    this.size = this.#clauses.solver.steps;
    budget.spend(this.size);
  }

  get isProven(): boolean {
    return this.cost <= this.lowerBound;
  }

  /** Takes a route as the best so far, if it is, and lets the search begin near it. */
  take(route: Route): void {
    const cost = costOf(this.#routing, route);
    if (cost < this.cost) {
      this.cost = cost;
      this.best = route;
    }
    this.#clauses.beginAt(this.best!);
  }

  /** Looks for a route whatever it costs. */
  findAny(budget: Budget): void {
    const verdict = this.#run([], budget);
    if (verdict === 'met') this.#note();
    else if (verdict === 'refuted') this.#closed();
  }

  /** Looks for a route that meets all that is assumed. */
  meetAssumed(budget: Budget): ClauseVerdict {
    const verdict = this.#run([...this.#assumed.keys()], budget);
    this.#core = verdict === 'refuted' ? this.#clauses.solver.core : [];
    if (verdict === 'met') this.#note();
    else if (verdict === 'refuted' && this.#core.length === 0) this.#closed();
    return verdict;
  }

  /**
   * After `refuted`: takes what conflicts out of what is assumed, and raises the bound by the least of the weights. What was taken out is
   * free until {@link countCores}.
   */
  takeOutCore(budget: Budget): void {
    const { solver } = this.#clauses;
    const core = this.#shrink(this.#core, budget);
    if (core.length === 0) {
      this.#closed();
      return;
    }
    const weight = Math.min(...core.map((literal) => this.#assumed.get(literal)!));
    this.lowerBound = Math.min(this.cost, this.lowerBound + weight);
    for (const literal of core) {
      this.#raise(literal, -weight);
      const count = this.#counts.get(literal);
      const next = count?.sums.get(count.sum + 1);
      if (count !== undefined && next !== undefined)
        this.#assumeFewer({ ...count, sum: count.sum + 1 }, next, weight);
    }
    solver.add(core.map((literal) => literal ^ 1));
    if (core.length > 1) this.#uncounted.push({ core, weight });
  }

  /**
   * Assumes of each core that was taken out that no more than one of it is unmet, and, where that conflicts again, no more than two, and so
   * on ("OLL": Andres, Kaufmann, Matheis and Schaub 2012; Morgado, Dodaro and Marques-Silva 2014). What then meets all that is assumed is
   * proven. False when there was nothing to count.
   */
  countCores(budget: Budget): boolean {
    const { solver } = this.#clauses;
    const before = solver.steps;
    const uncounted = this.#uncounted.splice(0);
    for (const { core, weight } of uncounted) {
      const terms = core.map((literal) => ({ literal: literal ^ 1, weight: 1 }));
      const sums = addUp(solver, terms, Math.min(core.length, MOST_COUNTED));
      this.#assumeFewer({ sums, sum: 2 }, sums.get(2)!, weight);
    }
    budget.spend(solver.steps - before);
    return uncounted.length > 0;
  }

  /** Raises the bound core by core, until what is left can be met, which proves it, or the budget is used up. */
  raiseBound(budget: Budget): void {
    while (!budget.isOver && !this.isProven && !this.isImpossible) {
      const verdict = this.meetAssumed(budget);
      if (verdict === 'out') return;
      if (verdict === 'refuted') this.takeOutCore(budget);
      else if (!this.countCores(budget)) return;
    }
  }

  #assumeFewer(count: CoreCount, sum: number, weight: number): void {
    this.#counts.set(sum ^ 1, count);
    this.#raise(sum ^ 1, weight);
  }

  #raise(literal: number, weight: number): void {
    const sum = (this.#assumed.get(literal) ?? 0) + weight;
    if (sum > 0) this.#assumed.set(literal, sum);
    else this.#assumed.delete(literal);
  }

  /** Nothing is left: no route at all, or none cheaper than the best. */
  #closed(): void {
    if (this.best === null) this.isImpossible = true;
    else this.lowerBound = this.cost;
  }

  /** Whether the cost can be counted in clauses, for {@link improve}. */
  get isCountable(): boolean {
    return this.#sum !== null || sumClauses(this.#clauses.wishes, this.cost) <= MOST_SUM_CLAUSES;
  }

  /** Looks for ever cheaper routes than the best; `refuted`, and proven, when there are none. There must be a best one. */
  improve(budget: Budget): ClauseVerdict {
    const { solver, wishes } = this.#clauses;
    if (this.#sum === null) {
      const before = solver.steps;
      const unmet: Weighted[] = wishes.map(({ literal, weight }) => ({ literal: literal ^ 1, weight }));
      this.#sum = new SumBound(solver, unmet, this.cost);
      budget.spend(solver.steps - before);
    }
    while (this.cost > this.lowerBound) {
      this.#sum.stayBelow(this.cost);
      this.#clauses.beginAt(this.best!);
      const verdict = this.#run([], budget);
      if (verdict === 'refuted') this.lowerBound = this.cost;
      if (verdict !== 'met') return verdict;
      this.#note();
    }
    return 'refuted';
  }

  #run(assumptions: readonly number[], budget: Budget): ClauseVerdict {
    const { solver } = this.#clauses;
    while (!budget.isOver) {
      const before = solver.steps;
      const verdict = solver.search(assumptions, Math.min(SLICE, budget.left));
      budget.spend(solver.steps - before);
      if (verdict !== 'out') return verdict;
    }
    return 'out';
  }

  #note(): void {
    const route = this.#clauses.readRoute();
    const cost = costOf(this.#routing, route);
    if (cost >= this.cost) return;
    this.cost = cost;
    this.best = route;
  }

  /** Leaves wishes out of a core, one after the other, as long as the rest still conflicts. */
  #shrink(given: readonly number[], budget: Budget): readonly number[] {
    const { solver } = this.#clauses;
    let core = [...given];
    if (core.length > SHRINK_MOST) return core;
    for (let i = 0; i < core.length && core.length > 1 && !budget.isOver; ) {
      const before = solver.steps;
      const verdict = solver.search(
        core.filter((_, j) => j !== i),
        SHRINK_STEPS,
      );
      budget.spend(solver.steps - before);
      if (verdict !== 'refuted') i++;
      else {
        core = solver.core;
        i = 0;
      }
    }
    return core;
  }
}
