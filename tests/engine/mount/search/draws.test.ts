import { describe, expect, it } from 'vitest';
import { Draws } from '../../../../engine/mount/search/draws.ts';

describe('random numbers', () => {
  it.each([0, 1, -1, 7, 2 ** 31 - 1, -(2 ** 31)])(
    'seed %i gives many, the same again, all below the end',
    (seed) => {
      const draw = (): number[] => {
        const draws = new Draws(seed);
        return Array.from({ length: 400 }, () => draws.below(10));
      };
      const drawn = draw();
      expect(draw()).toEqual(drawn);
      expect(drawn.toSorted((a, b) => a - b).filter((value, i, all) => value !== all[i - 1])).toEqual([
        0, 1, 2, 3, 4, 5, 6, 7, 8, 9,
      ]);
    },
  );

  it('other seeds give others', () => {
    const firsts = Array.from({ length: 100 }, (_, seed) => new Draws(seed - 1).next());
    expect(new Set(firsts).size).toBe(100);
  });
});
