/** The board's looks, menu and sheets against WCAG 2.2 AA as far as axe can tell, light and dark, wide and narrow. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { choose, newBoard } from '../support/board-page.ts';
import { focusKnots } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('board-access');

/** What is open or shown, and how it gets there. */
const STATES: readonly (readonly [string, (page: Page) => Promise<void>])[] = [
  ['tying by colour', (page) => choose(page, 'show')],
  ['paths', (page) => choose(page, 'look-paths')],
  [
    'finished',
    async (page) => {
      await choose(page, 'look-finished');
      await page.locator('lb-finished canvas').waitFor();
      await choose(page, 'look-chart');
      await choose(page, 'beside');
    },
  ],
  [
    'menu',
    async (page) => {
      await focusKnots(page);
      await page.keyboard.press('Shift+F10');
      await page.locator('lb-board-menu [role=menuitem]').first().waitFor();
    },
  ],
  [
    'commands',
    async (page) => {
      await page.keyboard.press('Escape');
      await focusKnots(page);
      await page.keyboard.press('/');
      await page.locator('lb-command-list [role=option]').first().waitFor();
    },
  ],
  [
    'keys',
    async (page) => {
      await page.keyboard.press('Escape');
      await focusKnots(page);
      await page.keyboard.press('?');
      await page.locator('lb-shortcut-sheet dl').first().waitFor();
    },
  ],
];

describe('access', () => {
  it.each([
    ['light', 1440],
    ['dark', 390],
  ] as const)(
    '[B79] axe finds nothing in any look, menu or sheet, %s, %i px wide',
    async (colorScheme, width) => {
      const { page, context, complaints } = await newBoard(suite.browser, suite.http, 8, 6, {
        colorScheme,
        viewport: { width, height: 844 },
      });
      for (const [name, reach] of STATES) {
        await reach(page);
        expect(await axeFindings(page), name).toEqual([]);
      }
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  it('[B79] in forced colours what is chosen stands out, and knots keep theirs', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 8, 6, { forcedColors: 'active' });
    const back = (action: string) =>
      page
        .locator(`lb-board [data-action=${action}]`)
        .first()
        .evaluate((button) => getComputedStyle(button).backgroundColor);
    expect(await back('knot-1')).not.toBe(await back('knot-2'));
    await choose(page, 'knot-2');
    expect(await back('knot-1')).not.toBe(await back('knot-2'));
    expect(await back('look-chart')).not.toBe(await back('look-paths'));
    const swatch = page.locator('lb-board .swatch-button span').first();
    const [shown, given] = await swatch.evaluate((span) => {
      const plain = document.createElement('i');
      plain.style.backgroundColor = (span as HTMLElement).style.background;
      return [getComputedStyle(span).backgroundColor, plain.style.backgroundColor];
    });
    expect(shown).toBe(given);
  });

  it('[B79] nothing moves by itself where less motion is wanted', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 8, 6, { reducedMotion: 'reduce' });
    await choose(page, 'look-finished');
    await page.locator('lb-finished canvas').waitFor();
    expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
  });

  it('[B79] nothing of the board is wider than a phone, with every strip open', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 60, 40, {
      viewport: { width: 390, height: 844 },
    });
    await choose(page, 'show', 'beside');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
