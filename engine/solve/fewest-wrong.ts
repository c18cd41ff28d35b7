/**
 * The cheapest route that counted steps find. Boards of moderate size are searched whole; parts of the best route are searched again where
 * that stalls. Large boards are begun in parts, from the top, each with a look ahead.
 */
import { beginInParts } from './begin-in-parts.ts';
import type { Budget } from './budget.ts';
import { PartsInTurn } from './improve-parts.ts';
import { isRuleNarrowed } from './order-clauses.ts';
import { RoutedSearch } from './routed-search.ts';
import { costOf, type Route, type Routing } from './routing.ts';

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
const CORE_SHARE = 0.02;
const TURN_SHARE = 0.1;
/** Places, rows and colours multiplied: beyond the one a board is begun in parts, beyond the other it is never searched whole. */
const LARGE = 40_000;
const HUGE = 150_000;
/** Shares of the steps on a large board. */
const LARGE_FIRST_SHARE = 0.25;
/** Steps of the first look at a large board, as a multiple of those that it takes to write its clauses. */
const LARGE_FIRST_LOOK = 3;
const LARGE_BEGIN_SHARE = 0.7;

/**
 * The cheapest route that the budget allows. Where it is proven, nothing cheaper is left: all wishes are met, or the search for a cheaper route
 * was exhausted, or wishes that conflict cost as much.
 */
export function fewestWrong(routing: Routing, budget: Budget, options: FewestWrongOptions = {}): FewestWrong {
  const size = routing.strings * (routing.rows + 1) * routing.colours;
  const search = new BestRoute(routing, size > HUGE ? null : new RoutedSearch(routing, budget), options);
  if (options.near !== undefined) search.take(options.near);
  if (size > LARGE) search.beginLarge(budget);
  else search.begin(budget);
  search.improve(budget);
  return search.found;
}

/** The best route so far, from the search of the whole or of parts. */
class BestRoute {
  readonly #routing: Routing;
  /** Null where the board is never searched whole. */
  readonly #whole: RoutedSearch | null;
  readonly #onBest: FewestWrongOptions['onBest'];
  #route: Route | null = null;
  #cost = Infinity;

  constructor(routing: Routing, whole: RoutedSearch | null, { onBest }: FewestWrongOptions) {
    this.#routing = routing;
    this.#whole = whole;
    this.#onBest = onBest;
  }

  get #lowerBound(): number {
    const { top, strings } = this.#routing;
    return this.#whole === null || isRuleNarrowed(top, strings) ? 0 : this.#whole.lowerBound;
  }

  get found(): FewestWrong {
    return {
      route: this.#route,
      cost: this.#cost,
      lowerBound: this.#lowerBound,
      isImpossible: this.#whole?.isImpossible === true,
    };
  }

  /** Takes a route found elsewhere, where it is better. */
  take(route: Route): void {
    this.#whole?.take(route);
    this.#note(route, costOf(this.#routing, route));
  }

  begin(budget: Budget): void {
    const whole = this.#whole!;
    if (whole.isProven) return;
    const steps = budget.left;
    let verdict = whole.meetAssumed(budget.part(steps * FIRST_SHARE));
    if (verdict !== 'met' && !whole.isImpossible) {
      whole.findAny(budget);
      this.#noteWhole();
    }
    while (verdict === 'refuted' && !whole.isImpossible && !whole.isProven && !budget.isOver) {
      whole.takeOutCore(budget);
      verdict = whole.meetAssumed(budget.part(steps * CORE_SHARE));
    }
    this.#noteWhole();
  }

  beginLarge(budget: Budget): void {
    const whole = this.#whole;
    const steps = budget.left;
    if (whole !== null) {
      if (whole.isProven) return;
      const verdict = whole.meetAssumed(
        budget.part(Math.min(steps * LARGE_FIRST_SHARE, LARGE_FIRST_LOOK * whole.size)),
      );
      this.#noteWhole();
      if (whole.isImpossible || whole.isProven) return;
      if (verdict === 'refuted') whole.takeOutCore(budget);
    }
    const begun = beginInParts(this.#routing, budget.part(steps * LARGE_BEGIN_SHARE));
    if (begun !== null) this.take(begun);
    else if (whole !== null) {
      whole.findAny(budget);
      this.#noteWhole();
    }
  }

  /** Looks for better routes until the best is proven or the budget is used up: in the whole and in parts by turns, ever larger ones. */
  improve(budget: Budget): void {
    const turn = budget.left * TURN_SHARE;
    const whole = this.#whole;
    // Cores that are large and many raise the bound by little; then the steps serve better routes.
    let isBoundRising = true;
    const parts = new PartsInTurn(this.#routing);
    while (this.#route !== null && !budget.isOver) {
      if (whole?.isCountable === true) whole.improve(budget.part(turn));
      this.#noteWhole();
      if (this.#cost <= this.#lowerBound) return;
      const mayGoOn = parts.improve(this.#route, budget.part(turn), (route) => this.take(route));
      if (whole !== null && isBoundRising && this.#cost > this.#lowerBound) {
        const bound = whole.lowerBound;
        whole.raiseBound(budget.part(turn));
        isBoundRising = whole.lowerBound > bound;
        this.#noteWhole();
      }
      if (this.#cost <= this.#lowerBound || !mayGoOn) return;
    }
  }

  #noteWhole(): void {
    if (this.#whole?.best != null) this.#note(this.#whole.best, this.#whole.cost);
  }

  #note(route: Route, cost: number): void {
    if (cost >= this.#cost) return;
    this.#route = route;
    this.#cost = cost;
    this.#onBest?.(route, cost, this.#lowerBound);
  }
}
