/** A teacher's pen: what is drawn over the work, in places of the board. */
import { expect, it } from 'vitest';
import { joinStrokes, mirrorDrawn, mirrorSpot, Pen } from '../../../web/lesson/pen.ts';

function drawing(): { readonly pen: Pen; readonly strokes: (readonly number[])[] } {
  const strokes: (readonly number[])[] = [];
  return { pen: new Pen((stroke) => strokes.push(stroke)), strokes };
}

it('[R54] a line goes out in pieces while it is drawn, each from where the one before ended, two decimals each', () => {
  const { pen, strokes } = drawing();
  pen.down([0, 4], 0);
  for (let n = 1; n <= 300; n++) pen.move([n / 7, 4], n);
  pen.up();
  expect(pen.isDown).toBe(false);
  expect(strokes.length).toBeGreaterThan(2);
  for (const [at, stroke] of strokes.entries()) {
    expect(stroke.length).toBeLessThanOrEqual(200);
    expect(stroke.length % 2).toBe(0);
    for (const one of stroke) expect(one).toBe(Math.round(one * 100) / 100);
    if (at > 0) expect(stroke.slice(0, 2)).toEqual(strokes[at - 1]!.slice(-2));
  }
  expect(strokes.at(-1)!.at(-2)).toBeCloseTo(300 / 7, 1);
  // In one piece again, as far as it may be long.
  expect(joinStrokes(strokes, 10_000)).toHaveLength(1);
  expect(joinStrokes(strokes, 400).every(({ length }) => length <= 400)).toBe(true);
  expect(
    joinStrokes(
      [
        [0, 0, 1, 1],
        [2, 2, 3, 3],
      ],
      400,
    ),
  ).toHaveLength(2);
});

it('[R54] a slow line is seen before it ends; a tremble is one point, a tap a dot', () => {
  const { pen, strokes } = drawing();
  pen.down([1, 1], 0);
  pen.move([2, 1], 100);
  expect(strokes).toEqual([]);
  pen.move([3, 1], 500);
  expect(strokes).toEqual([[1, 1, 2, 1, 3, 1]]);
  pen.move([3.05, 1.05], 600);
  pen.move(null, 700);
  pen.up();
  expect(strokes).toHaveLength(2);
  expect(strokes[1]).toHaveLength(4);
  pen.move([9, 9], 800);
  pen.up();
  expect(strokes).toHaveLength(2);
});

it('[R54] in the mirror strings are counted from the other side, and twice mirrored is as it was', () => {
  const drawn = { strokes: [[0, 2, 1.25, 3]], pointer: [5, 0.5] as const };
  expect(mirrorDrawn(drawn, 6)).toEqual({ strokes: [[5, 2, 3.75, 3]], pointer: [0, 0.5] });
  expect(mirrorDrawn(mirrorDrawn(drawn, 6), 6)).toEqual(drawn);
  expect(mirrorSpot([2, 7], 8)).toEqual([5, 7]);
  expect(mirrorDrawn({ strokes: [], pointer: null }, 6)).toEqual({ strokes: [], pointer: null });
});
