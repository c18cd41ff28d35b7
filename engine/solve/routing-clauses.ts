/** A routing as clauses: one variable for each place before each row and each colour, one for each wish. */
import { isCrossing, isLeftShown, type KnotCode } from '../pattern/index.ts';
import { ClauseSolver, type Weighted } from './clauses/index.ts';
import { addTopRule } from './order-clauses.ts';
import { ANY_COLOUR, ANY_KNOT, eachKnot, type RoutedKnot, type Route, type Routing } from './routing.ts';

/** Up to so many colours each two of them exclude each other in a clause of their own; beyond a chain takes fewer. */
const FEW_COLOURS = 8;

/** A route of which a part may change. */
export interface Held {
  readonly route: Route;
  /** Whether another colour may hang at this place of the route. */
  readonly isFree: (at: number) => boolean;
  /** The colours that may hang there. */
  readonly colours: readonly number[];
}

export class RoutingClauses {
  readonly solver = new ClauseSolver();
  /** Literals that are true where a wish of weight above 0 is met, with that weight. */
  readonly wishes: readonly Weighted[];
  readonly #routing: Routing;

  /** @param held what of a route stays, by which the clauses become fewer */
  constructor(routing: Routing, held: Held | null = null) {
    this.#routing = routing;
    const { strings, rows, colours, top, bottom, seam } = routing;
    const { solver } = this;
    solver.addVariables((rows + 1) * strings * colours);
    if (held !== null) this.#hold(held);
    this.#oneColourEach();
    addTopRule(solver, top, strings, colours, (place, colour) => this.#hangs(0, place, colour));
    bottom?.forEach((colour, place) => {
      solver.add([this.#hangs(rows, place, colour)]);
    });
    if (seam >= 0) for (let place = 0; place < strings; place++) this.#same(seam, place, rows, place);
    for (let row = 0; row < rows; row++) {
      const parity = (routing.start + row) & 1;
      if (parity === 1) this.#same(row, 0, row + 1, 0);
      if (((strings - parity) & 1) === 1) this.#same(row, strings - 1, row + 1, strings - 1);
    }
    const wishes: Weighted[] = [];
    eachKnot(routing, 0, rows, (knot) => {
      this.#tie(knot);
      const met = this.#wish(knot);
      const weight = routing.weights[knot.cell]!;
      if (met !== null && weight > 0) wishes.push({ literal: met, weight });
    });
    this.wishes = wishes;
  }

  /** Lets the search begin near a route. */
  beginAt(route: Route): void {
    const { colours } = this.#routing;
    const { phase } = this.solver;
    route.forEach((hung, at) => {
      for (let colour = 0; colour < colours; colour++) phase[at * colours + colour] = hung === colour ? 1 : 0;
    });
    for (const { literal } of this.wishes) phase[literal >> 1] = 1;
  }

  /** Where the colours hang by what the last search found. */
  readRoute(): Route {
    const { strings, rows, colours } = this.#routing;
    const route = new Uint8Array((rows + 1) * strings);
    const { values } = this.solver;
    for (let at = 0; at < route.length; at++) {
      let colour = 0;
      while (colour < colours && values[at * colours + colour] !== 1) colour++;
      route[at] = colour;
    }
    return route;
  }

  #hangs(row: number, place: number, colour: number): number {
    const { strings, colours } = this.#routing;
    return 2 * ((row * strings + place) * colours + colour);
  }

  #hold({ route, isFree, colours: allowed }: Held): void {
    const { colours } = this.#routing;
    route.forEach((hung, at) => {
      if (!isFree(at)) this.solver.add([2 * (at * colours + hung)]);
      for (let colour = 0; colour < colours; colour++) {
        const isOut = isFree(at) ? !allowed.includes(colour) : colour !== hung;
        if (isOut) this.solver.add([2 * (at * colours + colour) + 1]);
      }
    });
  }

  #oneColourEach(): void {
    const { strings, rows, colours } = this.#routing;
    const { solver } = this;
    for (let row = 0; row <= rows; row++)
      for (let place = 0; place < strings; place++) {
        const literals = Array.from({ length: colours }, (_, colour) => this.#hangs(row, place, colour));
        solver.add(literals);
        if (colours <= FEW_COLOURS)
          literals.forEach((one, i) => {
            for (let j = i + 1; j < colours; j++) solver.add([one ^ 1, literals[j]! ^ 1]);
          });
        else this.#atMostOne(literals);
      }
  }

  /** Sequential counter (Sinz 2005): `before` is true once an earlier literal is. */
  #atMostOne(literals: readonly number[]): void {
    const { solver } = this;
    let before = literals[0]!;
    for (const literal of literals.slice(1)) {
      solver.add([literal ^ 1, before ^ 1]);
      const next = 2 * solver.addVariables(1);
      solver.add([before ^ 1, next]);
      solver.add([literal ^ 1, next]);
      before = next;
    }
  }

  #same(row: number, place: number, otherRow: number, otherPlace: number): void {
    for (let colour = 0; colour < this.#routing.colours; colour++) {
      const one = this.#hangs(row, place, colour);
      const other = this.#hangs(otherRow, otherPlace, colour);
      this.solver.add([one ^ 1, other]);
      this.solver.add([one, other ^ 1]);
    }
  }

  /** The same two colours hang above and below a knot; a kept one says where. */
  #tie({ row, cell, place }: RoutedKnot): void {
    const kept = this.#routing.kept[cell]!;
    if (kept !== ANY_KNOT) {
      const isExchange = isCrossing(kept as KnotCode);
      this.#same(row, place, row + 1, isExchange ? place + 1 : place);
      this.#same(row, place + 1, row + 1, isExchange ? place : place + 1);
      return;
    }
    const { solver } = this;
    for (let colour = 0; colour < this.#routing.colours; colour++) {
      const above = [this.#hangs(row, place, colour), this.#hangs(row, place + 1, colour)] as const;
      const below = [this.#hangs(row + 1, place, colour), this.#hangs(row + 1, place + 1, colour)] as const;
      for (const [these, those] of [
        [above, below],
        [below, above],
      ] as const) {
        for (const literal of these) solver.add([literal ^ 1, ...those]);
        for (const literal of those) solver.add([these[0] ^ 1, these[1] ^ 1, literal]);
      }
    }
  }

  /** The literal that a wish is met; null where there is no wish. */
  #wish({ row, cell, place }: RoutedKnot): number | null {
    const { wishes, kept } = this.#routing;
    const wish = wishes[cell]!;
    if (wish === ANY_COLOUR) return null;
    const { solver } = this;
    const left = this.#hangs(row, place, wish);
    const right = this.#hangs(row, place + 1, wish);
    const knot = kept[cell]!;
    if (knot !== ANY_KNOT && knot !== 0) return isLeftShown(knot as KnotCode) ? left : right;
    const met = 2 * solver.addVariables(1);
    solver.phase[met >> 1] = 1;
    if (knot === 0) {
      solver.add([met ^ 1]);
      return met;
    }
    const below = [this.#hangs(row + 1, place, wish), this.#hangs(row + 1, place + 1, wish)] as const;
    solver.add([met ^ 1, left, right]);
    solver.add([met ^ 1, ...below]);
    for (const literal of [left, right, ...below]) solver.phase[literal >> 1] = 1;
    return met;
  }
}
