import { describe, expect, it } from 'vitest';
import { findRepaint } from '../../../web/board/repaint.ts';

const size = { width: 900, height: 600 };

describe('what is drawn anew', () => {
  const view = { unit: 20, row: 16, x: 40, y: 100 };

  it('[B68] a scroll draws only the strips that came into sight', () => {
    expect(findRepaint(view, view, size)).toEqual({ kind: 'nothing' });
    expect(findRepaint(view, { ...view, unit: 21 }, size)).toEqual({ kind: 'all' });
    expect(findRepaint(view, { ...view, y: -900 }, size)).toEqual({ kind: 'all' });
    expect(findRepaint(view, { ...view, y: 88 }, size)).toEqual({
      kind: 'scroll',
      dx: 0,
      dy: -12,
      strips: [{ left: 0, top: 588, width: 900, height: 12 }],
    });
  });

  it('[B68] strips and the moved picture cover the canvas, whatever the way', () => {
    const small = { width: 40, height: 30 };
    for (const [dx, dy] of [
      [3, 0],
      [-3, 5],
      [7, -4],
      [-39, -29],
    ] as const) {
      const repaint = findRepaint(view, { ...view, x: view.x + dx, y: view.y + dy }, small);
      if (repaint.kind !== 'scroll') throw new Error(repaint.kind);
      for (let x = 0; x < small.width; x++)
        for (let y = 0; y < small.height; y++) {
          const isMoved = x - dx >= 0 && x - dx < small.width && y - dy >= 0 && y - dy < small.height;
          const isNew = repaint.strips.some(
            ({ left, top, width, height }) => x >= left && x < left + width && y >= top && y < top + height,
          );
          expect(isMoved || isNew).toBe(true);
        }
    }
  });
});
