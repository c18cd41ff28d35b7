/** A phone is enough: the panels are a sheet over a board that stays in sight, tools stand in words, a finger moves or ties as one sees. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { choose, newBoard, pointOf } from '../support/board-page.ts';
import { rowsOf, untilDrawn } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { openTab } from '../support/own-board.ts';

const suite = browserSuite('phone-sheet');
const TALL = { width: 360, height: 640 };
const FLAT = { width: 844, height: 390 };

const phone = (viewport: typeof TALL, more = {}) =>
  newBoard(suite.browser, suite.http, 14, 30, { viewport, hasTouch: true, isMobile: true, ...more });

/** Height of the stage, and how many whole rows are seen from the bar. */
async function seenOf(page: Page): Promise<{ height: number; rows: number }> {
  await untilDrawn(page);
  return page.locator('lb-board').evaluate((element) => {
    const { canvas, stage } = element as LbBoard;
    const { y, row } = canvas!.view;
    const { height } = stage.getBoundingClientRect();
    return { height, rows: Math.floor((height - y) / row - 1) };
  });
}

const stateOf = (page: Page) => page.locator('lb-panels').getAttribute('sheet');

describe('the sheet of panels', () => {
  it.each([
    ['360 x 640', TALL, 6],
    ['844 x 390', FLAT, 3],
  ] as const)(
    '[B246] at %s most of the screen is the board, and at half the sheet leaves rows in sight',
    async (_name, viewport, least) => {
      const { page, complaints } = await phone(viewport);
      await page.locator('lb-panels').waitFor({ state: 'attached' });
      expect((await seenOf(page)).height).toBeGreaterThanOrEqual(viewport.height * 0.6);
      for (const name of ['Mounting', 'Cutting list', 'Work order']) await openTab(page, name);
      expect(await stateOf(page)).toBe('half');
      expect((await seenOf(page)).rows).toBeGreaterThanOrEqual(least);
      await page.locator('lb-work-panel').waitFor();
      // Nothing is wider or higher than the screen.
      expect(
        await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.scrollHeight,
        ]),
      ).toEqual([viewport.width, viewport.height]);
      expect(complaints).toEqual([]);
    },
  );

  it('[B247] is drawn up, down and away by its grip, by keys, and by the browser’s way back', async () => {
    const { page } = await phone(TALL);
    await openTab(page, 'Colours');
    const grip = page.getByRole('button', { name: 'Height of the panels' });
    const dragTo = async (y: number): Promise<void> => {
      const box = (await grip.boundingBox())!;
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width / 2, y, { steps: 4 });
      await page.mouse.up();
    };
    await dragTo(60);
    expect(await stateOf(page)).toBe('full');
    await dragTo(330);
    expect(await stateOf(page)).toBe('half');
    await grip.press('ArrowUp');
    expect(await stateOf(page)).toBe('full');
    await grip.press('ArrowDown');
    await grip.press('ArrowDown');
    expect(await stateOf(page)).toBe('closed');
    await openTab(page, 'Colours');
    const { pathname } = new URL(page.url());
    await page.goBack();
    await expect.poll(() => stateOf(page)).toBe('closed');
    expect(new URL(page.url()).pathname).toBe(pathname);
    expect((await seenOf(page)).height).toBeGreaterThan(500);
    await openTab(page, 'Colours');
    await dragTo(636);
    await expect.poll(() => stateOf(page)).toBe('closed');
  });
});

describe('tools', () => {
  it('[B248] what is in hand stands in words, and the sheet of tools names them all', async () => {
    const { page } = await phone(TALL);
    const more = page.locator('lb-board .tool.more');
    expect(await more.textContent()).toContain('Forward knot');
    await more.click();
    const names = page.locator('lb-board .folded .tool .name').filter({ visible: true });
    await expect.poll(() => names.count()).toBeGreaterThan(20);
    await page.locator('lb-board .folded [data-action=tool-line]').click();
    expect(await more.textContent()).toContain('Tie a straight line');
  });

  it('[B248] no word of it is broken or cut, upright and turned, in German', async () => {
    for (const viewport of [TALL, FLAT]) {
      const { page, context } = await phone(viewport, { locale: 'de-DE' });
      for (const knot of ['knot-1', 'knot-2', 'knot-3']) {
        await choose(page, knot);
        const [needed, room] = await page
          .locator('lb-board .now')
          .evaluate((words) => [words.scrollWidth, words.clientWidth] as const);
        expect(needed, `${knot} at ${viewport.width}`).toBeLessThanOrEqual(room);
      }
      await context.close();
    }
  });

  it('[B245] one finger moves the board or ties, by a switch in sight; a tap ties', async () => {
    const { page, context } = await phone(TALL);
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    const swipe = async (from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> => {
      await touch('touchStart', from);
      await touch('touchMove', { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
      await touch('touchMove', to);
      await touch('touchEnd');
    };
    await page.locator('lb-board').evaluate((element) => (element as LbBoard).zoomBy(2));
    const [from, to] = [await pointOf(page, 12, 3), await pointOf(page, 6, 3)];
    await swipe(from, to);
    await untilDrawn(page);
    expect((await rowsOf(page)).join('')).not.toContain('f');
    expect((await pointOf(page, 12, 3)).y).toBeLessThan(from.y - 20);
    const tapped = await pointOf(page, 12, 3);
    await page.touchscreen.tap(tapped.x, tapped.y);
    await expect.poll(async () => (await rowsOf(page))[12]).toContain('f');
    await page.getByRole('button', { name: 'Finger moves' }).click();
    await swipe(await pointOf(page, 10, 3), await pointOf(page, 10, 4));
    await expect.poll(async () => (await rowsOf(page))[10]!.match(/f/g)?.length).toBe(2);
  });

  it('[B249] the menu of a finger names no keys, and lies below the board', async () => {
    const { page } = await phone(TALL);
    await page.locator('lb-board').evaluate((element) => (element as LbBoard).openMenu({ px: 180, py: 200 }));
    const menu = page.locator('lb-board-menu [role=menu]');
    await menu.waitFor();
    expect(await menu.locator('kbd').filter({ visible: true }).count()).toBe(0);
    const stage = (await page.locator('lb-board .stage').boundingBox())!;
    expect((await menu.boundingBox())!.y).toBeGreaterThanOrEqual(stage.y + stage.height - 2);
  });
});
