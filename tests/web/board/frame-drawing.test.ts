/** When an element's picture is drawn anew: once a frame, and not when the element has gone. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { clearCanvas, FrameDrawing, type Schedule, whenIdle } from '../../../web/board/frame-drawing.ts';
import { type Frames, stubFrames } from '../../support/stub-frames.ts';
import { stubHost } from '../../support/visited-page.ts';

let frames: Frames;
let drawn: number;
beforeEach(() => {
  frames = stubFrames();
  drawn = 0;
});
afterEach(() => vi.unstubAllGlobals());

function drawing(schedule?: Schedule): FrameDrawing {
  const controller = new FrameDrawing(
    stubHost(),
    () => {
      drawn += 1;
    },
    schedule,
  );
  controller.hostConnected();
  return controller;
}

describe('a picture', () => {
  it.each<[string, (controller: FrameDrawing) => void]>([
    ['the element was updated', (controller) => controller.hostUpdated()],
    ['it has another size', () => frames.resize()],
    ['it comes to another screen', () => frames.turnRatio(2)],
    ['the page turns dark', () => frames.turn('(prefers-color-scheme: dark)')],
    ['it was scrolled', (controller) => controller.later()],
  ])('is drawn with the next frame when %s, however often that is', (_when, happen) => {
    const controller = drawing();
    happen(controller);
    happen(controller);
    controller.later();
    expect([drawn, frames.waiting]).toEqual([0, 1]);
    frames.next();
    expect([drawn, frames.waiting]).toEqual([1, 0]);
    happen(controller);
    frames.next();
    expect(drawn).toBe(2);
  });

  it('of an element that has gone is drawn no more, and one that is back is', () => {
    const controller = drawing();
    controller.later();
    controller.hostDisconnected();
    frames.turnRatio(2);
    frames.turn('(prefers-color-scheme: dark)');
    expect([frames.waiting, frames.watched]).toEqual([0, 0]);
    controller.hostConnected();
    controller.hostUpdated();
    frames.next();
    expect(drawn).toBe(1);
  });

  it('that can wait is drawn when the browser rests', () => {
    const controller = drawing(whenIdle);
    controller.later();
    frames.next();
    expect([drawn, frames.resting]).toEqual([0, 1]);
    frames.rest();
    expect(drawn).toBe(1);
    controller.later();
    controller.hostDisconnected();
    expect(frames.resting).toBe(0);
  });

  it('that can wait is drawn with the next frame where the browser cannot tell when it rests', () => {
    vi.stubGlobal('window', {});
    drawing(whenIdle).later();
    frames.next();
    expect(drawn).toBe(1);
  });
});

describe('a canvas to draw on', () => {
  it('is empty, and counts in CSS px with all pixels of the screen', () => {
    frames.ratio = 2;
    const calls: unknown[] = [];
    const sizes: string[] = [];
    const note =
      (name: string) =>
      (...args: unknown[]) =>
        void calls.push([name, ...args]);
    const context = { setTransform: note('transform'), clearRect: note('clear') };
    const canvas = {
      set width(width: number) {
        sizes.push(`width ${width}`);
      },
      get width() {
        return 200;
      },
      height: 1,
      getContext: () => context,
    };
    expect(clearCanvas(canvas as unknown as HTMLCanvasElement, 100.2, 50)).toBe(context);
    expect(calls).toEqual([
      ['transform', 1, 0, 0, 1, 0, 0],
      ['clear', 0, 0, 200, 100],
      ['transform', 2, 0, 0, 2, 0, 0],
    ]);
    // To be given the size that it has would empty it, and cost a new one.
    expect([sizes, canvas.height]).toEqual([[], 100]);
  });

  it('is a fault where the browser gives none', () => {
    const canvas = { width: 0, height: 0, getContext: () => null };
    expect(() => clearCanvas(canvas as unknown as HTMLCanvasElement, 10, 10)).toThrow('no canvas');
    expect(canvas.width).toBe(10);
  });
});
