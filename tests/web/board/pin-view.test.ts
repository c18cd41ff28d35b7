/** Where marks beside the picture stand, in each look. */
import { describe, expect, it } from 'vitest';
import { staggerOf } from '../../../engine/index.ts';
import { finishedModelOf } from '../../../web/board/finished-model.ts';
import { finishedPinView } from '../../../web/board/finished-pin-view.ts';
import { boardPinView, type PinView } from '../../../web/board/pin-view.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

const view = { unit: 20, row: 16, x: 100, y: 80 };
const size = { width: 400, height: 300 };

describe('on the chart and the paths', () => {
  const pins = boardPinView(view, size, staggerOf(samplePattern(6, 4)));

  it('[G2] a knot’s mark stands at its upper right, a row’s before it, a string’s above its peg', () => {
    const [first, right, below] = [
      { row: 0, k: 0 },
      { row: 0, k: 1 },
      { row: 2, k: 0 },
    ].map((cell) => pins.pointOf({ kind: 'knot', ...cell })!);
    expect([right!.x - first!.x, right!.y]).toEqual([40, first!.y]);
    expect([below!.x, below!.y - first!.y]).toEqual([first!.x, 32]);
    expect(pins.pointOf({ kind: 'string', string: 2 })).toEqual({ x: 140, y: 34 });
    expect(pins.pointOf({ kind: 'row', row: 0 })!.x).toBeLessThan(view.x);
  });

  it('[G2] a row’s mark stays in sight where the board lies at the edge', () => {
    const atEdge = boardPinView({ ...view, x: 0 }, size, staggerOf(samplePattern(6, 4)));
    expect(atEdge.pointOf({ kind: 'row', row: 1 })!.x).toBeGreaterThan(0);
  });

  it('what the board has no longer has no mark', () => {
    expect(pins.pointOf({ kind: 'row', row: 4 })).toBeNull();
    expect(pins.pointOf({ kind: 'knot', row: 4, k: 0 })).toBeNull();
    expect(pins.pointOf({ kind: 'knot', row: 1, k: 2 })).toBeNull();
    expect([pins.width, pins.height]).toEqual([400, 300]);
  });
});

describe('on the finished band', () => {
  const model = finishedModelOf(sampleBoard(6, 4), null);
  const layout = { unit: 10, row: 8, x: 50, y: 60, ringWidth: 30, ringHeight: 10, width: 160, height: 500 };
  const [front, back] = [finishedPinView(model, layout, 'front'), finishedPinView(model, layout, 'back')];
  const x = (pins: PinView, k: number): number => pins.pointOf({ kind: 'knot', row: 0, k })!.x;

  it('[G2] seen from behind left and right are exchanged', () => {
    expect(x(front, 2)).toBeGreaterThan(x(front, 0));
    expect(x(back, 2)).toBeLessThan(x(back, 0));
    expect(front.pointOf({ kind: 'string', string: 0 })!.x).toBe(50);
    expect(back.pointOf({ kind: 'string', string: 5 })!.x).toBe(50);
  });

  it('[G2] a row’s mark stands beside it; a knot of a row more than shown has none', () => {
    expect(front.pointOf({ kind: 'row', row: 1 })).toMatchObject({ y: 76 });
    expect(front.pointOf({ kind: 'row', row: model.rows })).toBeNull();
    expect(front.pointOf({ kind: 'knot', row: model.rows, k: 0 })).toBeNull();
    const narrow = finishedPinView(model, { ...layout, x: 5 }, 'front');
    expect(narrow.pointOf({ kind: 'row', row: 1 })!.x).toBeGreaterThan(0);
  });
});
