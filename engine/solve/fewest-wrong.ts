/**
 * The cheapest route that counted steps find. Boards of moderate size are searched whole; parts of the best route are searched again where
 * that stalls. Large boards are begun in parts, from the top, each with a look ahead.
 */
import type { Budget } from './budget.ts';
import { isRuleNarrowed } from './order-clauses.ts';
import { RoutedSearch } from './routed-search.ts';
import type { Route, Routing } from './routing.ts';
import { improveWindows } from './windows.ts';

/** The cheapest route found. */
export interface FewestWrong {
  /** Null when nothing was found in the steps given. */
  readonly route: Route | null;
  readonly cost: number;
  readonly lowerBound: number;
  /** Whether it is refuted that there is any route. */
  readonly isImpossible: boolean;
}

/** What {@link fewestWrong} may be told. */
export interface FewestWrongOptions {
  /** A route to begin near. */
  readonly near?: Route;
  /** Told each better route, with what is proven so far. */
  readonly onBest?: (route: Route, cost: number, lowerBound: number) => void;
}

/** Shares of the steps: for the first look whether all can be met, for each later one, and for each turn of improving. */
const FIRST_SHARE = 0.6;
const CORE_SHARE = 0.1;
const TURN_SHARE = 0.1;

export function fewestWrong(routing: Routing, budget: Budget, options: FewestWrongOptions = {}): FewestWrong {
  const search = new RoutedSearch(routing, budget);
  let told = Infinity;
  const tell = (): void => {
    if (search.best === null || search.cost >= told) return;
    told = search.cost;
    options.onBest?.(search.best, search.cost, search.lowerBound);
  };
  const whole = budget.left;
  if (options.near !== undefined) search.take(options.near);
  if (!search.isProven) findFirst();
  tell();
  while (search.best !== null && !search.isProven && !budget.isOver) {
    const before = search.cost;
    if (search.isCountable) {
      search.improve(budget.part(whole * TURN_SHARE));
      tell();
      if (search.isProven || budget.isOver) break;
    }
    const improved = improveWindows(routing, search.best, budget.part(whole * TURN_SHARE));
    if (improved !== null) search.take(improved);
    tell();
    if (!search.isCountable && search.cost === before) break;
  }
  return {
    route: search.best,
    cost: search.cost,
    lowerBound: isRuleNarrowed(routing.top, routing.strings) ? 0 : search.lowerBound,
    isImpossible: search.isImpossible,
  };

  function findFirst(): void {
    let verdict = search.meetAssumed(budget.part(whole * FIRST_SHARE));
    if (verdict !== 'met' && !search.isImpossible) {
      search.findAny(budget);
      tell();
    }
    while (verdict === 'refuted' && !search.isImpossible && !budget.isOver) {
      search.takeOutCore(budget);
      verdict = search.meetAssumed(budget.part(whole * CORE_SHARE));
    }
  }
}
