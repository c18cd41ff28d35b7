/** Where a maker left a board, and how it opens there. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { keepView, keptOf, readView, viewOf } from '../../../web/board/kept-view.ts';
import { fitFirst, panBy, pixelToPoint, zoomTo } from '../../../web/board/viewport.ts';
import { MapShelf } from '../../support/map-shelf.ts';

const extent = { strings: 24, rows: 200, rowPerPlace: 0.78, head: 100, foot: 60 };
const size = { width: 900, height: 600 };

beforeEach(() => vi.stubGlobal('localStorage', new MapShelf()));
afterEach(() => vi.unstubAllGlobals());

describe('a board that was left', () => {
  it('[B244] opens with the same row at the top and the same place in the middle, as large as it was', () => {
    const left = panBy(zoomTo(fitFirst(size, extent, 2), { px: 450, py: 300 }, 52, 0.78, 2), -40, -900, 2);
    keepView('b1', keptOf(left, size));
    const kept = readView('b1');
    if (kept === null) throw new Error('nothing was kept');
    expect(viewOf(kept, size, extent, 2)).toEqual(left);
    // On another screen: the same knots.
    const narrow = { width: 390, height: 500 };
    const there = viewOf(kept, narrow, extent, 3);
    expect(there.unit).toBe(52);
    expect(pixelToPoint(there, { px: 195, py: 0 }).x).toBeCloseTo(
      pixelToPoint(left, { px: 450, py: 0 }).x,
      1,
    );
    expect(pixelToPoint(there, { px: 0, py: 0 }).y).toBeCloseTo(pixelToPoint(left, { px: 0, py: 0 }).y, 0);
  });

  it('[B244] at the bar opens at the bar, however high the arcs are now', () => {
    const kept = keptOf(fitFirst(size, extent, 1), size);
    expect(kept.top).toBeNull();
    expect(viewOf(kept, size, { ...extent, head: 222 }, 1).y).toBe(222);
  });

  it('[B244] is in sight, whatever became of it', () => {
    const kept = { unit: 40, middle: 90, top: 700 };
    const { x, y, row, unit } = viewOf(kept, size, { ...extent, rows: 4 }, 1);
    expect([x + 23 * unit <= 900, y, y + 5 * row < 600]).toEqual([true, 100, true]);
  });

  it('[B244] at the bar is kept as that, in few characters', () => {
    keepView('b4', { unit: 20, middle: 3, top: null });
    expect([readView('b4'), localStorage.getItem('larkboard.work.b4.view')]).toEqual([
      { unit: 20, middle: 3, top: null },
      '[20,3,null]',
    ]);
    const broken = new MapShelf();
    broken.setItem = () => {
      throw new RangeError('ours');
    };
    vi.stubGlobal('localStorage', broken);
    expect(() => keepView('b5', { unit: 20, middle: 3, top: null })).toThrow('ours');
  });

  it('[B244] what cannot be read, or not be kept, is nothing', () => {
    expect(readView('b2')).toBeNull();
    for (const text of ['', '{}', '[1,2]', '[1,"2",3]', '[1e9,2,3]', '[12,3,-4]']) {
      localStorage.setItem('larkboard.work.b2.view', text);
      expect(readView('b2')).toBeNull();
    }
    const full = new MapShelf();
    full.isFull = true;
    vi.stubGlobal('localStorage', full);
    keepView('b3', { unit: 20, middle: 3, top: null });
    expect(readView('b3')).toBeNull();
  });
});
