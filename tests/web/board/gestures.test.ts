import { describe, expect, it } from 'vitest';
import { Gestures } from '../../../web/board/gestures.ts';
import type { PixelPoint } from '../../../web/board/viewport.ts';

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

  it('[B245] a finger that is to move the board moves it when it goes on, and ties where it taps', () => {
    const { calls, gestures, p } = record();
    gestures.down({ id: 1, at: p(0, 0), isTouch: true, isPan: false, isTapOnly: true });
    gestures.move(1, p(0, 30));
    gestures.move(1, p(0, 35));
    gestures.up(1);
    expect(calls).toEqual(['pan 0,30', 'pan 0,5']);
    gestures.down({ id: 1, at: p(9, 9), isTouch: true, isPan: false, isTapOnly: true });
    gestures.up(1);
    expect(calls.slice(2)).toEqual(['start 9,9', 'end']);
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
