/** Pictures of the chart's knots, drawn once and copied; textures in them and along strings. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { HITCH_STROKES, inkOn, TEXTURE_MARKS } from '../../../engine/index.ts';
import { KnotSprites, MOST_SPRITES, roundedLozenge } from '../../../web/board/knot-sprites.ts';
import { drawTexture, textureAlong } from '../../../web/board/knot-texture.ts';
import { type Drawn, drawnBy, drawnOn, stubCanvas, stubNoCanvas } from '../../support/recorded-canvas.ts';

beforeEach(stubCanvas);
afterEach(() => vi.unstubAllGlobals());

const RED = '#cc2222';

function spritesAt(unit: number, ratio = 1): KnotSprites {
  const sprites = new KnotSprites();
  sprites.scaleTo(unit, unit * 0.8, ratio);
  return sprites;
}
const picture = (unit: number, knot: number, texture = 0, ratio = 1): readonly Drawn[] =>
  drawnOn(spritesAt(unit, ratio).of(RED, knot, texture));
const sizes = ({ box: [left, top, right, bottom] }: Drawn): readonly number[] => [right - left, bottom - top];

describe('a knot of the chart', () => {
  it('is a lozenge of its colour with the strokes of its half hitches in an ink that shows on it', () => {
    for (const knot of [1, 2, 3, 4]) {
      const all = picture(20, knot, 0, 2);
      expect([all[0]!.how, all[0]!.colour, all[0]!.alpha]).toEqual(['fill', RED, 1]);
      const hitches = all.at(-1)!;
      expect([hitches.colour, hitches.cap]).toEqual([inkOn(RED), 'round']);
      const [x, y] = [41, 33];
      const wanted = HITCH_STROKES[knot]!.flatMap(([x0, y0, x1, y1]) => [
        [x + x0 * 40, y + y0 * 32],
        [x + x1 * 40, y + y1 * 32],
      ]);
      expect([knot, hitches.points]).toEqual([knot, wanted]);
    }
  });

  it('[B274] the smallest that has strokes still shows a bend as two, more than a pixel apart', () => {
    for (const knot of [3, 4]) {
      const hitches = picture(9, knot).at(-1)!;
      const [, [, above], [, below]] = hitches.points as [unknown, [number, number], [number, number]];
      expect(below - above - hitches.width!).toBeGreaterThan(1);
    }
  });

  it('from further away has no strokes and one picture for all kinds, then no edge either', () => {
    expect(picture(9, 1).map(({ how }) => how)).toEqual(['fill', 'stroke', 'stroke']);
    expect(picture(8.9, 2).map(({ how }) => how)).toEqual(['fill', 'stroke']);
    const far = spritesAt(8);
    expect(far.of(RED, 2)).toBe(far.of(RED, 1));
    expect(picture(5.9, 2).map(({ how }) => how)).toEqual(['fill']);
  });

  it('leaves a line of ground around it near, and none far away, where lines of ground would shimmer', () => {
    const [near] = picture(20, 1);
    expect(sizes(near!)[0]).toBeLessThan(40);
    const [far] = picture(5, 1);
    expect(sizes(far!)[0]).toBeGreaterThan(10);
  });

  it('a texture is drawn within it, near enough, over its colour and under its strokes', () => {
    const all = picture(20, 1, 1);
    const lines = all.filter(({ clip }) => clip !== null);
    expect(lines.length).toBeGreaterThan(0);
    expect(lines[0]!.clip).toEqual(all[0]!.box);
    expect([all.indexOf(lines[0]!) > 0, all.at(-1)!.clip]).toEqual([true, null]);
    expect(picture(5, 1, 1)).toEqual(picture(5, 1));
  });

  it('is drawn once at a scale for each colour, kind and texture', () => {
    const sprites = spritesAt(20);
    const one = sprites.of(RED, 1);
    sprites.scaleTo(20, 16, 1);
    expect(sprites.of(RED, 1)).toBe(one);
    for (const other of [sprites.of(RED, 2), sprites.of('#2244cc', 1), sprites.of(RED, 1, 3)])
      expect(other).not.toBe(one);
    for (const [unit, row, ratio] of [
      [21, 16, 1],
      [20, 17, 1],
      [20, 16, 2],
    ] as const) {
      const again = spritesAt(20);
      const canvas = again.of(RED, 2);
      again.scaleTo(unit, row, ratio);
      // Drawn anew, on the canvas that is there.
      expect(again.of(RED, 1)).toBe(canvas);
      const fresh = new KnotSprites();
      fresh.scaleTo(unit, row, ratio);
      expect(drawnOn(canvas)).toEqual(drawnOn(fresh.of(RED, 1)));
      expect(again.of(RED, 2)).not.toBe(canvas);
      expect([again.width, again.height]).toEqual([2 * unit + 2 / ratio, 2 * row + 2 / ratio]);
      expect(again.of(RED, 1)).toMatchObject({ width: again.width * ratio, height: again.height * ratio });
    }
  });

  it('too many colours at once are forgotten', () => {
    const sprites = spritesAt(5);
    const hex = (i: number): string => `#${i.toString(16).padStart(6, '0')}`;
    const first = sprites.of(hex(0), 1);
    for (let i = 1; i < MOST_SPRITES; i++) sprites.of(hex(i), 1);
    expect(sprites.of(hex(0), 1)).toBe(first);
    sprites.of(hex(MOST_SPRITES), 1);
    expect(sprites.of(hex(0), 1)).not.toBe(first);
  });

  it('where the browser gives no canvas it is said, not drawn blank', () => {
    stubNoCanvas();
    expect(() => spritesAt(20).of(RED, 1)).toThrow('no canvas');
  });

  it('its outline goes round by the middles of its sides and keeps to its half width and height', () => {
    const [outline] = drawnBy((context) => context.fill(roundedLozenge(10, 8, 2)));
    expect(outline!.box).toEqual([-10, -8, 10, 8]);
    expect(outline!.points.at(-1)).toEqual(outline!.points[0]);
  });
});

describe('textures', () => {
  const inLozenge = (number: number): readonly Drawn[] =>
    drawnBy((context) => {
      drawTexture(context, number, RED, 20, 16);
      context.fillRect(0, 0, 1, 1);
    });
  const along = (number: number, wide = 10): readonly Drawn[] =>
    drawnBy((context) => {
      const path = new Path2D();
      path.lineTo(0, 50);
      textureAlong(context, path, number, RED, wide);
      context.stroke(path);
    });

  it('in a knot are the marks of the engine, half seen, in an ink that shows on the colour', () => {
    for (const [number, { lines, dots }] of TEXTURE_MARKS.entries()) {
      const [stroked, filled, after] = inLozenge(number);
      expect(stroked!.points).toEqual(
        lines.flatMap(([x0, y0, x1, y1]) => [
          [x0 * 20, y0 * 16],
          [x1 * 20, y1 * 16],
        ]),
      );
      expect([number, stroked!.colour, stroked!.alpha]).toEqual([number, inkOn(RED), 0.55]);
      // Each dot is where the path moves to and the two corners around it.
      const round = filled!.points.filter((_, i) => i % 3 !== 0);
      const middles = dots.map((_, i) =>
        [0, 1].map((at) => (round[2 * i]![at]! + round[2 * i + 1]![at]!) / 2),
      );
      expect(middles).toEqual(dots.map(([x, y]) => [expect.closeTo(x * 20, 9), expect.closeTo(y * 16, 9)]));
      expect(filled!.points.length).toBe(3 * dots.length);
      // What is drawn next is not half seen.
      expect(after!.alpha).toBe(1);
    }
  });

  it('that are none are our own fault', () => {
    expect(() => inLozenge(7)).toThrow('no texture 7');
    expect(() => inLozenge(-1)).toThrow(RangeError);
  });

  it('along a string all differ, and what is drawn next is plain again', () => {
    const looks = [1, 2, 3, 4, 5, 6].map((number) => {
      const [texture, after] = along(number);
      expect([texture!.colour, texture!.width <= 8]).toEqual([inkOn(RED), true]);
      expect([after!.dash, after!.alpha, after!.cap]).toEqual([[], 1, 'butt']);
      return [...texture!.dash, texture!.width, texture!.cap].join(' ');
    });
    expect(new Set(looks).size).toBe(6);
    // Dots are round; dashes grow with the string.
    expect([along(2)[0]!.cap, along(1)[0]!.cap]).toEqual(['round', 'butt']);
    expect(along(4, 20)[0]!.dash).toEqual(along(4)[0]!.dash.map((length) => 2 * length));
  });

  it('along a string are left out where there is none, none of that number, or the string too fine', () => {
    expect(along(0)).toHaveLength(1);
    expect(along(7)).toHaveLength(1);
    expect([along(1, 2.9).length, along(1, 3).length]).toEqual([1, 2]);
  });
});
