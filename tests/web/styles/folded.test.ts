/** Where what stood behind a button opens, and what closes it. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { closeFolded, placeFolded } from '../../../web/styles/folded.ts';

beforeEach(() => {
  vi.stubGlobal('innerWidth', 400);
  vi.stubGlobal('innerHeight', 600);
});
afterEach(() => vi.unstubAllGlobals());

/** A sheet of 200 by 100 px that opens beside a button of 40 by 30; where it is then. */
function placed(button: { left: number; top: number } | null, newState = 'open'): object {
  const style = {};
  const box = button && { ...button, right: button.left + 40, bottom: button.top + 30 };
  const more = box && { getBoundingClientRect: () => box };
  const currentTarget = {
    style,
    parentElement: { querySelector: () => more },
    getBoundingClientRect: () => ({ width: 200, height: 100 }),
  };
  placeFolded({ newState, currentTarget } as unknown as Event);
  return style;
}

describe('what is opened', () => {
  it.each([
    ['below a button at the top', { left: 100, top: 10 }, { left: '100px', top: '46px' }],
    ['above a button at the foot', { left: 100, top: 500 }, { left: '100px', top: '394px' }],
    ['inside the window at its right edge', { left: 350, top: 10 }, { left: '192px', top: '46px' }],
    ['inside the window at its left edge', { left: 2, top: 10 }, { left: '8px', top: '46px' }],
  ])('stands %s', (_where, button, style) => {
    expect(placed(button)).toEqual(style);
  });

  it('is not moved when it closes, nor where no button opened it', () => {
    expect(placed({ left: 100, top: 10 }, 'closed')).toEqual({});
    expect(placed(null)).toEqual({});
  });

  it('begins at the left edge where the window is narrower than it', () => {
    vi.stubGlobal('innerWidth', 150);
    expect(placed({ left: 100, top: 10 })).toEqual({ left: '8px', top: '46px' });
  });
});

describe('choosing something', () => {
  class FakeElement {
    readonly #isButton: boolean;
    constructor(isButton: boolean) {
      this.#isButton = isButton;
    }
    closest(): FakeElement | null {
      return this.#isButton ? this : null;
    }
  }
  function closes(chosen: unknown, isOpen = true): boolean {
    vi.stubGlobal('Element', FakeElement);
    let isClosed = false;
    const currentTarget = {
      matches: () => isOpen,
      hidePopover: () => {
        isClosed = true;
      },
    };
    closeFolded({ currentTarget, composedPath: () => [chosen] } as unknown as Event);
    return isClosed;
  }

  it('closes it; a click beside its buttons does not, nor does one where it stands in place', () => {
    expect(closes(new FakeElement(true))).toBe(true);
    expect(closes(new FakeElement(false))).toBe(false);
    expect(closes({})).toBe(false);
    expect(closes(new FakeElement(true), false)).toBe(false);
  });
});
