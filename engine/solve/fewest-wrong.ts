/**
 * The cheapest route that counted steps find. Boards of moderate size are searched whole; parts of the best route are searched again where
 * that stalls. Large boards are begun in parts, from the top, each with a look ahead.
 */
import type { Budget } from './budget.ts';
import { isRuleNarrowed } from './order-clauses.ts';
import { RoutedSearch } from './routed-search.ts';
import type { Route, Routing } from './routing.ts';
import { improveWindows } from './windows.ts';

export interface FewestWrong {
  /** Null when nothing was found in the steps given. */
  readonly route: Route | null;
  readonly cost: number;
  readonly lowerBound: number;
  readonly isImpossible: boolean;
}

export function fewestWrong(
  routing: Routing,
  budget: Budget,
  onBest: (route: Route, cost: number, lowerBound: number) => void = () => {},
): FewestWrong {
  const search = new RoutedSearch(routing, budget);
  let told = Infinity;
  const tell = (): void => {
    if (search.best === null || search.cost >= told) return;
    told = search.cost;
    onBest(search.best, search.cost, search.lowerBound);
  };
  const whole = budget.left;
  let verdict = search.meetAssumed(budget.part(whole * 0.6));
  if (verdict !== 'met' && !search.isImpossible) {
    search.findAny(budget);
    tell();
  }
  while (verdict === 'refuted' && !search.isImpossible && !budget.isOver) {
    search.takeOutCore(budget);
    verdict = search.meetAssumed(budget.part(whole * 0.3));
  }
  tell();
  while (search.best !== null && !search.isProven && !budget.isOver) {
    if (search.isCountable) {
      search.improve(budget.part(whole * 0.15));
      tell();
      if (search.isProven || budget.isOver) break;
    }
    const improved = improveWindows(routing, search.best, budget.part(whole * 0.15));
    if (improved !== null) {
      search.take(improved);
      tell();
    } else if (!search.isCountable) break;
  }
  return {
    route: search.best,
    cost: search.cost,
    lowerBound: isRuleNarrowed(routing.top, routing.strings)
      ? Math.min(0, search.lowerBound)
      : search.lowerBound,
    isImpossible: search.isImpossible,
  };
}
