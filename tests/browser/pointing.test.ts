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

/** Tab, entries, least number of entries on the board of the test. */
const PANELS: readonly (readonly [tab: string, selector: string, least: number])[] = [
  ['Mounting', 'lb-mounting-panel .faults li', 3],
  ['Mounting', 'lb-mounting-panel ol li', 6],
  ['Mounting', 'lb-ways-out [data-way=accept]', 1],
  ['Colours', 'lb-palette-panel .row', 6],
  ['Colours', 'lb-colour-check li[data-strings]', 1],
  ['Colours', 'lb-colour-check li[data-knots]', 1],
  ['Symmetry', 'lb-symmetry-panel li.break', 6],
  ['Cutting list', 'lb-cutting-panel li.entry', 6],
  ['Cutting list', 'lb-cutting-panel .threads li', 6],
];

describe('pointing', () => {
  it.each(PANELS)(
    '[A56] %s, %s: lights the board, and is marked from there',
    async (tab, selector, least) => {
      const { page, context, complaints } = await openOwnBoard(
        suite.browser,
        suite.http,
        demoFile('crosswind'),
        {
          viewport: { width: 1440, height: 1000 },
        },
      );
      await untilSaved(page);
      await openTab(page, tab);
      const entries = page.locator(selector);
      await entries.first().waitFor();
      const said = await entriesOf(page, selector);
      expect(said.length).toBeGreaterThanOrEqual(least);
      // From the first and the last entry to the board.
      for (const [at, entry] of [said[0]!, said.at(-1)!].entries()) {
        await entries.nth(at === 0 ? 0 : said.length - 1).hover();
        const lit = { strings: [...entry.strings].sort(), knots: [...entry.knots].sort() };
        await expect
          .poll(async () => {
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
          })
          .toBe(true);
        await page.locator('lb-panels h2').first().hover();
        await expect.poll(() => litOf(page)).toBeNull();
      }
      // From the board to the entries: the first knot ties the strings of places 1 and 2.
      await focusKnots(page);
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowUp');
      const isMeant = ({ strings, knots }: Entry): boolean =>
        strings.includes(0) || strings.includes(1) || knots.includes('0:0');
      await expect
        .poll(() => entries.evaluateAll((all) => all.map((element) => element.classList.contains('pointed'))))
        .toEqual(said.map(isMeant));
      expect(complaints).toEqual([]);
      await context.close();
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
