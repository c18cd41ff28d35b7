/** View, painting plan, gestures, keys, arcs and search of the board: pure parts. */
import { describe, expect, it } from 'vitest';
import { planMount, staggerOf } from '../../../engine/index.ts';
import { actionFor, type KeyPress, matchesKeys } from '../../../web/board/action-keys.ts';
import { BOARD_ACTIONS } from '../../../web/board/board-actions.ts';
import { Gestures } from '../../../web/board/gestures.ts';
import { headLayout } from '../../../web/board/head-layout.ts';
import { spotAfter } from '../../../web/board/keyboard.ts';
import { findRepaint } from '../../../web/board/repaint.ts';
import { searchActions } from '../../../web/board/search-actions.ts';
import type { Spot } from '../../../web/board/spot.ts';
import {
  fitAll,
  fitWidth,
  keepInSight,
  type PixelPoint,
  panBy,
  pixelToPoint,
  pointToPixel,
  reveal,
  snapped,
  zoomTo,
} from '../../../web/board/viewport.ts';
import { samplePattern } from '../../support/sample-board.ts';
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
});

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

describe('gestures', () => {
  function record() {
    const calls: string[] = [];
    const gestures = new Gestures({
      strokeStart: ({ px, py }) => calls.push(`start ${px},${py}`),
      strokeMove: ({ px, py }) => calls.push(`move ${px},${py}`),
      strokeEnd: (isCopy) => calls.push(isCopy ? 'end copy' : 'end'),
      strokeTakeBack: () => calls.push('back'),
      pan: (dx, dy) => calls.push(`pan ${dx},${dy}`),
      zoom: (_, factor) => calls.push(`zoom ${factor.toFixed(2)}`),
    });
    const p = (px: number, py: number): PixelPoint => ({ px, py });
    return { calls, gestures, p };
  }

  it('[B69] the mouse ties at once; a finger when it moves or is lifted', () => {
    const mouse = record();
    mouse.gestures.down({ id: 1, at: mouse.p(5, 5), isTouch: false, isPan: false });
    expect(mouse.calls).toEqual(['start 5,5']);
    const touch = record();
    touch.gestures.down({ id: 1, at: touch.p(5, 5), isTouch: true, isPan: false });
    touch.gestures.move(1, touch.p(7, 5));
    expect(touch.calls).toEqual([]);
    touch.gestures.up(1);
    expect(touch.calls).toEqual(['start 5,5', 'end']);
  });

  it('[B69] two fingers move and zoom, and tie nothing, also when one is lifted first', () => {
    const { calls, gestures, p } = record();
    gestures.down({ id: 1, at: p(100, 100), isTouch: true, isPan: false });
    gestures.down({ id: 2, at: p(200, 100), isTouch: true, isPan: false });
    gestures.move(2, p(300, 100));
    gestures.up(2);
    gestures.move(1, p(110, 100));
    gestures.up(1);
    expect(calls).toEqual(['pan 50,0', 'zoom 2.00', 'pan 10,0']);
    expect(gestures.phase).toBe('idle');
  });

  it('[B69] a second finger takes back the stroke of the first', () => {
    const { calls, gestures, p } = record();
    gestures.down({ id: 1, at: p(0, 0), isTouch: true, isPan: false });
    gestures.move(1, p(30, 0));
    gestures.down({ id: 2, at: p(90, 0), isTouch: true, isPan: false });
    expect(calls).toEqual(['start 0,0', 'move 30,0', 'back']);
  });

  it('[B69] the hand pans, and a pointer the browser takes away takes its stroke back', () => {
    const { calls, gestures, p } = record();
    gestures.down({ id: 1, at: p(0, 0), isTouch: false, isPan: true });
    gestures.move(1, p(4, 9));
    gestures.up(1);
    gestures.down({ id: 2, at: p(0, 0), isTouch: false, isPan: false });
    gestures.cancel();
    expect(calls).toEqual(['pan 4,9', 'start 0,0', 'back']);
  });
});

