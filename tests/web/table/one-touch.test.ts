import { describe, expect, it } from 'vitest';
import { BOUNCE_MS, OneTouch, REST_MS, SWIPE_PX, type TouchMeaning } from '../../../web/table/one-touch.ts';

const at = (ms: number, id = 1, x = 100, y = 100) => ({ id, x, y, at: ms });

function tap(touch: OneTouch, ms: number, id = 1): TouchMeaning {
  touch.down(at(ms, id));
  return touch.up(at(ms + 50, id));
}

describe('one touch is one step', () => {
  it('[N30] each touch counts once', () => {
    const touch = new OneTouch();
    expect([0, 1000, 2000].map((ms) => tap(touch, ms))).toEqual(['step', 'step', 'step']);
  });

  it('[N31] a second within 300 ms counts for nothing, and does not put off the next', () => {
    const touch = new OneTouch();
    expect(tap(touch, 0)).toBe('step');
    expect(tap(touch, 100)).toBe('nothing');
    expect(tap(touch, BOUNCE_MS - 1)).toBe('nothing');
    expect(tap(touch, BOUNCE_MS)).toBe('step');
  });

  it('[N32] two fingers count for nothing, in whatever order they are lifted', () => {
    for (const [first, second] of [
      [1, 2],
      [2, 1],
    ] as const) {
      const touch = new OneTouch();
      touch.down(at(0, 1));
      touch.down(at(20, 2));
      expect(touch.up(at(60, first))).toBe('nothing');
      expect(touch.up(at(80, second))).toBe('nothing');
      expect(tap(touch, 1000)).toBe('step');
    }
  });

  it('[N32] a hand that rests counts for nothing, and a finger beside it neither', () => {
    const touch = new OneTouch();
    touch.down(at(0));
    expect(touch.up(at(REST_MS + 1))).toBe('nothing');
    touch.down(at(2000, 1));
    expect(tap(touch, 5000, 2)).toBe('nothing');
    expect(touch.up(at(6000, 1))).toBe('nothing');
  });

  it('[N33] a finger that goes along swipes, one that goes up or down does nothing', () => {
    const swipe = (x: number, y: number): TouchMeaning => {
      const touch = new OneTouch();
      touch.down(at(0));
      return touch.up(at(120, 1, x, y));
    };
    expect(swipe(100 - 2 * SWIPE_PX, 104)).toBe('swipe-left');
    expect(swipe(100 + 2 * SWIPE_PX, 96)).toBe('swipe-right');
    expect(swipe(104, 100 + 2 * SWIPE_PX)).toBe('nothing');
    expect(swipe(100 + SWIPE_PX / 2, 100)).toBe('step');
  });

  it('[N32] what the browser took away, or never began here, counts for nothing', () => {
    const touch = new OneTouch();
    touch.down(at(0));
    touch.cancel(1);
    expect(touch.up(at(50))).toBe('nothing');
    expect(tap(touch, 1000)).toBe('step');
  });

  it('[N34] keys count like touches; one that is held down counts once', () => {
    const touch = new OneTouch();
    expect(touch.key(0, false)).toBe(true);
    expect(touch.key(500, true)).toBe(false);
    expect(touch.key(900, true)).toBe(false);
    expect(touch.key(950, false)).toBe(true);
    expect(tap(touch, 1000)).toBe('nothing');
  });

  it('[N35] a click without a finger counts, the one that follows a finger does not', () => {
    const touch = new OneTouch();
    expect(touch.click(0)).toBe(true);
    tap(touch, 1000);
    expect(touch.click(1051)).toBe(false);
    touch.down(at(3000));
    touch.up(at(3000 + REST_MS + 1));
    expect(touch.click(3000 + REST_MS + 2)).toBe(false);
    expect(touch.click(9000)).toBe(true);
  });
});
