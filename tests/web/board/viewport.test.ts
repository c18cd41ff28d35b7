import { describe, expect, it } from 'vitest';
import {
  fitAll,
  fitWidth,
  keepInSight,
  panBy,
  pixelToPoint,
  pointToPixel,
  reveal,
  rowsBetween,
  rowsInSight,
  snapped,
  zoomTo,
} from '../../../web/board/viewport.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const extent = { strings: 24, rows: 60, rowPerPlace: 0.78, head: 100, foot: 60 };

const size = { width: 900, height: 600 };

describe('view', () => {
  it('[B66] zooming keeps the point under the pointer, to a device pixel; both ways', () => {
    const random = seededRandom(3);
    for (let i = 0; i < 500; i++) {
      const ratio = random.pick([1, 1.25, 1.5, 2, 3]);
      const view = snapped(
        4 + random.next() * 60,
        0.78,
        random.next() * 400 - 200,
        random.next() * 400 - 200,
        ratio,
      );
      const at = { px: random.next() * 900, py: random.next() * 600 };
      const before = pixelToPoint(view, at);
      const after = pointToPixel(
        zoomTo(view, at, view.unit * (0.5 + random.next() * 2), 0.78, ratio),
        before,
      );
      expect(Math.abs(after.px - at.px)).toBeLessThanOrEqual(0.5 / ratio + 1e-6);
      expect(Math.abs(after.py - at.py)).toBeLessThanOrEqual(0.5 / ratio + 1e-6);
    }
  });

  it('[B66] every view is whole device pixels', () => {
    for (const ratio of [1, 1.25, 1.5, 2, 2.625]) {
      const views = [
        snapped(13.37, 0.78, 3.3, -7.7, ratio),
        panBy(snapped(20, 0.78, 0, 0, ratio), 0.37, 1.91, ratio),
        fitAll(size, extent, ratio),
        fitWidth(size, extent, ratio),
      ];
      for (const { unit, row, x, y } of views)
        for (const value of [unit, row, x, y])
          expect(Math.abs(value * ratio - Math.round(value * ratio))).toBeLessThan(1e-6);
    }
  });

  it('[B67] fitting shows the whole board, or at least its width and its first rows', () => {
    for (const [strings, rows] of [
      [4, 4],
      [24, 60],
      [60, 400],
      [100, 1000],
      [200, 20_000],
      [2, 0],
    ] as const) {
      const board = { ...extent, strings, rows };
      const wide = fitWidth(size, board, 1);
      expect(wide.x).toBeGreaterThanOrEqual(0);
      if (strings <= 100) expect(wide.x + (strings - 1) * wide.unit).toBeLessThanOrEqual(size.width);
      const all = fitAll(size, board, 1);
      const bottom = all.y + (rows + 1) * all.row + board.foot;
      if (rows <= 60) expect(bottom).toBeLessThanOrEqual(size.height + 1);
      expect(all.y).toBeLessThanOrEqual(size.height / 2);
    }
  });

  it('[B67] panning never loses the board', () => {
    let view = fitWidth(size, extent, 1);
    for (const [dx, dy] of [
      [5000, 5000],
      [-9000, -9000],
      [0, 3000],
    ] as const) {
      view = keepInSight(panBy(view, dx, dy, 1), size, extent, 1);
      const left = view.x - view.unit;
      const right = view.x + extent.strings * view.unit;
      expect(right).toBeGreaterThan(0);
      expect(left).toBeLessThan(size.width);
      expect(view.y + (extent.rows + 1) * view.row).toBeGreaterThan(0);
      expect(view.y).toBeLessThan(size.height);
    }
  });

  it('[B67] revealing brings any knot into sight, and moves nothing that is in sight', () => {
    const start = fitWidth(size, { ...extent, rows: 500 }, 1);
    const far = reveal(start, size, { x: 12, y: 400 }, 100, 1);
    const { py } = pointToPixel(far, { x: 12, y: 400 });
    expect(py).toBeGreaterThan(0);
    expect(py).toBeLessThan(size.height);
    expect(reveal(far, size, { x: 12, y: 400 }, 100, 1)).toEqual(far);
  });

  it('[B67] revealing moves no further than it must, to whichever side the knot lies, with room around it', () => {
    const view = snapped(40, 0.78, 0, 100, 1);
    for (const [point, dx, dy] of [
      [{ x: 10, y: 8 }, 0, 0],
      [{ x: 0, y: 8 }, 1, 0],
      [{ x: 40, y: 8 }, -1, 0],
      [{ x: 10, y: -6 }, 0, 1],
      [{ x: 10, y: 30 }, 0, -1],
    ] as const) {
      const seen = reveal(view, size, point, 100, 1);
      expect([point, Math.sign(seen.x - view.x), Math.sign(seen.y - view.y)]).toEqual([point, dx, dy]);
      const { px, py } = pointToPixel(seen, point);
      for (const room of [px, size.width - px, py, size.height - py]) expect(room).toBeGreaterThan(40);
      // A pixel less and it would have to move.
      if (dx !== 0 || dy !== 0) expect(reveal(panBy(seen, -dx, -dy, 1), size, point, 100, 1)).toEqual(seen);
    }
    // The first rows come with the pegs above them.
    const below = panBy(view, 0, -400, 1);
    const first = pointToPixel(reveal(below, size, { x: 10, y: 1 }, 100, 1), { x: 10, y: 1 });
    const later = pointToPixel(reveal(below, size, { x: 10, y: 3 }, 100, 1), { x: 10, y: 3 });
    expect(first.py - later.py).toBe(100);
  });

  it('[B68] the rows to draw between two heights are all that can be seen there, and at most one more at each end', () => {
    const view = snapped(40, 0.78, 0, 100, 1);
    for (const [top, bottom] of [
      [0, 600],
      [250, 260],
      [-500, 99],
    ] as const) {
      const { from, to } = rowsBetween(view, top, bottom, 12);
      const touched = Array.from({ length: 12 }, (_, row) => row).filter((row) => {
        // A knot is two rows high.
        const { py } = pointToPixel(view, { x: 0, y: row });
        return py < bottom && py + 2 * view.row > top;
      });
      for (const row of touched) expect(row >= from && row <= to).toBe(true);
      expect(to - from + 1).toBeLessThanOrEqual(touched.length + 2);
    }
    const none = rowsBetween(view, 0, 600, 0);
    expect(none.to).toBeLessThan(none.from);
  });

  it('others are told the rows in sight; of a board without rows nothing', () => {
    const view = snapped(40, 0.78, 0, 100, 1);
    expect(rowsInSight(view, 600, 60)).toEqual({ fromRow: 0, toRow: 16 });
    expect(rowsInSight(panBy(view, 0, -1000, 1), 600, 60)).toEqual({ fromRow: 29, toRow: 48 });
    expect(rowsInSight(panBy(view, 0, -9000, 1), 600, 60)).toEqual({ fromRow: 59, toRow: 59 });
    expect(rowsInSight(view, 600, 0)).toBeNull();
  });
});
