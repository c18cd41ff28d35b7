/** Painting what should show, in a real page: painted, answered, taken, kept, with somebody else on the board. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { weave } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('wish');

const FILE = {
  format: 'larkboard',
  version: 1,
  title: 'Wished for',
  palette: [
    { id: 'a', name: 'spruce', hex: '#1f6266' },
    { id: 'b', name: 'sand', hex: '#e8c98a' },
    { id: 'c', name: 'brick', hex: '#a3402c' },
  ],
  strings: ['a', 'a', 'b', 'b', 'b', 'b', 'a', 'a'],
  start: 0,
  rows: ['- - - -', '- - -', '- - - -', '- - -', '- - - -', '- - -', '- - - -', '- - -'],
};

/** Colours by turns, each where it hangs. */
const STRIPED = {
  ...FILE,
  strings: ['a', 'b', 'a', 'b', 'a', 'b', 'a', 'b'],
  rows: FILE.rows.map((row) => row.replaceAll('-', 'fb')),
};

async function openBoard(options: Parameters<typeof visit>[2] = {}, file: unknown = FILE) {
  const visitor = await visit(suite.browser, 'about:blank', options);
  await visitor.page.goto(`${suite.http}/board/${await makeBoardOf(visitor, suite.http, { file })}`);
  await untilSaved(visitor.page);
  return visitor;
}

/** Opens painting by its key, and waits until the keyboard is on the wish. */
async function openWish(page: Page): Promise<void> {
  await page.locator('lb-board [role=gridcell]').focus();
  await page.keyboard.press('Shift+Digit5');
  await page.locator('lb-wish [role=gridcell]:focus').waitFor();
}

const cell = (page: Page) => page.locator('lb-wish [role=gridcell]');
const answers = (page: Page) => page.locator('lb-wish lb-wish-answers li');
const untilAnswered = (page: Page) =>
  page.locator('lb-wish .side [role=status]', { hasText: /answers?\./ }).waitFor();

/** Middle of a cell of the wish on the screen. */
function pointOf(page: Page, at: { readonly row: number; readonly k: number }) {
  return page.evaluate(({ row, k }) => {
    const wish = document
      .querySelector('lb-app')!
      .shadowRoot!.querySelector('lb-board-page')!
      .shadowRoot!.querySelector('lb-wish') as unknown as {
      readonly stage: HTMLElement;
      readonly canvas: { readonly view: { unit: number; row: number; x: number; y: number } };
    };
    const box = wish.stage.getBoundingClientRect();
    const { unit, row: high, x, y } = wish.canvas.view;
    return { x: box.left + x + (2 * k + (row & 1) + 0.5) * unit, y: box.top + y + (row + 1) * high };
  }, at);
}

/** Colour that shows in a knot of the board as the page holds it, '' where none. */
async function shownAt(page: Page, row: number, k: number): Promise<string> {
  const { pattern } = await boardOf(page);
  const string = weave(pattern).shown[row]![k]!;
  return string < 0 ? '' : pattern.colours[string]!;
}

