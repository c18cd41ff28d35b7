/** What is drawn over the work goes by itself. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { FadingInk } from '../../../web/sync/fading-ink.ts';

let told = 0;
let ink: FadingInk;

beforeEach(() => {
  vi.useFakeTimers();
  told = 0;
  ink = new FadingInk(() => {
    told += 1;
  });
});
afterEach(() => {
  vi.useRealTimers();
});

it('[R55] a stroke is seen for eight seconds, each by itself', () => {
  ink.draw([0, 0, 1, 1]);
  vi.advanceTimersByTime(5_000);
  ink.draw([2, 2, 3, 3]);
  expect(ink.shown.strokes).toHaveLength(2);
  vi.advanceTimersByTime(3_000);
  expect(ink.shown.strokes).toEqual([[2, 2, 3, 3]]);
  vi.advanceTimersByTime(5_000);
  expect(ink.shown.strokes).toEqual([]);
  expect(told).toBe(4);
  expect(vi.getTimerCount()).toBe(0);
});

it('[R55] a pointer that rests goes too, and one that moves stays', () => {
  ink.point([1, 1]);
  vi.advanceTimersByTime(7_000);
  ink.point([1, 2]);
  vi.advanceTimersByTime(7_000);
  expect(ink.shown.pointer).toEqual([1, 2]);
  vi.advanceTimersByTime(1_000);
  expect(ink.shown.pointer).toBeNull();
  ink.draw([0, 0, 1, 1]);
  ink.point([4, 4]);
  ink.clear();
  expect([ink.shown.strokes, ink.shown.pointer, vi.getTimerCount()]).toEqual([[], null, 0]);
});
