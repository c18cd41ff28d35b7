/** Where the board lies before there is a page. That it lies there in the page too is shown in a browser. */
import { describe, expect, it } from 'vitest';
import { firstStage, firstView } from '../../../web/board/first-view.ts';
import { headHeight } from '../../../web/board/head-layout.ts';

describe('the stage of the board', () => {
  it.each([
    ['a phone', 390, 844],
    ['a phone turned', 844, 390],
    ['a narrow window', 700, 900],
    ['a tablet', 860, 1100],
    ['a small laptop', 1280, 720],
    ['a desktop', 1920, 1200],
    ['next to nothing', 200, 30],
  ])('lies within the window, below its header: %s', (_, width, height) => {
    const { left, top, width: wide, height: high } = firstStage({ width, height });
    expect([left >= 0, wide > 0, left + wide <= width, high >= 0]).toEqual([true, true, true, true]);
    if (height > 100) expect(top + high).toBeLessThanOrEqual(height);
    expect(top).toBeGreaterThanOrEqual(45);
  });

  it('has the whole width of a phone, and of a turned one what its column of tools leaves', () => {
    expect(firstStage({ width: 390, height: 844 })).toEqual({ left: 0, top: 45, width: 390, height: 750 });
    expect(firstStage({ width: 844, height: 390 })).toEqual({ left: 100, top: 45, width: 744, height: 345 });
  });

  it('leaves the panels beside it at least 430 px and at most 600, and the tools a column where there is room', () => {
    const beside = (width: number, height: number): number => {
      const { left, width: wide } = firstStage({ width, height });
      return width - left - wide;
    };
    expect([beside(900, 900), beside(1600, 900), beside(2400, 900)]).toEqual([430, 512, 600]);
    expect([800, 900].map((height) => firstStage({ width: 1440, height }).left)).toEqual([51, 57]);
    expect(firstStage({ width: 1000, height: 900 }).left).toBe(0);
    expect(firstStage({ width: 1000, height: 900 }).height).toBe(900 - 53 - 42 - 98);
  });
});

describe('the board on it', () => {
  const board = { strings: 24, rows: 200 };
  const size = { width: 900.3, height: 600.2 };

  it('shows its bar at the top and all its strings', () => {
    const { x, y, unit } = firstView(size, board, 2, null);
    expect(y).toBe(headHeight(24, false));
    expect([x >= 0, x + 23 * unit <= 901]).toEqual([true, true]);
  });

  it('has a lower head on a small stage', () => {
    expect(firstView({ width: 390, height: 300 }, board, 1, null).y).toBe(headHeight(24, true));
  });

  it('[B244] stands where the maker left it', () => {
    const kept = { unit: 60, middle: 11, top: 30 };
    const { x, y, unit, row } = firstView(size, board, 2, kept);
    expect(unit).toBe(60);
    expect((450 - x) / unit).toBeCloseTo(11, 1);
    expect(-y / row).toBeCloseTo(30, 1);
  });
});
