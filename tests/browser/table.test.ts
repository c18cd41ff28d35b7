/** Making one keychain from a board, in a real browser: by touch, by keyboard, after a reload, with the board changed meanwhile. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { openHeaderMenu } from '../support/board-page.ts';
import { type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('table');
const FILE = { ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'] };
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };
const ACROSS = { viewport: { width: 844, height: 390 }, hasTouch: true };

/** A maker at the list of keychains of a board of their own. */
async function atTable(
  options: Parameters<typeof visit>[2],
): Promise<Visitor & { readonly address: string }> {
  const visitor = await visit(suite.browser, 'about:blank', options);
  const address = `${suite.http}/board/${await makeBoardOf(visitor, suite.http, { file: FILE })}/table`;
  await visitor.page.goto(address);
  return { ...visitor, address };
}

async function begin(page: Page, name: string): Promise<void> {
  await page.getByLabel('What it is called').fill(name);
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.locator('lb-table-cut .huge').waitFor();
}

const stage = (page: Page, name: string) =>
  page.getByRole('navigation').getByRole('button', { name, exact: true }).click();
const said = (page: Page) => page.locator('main.stage > * .said').first();
const boxes = (page: Page) =>
  page
    .locator('.pads button')
    .evaluateAll((buttons) => buttons.map((button) => JSON.stringify(button.getBoundingClientRect())));
/** Lets the page’s clock stand on, so that no press is taken for the bounce of the one before. */
const turnClock = (page: Page) =>
  page.evaluate(() => {
    let turned = 0;
    const real = performance.now.bind(performance);
    performance.now = () => {
      turned += 1000;
      return real() + turned;
    };
  });

it.each([PHONE, ACROSS])(
  '[N36] at %o the large buttons take half the screen, stay where they are, and nothing is wider than it',
  async (options) => {
    const { page, complaints } = await atTable(options);
    await begin(page, 'For Nell');
    await turnClock(page);
    const before = await boxes(page);
    const { width, height } = options.viewport;
    const area = await page.locator('.pads').evaluate((pads) => pads.clientWidth * pads.clientHeight);
    expect(area / (width * height)).toBeGreaterThan(0.45);
    const on = page.locator('.pads .on');
    for (const name of ['Cut', 'Mount', 'Tie', 'Finish']) {
      await stage(page, name);
      await said(page).waitFor();
      for (let press = 0; press < 3; press++) await on.tap();
      expect(await boxes(page)).toEqual(before);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      expect(await axeFindings(page), name).toEqual([]);
    }
    expect(complaints).toEqual([]);
  },
);

it('[N30] a touch ties one step, a second at once ties nothing, and a reload goes on at that knot', async () => {
  const { page, address } = await atTable(PHONE);
  await begin(page, 'First');
  await stage(page, 'Tie');
  const count = page.locator('lb-table-tie .count');
  await count.getByText('1 of 10').waitFor();
  await page.locator('.pads .on').evaluate((button) => {
    const { left, top } = button.getBoundingClientRect();
    const at = { bubbles: true, composed: true, clientX: left + 20, clientY: top + 20 };
    for (const pointerId of [1, 1]) {
      button.dispatchEvent(new PointerEvent('pointerdown', { ...at, pointerId }));
      button.dispatchEvent(new PointerEvent('pointerup', { ...at, pointerId }));
    }
  });
  await count.getByText('2 of 10').waitFor();
  const where = await said(page).textContent();
  await page.reload();
  await expect.poll(() => said(page).textContent()).toBe(where);
  // A second one of the same board begins at its own first knot.
  await page.goto(address);
  await page.getByRole('button', { name: 'Go on with First', exact: false }).waitFor();
  await begin(page, 'Second');
  await stage(page, 'Tie');
  await count.getByText('1 of 10').waitFor();
});

