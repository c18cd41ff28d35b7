/** An empty board in a real page: three beginnings, one click each, and by hand in three clicks. */
import { describe, expect, it } from 'vitest';
import { symmetry } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, makeBoardOf, undo } from '../support/own-board.ts';

const suite = browserSuite('empty-board');

async function openEmpty(options: Parameters<typeof visit>[2] = {}, strings = 12) {
  const visitor = await visit(suite.browser, 'about:blank', options);
  const id = await makeBoardOf(visitor, suite.http, { strings, rows: 24 });
  await visitor.page.goto(`${suite.http}/board/${id}`);
  await untilSaved(visitor.page);
  return { ...visitor, id };
}

describe('an empty board', () => {
  it('[B301] one click lays a beginning, one undo takes it back; the board stays where it is', async () => {
    const { page, complaints } = await openEmpty();
    const before = await boardOf(page);
    const canvas = page.locator('lb-board canvas.pattern');
    const box = await canvas.boundingBox();
    const arrowheads = page.locator('lb-begin button.one[data-kind=arrowheads]');
    await arrowheads.click();
    await arrowheads.waitFor({ state: 'detached' });
    const laid = await boardOf(page);
    expect(symmetry(laid.pattern)).toMatchObject({ frieze: 'p11m', mirror: { order: true } });
    expect(laid.pattern.colours.length).toBe(12);
    await page.locator('lb-mounting-panel').getByText('Mounts with a neat back', { exact: false }).waitFor();
    expect(await canvas.boundingBox()).toEqual(box);
    await undo(page);
    await arrowheads.waitFor();
    expect((await boardOf(page)).pattern).toEqual(before.pattern);
    expect(complaints).toEqual([]);
  });

  it('[B302] by keyboard, and the board has the keyboard afterwards', async () => {
    const { page } = await openEmpty();
    await page.locator('lb-begin button.one[data-kind=diamonds]').focus();
    await page.keyboard.press('Enter');
    await page.locator('lb-board [role=gridcell]:focus').waitFor();
    expect(symmetry((await boardOf(page)).pattern).frieze).toBe('p2mm');
  });

  it('[B303] mirror, fill and a click make arrowheads, as the hint says', async () => {
    const { page } = await openEmpty();
    await page.locator('lb-begin .hint').getByText('Three clicks', { exact: false }).waitFor();
    await page
      .getByRole('button', { name: /^Tie mirrored from the middle/ })
      .first()
      .click();
    await page
      .getByRole('button', { name: /^Fill an area/ })
      .first()
      .click();
    const cell = await page.evaluate(() => {
      const board = document
        .querySelector('lb-app')!
        .shadowRoot!.querySelector('lb-board-page')!
        .shadowRoot!.querySelector('lb-board') as unknown as {
        clientPointOf(cell: { row: number; k: number }): { x: number; y: number };
      };
      return board.clientPointOf({ row: 0, k: 0 });
    });
    await page.mouse.click(cell.x, cell.y);
    await page.locator('lb-begin .hint').waitFor({ state: 'detached' });
    const { pattern } = await boardOf(page);
    expect(pattern.knots.filter((knot) => knot !== 0).length).toBeGreaterThan(100);
    expect(symmetry(pattern)).toMatchObject({ frieze: 'p11m', mirror: { order: true, picture: true } });
  });

  it('[B304] two who click at once get one of the two whole, and both see the same', async () => {
    const one = await openEmpty();
    const other = await one.context.newPage();
    await other.goto(one.page.url());
    await untilSaved(other);
    // Neither hears of the other before both have clicked.
    await one.context.setOffline(true);
    await one.page.locator('lb-begin button.one[data-kind=stripes]').click();
    await other.locator('lb-begin button.one[data-kind=diamonds]').click();
    await one.context.setOffline(false);
    await Promise.all([untilSaved(one.page), untilSaved(other)]);
    const same = async (): Promise<boolean> =>
      JSON.stringify([...(await boardOf(one.page)).pattern.knots]) ===
      JSON.stringify([...(await boardOf(other)).pattern.knots]);
    await expect.poll(same).toBe(true);
    expect(['p1', 'p2', 'p2mm']).toContain(symmetry((await boardOf(one.page)).pattern).frieze);
  });

  it('[B305] on a phone, where axe finds nothing and nothing is wider; left alone it is gone', async () => {
    const { page } = await openEmpty({ viewport: { width: 390, height: 844 }, hasTouch: true });
    const close = page.locator('lb-begin .close');
    await close.waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await close.tap();
    await page.locator('lb-begin section').waitFor({ state: 'detached' });
    expect((await boardOf(page)).pattern.knots.every((knot) => knot === 0)).toBe(true);
  });

  it('[B305] who may only look is offered nothing', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/demo-open-windows`);
    await page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    expect(await page.locator('lb-begin section').count()).toBe(0);
  });
});
