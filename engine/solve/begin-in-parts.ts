/** A first route for a large board: some rows at a time, from the top, each time with rows further down looked at before any are settled. */
import type { Budget } from './budget.ts';
import { plainRoute } from './plain-route.ts';
import { RoutedSearch } from './routed-search.ts';
import { type Route, type Routing, windowOf } from './routing.ts';

/** Rows that are searched at once: where that takes too long, the next fewer; the first number is left out for many strings. */
const SEEN_ROWS = [24, 16, 10] as const;
const MANY_STRINGS = 40;
/** Rows that are settled at a time, half of those seen at most. */
const SETTLED_ROWS = 8;

/** A route, or null where the rows below cannot follow what was settled above, or the budget is used up. */
export function beginInParts(routing: Routing, budget: Budget): Route | null {
  const { strings, rows, seam } = routing;
  const route: Route = new Uint8Array((rows + 1) * strings);
  // Any order can become any other in as many rows as there are strings, so that the last part can meet what must hang below.
  const reach = routing.bottom !== null || seam >= 0 ? strings + 2 : 0;
  const sizes = SEEN_ROWS.slice(strings > MANY_STRINGS ? 1 : 0);
  for (let from = 0; from < rows; ) {
    let found: Route | null = null;
    let settled = 0;
    for (const size of sizes) {
      const isLast = from + size + Math.max(reach, SETTLED_ROWS) > rows;
      const to = isLast ? rows : from + size;
      if (isLast && seam >= 0) route.copyWithin(rows * strings, seam * strings, (seam + 1) * strings);
      const window = windowOf(routing, from, to, {
        above: from > 0 ? route : null,
        below: isLast && seam >= 0 && from > 0 ? route : null,
      });
      settled = isLast ? rows - from : Math.min(SETTLED_ROWS, size >> 1);
      // Parts differ; so each may take as much as three would, and what it leaves serves the next.
      const share = budget.left * Math.min(1, (3 * SETTLED_ROWS) / (rows - from));
      found = bestOf(window, budget.part(share)) ?? (size === sizes.at(-1) ? plainRoute(window) : null);
      if (found !== null) break;
    }
    if (found === null) return null;
    route.set(found, from * strings);
    from += settled;
  }
  return route;
}

/** The best route of a window that a budget finds. */
function bestOf(window: Routing, budget: Budget): Route | null {
  const search = new RoutedSearch(window, budget);
  search.raiseBound(budget.part(budget.left * 0.8));
  if (search.best !== null && !search.isProven && search.isCountable) search.improve(budget);
  return search.best;
}
