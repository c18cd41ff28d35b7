/**
 * Searches parts of a route again while the rest stays: rows, blocks of some places in some rows, and two or three colours wherever they
 * hang in some rows (as the swaps of Boykov, Veksler and Zabih 2001 exchange two labels at a time).
 */
import type { Budget } from './budget.ts';
import { RoutedSearch } from './routed-search.ts';
import { costOf, eachKnot, isMet, type Route, type Routing, windowOf } from './routing.ts';
import type { Held } from './routing-clauses.ts';

/** Steps for one part. */
const PART_STEPS = 1_500_000;
/** Cells of the row windows and blocks that are tried one after the other. */
const SIZES = [120, 240] as const;

/** How often parts become twice as large. */
const MOST_EFFORT = 12;

/** A part of the board: rows, and in them places and colours that may change. */
interface Part {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly right: number;
  readonly colours: readonly number[] | null;
}

/** The parts of a board one after the other; those of a turn begin where those of the last ended. */
export class PartsInTurn {
  readonly #routing: Routing;
  /** How often parts and their steps are made twice as large. */
  #effort = 0;
  #parts: Iterator<Part>;
  #hasImproved = false;

  constructor(routing: Routing) {
    this.#routing = routing;
    this.#parts = partsOf(routing, 1);
  }

  /**
   * Tells ever cheaper routes, as far as the budget goes or until all parts were tried; then parts become larger, unless one was made cheaper.
   * False when they cannot become larger.
   */
  improve(route: Route, budget: Budget, onBest: (route: Route) => void): boolean {
    let best = route;
    while (!budget.isOver) {
      const { value: part, done } = this.#parts.next();
      if (done === true) {
        if (!this.#hasImproved && ++this.#effort > MOST_EFFORT) return false;
        this.#hasImproved = false;
        this.#parts = partsOf(this.#routing, 2 ** this.#effort);
        return true;
      }
      if (costWithin(this.#routing, best, part) === 0) continue;
      const improved = improvePart(this.#routing, best, part, budget.part(PART_STEPS * 2 ** this.#effort));
      if (improved === null) continue;
      this.#hasImproved = true;
      best = improved;
      onBest(best);
    }
    return true;
  }
}

function* partsOf({ strings, rows, colours }: Routing, scale: number): Generator<Part> {
  const whole = { left: 0, right: strings, colours: null };
  for (const base of SIZES) {
    const size = base * scale;
    yield* rowParts(rows, Math.max(4, Math.ceil(size / strings)), whole);
    const width = Math.min(strings, 8);
    const height = Math.ceil(size / width);
    for (let left = 0; left < strings - 2 || left === 0; left += width >> 1)
      yield* rowParts(rows, height, { left, right: Math.min(strings, left + width), colours: null });
  }
  for (let a = 0; a < colours; a++)
    for (let b = a + 1; b < colours; b++)
      yield* rowParts(rows, Math.max(10, Math.ceil((1000 * scale) / strings)), { ...whole, colours: [a, b] });
}

function* rowParts(rows: number, height: number, rest: Omit<Part, 'from' | 'to'>): Generator<Part> {
  const step = Math.max(1, height >> 1);
  for (let from = 0; from === 0 || from + step < rows; from += step)
    yield { ...rest, from, to: Math.min(rows, from + height) };
}

/** What the wrong cells of a part weigh, its places alone. */
function costWithin(routing: Routing, route: Route, { from, to, left, right }: Part): number {
  let cost = 0;
  eachKnot(routing, from, to, (knot) => {
    if (knot.place + 1 >= left && knot.place < right && !isMet(routing, route, knot))
      cost += routing.weights[knot.cell]!;
  });
  return cost;
}

function improvePart(routing: Routing, route: Route, part: Part, budget: Budget): Route | null {
  const { strings, rows, seam } = routing;
  const { from, to, left, right } = part;
  const isTopHeld = from > 0 || (seam >= 0 && to < rows);
  const isBottomHeld = to < rows || (seam >= 0 && from > 0);
  const window = windowOf(routing, from, to, {
    above: isTopHeld ? route : null,
    below: isBottomHeld ? route : null,
  });
  const own = route.slice(from * strings, (to + 1) * strings);
  const colours = part.colours ?? Array.from({ length: routing.colours }, (_, colour) => colour);
  const isFree = (at: number): boolean => {
    const place = at % strings;
    return place >= left && place < right && colours.includes(own[at]!);
  };
  const held: Held = { route: own, isFree, colours };
  const search = new RoutedSearch(window, budget, held);
  const before = costOf(window, own);
  search.take(own);
  search.improve(budget);
  if (search.cost >= before) return null;
  const next = route.slice();
  next.set(search.best!, from * strings);
  return next;
}
