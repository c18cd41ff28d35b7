/** The route that takes no search: strings hang straight, kept knots apart. */
import { describe, expect, it } from 'vitest';
import { plainRoute } from '../../../engine/solve/plain-route.ts';
import { routing } from '../../support/routing.ts';

const hanging = (route: Uint8Array | null, strings: number): readonly string[] | null =>
  route === null
    ? null
    : Array.from({ length: route.length / strings }, (_, row) =>
        route.subarray(row * strings, (row + 1) * strings).join(''),
      );

describe('a route without a search', () => {
  it('all hang straight in the colour that most knots want, or as they are given at the top', () => {
    const wishes = [[2, 2], [1], [0, 2]];
    expect(hanging(plainRoute(routing(4, wishes)), 4)).toEqual(['2222', '2222', '2222', '2222']);
    const given = routing(4, wishes, { top: { given: [0, 1, 2, 1] } });
    expect(hanging(plainRoute(given), 4)).toEqual(['0121', '0121', '0121', '0121']);
  });

  it('a kept knot that crosses its strings lets them cross, one that turns back does not', () => {
    const wishes = [[-1, -1], [-1], [-1, -1]];
    const kept = [[1, 3], [4], [255, 2]];
    const route = plainRoute(routing(4, wishes, { kept, top: { given: [0, 1, 2, 1] } }));
    expect(hanging(route, 4)).toEqual(['0121', '1021', '1021', '1012']);
  });

  it('there is none where it matters what hangs below, or where one colour breaks the rule for odd counts', () => {
    const wishes = [
      [0, 0],
      [0, 0],
    ];
    expect(plainRoute(routing(4, wishes, { bottom: [0, 0, 0, 0] }))).toBeNull();
    expect(plainRoute(routing(4, wishes, { seam: 0 }))).toBeNull();
    expect(plainRoute(routing(5, wishes, { top: { mostOdd: 0 } }))).toBeNull();
    expect(plainRoute(routing(5, wishes, { top: { mostOdd: 1 } }))).toHaveLength(15);
    expect(plainRoute(routing(4, wishes, { top: { mostOdd: 0 } }))).toHaveLength(12);
    expect(plainRoute(routing(5, wishes, { top: { mostOdd: 0, given: [0, 0, 1, 1, 1] } }))).not.toBeNull();
  });
});
