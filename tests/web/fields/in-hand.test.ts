/** What a picker shows while it is open, in browsers that say which are and in those that do not. */
import { noChange } from 'lit';
import { PartType } from 'lit/directive.js';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { chosen, options } from '../../../web/fields/in-hand.ts';

class Picker extends EventTarget {
  value = 'sand';
  isConnected = true;
  isOpen = false;

  matches(selector: string): boolean {
    expect(selector).toBe(':open');
    return this.isOpen;
  }
}

let saysOpen = true;
let renders = 0;
let page: EventTarget;

beforeEach(() => {
  renders = 0;
  page = new EventTarget();
  vi.stubGlobal('window', page);
  vi.stubGlobal('CSS', { supports: () => saysOpen });
});
afterEach(() => vi.unstubAllGlobals());

const countRender = (): void => {
  renders += 1;
};

interface Updating {
  update(part: unknown, values: readonly unknown[]): unknown;
}
/** As lit reads what a directive gives. */
interface Result {
  readonly _$litDirective$: new (info: unknown) => Updating;
}

/** What lit makes of it in a template: called at each render with what is to be shown. */
function partOf(of: typeof chosen, picker: Picker): (value: string) => unknown {
  const isChild = of === options;
  const part = {
    ...(isChild
      ? { type: PartType.CHILD, parentNode: picker }
      : { type: PartType.PROPERTY, element: picker }),
    options: { host: { requestUpdate: countRender } },
  };
  const { _$litDirective$: Made } = of('') as unknown as Result;
  const directive = new Made(part);
  return (value) => directive.update(part, [value]);
}

const open = (picker: Picker): void => {
  picker.dispatchEvent(new Event('pointerdown'));
  picker.isOpen = true;
};

describe.each([true, false])('a picker; the browser says which are open: %s', (says) => {
  beforeEach(() => {
    saysOpen = says;
  });

  it('[W926] shows what others choose as it comes, while it is open keeps its own, and is rendered once it is closed', () => {
    const picker = new Picker();
    const render = partOf(chosen, picker);
    expect([render('moss'), picker.value]).toEqual([noChange, 'moss']);
    open(picker);
    render('straw');
    render('spruce');
    expect([picker.value, renders]).toEqual(['moss', 0]);
    picker.isOpen = false;
    picker.dispatchEvent(new Event('change'));
    expect(renders).toBe(1);
    render('spruce');
    expect(picker.value).toBe('spruce');
    // Nothing is heard any more.
    for (const target of [picker, page]) target.dispatchEvent(new Event('keydown'));
    expect(renders).toBe(1);
  });

  it('[W926] keeps its options, and chooses among new ones once they are there', async () => {
    const picker = new Picker();
    const [render, choose] = [partOf(options, picker), partOf(chosen, picker)];
    expect(render('a b')).toBe('a b');
    choose('b');
    open(picker);
    expect([render('b c'), choose('c')]).toEqual([noChange, noChange]);
    expect(picker.value).toBe('b');
    picker.isOpen = false;
    picker.dispatchEvent(new Event('blur'));
    choose('c');
    // A list that has no such option yet does not take it.
    picker.value = 'b';
    expect(render('b c')).toBe('b c');
    await Promise.resolve();
    expect(picker.value).toBe('c');
  });
});

it('[W926] one that closes without a word is looked at when something happens on the page', () => {
  saysOpen = true;
  const picker = new Picker();
  const render = partOf(chosen, picker);
  open(picker);
  render('moss');
  page.dispatchEvent(new Event('pointermove'));
  expect(renders).toBe(0);
  picker.isOpen = false;
  page.dispatchEvent(new Event('pointermove'));
  expect(renders).toBe(1);
});

it('[W926] one that has gone from the page lets go of it', () => {
  saysOpen = true;
  const picker = new Picker();
  const render = partOf(chosen, picker);
  open(picker);
  render('moss');
  picker.isConnected = false;
  page.dispatchEvent(new Event('pointerdown'));
  page.dispatchEvent(new Event('pointerdown'));
  expect(renders).toBe(1);
});
