/** The board on a phone: one hand holds it, the other the strings. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { choose, newBoard, openHeaderMenu, pointOf } from '../support/board-page.ts';
import { rowsOf } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('board-phone');
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

const phoneBoard = (strings: number, rows: number, more = {}) =>
  newBoard(suite.browser, suite.http, strings, rows, { ...PHONE, ...more });

const heightOf = (page: Page, selector: string): Promise<number> =>
  page.locator(selector).evaluate((element) => element.getBoundingClientRect().height);

describe('phone', () => {
  it.each(['en-GB', 'de-DE'])('[B82] header and tools take one row each: %s', async (locale) => {
    const { page, context } = await phoneBoard(16, 32, { locale });
    expect(await heightOf(page, 'lb-board-page header')).toBeLessThan(60);
    expect(await heightOf(page, 'lb-board .tools')).toBeLessThan(60);
    const isCut = (selector: string) =>
      page.locator(selector).evaluate((element) => element.scrollWidth > element.clientWidth + 1);
    expect(await isCut('lb-board-page header')).toBe(false);
    // Most of the first screen is the board itself.
    expect(await heightOf(page, 'lb-board .stage')).toBeGreaterThan(700);
    await context.close();
  });

  it('[B82] every tool and every button of the header is there, a tap away', async () => {
    const { page, context, complaints } = await phoneBoard(6, 6);
    await choose(page, 'tool-line');
    expect(await page.locator('lb-board .folded').isVisible()).toBe(false);
    const [from, to] = [await pointOf(page, 0, 0), await pointOf(page, 2, 1)];
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    await touch('touchStart', from);
    await touch('touchMove', { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
    await touch('touchMove', to);
    await touch('touchEnd');
    await expect.poll(async () => (await rowsOf(page)).slice(0, 3)).toEqual(['f - -', 'f -', '- f -']);
    await page.locator('lb-board .tool.more').click();
    await page.locator('lb-board .folded:popover-open').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    const edges = async () => {
      const box = await page.locator('lb-board .folded').boundingBox();
      return box === null ? [] : [Math.sign(box.x), Math.sign(390 - box.x - box.width)];
    };
    await expect.poll(edges).toEqual([1, 1]);
    await page.keyboard.press('Escape');
    await openHeaderMenu(page);
    for (const name of ['Share', 'File and print'])
      expect(await page.getByRole('button', { name }).isVisible()).toBe(true);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it('a tap right after a quick stroke does what it is on', async () => {
    const { page, context } = await phoneBoard(6, 6);
    const [from, to] = [await pointOf(page, 0, 0), await pointOf(page, 2, 1)];
    const box = await page.locator('lb-board .tool.more').boundingBox();
    if (box === null) throw new Error('there is no button for the other tools');
    const button = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    for (let i = 0; i < 3; i++) {
      await touch('touchStart', from);
      await touch('touchMove', { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
      await touch('touchMove', to);
      await touch('touchEnd');
      await touch('touchStart', button);
      await touch('touchEnd');
      await page.locator('lb-board .folded:popover-open').waitFor();
      await page.keyboard.press('Escape');
    }
  });
});
