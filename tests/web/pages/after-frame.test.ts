/** What is told of the board waits for its picture, and arrives all the same. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AfterFrame } from '../../../web/pages/after-frame.ts';
import { type Frames, stubFrames } from '../../support/stub-frames.ts';
import { stubHost } from '../../support/visited-page.ts';

let frames: Frames;
let told: number;
let after: AfterFrame;
beforeEach(() => {
  frames = stubFrames();
  told = 0;
  after = new AfterFrame(stubHost(), () => {
    told += 1;
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

it('is told once, after the frame and when the browser rests', () => {
  after.later();
  after.later();
  expect(frames.resting).toBe(0);
  frames.next();
  after.later();
  expect([told, frames.waiting, frames.resting]).toEqual([0, 0, 1]);
  frames.rest();
  expect(told).toBe(1);
  after.later();
  frames.next();
  frames.rest();
  expect(told).toBe(2);
});

it('is told nobody once the page has gone, before the frame or after it', () => {
  after.later();
  after.hostDisconnected();
  expect([frames.waiting, frames.resting]).toEqual([0, 0]);
  after.later();
  frames.next();
  after.hostDisconnected();
  expect([frames.waiting, frames.resting, told]).toEqual([0, 0, 0]);
});

it('where the browser cannot tell when it rests, is told in a later turn', () => {
  vi.useFakeTimers();
  const own = stubFrames();
  vi.stubGlobal('window', {});
  after.later();
  own.next();
  expect(told).toBe(0);
  vi.runAllTimers();
  expect(told).toBe(1);
  after.later();
  own.next();
  after.hostDisconnected();
  expect(vi.getTimerCount()).toBe(0);
});
