/** The page in its second language: found by the browser's, changed by hand, remembered, nothing lost. */
import { describe, expect, it } from 'vitest';
import { focusKnots, rowsOf, untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('languages');

describe('languages', () => {
  it('[X24] a browser that asks for German gets it, steps and all', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/board/demo-mirrored-diamonds`, {
      locale: 'de-AT',
    });
    await page.locator('lb-mounting-panel').getByText('sauberer Rückseite', { exact: false }).waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    await page.getByRole('tab', { name: 'Arbeitsfolge' }).click();
    await page.locator('lb-work-panel .said').getByText('Reihe 1', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('[X24] changing it keeps what is open, and what can be undone', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/`);
    await page.locator('button[type=submit]').click();
    await untilSaved(page);
    await focusKnots(page);
    await page.keyboard.press('1');
    await page.locator('select.language').selectOption('de');
    await page.getByRole('button', { name: 'Rückgängig', exact: true }).first().click();
    expect((await rowsOf(page))[0]).not.toMatch(/f/);
    for (const tab of ['Zuschnitt', 'Steg und Maße', 'Arbeitsfolge', 'Symmetrie', 'Anhänger', 'Aufhängen'])
      await page.getByRole('tab', { name: tab }).click();
    await page.reload();
    await page.getByRole('tab', { name: 'Zuschnitt' }).waitFor();
    await page.locator('select.language').selectOption('en');
    await page.getByRole('tab', { name: 'Cutting list' }).waitFor();
    expect(complaints).toEqual([]);
  });
});
