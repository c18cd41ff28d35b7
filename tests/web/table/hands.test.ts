/** Fingers, keys and pedals at the table, and what the stage hears of them. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Hands } from '../../../web/table/hands.ts';

/** An element on the way of an event. */
class Element extends EventTarget {
  readonly #selectors: readonly string[];
  /** @param selectors those it matches */
  constructor(...selectors: readonly string[]) {
    super();
    this.#selectors = selectors;
  }
  matches(list: string): boolean {
    return list.split(', ').some((one) => this.#selectors.includes(one));
  }
}
const ON = new Element('.pads .on', 'button');
const BACK = new Element('.pads .back', 'button');
const FIELD = new Element('input');

let page: EventTarget;
let now = 0;
let done: string[];
let hasStage = true;
let hands: Hands;

beforeEach(() => {
  page = new EventTarget();
  now = 10_000;
  done = [];
  hasStage = true;
  vi.stubGlobal('HTMLElement', Element);
  vi.stubGlobal('addEventListener', page.addEventListener.bind(page));
  vi.stubGlobal('removeEventListener', page.removeEventListener.bind(page));
  const stage = {
    on: () => void done.push('on'),
    back: () => void done.push('back'),
    look: (by: 1 | -1) => void done.push(`look ${by}`),
  };
  hands = new Hands({ addController: () => {} } as never, {
    stage: () => (hasStage ? stage : null),
    now: () => now,
  });
  hands.hostConnected();
});
afterEach(() => {
  hands.hostDisconnected();
  vi.unstubAllGlobals();
});

/** A key on the page, after long enough for it to count. @returns whether it was taken from the browser */
function key(name: string, more: object = {}, on: readonly EventTarget[] = []): boolean {
  now += 1000;
  const event = Object.assign(new Event('keydown', { cancelable: true }), { key: name, ...more });
  event.composedPath = () => [...on, page];
  page.dispatchEvent(event);
  return event.defaultPrevented;
}

/** A finger that goes from one point to another, on these elements. */
function finger(dx: number, on: readonly EventTarget[], more: object = {}): void {
  now += 1000;
  const at = (clientX: number): PointerEvent =>
    ({
      pointerType: 'touch',
      pointerId: 1,
      button: 0,
      clientX,
      clientY: 0,
      composedPath: () => on,
      ...more,
    }) as never;
  hands.onDown(at(100));
  hands.onUp(at(100 + dx));
}

describe('keys and pedals', () => {
  it('step on and back, each key once, and are taken from the browser', () => {
    for (const name of [' ', 'ArrowRight', 'ArrowDown', 'PageDown', 'ArrowLeft', 'ArrowUp', 'PageUp'])
      expect([name, key(name)]).toEqual([name, true]);
    expect(done).toEqual(['on', 'on', 'on', 'on', 'back', 'back', 'back']);
  });

  it('held down count once, and so does a pedal that bounces', () => {
    key('PageDown');
    expect(key('PageDown', { repeat: true })).toBe(true);
    now -= 950;
    key(' ');
    expect(done).toEqual(['on', 'on']);
    now -= 1100;
    expect(key('PageDown')).toBe(true);
    expect(done).toHaveLength(2);
  });

  it('with Shift only look', () => {
    key('ArrowRight', { shiftKey: true });
    key('ArrowLeft', { shiftKey: true });
    expect(done).toEqual(['look 1', 'look -1']);
  });

  it('that are for the browser, a field, a dialog, or the button that has the focus are left to them', () => {
    for (const more of [{ ctrlKey: true }, { metaKey: true }, { altKey: true }])
      expect(key('ArrowLeft', more)).toBe(false);
    for (const selector of ['input', 'select', 'textarea', 'dialog', '[popover]'])
      expect(key('ArrowDown', {}, [new Element(selector)])).toBe(false);
    expect([key(' ', {}, [ON]), key('x'), key('Enter')]).toEqual([false, false, false]);
    expect(done).toEqual([]);
    // A pedal that sends an arrow steps, wherever the focus was left.
    expect(key('ArrowRight', {}, [ON])).toBe(true);
    expect(done).toEqual(['on']);
  });

  it('mean nothing where no stage is shown, or once the table is left', () => {
    hasStage = false;
    expect(key(' ')).toBe(false);
    hasStage = true;
    hands.hostDisconnected();
    expect([key(' '), done]).toEqual([false, []]);
  });
});

describe('fingers', () => {
  it('on a large button step, and elsewhere do not', () => {
    finger(0, [new Element('span'), ON]);
    finger(0, [BACK]);
    finger(0, [FIELD, page]);
    expect(done).toEqual(['on', 'back']);
  });

  it('that swipe look, to the left at what comes', () => {
    finger(-60, [ON]);
    finger(60, []);
    expect(done).toEqual(['look 1', 'look -1']);
    hasStage = false;
    for (const by of [-60, 60, 0]) finger(by, [ON, BACK]);
    finger(0, [BACK]);
    expect(done).toHaveLength(2);
  });

  it('that the browser took for something else, and other buttons of a mouse, are none', () => {
    const point = {
      pointerType: 'touch',
      pointerId: 1,
      button: 0,
      clientX: 0,
      clientY: 0,
      composedPath: () => [ON],
    };
    hands.onDown(point as never);
    hands.onCancel(point as never);
    hands.onUp(point as never);
    finger(0, [ON], { pointerType: 'mouse', button: 2 });
    expect(done).toEqual([]);
    finger(0, [ON], { pointerType: 'mouse', button: 0 });
    expect(done).toEqual(['on']);
  });

  it('a click is a step of its own only where no finger was just lifted', () => {
    const click = { composedPath: () => [ON] } as never;
    hands.onClick(click);
    expect(done).toEqual(['on']);
    finger(0, [BACK]);
    hands.onClick(click);
    expect(done).toEqual(['on', 'back']);
  });
});
