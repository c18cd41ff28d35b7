/** Keys of the tools in a real browser: shown, changed, kept, put out of use. */
import type { Locator } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { newBoard } from '../support/board-page.ts';
import { focusKnots } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('keys');

/** What stands in the corner of a tool. */
const shown = (tool: Locator): Promise<string> =>
  tool.evaluate((button) => getComputedStyle(button, '::after').content);

describe('keys', () => {
  it('[B270] [B271] [B272] a key is changed on the sheet, shown on the tool, kept after a reload; letters alone go out of use', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 4);
    const fill = page.locator('lb-board [data-action=tool-fill]');
    expect(await shown(fill)).toBe('"F"');
    await focusKnots(page);
    await page.keyboard.press('?');
    const sheet = page.locator('lb-shortcut-sheet');
    await sheet.locator('button[data-action=tool-fill]').click();
    await page.keyboard.press('ArrowDown');
    await sheet.getByText('This key has its own meaning').waitFor();
    await page.keyboard.press('m');
    await sheet.getByText('M is now “Fill an area', { exact: false }).waitFor();
    await page.keyboard.press('Escape');
    await page.reload();
    await page.locator('lb-board canvas.pattern').waitFor();
    expect(await shown(fill)).toBe('"M"');
    await focusKnots(page);
    await page.keyboard.press('m');
    expect(await fill.getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('lb-board [data-action=mirror]').getAttribute('aria-pressed')).toBe('false');
    await page.keyboard.press('?');
    await sheet.getByRole('checkbox').uncheck();
    await page.keyboard.press('Escape');
    await expect.poll(() => shown(fill)).toBe('none');
    await focusKnots(page);
    await page.keyboard.press('k');
    expect(await fill.getAttribute('aria-pressed')).toBe('true');
    expect(complaints).toEqual([]);
  });
});
