/**
 * Looks for the route of least cost through one set of clauses: first one that meets all wishes; where there is none, wishes that cannot
 * all be met, which bound the cost from below (cores, as in Fu and Malik 2006 and what followed), and then ever cheaper routes, until no
 * cheaper one is left.
 */
import type { Budget } from './budget.ts';
import { type ClauseVerdict, SumBound, sumClauses, type Weighted } from './clauses/index.ts';
import { costOf, type Route, type Routing } from './routing.ts';
import { RoutingClauses } from './routing-clauses.ts';

/** Steps of a search between two looks at the budget. */
const SLICE = 2_000_000;
/** Steps for each try to leave a wish out of those that cannot all be met. */
const SHRINK_STEPS = 60_000;
/** Beyond so many a set of wishes is not made smaller. */
const SHRINK_MOST = 80;
/** Sums that take more clauses than this are not counted. */
const MOST_SUM_CLAUSES = 400_000;

export class RoutedSearch {
  /** The cheapest route found; null before the first. */
  best: Route | null = null;
  /** What it costs. */
  cost = Infinity;
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
  #sum: SumBound | null = null;

  constructor(routing: Routing, budget: Budget) {
    this.#routing = routing;
    this.#clauses = new RoutingClauses(routing);
    this.#assumed = new Map(this.#clauses.wishes.map(({ literal, weight }) => [literal, weight]));
    budget.spend(this.#clauses.solver.steps);
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
    else if (verdict === 'refuted') this.isImpossible = true;
  }

  /** Looks for a route that meets all wishes not yet known to conflict. True once there is one. */
  meetAssumed(budget: Budget): ClauseVerdict {
    const verdict = this.#run([...this.#assumed.keys()], budget);
    this.#core = verdict === 'refuted' ? this.#clauses.solver.core : [];
    if (verdict === 'met') this.#note();
    else if (verdict === 'refuted' && this.#core.length === 0) this.isImpossible = true;
    return verdict;
  }

  /** After `refuted`: takes the wishes that conflict out of those assumed, and raises the bound by the least of their weights. */
  takeOutCore(budget: Budget): void {
    const { solver } = this.#clauses;
    const core = this.#shrink(this.#core, budget);
    const least = Math.min(...core.map((literal) => this.#assumed.get(literal)!));
    this.lowerBound += least;
    for (const literal of core) {
      const left = this.#assumed.get(literal)! - least;
      if (left > 0) this.#assumed.set(literal, left);
      else this.#assumed.delete(literal);
    }
    solver.add(core.map((literal) => literal ^ 1));
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
