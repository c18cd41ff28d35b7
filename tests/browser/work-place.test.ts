/** A maker who comes back to what they were tying. */
import { expect, it } from 'vitest';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('work-place');

it('[B154] after a reload the maker is at the knot where they were', async () => {
  const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  await openTab(page, 'Work order');
  const said = page.locator('lb-work-panel .said');
  await said.waitFor();
  for (let step = 0; step < 4; step += 1) await page.locator('lb-work-panel .next').click();
  const where = await said.textContent();
  await page.reload();
  await page.locator('lb-board canvas.pattern').waitFor();
  await openTab(page, 'Work order');
  await expect.poll(() => said.textContent()).toBe(where);
  await page.locator('lb-work-panel .previous').click();
  await expect.poll(() => said.textContent()).not.toBe(where);
});
