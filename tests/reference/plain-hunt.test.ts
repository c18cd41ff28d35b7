/** Staggered rows of knots that all change places are plain hunt in bell ringing. */
import { describe, expect, it } from 'vitest';
import { patternFromText, repeatCycle, weave } from '../../engine/index.ts';

/** Rows of "forward" over the whole width, alternating the stagger. */
function hunt(strings: number, rows: number) {
  const texts = Array.from({ length: rows }, (_, row) =>
    Array((strings - (row & 1)) >> 1)
      .fill('f')
      .join(' '),
  );
  return patternFromText(Array(strings).fill('a'), texts);
}

describe('plain hunt', () => {
  // Fabian Stedman, Campanalogia (1677): the first eight rows on six bells; the rest from a bell-ringing lesson.
  it.each([
    [6, '123456 214365 241635 426153 462513 645231 654321 563412 536142 351624 315264 132546 123456'],
    [4, '1234 2143 2413 4231 4321 3412 3142 1324 1234'],
  ])('[W2] %i strings stand as the bells do, row by row', (strings, published) => {
    const changes = published.split(' ');
    const woven = weave(hunt(strings, changes.length - 1));
    const orders = [...woven.order, woven.finalOrder].map((order) =>
      Array.from(order, (s) => s + 1).join(''),
    );
    expect(orders).toEqual(changes);
  });

  it('[W4] the strings stand reversed after n rows and are home after 2n', () => {
    for (let n = 2; n <= 40; n += 2) {
      const woven = weave(hunt(n, n));
      expect(Array.from(woven.finalOrder)).toEqual(Array.from({ length: n }, (_, i) => n - 1 - i));
      expect(repeatCycle(hunt(n, n)).strings).toBe(2);
      expect(repeatCycle(hunt(n, 2)).strings).toBe(n);
    }
  });
});
