/** The two half hitches of a knot: what lies over what, read from the curves and the order in which they are drawn. */
import { describe, expect, it } from 'vitest';
import { type Curve, weave } from '../../../engine/index.ts';
import { halfHitch, hitchWays } from '../../../web/icons/half-hitch.ts';
import { HITCH_SIZE, hitchDrawing } from '../../../web/icons/hitch-drawing.ts';
import { readBoard } from '../../support/own-board.ts';
import { elementsOf } from '../../support/template-elements.ts';

const KINDS = ['f', 'b', 'fb', 'bf'] as const;
type Point = readonly [x: number, y: number];

/** Points along a curve, close together. */
function pointsOn(curve: Curve): readonly Point[] {
  const points: Point[] = [];
  for (let at = 0; at + 7 < curve.length; at += 6)
    for (let step = 0; step <= 64; step++) {
      const [u, v] = [step / 64, 1 - step / 64];
      const value = (axis: number): number =>
        v ** 3 * curve[at + axis]! +
        3 * v * v * u * curve[at + 2 + axis]! +
        3 * v * u * u * curve[at + 4 + axis]! +
        u ** 3 * curve[at + 6 + axis]!;
      points.push([value(0), value(1)]);
    }
  return points;
}

/** Whether two stretches cross, ends that touch left out. */
function cross([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): boolean {
  const side = ([x0, y0]: Point, [x1, y1]: Point, [x, y]: Point): number =>
    Math.sign((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0));
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

const pairs = (points: readonly Point[]): readonly (readonly [Point, Point])[] =>
  points.slice(1).map((point, at) => [points[at]!, point]);
const meet = (one: Curve, other: Curve): boolean =>
  pairs(pointsOn(one)).some((a) => pairs(pointsOn(other)).some((b) => cross(a, b)));

/** What the string that ties does, from where it comes to its end: over or behind the carrier, over itself. */
function storyOf(way: 'left' | 'right', isSecond: boolean): readonly string[] {
  const parts = halfHitch(way, isSecond);
  const carrier = parts.findIndex(({ of }) => of === 'carrier');
  const own = parts.flatMap(({ of, curve }, layer) => (of === 'knotting' ? [{ curve, layer }] : []));
  const startOf = ({ curve }: { curve: Curve }): string => curve.slice(0, 2).join();
  const endOf = ({ curve }: { curve: Curve }): string => curve.slice(-2).join();
  // The stretch that none leads to comes first; of a second hitch the one that is tight.
  const chain = [own.find((one) => own.every((other) => endOf(other) !== startOf(one)))!];
  for (let next = own.find((one) => startOf(one) === endOf(chain.at(-1)!)); next !== undefined; ) {
    chain.push(next);
    next = own.find((one) => startOf(one) === endOf(chain.at(-1)!));
  }
  const story: string[] = [];
  for (const [at, { curve, layer }] of chain.entries()) {
    // A hair beside the middle, where no two stretches of a curve are joined.
    if (
      meet(
        curve,
        parts[carrier]!.curve.map((value, i) => (i % 2 === 0 ? value + 0.37 : value)),
      )
    )
      story.push(layer > carrier ? 'over' : 'behind');
    for (const before of chain.slice(0, at))
      if (meet(curve, before.curve))
        story.push(layer > before.layer ? 'out over itself' : 'out under itself');
  }
  return story;
}

describe('a knot as the hand makes it', () => {
  it.each(['left', 'right'] as const)(
    '[N70] a half hitch to the %s goes over the carrier, behind it, and out through the loop over itself',
    (way) => {
      expect(storyOf(way, false)).toEqual(['over', 'behind', 'out over itself']);
      const again = halfHitch(way, true);
      const tight = again.filter(({ of }) => of === 'knotting')[1]!;
      // The one before is tight: straight across, above, and not in the way.
      expect(Math.max(...pointsOn(tight.curve).map(([, y]) => y))).toBeLessThan(20);
      expect(halfHitch(way).length).toBe(again.length - 1);
      const first = pointsOn(
        halfHitch(way).find(({ curve }) => curve[1] === 0 && curve[0] !== 50)!.curve,
      )[0]!;
      expect(first[0] < 50).toBe(way === 'right');
    },
  );

  it('[N70] the first goes from the string that shows, the second back exactly where the two do not change places', () => {
    for (const kind of KINDS) {
      const { pattern } = readBoard({
        format: 'larkboard',
        version: 1,
        palette: [
          { id: 'a', name: 'a', hex: '#101010' },
          { id: 'b', name: 'b', hex: '#f0f0f0' },
        ],
        strings: ['a', 'b'],
        rows: [kind],
      });
      const { shown, finalOrder } = weave(pattern);
      const [first, second] = hitchWays(kind);
      expect(first, kind).toBe(shown[0]![0] === 0 ? 'right' : 'left');
      expect(first === second, kind).toBe(finalOrder[0] === 1);
    }
  });

  it('[N70] drawn, both half hitches lie in the picture, the first one is read first, and turned by half its numbers stand upright', () => {
    for (const isTurned of [false, true])
      for (const isTall of [false, true]) {
        const drawing = hitchDrawing('A knot by hand', {
          kind: 'fb',
          knotting: '#111111',
          carrier: '#eeeeee',
          isTurned,
          isTall,
        });
        const [svg, , ...rest] = elementsOf(drawing);
        const size = isTall ? [HITCH_SIZE.height, HITCH_SIZE.width] : [HITCH_SIZE.width, HITCH_SIZE.height];
        expect(svg!.attributes.viewBox).toBe(`0 0 ${size.join(' ')}`);
        const at = rest
          .filter(({ attributes }) => attributes.class === 'hitch')
          .map(({ attributes }) =>
            /translate\((\d+) (\d+)\)/.exec(attributes.transform!)!.slice(1).map(Number),
          );
        expect(at).toHaveLength(2);
        const along = isTall ? 1 : 0;
        expect(at[0]![along]! < at[1]![along]!).toBe(!isTurned);
        for (const [x, y] of at) expect([x! + 100 <= size[0]!, y! + 100 <= size[1]!]).toEqual([true, true]);
        const numbers = rest.filter(({ tag }) => tag === 'text');
        expect(numbers.map(({ words }) => words)).toEqual(['1', '2']);
        for (const { attributes } of numbers)
          expect(attributes.transform?.startsWith('rotate(180') ?? false).toBe(isTurned);
      }
  });
});
