import { describe, expect, it } from 'vitest';
import { planMount } from '../../../engine/index.ts';
import { headLayout } from '../../../web/board/head-layout.ts';

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
    expect(nested.height).toBeLessThan(260);
    expect(new Set(nested.rises).size).toBe(50);
  });
});
