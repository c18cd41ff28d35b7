/** A band that begins without a ring, in a real browser: chosen with the piece, seen by a friend, made at the table, taken back. */
import { expect, it } from 'vitest';
import { cutList } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, undo } from '../support/own-board.ts';

const suite = browserSuite('without-ring');
/** Crosses on a ring. */
const CROSSED = { ...LOPSIDED, strings: ['a', 'b', 'a', 'b', 'c', 'c'], piece: { barMm: 19 } };

it('[B280] [B282] [B283] [D370] a loop is chosen in place of a ring, everybody sees it at once, and one undo hangs it again', async () => {
  const { page, context, complaints } = await openOwnBoard(suite.browser, suite.http, CROSSED);
  await openTab(page, 'Mounting');
  await page.locator('lb-mounting-panel').getByText('Does not mount neatly', { exact: false }).waitFor();
  const friend = await context.newPage();
  await friend.goto(page.url());
  await openTab(friend, 'Mounting');

  await openTab(page, 'Keychain');
  const piece = page.locator('lb-piece-panel');
  await piece.locator('#begin').selectOption('loop');
  await piece.locator('#loopMm').fill('12');
  await piece.locator('#loopMm').blur();
  await expect
    .poll(async () => (await boardOf(page)).piece)
    .toEqual({ barMm: 19, begin: 'loop', loopMm: 12 });
  expect(await piece.locator('#barMm, #ring').count()).toBe(0);

  // The friend's tab has another name, and no word of what crosses.
  await friend.getByRole('tab', { name: 'Beginning', exact: true }).waitFor();
  await friend.locator('lb-beginning').getByText('into one loop 12 mm high', { exact: false }).waitFor();
  expect(await friend.locator('lb-mount-steps, lb-ways-out').count()).toBe(0);
  expect(await axeFindings(friend)).toEqual([]);

  await openTab(page, 'Gauge');
  await page.locator('lb-gauge-panel #thread').waitFor();
  expect(await page.locator('lb-gauge-panel #bar').count()).toBe(0);
  await openTab(page, 'Cutting list');
  const { folds, singles } = cutList(await boardOf(page));
  await expect.poll(() => page.locator('lb-cutting-panel ol li').count()).toBe(folds.length);
  expect([folds.length, singles.length]).toEqual([3, 0]);

  await openTab(page, 'Keychain');
  expect(await axeFindings(page)).toEqual([]);
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await undo(page);
  await undo(page);
  await expect.poll(async () => (await boardOf(friend)).piece).toEqual({ barMm: 19 });
  await friend.getByRole('tab', { name: 'Mounting', exact: true }).waitFor();
  await friend.locator('lb-mounting-panel').getByText('Does not mount neatly', { exact: false }).waitFor();
  expect(complaints).toEqual([]);
});

it('[B285] at the table a band with loose cords is begun, not mounted, and both its braids are in the list of the finish', async () => {
  const file = { ...CROSSED, version: 4, piece: { begin: 'loose' } };
  const { page, complaints } = await openOwnBoard(suite.browser, suite.http, file);
  await page.goto(`${page.url()}/table`);
  await page.getByLabel('What it is called').fill('For Fay');
  await page.locator('form button').click();
  const stage = (name: string) =>
    page.getByRole('navigation').getByRole('button', { name, exact: true }).click();
  await page.locator('lb-table-cut').getByText('It is not folded.').waitFor();
  await stage('Begin');
  const said = page.locator('lb-table-mount .said');
  await expect.poll(() => said.textContent()).toContain('hold them 120 mm below');
  expect(await axeFindings(page)).toEqual([]);
  await stage('Finish');
  const finish = page.locator('lb-table-finish label:has(input[type=checkbox])');
  await expect.poll(() => finish.count()).toBe(3);
  expect((await finish.allTextContents()).filter((text) => /braid/i.test(text))).toHaveLength(2);
  expect(complaints).toEqual([]);
});
