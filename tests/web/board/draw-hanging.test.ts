/** A board without knots as a picture. */
import { afterEach, expect, it, vi } from 'vitest';
import { drawHanging } from '../../../web/board/draw-hanging.ts';
import { drawnBy } from '../../support/recorded-canvas.ts';

afterEach(() => vi.unstubAllGlobals());

it('[B391] has its bar, and each string with its peg in its colour, in the middle of its box', () => {
  const drawn = drawnBy((context) => drawHanging(context, ['#112233', '#aabbcc'], 100, 60, 20, 'bar'));
  const [bar, ...others] = drawn;
  expect(bar).toMatchObject({ how: 'rect', colour: 'bar' });
  expect(bar!.box[0]).toBeLessThan(40);
  for (const [i, hex] of ['#112233', '#aabbcc'].entries()) {
    const own = others.filter(({ colour }) => colour === hex);
    expect(own.map(({ how }) => how)).toEqual(['rect', 'fill']);
    for (const { box } of own) expect((box[0] + box[2]) / 2).toBe(40 + 20 * i);
    expect(own[0]!.box[3]).toBe(60);
  }
});
