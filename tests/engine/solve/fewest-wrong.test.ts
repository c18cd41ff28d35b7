/** Boards too large to be searched whole, and what is told of them. */
import { describe, expect, it } from 'vitest';
import { Budget } from '../../../engine/solve/budget.ts';
import { fewestWrong } from '../../../engine/solve/fewest-wrong.ts';
import { plainRoute } from '../../../engine/solve/plain-route.ts';
import { costOf } from '../../../engine/solve/routing.ts';
import { routing } from '../../support/routing.ts';

/** Knots that want one colour, and every seventh row another. */
const striped = (strings: number, rows: number): number[][] =>
  Array.from({ length: rows }, (_, row) => Array(strings >> 1).fill(row % 7 === 0 ? 1 : 0));

describe('a board that is never searched whole', () => {
  const huge = routing(60, striped(60, 330), { colours: 8 });

  it('[Z17] has an answer from its parts, of which nothing is proven', () => {
    const costs: number[] = [];
    const { route, cost, lowerBound, isImpossible } = fewestWrong(huge, new Budget(3_000_000), {
      onBest: (_, best) => costs.push(best),
    });
    expect(costOf(huge, route!)).toBe(cost);
    expect(cost).toBeLessThanOrEqual(costOf(huge, plainRoute(huge)!));
    expect(costs.at(-1)).toBe(cost);
    expect([lowerBound, isImpossible]).toEqual([0, false]);
  });

  it('keeps the route that it was to begin near, where the steps find none better', () => {
    const near = plainRoute(huge)!;
    expect(fewestWrong(huge, new Budget(0), { near })).toMatchObject({
      route: near,
      cost: costOf(huge, near),
    });
  });
});

describe('a large board', () => {
  const strings = 60;
  const rows = 84;

  it('that its rules forbid is told to be impossible, in place of a route', () => {
    // Turned back in every row, nothing can come to hang otherwise than at the top.
    const kept = Array.from({ length: rows }, () => Array(strings >> 1).fill(3));
    const given = Array.from({ length: strings }, (_, at) => at % 2);
    const told = fewestWrong(
      routing(strings, striped(strings, rows), {
        colours: 8,
        kept,
        top: { given },
        bottom: given.toReversed(),
      }),
      new Budget(40_000_000),
    );
    expect(told).toMatchObject({ route: null, isImpossible: true });
  });

  it('that a route meets from the start is proven without a step', () => {
    const plain = routing(
      strings,
      Array.from({ length: rows }, () => Array(strings >> 1).fill(5)),
      { colours: 8 },
    );
    const near = plainRoute(plain)!;
    expect(fewestWrong(plain, new Budget(40_000_000), { near })).toEqual({
      route: near,
      cost: 0,
      lowerBound: 0,
      isImpossible: false,
    });
  });
});
