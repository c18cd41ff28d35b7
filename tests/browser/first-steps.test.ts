/** What a maker sees once, on the first board that they may change. */
import { describe, expect, it } from 'vitest';
import { focusKnots, untilDrawn, untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('first-steps');

describe('first steps', () => {
  it('[X22] teach by doing, once', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    const fetched = page.waitForRequest(/first-steps/);
    await page.locator('button[type=submit]').click();
    await fetched;
    await untilSaved(page);
    const steps = page.locator('lb-first-steps');
    await steps.getByText('Tie a knot', { exact: false }).waitFor();
    await focusKnots(page);
    await page.keyboard.press('1');
    await steps.getByText('take it back with Undo', { exact: false }).waitFor();
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await steps.getByText('Point at a cord', { exact: false }).waitFor();
    await page.locator('lb-mounting-panel ol li').first().hover();
    await steps.getByText('every change is worked out at once', { exact: false }).waitFor();
    await steps.getByRole('button', { name: 'Start' }).click();
    await steps.waitFor({ state: 'detached' });
    await page.reload();
    await untilSaved(page);
    expect(await steps.count()).toBe(0);
  });

  it('[X22] do not come on a board that one may only look at', async () => {
    const { page } = await visit(suite.browser, 'about:blank');
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(`${suite.http}/board/demo-open-windows`);
    // The role is known, and what is fetched after the board has come.
    await page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    await page.locator('lb-mounting-panel ol li').first().waitFor();
    await untilDrawn(page);
    expect(asked.filter((url) => url.includes('first-steps'))).toEqual([]);
    expect(await page.locator('lb-first-steps').count()).toBe(0);
  });

  it('[X23] what is pointed at on the board is marked in the list that speaks of it', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/demo-mirrored-diamonds`);
    await page.locator('lb-mounting-panel li[data-strings]').first().waitFor();
    await focusKnots(page);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowUp');
    // The first knot of the first row ties the strings of the places 1 and 2.
    const marked = page.locator('lb-mounting-panel li.pointed');
    await marked.first().waitFor();
    const strings = await marked.evaluateAll((found) =>
      found.map((li) => (li as HTMLElement).dataset.strings),
    );
    for (const pair of strings)
      expect(pair?.split(' ').some((place) => place === '0' || place === '1')).toBe(true);
  });
});
