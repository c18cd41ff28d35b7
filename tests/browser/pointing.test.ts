/** Pointing at an entry of a panel lights what it speaks of on the board, and pointing at the board marks the entries that speak of it. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { focusKnots, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { demoFile, litOf, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('pointing');

interface Entry {
  readonly strings: readonly number[];
  readonly knots: readonly string[];
}

/** What the entries say they speak of, in the order in which they stand. */
function entriesOf(page: Page, selector: string): Promise<readonly Entry[]> {
  return page.locator(selector).evaluateAll((all) =>
    all.map((element) => {
      const { strings, knots } = (element as HTMLElement).dataset;
      return {
        strings: strings ? strings.split(' ').map(Number) : [],
        knots: knots ? knots.split(' ') : [],
      };
    }),
  );
}

/** By tab: entries, and their least number on the board of the test. */
const TABS: Readonly<Record<string, readonly (readonly [selector: string, least: number])[]>> = {
  Mounting: [
    ['lb-mounting-panel .faults li', 3],
    ['lb-mounting-panel ol li', 6],
    ['lb-ways-out [data-way=accept]', 1],
  ],
  Colours: [
    ['lb-palette-panel .row', 6],
    ['lb-colour-check li[data-strings]', 1],
    ['lb-colour-check li[data-knots]', 1],
  ],
  Symmetry: [['lb-symmetry-panel li.break', 6]],
  'Cutting list': [
    ['lb-cutting-panel li.entry', 6],
    ['lb-cutting-panel .threads li', 6],
  ],
};

/** Points at the first and the last of these entries, then at the first knot. */
async function pointBothWays(page: Page, selector: string, least: number): Promise<void> {
  const entries = page.locator(selector);
  await entries.first().waitFor();
  const said = await entriesOf(page, selector);
  expect(said.length, selector).toBeGreaterThanOrEqual(least);
  // From the first and the last entry to the board.
  for (const [at, entry] of [said[0]!, said.at(-1)!].entries()) {
    await entries.nth(at === 0 ? 0 : said.length - 1).hover();
    const lit = { strings: [...entry.strings].sort(), knots: [...entry.knots].sort() };
    await expect
      .poll(
        async () => {
          const found = (await litOf(page)) as {
            strings?: number[];
            knots?: { row: number; k: number }[];
          } | null;
          const strings = [...(found?.strings ?? [])].sort();
          const knots = [...(found?.knots ?? [])].map(({ row, k }) => `${row}:${k}`).sort();
          return (
            strings.filter((one) => lit.strings.includes(one)).length === strings.length &&
            knots.filter((one) => lit.knots.includes(one)).length === knots.length &&
            strings.length + knots.length > 0
          );
        },
        { message: selector },
      )
      .toBe(true);
    await page.locator('lb-panels h2').first().hover();
    await expect.poll(() => litOf(page), { message: selector }).toBeNull();
  }
  // From the board to the entries: the first knot ties the strings of places 1 and 2.
  const marked = () =>
    entries.evaluateAll((all) => all.map((element) => element.classList.contains('pointed')));
  const isMeant = ({ strings, knots }: Entry): boolean =>
    strings.includes(0) || strings.includes(1) || knots.includes('0:0');
  await focusKnots(page);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await expect.poll(marked, { message: selector }).toEqual(said.map(isMeant));
}

describe('pointing', () => {
  it.each(Object.keys(TABS))(
    '[A56] %s: each kind of entry lights the board, and is marked from there',
    async (tab) => {
      const { page, complaints } = await openOwnBoard(suite.browser, suite.http, demoFile('crosswind'), {
        viewport: { width: 1440, height: 1000 },
      });
      await untilSaved(page);
      await openTab(page, tab);
      for (const [selector, least] of TABS[tab]!) await pointBothWays(page, selector, least);
      expect(complaints).toEqual([]);
    },
  );

  it('[A56] Work order: the present step lights its knot, and is marked when its knot is pointed at', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, demoFile('crosswind'));
    await untilSaved(page);
    await openTab(page, 'Work order');
    const step = page.locator('lb-work-panel .step');
    await step.waitFor();
    const [entry] = await entriesOf(page, 'lb-work-panel .step');
    const [row, k] = entry!.knots[0]!.split(':').map(Number);
    await expect.poll(() => litOf(page)).toMatchObject({ knots: [{ row, k }] });
    await focusKnots(page);
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => step.evaluate((one) => one.classList.contains('pointed'))).toBe(false);
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => step.evaluate((one) => one.classList.contains('pointed'))).toBe(true);
  });
});
