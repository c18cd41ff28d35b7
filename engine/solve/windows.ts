/** Searches rows of a route again, with the colours above and below them held. */
import type { Budget } from './budget.ts';
import { RoutedSearch } from './routed-search.ts';
import { costOf, type Route, type Routing, windowOf } from './routing.ts';

/** Steps for one part. */
const WINDOW_STEPS = 4_000_000;

/** A cheaper route, or null where no part of so many rows could be made cheaper within the budget. */
export function improveWindows(routing: Routing, route: Route, budget: Budget): Route | null {
  const { rows, strings } = routing;
  let best = route;
  const heights = [Math.ceil(300 / strings), Math.ceil(600 / strings)].map((h) => Math.max(6, h));
  for (const height of heights) {
    const step = Math.max(1, height >> 1);
    for (let from = 0; from < rows && !budget.isOver; from += step) {
      const to = Math.min(rows, from + height);
      if (from > 0 && to === rows && rows - from < step) break;
      if (costOf(routing, best, from, to) === 0) continue;
      best = improveWindow(routing, best, from, to, budget.part(WINDOW_STEPS)) ?? best;
    }
  }
  return best === route ? null : best;
}

function improveWindow(
  routing: Routing,
  route: Route,
  from: number,
  to: number,
  budget: Budget,
): Route | null {
  const { strings, rows, seam } = routing;
  const isTopHeld = from > 0 || (seam >= 0 && to < rows);
  const isBottomHeld = to < rows || (seam >= 0 && from > 0);
  const part = windowOf(routing, from, to, {
    above: isTopHeld ? route : null,
    below: isBottomHeld ? route : null,
  });
  const search = new RoutedSearch(part, budget);
  const before = costOf(routing, route, from, to);
  search.take(route.slice(from * strings, (to + 1) * strings));
  search.improve(budget);
  if (search.cost >= before) return null;
  const next = route.slice();
  next.set(search.best!, from * strings);
  return next;
}
