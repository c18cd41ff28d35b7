/** The first rows one by one, then few pick-ups: asked for in the panel, on a phone, in German and in the worker. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { type Board, type WorkMethod, workOrder } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, litOf, openOwnBoard, openTab, readBoard } from '../support/own-board.ts';

const suite = browserSuite('work-rows-first');

/** Long enough for the beginning to change the order of the rest. */
const BAND = {
  ...LOPSIDED,
  rows: ['f f b', 'f b', 'f b b', 'fb b', 'f f f', 'b b', 'f b f', 'f bf', 'b f b', 'f f'],
};

/** The order as the engine gives it. */
function steps(board: Board, method: WorkMethod, rowsFirst: number) {
  const order = workOrder(board, { method, rowsFirst });
  if (!order.ok) throw new Error(order.error.message);
  return order;
}

/** Goes through the whole order by key; at each step that knot is lit. */
async function followed(page: Page, card: Locator, order: ReturnType<typeof steps>): Promise<void> {
  await card.focus();
  await page.keyboard.press('Home');
  for (const { row, k } of order.steps) {
    await expect.poll(() => litOf(page)).toEqual({ knots: [{ row, k }], isFollowed: true });
    await page.keyboard.press('ArrowRight');
  }
}

describe('first rows one by one', () => {
  it('[B155] is asked by key, followed step by step, kept, and a wrong number refused', async () => {
    const board = readBoard(BAND);
    for (const method of ['segments', 'exact'] as const)
      expect(steps(board, method, 3).steps).not.toEqual(steps(board, method, 0).steps);
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, BAND);
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    const card = panel.getByRole('group', { name: 'This step' });
    const field = panel.getByLabel('First rows one by one');
    await card.waitFor();
    expect(await field.count()).toBe(0);
    await panel.getByLabel('Order', { exact: true }).selectOption('segments');
    expect(await field.inputValue()).toBe('0');
    await field.focus();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('3');
    await page.keyboard.press('Enter');
    await followed(page, card, steps(board, 'segments', 3));
    for (const wrong of ['-1', '1.5', '11', 'two']) {
      await field.fill(wrong);
      await field.press('Enter');
      await panel.getByText('Must be a whole number from 0 to 10.').waitFor();
      expect(await field.getAttribute('aria-invalid')).toBe('true');
    }
    await followed(page, card, steps(board, 'segments', 3));
    // The fewest, proven, are looked for in a worker.
    await panel.getByLabel('Order', { exact: true }).selectOption('exact');
    const { steps: knots, pickUps } = steps(board, 'exact', 3);
    await panel.getByText(`${knots.length} knots, ${pickUps} pick-ups.`, { exact: false }).waitFor();
    await panel.getByText('No order that begins so needs fewer.', { exact: false }).waitFor();
    await followed(page, card, steps(board, 'exact', 3));
    await page.reload();
    await openTab(page, 'Work order');
    await expect.poll(() => field.inputValue()).toBe('3');
    await card.waitFor();
    await followed(page, card, steps(board, 'exact', 3));
    expect(complaints).toEqual([]);
  });

  it('[B155] fits a phone, in German, and axe finds nothing', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, BAND, {
      locale: 'de-DE',
      viewport: { width: 390, height: 844 },
    });
    await openTab(page, 'Arbeitsfolge');
    const panel = page.locator('lb-work-panel');
    await panel.getByLabel('Folge', { exact: true }).selectOption('segments');
    const field = panel.getByLabel('Erste Reihen einzeln');
    await field.fill('12');
    await field.press('Enter');
    await panel.getByText('von 0 bis 10', { exact: false }).waitFor();
    const box = (await field.boundingBox())!;
    expect(box.height).toBeGreaterThanOrEqual(24);
    expect(box.x + box.width).toBeLessThanOrEqual(390);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await axeFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
