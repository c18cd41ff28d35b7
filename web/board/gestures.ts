/**
 * Pointers to gestures, without a screen: one finger or the mouse makes a stroke, two fingers move and zoom.
 *
 * A finger's stroke begins only when it has moved a little or is lifted (a tap), so that the second finger of a pinch does not find a
 * knot already tied. A stroke that a second finger interrupts is taken back.
 */
import type { PixelPoint } from './viewport.ts';

export interface GestureTarget {
  strokeStart(at: PixelPoint): void;
  strokeMove(at: PixelPoint): void;
  /** @param isCopy whether the maker held the key that copies instead of moving */
  strokeEnd(isCopy: boolean): void;
  strokeTakeBack(): void;
  pan(dx: number, dy: number): void;
  zoom(at: PixelPoint, factor: number): void;
}

export interface PointerDown {
  readonly id: number;
  readonly at: PixelPoint;
  readonly isTouch: boolean;
  /** Whether this press moves the view: middle button, space bar, the hand tool. */
  readonly isPan: boolean;
  /** Whether a finger that goes on from here moves the view; a tap is a stroke all the same. */
  readonly isTapOnly?: boolean;
}

type Phase = 'idle' | 'waiting' | 'stroke' | 'pan' | 'pinch';

/** How far a finger may wander and still tap, in px. */
const TAP_PX = 8;

export class Gestures {
  readonly #target: GestureTarget;
  readonly #pointers = new Map<number, PixelPoint>();
  #phase: Phase = 'idle';
  #began: PixelPoint = { px: 0, py: 0 };
  #isTapOnly = false;

  constructor(target: GestureTarget) {
    this.#target = target;
  }

  get phase(): Phase {
    return this.#phase;
  }

  down({ id, at, isTouch, isPan, isTapOnly = false }: PointerDown): void {
    this.#pointers.set(id, at);
    if (this.#pointers.size === 2) {
      if (this.#phase === 'stroke') this.#target.strokeTakeBack();
      this.#phase = 'pinch';
      return;
    }
    if (this.#pointers.size > 2) return;
    this.#began = at;
    this.#isTapOnly = isTapOnly;
    if (isPan) this.#phase = 'pan';
    else if (isTouch) this.#phase = 'waiting';
    else {
      this.#phase = 'stroke';
      this.#target.strokeStart(at);
    }
  }

  move(id: number, at: PixelPoint): void {
    const before = this.#pointers.get(id);
    if (before === undefined) return;
    this.#pointers.set(id, at);
    switch (this.#phase) {
      case 'waiting':
        if (Math.hypot(at.px - this.#began.px, at.py - this.#began.py) < TAP_PX) return;
        if (this.#isTapOnly) {
          this.#phase = 'pan';
          this.#target.pan(at.px - this.#began.px, at.py - this.#began.py);
          return;
        }
        this.#phase = 'stroke';
        this.#target.strokeStart(this.#began);
        this.#target.strokeMove(at);
        break;
      case 'stroke':
        this.#target.strokeMove(at);
        break;
      case 'pan':
        this.#target.pan(at.px - before.px, at.py - before.py);
        break;
      case 'pinch':
        this.#pinch(id, before, at);
        break;
      case 'idle':
        break;
    }
  }

  up(id: number, isCopy = false): void {
    if (!this.#pointers.delete(id)) return;
    if (this.#phase === 'waiting') {
      this.#target.strokeStart(this.#began);
      this.#target.strokeEnd(isCopy);
    } else if (this.#phase === 'stroke') this.#target.strokeEnd(isCopy);
    // The finger that stays after a pinch moves on, but ties nothing.
    this.#phase = this.#pointers.size === 0 ? 'idle' : 'pan';
  }

  /** The browser took the pointer away, or a long press became a menu. */
  cancel(): void {
    if (this.#phase === 'stroke') this.#target.strokeTakeBack();
    this.#pointers.clear();
    this.#phase = 'idle';
  }

  #pinch(id: number, before: PixelPoint, at: PixelPoint): void {
    const other = [...this.#pointers].find(([key]) => key !== id)?.[1];
    if (other === undefined) return;
    const apart = (p: PixelPoint): number => Math.max(1, Math.hypot(p.px - other.px, p.py - other.py));
    this.#target.pan((at.px - before.px) / 2, (at.py - before.py) / 2);
    const middle = { px: (at.px + other.px) / 2, py: (at.py + other.py) / 2 };
    this.#target.zoom(middle, apart(at) / apart(before));
  }
}
