import { describe, expect, it } from 'vitest';
import { planMount } from '../../../engine/index.ts';
import { headHeight, headLayout, isStrip, PEG_HEIGHT } from '../../../web/board/head-layout.ts';

describe('arcs', () => {
  it('[B71] an outer arc rises above those inside it; side by side they are level', () => {
    const { folds } = planMount(['a', 'b', 'c', 'c', 'b', 'a', 'd', 'd']);
    const { rises } = headLayout(folds);
    const rise = (left: number): number => rises[folds.findIndex((fold) => fold.left === left)] as number;
    expect(rise(0)).toBeGreaterThan(rise(1));
    expect(rise(1)).toBeGreaterThan(rise(2));
    expect(rise(6)).toBe(rise(2));
  });

  it('[B71] arcs that cross are not of one height, and a hundred nested ones stay low', () => {
    const crossing = planMount(['a', 'b', 'a', 'b']);
    expect(new Set(headLayout(crossing.folds).rises).size).toBe(2);
    const half = Array.from({ length: 50 }, (_, i) => `c${i}`);
    const nested = headLayout(planMount([...half, ...half.toReversed()]).folds);
    expect(headHeight(100, false)).toBeLessThan(260);
    expect(new Set(nested.rises).size).toBe(50);
  });

  it('[B240] the room above the bar has place for any folds that so many strings can have', () => {
    for (const isFolded of [false, true])
      for (let strings = 2; strings <= 40; strings += 1) {
        const half = Array.from({ length: strings >> 1 }, (_, i) => `c${i}`);
        const ways = [[...half, ...half.toReversed()], [...half, ...half], half.flatMap((id) => [id, id])];
        const room = headHeight(strings, isFolded) - PEG_HEIGHT;
        for (const colours of ways)
          for (const rise of headLayout(planMount(colours).folds, isFolded).rises)
            expect(rise).toBeLessThanOrEqual(room - 8);
      }
  });

  it('[B242] on a phone and on a low stage they fold to a strip, where an outer one still lies above those inside it', () => {
    expect([360, 640, 641, 1400].map((width) => isStrip({ width, height: 800 }))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([300, 499, 500].map((height) => isStrip({ width: 1400, height }))).toEqual([true, true, false]);
    expect(headHeight(40, true)).toBeLessThanOrEqual(70);
    const { rises } = headLayout(planMount(['a', 'b', 'c', 'c', 'b', 'a']).folds, true);
    expect(new Set(rises).size).toBe(3);
  });
});