it('[N22] a swipe only looks, with the way back in sight; On asks then, and No ties nothing', async () => {
  const { page } = await atTable(PHONE);
  await begin(page, 'Looking');
  await stage(page, 'Tie');
  const count = page.locator('lb-table-tie .count');
  await count.getByText('1 of 10').waitFor();
  const before = await said(page).textContent();
  await page.locator('lb-table-tie .sight').evaluate((sight) => {
    const at = { bubbles: true, composed: true, pointerId: 1, clientY: 300 };
    sight.dispatchEvent(new PointerEvent('pointerdown', { ...at, clientX: 250 }));
    sight.dispatchEvent(new PointerEvent('pointerup', { ...at, clientX: 120 }));
  });
  const back = page.getByRole('button', { name: 'Back to my knot' });
  await back.waitFor();
  await page.locator('.pads .on').tap();
  await page.getByRole('button', { name: 'No', exact: true }).click();
  await back.click();
  await count.getByText('1 of 10').waitFor();
  expect(await said(page).textContent()).toBe(before);
});

it('[N34] by keyboard alone: from the board to the last knot', async () => {
  const { page } = await atTable({});
  await page.goto(page.url().replace('/table', ''));
  await page.locator('lb-board canvas.pattern').waitFor();
  await openHeaderMenu(page);
  const link = page.getByRole('link', { name: 'Make one' });
  await link.focus();
  await page.keyboard.press('Enter');
  await page.getByLabel('What it is called').press('Enter');
  await page.locator('lb-table-cut .huge').waitFor();
  await turnClock(page);
  await page.locator('body').press('ArrowRight');
  await page.getByText('Cord 2 of 3').waitFor();
  await page.locator('body').press('PageUp');
  await page.getByText('Cord 1 of 3').waitFor();
  const tie = page.getByRole('navigation').getByRole('button', { name: 'Tie', exact: true });
  await tie.focus();
  await page.keyboard.press('Enter');
  await page.locator('lb-table-tie .count').getByText('1 of 10').waitFor();
  for (const key of ['PageDown', 'ArrowDown', 'ArrowRight']) await page.keyboard.press(key);
  await page.locator('lb-table-tie .count').getByText('4 of 10').waitFor();
  await page.keyboard.press('Shift+ArrowRight');
  await page.getByRole('button', { name: 'Back to my knot' }).waitFor();
  await page.keyboard.press('ArrowLeft');
  for (let knot = 3; knot < 10; knot++) await page.keyboard.press('PageDown');
  await page.getByText('That was the last knot.').waitFor();
});

it('[N5] a board that was changed meanwhile says how many tied knots are another now; one goes on as begun or follows', async () => {
  const { page, context, address } = await atTable(PHONE);
  await begin(page, 'Changed');
  await stage(page, 'Tie');
  await turnClock(page);
  const count = page.locator('lb-table-tie .count');
  await count.getByText('1 of 10').waitFor();
  for (let knot = 0; knot < 3; knot++) await page.locator('.pads .on').tap();
  await count.getByText('4 of 10').waitFor();
  const other = await context.newPage();
  await other.goto(address.replace('/table', ''));
  await other.locator('lb-board canvas.pattern').waitFor();
  await other.locator('lb-board').evaluate((element) => {
    const { session } = element as unknown as { session: { design: { run(command: unknown): unknown } } };
    session.design.run({ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 2 }] });
  });
  await page.getByText('1 of your tied knots is another now.', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Follow the board' }).tap();
  await page.getByText('is another now', { exact: false }).waitFor({ state: 'detached' });
  await count.getByText('4 of 10').waitFor();
});

it('[N2] from a colourway of a set the keychain is begun in its colours', async () => {
  const maker = await visit(suite.browser, 'about:blank', PHONE);
  const { page } = maker;
  const colours = FILE.palette.map((colour) => ({ ...colour, hex: '#102030', name: `night ${colour.id}` }));
  const file = { ...FILE, colourways: [{ id: 'night', name: 'Night', colours }] };
  const address = `${suite.http}/board/${await makeBoardOf(maker, suite.http, { file })}`;
  await page.goto(`${address}/set?colourway=night`);
  await page.locator('lb-set-editor').getByText('Print and save').click();
  await page.getByRole('link', { name: 'Make this one' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByText('night a').first().waitFor();
  await page.getByRole('heading', { name: 'Night' }).waitFor();
  await page.goto(`${address}/table?colourway=gone`);
  await page.getByText('There is no such colourway on the board.').waitFor();
});
