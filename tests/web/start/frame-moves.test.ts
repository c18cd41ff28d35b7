import { describe, expect, it } from 'vitest';
import type { Frame } from '../../../engine/index.ts';
import { moved, movedByKey, transformOf, turnedBy, zoomed } from '../../../web/start/frame-moves.ts';

const FRAME: Frame = {
  strings: 12,
  start: 0,
  rows: 20,
  rowPerCord: 1.1,
  middleX: 200,
  middleY: 300,
  pxPerPlace: 20,
  turnDegrees: 30,
};
const PLACE_PX = 12;
const MIDDLE = { x: 130, y: 160 };

/** Where a pixel of the image is on the screen. */
function onScreen(frame: Frame, x: number, y: number): [number, number] {
  const [a, b, c, d, e, f] = transformOf(frame, PLACE_PX, MIDDLE)
    .match(/-?[\d.]+(?:e-?\d+)?/g)!
    .map(Number) as [number, number, number, number, number, number];
  return [a * x + c * y + e, b * x + d * y + f];
}

function expectAt(frame: Frame, image: readonly [number, number], screen: readonly [number, number]): void {
  const [x, y] = onScreen(frame, image[0], image[1]);
  expect(x).toBeCloseTo(screen[0], 6);
  expect(y).toBeCloseTo(screen[1], 6);
}

describe('a band that is moved on an image', () => {
  it('[B363] what the middle of the band lies on is in the middle; a drag takes every pixel with it', () => {
    expectAt(FRAME, [200, 300], [130, 160]);
    for (const [px, py] of [
      [10, 20],
      [200, 300],
      [390, 55],
    ] as const) {
      const [x, y] = onScreen(FRAME, px, py);
      expectAt(moved(FRAME, 17, -9, PLACE_PX), [px, py], [x + 17, y - 9]);
    }
  });

  it('[B363] larger and turned, the middle stays, and all else goes with it', () => {
    const [x, y] = onScreen(FRAME, 240, 310);
    const [dx, dy] = [x - 130, y - 160];
    expectAt(zoomed(FRAME, 1.5), [240, 310], [130 + 1.5 * dx, 160 + 1.5 * dy]);
    expectAt(turnedBy(FRAME, 90), [240, 310], [130 - dy, 160 + dx]);
    expect(turnedBy(FRAME, 200).turnDegrees).toBeCloseTo(-170, 9);
    expect(zoomed(FRAME, 1e9).pxPerPlace).toBe(0.5);
    expect(zoomed(FRAME, 1e-9).pxPerPlace).toBe(1000);
  });

  it('[B363] keys do what fingers do, and other keys nothing', () => {
    const keys = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', '+', '-', '<', '>'];
    const after = keys.map((key) => movedByKey(FRAME, key, PLACE_PX)!);
    expect(new Set(after.map((frame) => JSON.stringify(frame))).size).toBe(8);
    for (let i = 0; i < 8; i += 2) {
      const back = movedByKey(after[i]!, keys[i + 1]!, PLACE_PX)!;
      expect(back.middleX).toBeCloseTo(FRAME.middleX, 9);
      expect(back.middleY).toBeCloseTo(FRAME.middleY, 9);
      expect(back.pxPerPlace).toBeCloseTo(FRAME.pxPerPlace, 9);
      expect(back.turnDegrees).toBeCloseTo(FRAME.turnDegrees, 9);
    }
    expect(movedByKey(FRAME, 'a', PLACE_PX)).toBeNull();
  });
});