describe('painting what should show', () => {
  it('[B330] [B331] [B334] [B336] painted by mouse, answered beside it, taken as one step; nothing changes before', async () => {
    const { page, complaints } = await openBoard();
    const before = await boardOf(page);
    await page.getByRole('button', { name: 'Wish', exact: true }).click();
    await page.locator('lb-wish').getByText('Nothing is painted yet.').waitFor();
    await page.locator('lb-wish').getByRole('button', { name: 'brick', exact: true }).click();
    const [from, to] = [await pointOf(page, { row: 2, k: 0 }), await pointOf(page, { row: 2, k: 3 })];
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 6 });
    await page.mouse.up();
    await untilAnswered(page);
    const neat = answers(page).filter({ hasText: 'Another order at the top' });
    await neat.getByText('Shows all of it').waitFor();
    expect(await neat.locator('.cost').textContent()).toMatch(/mounts neatly · needs a bar of .+ · \d+ min/);
    const now = answers(page).filter({ hasText: 'Strings as they hang now' });
    await now.getByText(/4 knots can’t be had/).waitFor();
    expect((await boardOf(page)).pattern).toEqual(before.pattern);
    await neat.getByRole('button', { name: /^Tie this/ }).click();
    await page.locator('lb-wish .notice', { hasText: 'Tied:' }).waitFor();
    for (let k = 0; k < 4; k++) expect(await shownAt(page, 2, k)).toBe('c');
    await page.getByRole('button', { name: 'Back to the board' }).click();
    await page.locator('lb-board [role=gridcell]:focus').waitFor();
    await page.keyboard.press('Control+z');
    await expect.poll(async () => (await boardOf(page)).pattern).toEqual(before.pattern);
    expect(complaints).toEqual([]);
  });

  it('[B332] [B333] [B335] by keyboard alone, each cell spoken; what can’t be had is said; Escape goes back', async () => {
    const { page } = await openBoard();
    await openWish(page);
    await expect.poll(() => cell(page).getAttribute('aria-label')).toBe('row 1, knot 1, open');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('3');
    await expect.poll(() => cell(page).getAttribute('aria-label')).toMatch(/^row 1, knot 2, brick wanted/);
    await untilAnswered(page);
    await answers(page).locator('.look', { hasText: 'Strings as they hang now' }).focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(() => cell(page).getAttribute('aria-label'))
      .toBe('row 1, knot 2, brick wanted, can’t be had here');
    await cell(page).focus();
    await page.keyboard.press('0');
    await expect.poll(() => cell(page).getAttribute('aria-label')).toBe('row 1, knot 2, open');
    await page.keyboard.press('Control+z');
    await expect.poll(() => cell(page).getAttribute('aria-label')).toMatch(/brick wanted/);
    await page.keyboard.press('Escape');
    await page.locator('lb-wish').waitFor({ state: 'detached' });
    await page.locator('lb-board [role=gridcell]:focus').waitFor();
  });

  it('[B337] [B338] somebody else puts rows in: the wish stays on its knot, also after a reload', async () => {
    const one = await openBoard();
    const other = await one.context.newPage();
    await other.goto(one.page.url());
    await untilSaved(other);
    await openWish(one.page);
    await one.page.keyboard.press('ArrowDown');
    await one.page.keyboard.press('3');
    await other.locator('lb-board [role=gridcell]').focus();
    await other.keyboard.press('Shift+Insert');
    await one.page.locator('lb-wish .notice', { hasText: 'stayed with its knots' }).waitFor();
    const spokenIn = async (row: number): Promise<string | null> => {
      await cell(one.page).focus();
      await one.page.keyboard.press('Control+Home');
      for (let i = 1; i < row; i++) await one.page.keyboard.press('ArrowDown');
      await expect
        .poll(() => cell(one.page).getAttribute('aria-label'))
        .toMatch(new RegExp(`^row ${row}, knot 1,`));
      return cell(one.page).getAttribute('aria-label');
    };
    expect(await spokenIn(2)).toBe('row 2, knot 1, open');
    expect(await spokenIn(4)).toMatch(/^row 4, knot 1, brick wanted/);
    await untilAnswered(one.page);
    await one.page.reload();
    await untilSaved(one.page);
    await openWish(one.page);
    await expect.poll(() => spokenIn(4)).toMatch(/^row 4, knot 1, brick wanted/);
  });

  it('[B339] what is selected on the board is mended: one knot changes, the rest stays; one step of undo', async () => {
    const { page, complaints } = await openBoard({}, STRIPED);
    const before = await boardOf(page);
    await page.locator('lb-board [role=gridcell]').focus();
    await page.keyboard.press('Shift+Space');
    await openWish(page);
    await expect.poll(() => cell(page).getAttribute('aria-label')).toBe('row 1, knot 1, spruce wanted');
    await page.locator('lb-wish .side [role=status]').getByText('All of it shows already.').waitFor();
    await page.keyboard.press('2');
    const one = answers(page).filter({ hasText: 'Only the knots you painted' });
    await one.getByText('1 knot changes; fewer would not do').waitFor();
    await one.getByText('Shows all of it').waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('2');
    // Below the selection nothing is painted.
    await expect.poll(() => cell(page).getAttribute('aria-label')).toBe('row 2, knot 1, open');
    await one.getByRole('button', { name: /^Tie this/ }).click();
    await page.locator('lb-wish .notice', { hasText: 'Tied:' }).waitFor();
    const after = (await boardOf(page)).pattern;
    expect(after.colours).toEqual(before.pattern.colours);
    const changed = [...after.knots.keys()].filter((at) => after.knots[at] !== before.pattern.knots[at]);
    expect(changed).toEqual([0]);
    expect(await shownAt(page, 0, 0)).toBe('b');
    await page.getByRole('button', { name: 'Back to the board' }).click();
    await page.keyboard.press('Control+z');
    await expect.poll(async () => (await boardOf(page)).pattern).toEqual(before.pattern);
    expect(complaints).toEqual([]);
  });

  it('[B330] on a phone, in German and dark, by touch; axe finds nothing, nothing is wider', async () => {
    const viewport = { width: 390, height: 844 };
    const { page } = await openBoard({ viewport, hasTouch: true, locale: 'de-DE', colorScheme: 'dark' });
    await page.locator('lb-board .tool.more').click();
    await page.locator('lb-board [data-action=wish]').click();
    await page.locator('lb-wish').getByText('Noch ist nichts gemalt.').waitFor();
    await page.locator('lb-wish').getByRole('button', { name: 'sand', exact: true }).tap();
    const at = await pointOf(page, { row: 1, k: 1 });
    await page.touchscreen.tap(at.x, at.y);
    await page.locator('lb-wish .side [role=status]', { hasText: /Antwort/ }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.getByRole('button', { name: 'Zurück zum Brett' }).tap();
    await page.locator('lb-wish').waitFor({ state: 'detached' });
  });
});
