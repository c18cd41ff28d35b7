/**
 * One touch is one step, whichever knuckle it was. Hears of fingers, keys and clicks, and says which of them counts; the time is given.
 *
 * A touch counts when one finger came down and went up again, nearly where it came down, with no other on the screen meanwhile, and did
 * not rest there. Whatever comes within 300 ms of what counted counts for nothing.
 */

/** Within this a second touch is the same one: hands with cord round them bounce. */
export const BOUNCE_MS = 300;
/** A finger that stays longer rests. Own choice, no source. */
export const REST_MS = 700;
/** A finger that goes further swipes. Own choice: about a quarter of a finger's width. */
export const SWIPE_PX = 24;

/** A finger, or another pointer, at a moment. */
export interface TouchPoint {
  readonly id: number;
  readonly x: number;
  readonly y: number;
  /** Milliseconds of any one clock. */
  readonly at: number;
}

/** What a finger that was lifted meant. */
export type TouchMeaning = 'step' | 'swipe-left' | 'swipe-right' | 'nothing';

export class OneTouch {
  readonly #down = new Map<number, TouchPoint>();
  /** Whether two were down since none was. */
  #hasCompany = false;
  #countedAt = Number.NEGATIVE_INFINITY;
  #liftedAt = Number.NEGATIVE_INFINITY;

  down(point: TouchPoint): void {
    if (this.#down.size > 0) this.#hasCompany = true;
    this.#down.set(point.id, point);
  }

  /** The browser took the finger for something else. */
  cancel(id: number): void {
    this.#down.delete(id);
    if (this.#down.size === 0) this.#hasCompany = false;
  }

  up(point: TouchPoint): TouchMeaning {
    const began = this.#down.get(point.id);
    if (began === undefined) return 'nothing';
    const hadCompany = this.#hasCompany;
    this.cancel(point.id);
    this.#liftedAt = point.at;
    if (hadCompany) return 'nothing';
    const [dx, dy] = [point.x - began.x, point.y - began.y];
    if (Math.hypot(dx, dy) > SWIPE_PX)
      return Math.abs(dx) < 2 * Math.abs(dy) ? 'nothing' : dx < 0 ? 'swipe-left' : 'swipe-right';
    return point.at - began.at > REST_MS || !this.#count(point.at) ? 'nothing' : 'step';
  }

  /** A key or a pedal. @param isRepeated whether it is held down */
  key(at: number, isRepeated: boolean): boolean {
    return !isRepeated && this.#count(at);
  }

  /** A click that may have come without a finger, as from a screen reader: after a finger's own it counts for nothing. */
  click(at: number): boolean {
    return at - this.#liftedAt >= BOUNCE_MS && this.#count(at);
  }

  #count(at: number): boolean {
    if (at - this.#countedAt < BOUNCE_MS) return false;
    this.#countedAt = at;
    return true;
  }
}