describe('keys', () => {
  const press = (key: string, more: Partial<KeyPress> = {}): KeyPress => ({
    key,
    code: /^[0-9]$/.test(key) ? `Digit${key}` : '',
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    altKey: false,
    ...more,
  });
  const stagger = staggerOf(samplePattern(8, 30));
  const go = (spot: Spot, ...keys: readonly (string | KeyPress)[]): Spot =>
    keys.reduce<Spot>(
      (at, key) => spotAfter(stagger, at, typeof key === 'string' ? press(key) : key) ?? at,
      spot,
    );
  const knot = (row: number, k: number): Spot => ({ on: 'knot', row, k });

  it('[B70] arrows move by one and stop at the edges, as in a data grid (W3C ARIA Authoring Practices, grid pattern)', () => {
    expect(go(knot(4, 1), 'ArrowRight')).toEqual(knot(4, 2));
    expect(go(knot(4, 3), 'ArrowRight')).toEqual(knot(4, 3));
    expect(go(knot(4, 0), 'ArrowLeft')).toEqual(knot(4, 0));
    expect(go(knot(29, 1), 'ArrowDown')).toEqual(knot(29, 1));
    expect(go(knot(4, 3), 'ArrowDown')).toEqual(knot(5, 2));
    expect(go(knot(4, 1), 'ArrowDown', 'ArrowUp')).toEqual(knot(4, 1));
  });

  it('[B70] Home and End of the row, with Ctrl of the board; Page Up and Down by ten rows', () => {
    expect(go(knot(4, 2), 'Home')).toEqual(knot(4, 0));
    expect(go(knot(4, 0), 'End')).toEqual(knot(4, 3));
    expect(go(knot(9, 1), press('Home', { ctrlKey: true }))).toEqual(knot(0, 0));
    expect(go(knot(0, 0), press('End', { metaKey: true }))).toEqual(knot(29, 2));
    expect(go(knot(4, 1), 'PageDown')).toEqual(knot(14, 1));
    expect(go(knot(4, 1), 'PageUp')).toEqual(knot(0, 1));
  });

  it('[B70] the pegs are the row above the first', () => {
    expect(go(knot(0, 1), 'ArrowUp')).toEqual({ on: 'peg', place: 2 });
    expect(go({ on: 'peg', place: 2 }, 'ArrowRight', 'ArrowDown')).toEqual(knot(0, 1));
    expect(go({ on: 'peg', place: 0 }, 'ArrowLeft')).toEqual({ on: 'peg', place: 0 });
    expect(go({ on: 'peg', place: 0 }, 'End')).toEqual({ on: 'peg', place: 7 });
  });

  it('[B70] no two actions have the same keys, and none takes a key that moves', () => {
    const seen = new Map<string, string>();
    for (const { id, keys = [] } of BOARD_ACTIONS)
      for (const one of keys) {
        expect(seen.get(one) ?? id, `${one} of ${id}`).toBe(id);
        seen.set(one, id);
      }
    for (const key of ['ArrowUp', 'Home', 'PageDown', 'Enter']) expect(actionFor(press(key))).toBeNull();
  });

  it('[B70] keys match whatever the keyboard makes of them', () => {
    expect(matchesKeys(press('?', { shiftKey: true }), '?')).toBe(true);
    expect(matchesKeys(press('+', { shiftKey: true }), '+')).toBe(true);
    expect(matchesKeys(press('!', { code: 'Digit1', shiftKey: true }), 'Shift+1')).toBe(true);
    expect(matchesKeys(press('&', { code: 'Digit1' }), '1')).toBe(true);
    expect(matchesKeys(press('z', { metaKey: true }), 'Ctrl+Z')).toBe(true);
    expect(matchesKeys(press('Z', { ctrlKey: true, shiftKey: true }), 'Ctrl+Z')).toBe(false);
    expect(actionFor(press('Z', { ctrlKey: true, shiftKey: true }))?.id).toBe('redo');
    expect(actionFor(press('c', { ctrlKey: true }))).toBeNull();
  });
});

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

describe('command search', () => {
  it('[B72] finds by any words in any order, beginnings first, accents aside', () => {
    const names = ['Two rows above', 'Delete these row pairs', 'Größer', 'The arrow'];
    const find = (text: string) => searchActions(names, text, (name) => name);
    expect(find('row')).toEqual(['Two rows above', 'Delete these row pairs', 'The arrow']);
    expect(find('above two')).toEqual(['Two rows above']);
    expect(find('gross')).toEqual([]);
    expect(find('größer')).toEqual(['Größer']);
    expect(find('groß')).toEqual(['Größer']);
    expect(find('')).toEqual(names);
    expect(find('zzz')).toEqual([]);
  });
});
