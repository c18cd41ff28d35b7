/** Boards that change by more than usual, and what the page keeps of them. */
import { afterEach, expect, test, vi } from 'vitest';
import { rowStride } from '../../../engine/index.ts';
import { modelOf } from '../../../web/board/board-model.ts';
import { KnotSprites, MOST_SPRITES } from '../../../web/board/knot-sprites.ts';
import { sampleBoard } from '../../support/sample-board.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

test('half a million knots that change at once are woven anew', () => {
  const [strings, rows] = [100, 10_000];
  const before = sampleBoard(strings, rows);
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows * stride);
  const cells = Array.from(knots, (_, at) => ({ row: Math.floor(at / stride), k: at % stride }));
  const after = { ...before, pattern: { ...before.pattern, knots } };
  const model = modelOf(after, modelOf(before, null), cells);
  expect(model.rewoven).toEqual({ from: 0, to: rows });
  expect(model.weave.shownFlat.every((string) => string === -1)).toBe(true);
  expect(modelOf(after, model, []).rewoven).toEqual({ from: 0, to: 0 });
});

test('of the knots drawn for colours only the last thousand are kept', () => {
  const nothing = (): void => {};
  const context = new Proxy({}, { get: () => nothing, set: () => true });
  class Canvas {
    getContext(): unknown {
      return context;
    }
  }
  vi.stubGlobal('OffscreenCanvas', Canvas);
  vi.stubGlobal(
    'Path2D',
    class extends Canvas {
      moveTo = nothing;
      arcTo = nothing;
      closePath = nothing;
    },
  );
  const sprites = new KnotSprites();
  sprites.scaleTo(40, 32, 2);
  const hex = (i: number): string => `#${i.toString(16).padStart(6, '0')}`;
  const first = sprites.of(hex(0), 1);
  for (let i = 1; i < MOST_SPRITES; i++) sprites.of(hex(i), 1);
  expect(sprites.of(hex(0), 1)).toBe(first);
  sprites.of(hex(MOST_SPRITES), 1);
  expect(sprites.of(hex(0), 1)).not.toBe(first);
});
