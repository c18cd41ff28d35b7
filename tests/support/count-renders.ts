/** Counts how often each kind of element of a page is rendered: it counts, and never measures time. */
import type { Page } from 'playwright-core';
import { untilDrawn } from './browser.ts';

interface Counting {
  lbRenders?: Map<string, number>;
}

/** Counts from now on, from nothing. To be called once an element of the page is there. */
export function beginCount(page: Page): Promise<void> {
  return page.evaluate(() => {
    const counting = window as unknown as Counting;
    const isFirst = counting.lbRenders === undefined;
    counting.lbRenders = new Map();
    if (!isFirst) return;
    // The class of the library that all elements come from, wherever the bundler has put it.
    let base = customElements.get('lb-app')?.prototype as { update(changed: unknown): void };
    for (let next = base; next !== null; next = Object.getPrototypeOf(next))
      if (Object.hasOwn(next, 'update') && Object.hasOwn(next, 'render')) base = next;
    const { update } = base;
    base.update = function (this: HTMLElement, changed: unknown): void {
      const { localName } = this;
      const counts = counting.lbRenders!;
      counts.set(localName, (counts.get(localName) ?? 0) + 1);
      update.call(this, changed);
    };
  });
}

/** Renders by kind of element since {@link beginCount}. */
export async function rendersOf(page: Page): Promise<Readonly<Record<string, number>>> {
  return Object.fromEntries(
    await page.evaluate(() => [...((window as unknown as Counting).lbRenders ?? [])].sort()),
  );
}

/** Waits until nothing was rendered between two looks, with two frames between. */
export async function untilSteady(page: Page): Promise<void> {
  for (let before = ''; ; ) {
    const now = JSON.stringify(await rendersOf(page));
    if (now === before) return;
    before = now;
    await untilDrawn(page);
  }
}
