/** Keys of the tools in a real browser: shown, changed, kept, put out of use. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('keys');

/** What stands in the corner of a tool. */
const shown = (tool: Locator): Promise<string> =>
  tool.evaluate((button) => getComputedStyle(button, '::after').content);

describe('keys', () => {
  it('[B270] [B271] [B272] a key is changed on the sheet, shown on the tool, kept after a reload; letters alone go out of use', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 4);
    const fill = page.locator('lb-board [data-action=tool-fill]');
    await expect.poll(() => shown(fill)).toBe('"F"');
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
    await expect.poll(() => shown(fill)).toBe('"M"');
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

/** How often Tab is pressed until the knots have the keyboard. */
async function tabsToBoard(page: Page, most: number): Promise<number> {
  const isThere = () => page.locator('lb-board [role=gridcell]:focus').count();
  for (let tabs = 0; tabs <= most; tabs += 1) {
    if ((await isThere()) === 1) return tabs;
    await page.keyboard.press('Tab');
  }
  return Number.POSITIVE_INFINITY;
}

const onBoard = (page: Page) => page.locator('lb-board [role=gridcell]:focus');

describe('the way to the board', () => {
  it('[X100] [X101] it has the keyboard once it is made or opened; from the top it is one Tab and Enter, from the tools two', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 4);
    await expect.poll(() => onBoard(page).count()).toBe(1);
    await page.keyboard.press('1');
    await expect.poll(async () => (await rowsOf(page))[0]).toBe('f - -');
    // From the start page.
    await page.goto(`${suite.http}/`);
    await page.locator('button[type=submit]').click();
    await expect.poll(() => onBoard(page).count()).toBe(1);
    // From the top of the page, as if nothing had been touched.
    await page.evaluate(() => {
      (document.activeElement as HTMLElement).blur();
      const top = document.createElement('button');
      document.body.prepend(top);
      top.focus();
      top.remove();
    });
    await page.keyboard.press('Tab');
    expect(await page.locator('lb-app .skip:focus').isVisible()).toBe(true);
    await page.keyboard.press('Enter');
    expect(await onBoard(page).count()).toBe(1);
    await page.locator('lb-board .tools button[tabindex="-1"]').first().waitFor();
    await page.locator('lb-board [data-action=knot-1]').focus();
    expect(await tabsToBoard(page, 10)).toBe(2);
    expect(complaints).toEqual([]);
  });

  it('[X102] arrows go through the tools, and Tab comes back to the one used last', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 4);
    const at = () => page.locator('lb-board .tools button:focus').getAttribute('data-action');
    await page.locator('lb-board .tools button[tabindex="-1"]').first().waitFor();
    await page.locator('lb-board [data-action=knot-1]').focus();
    for (const key of ['ArrowDown', 'ArrowRight', 'ArrowUp']) await page.keyboard.press(key);
    expect(await at()).toBe('knot-2');
    await page.keyboard.press('End');
    expect(await at()).toBe('shortcuts');
    await page.keyboard.press('ArrowDown');
    expect(await at()).toBe('knot-1');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Shift+Tab');
    expect(await at()).toBe('shortcuts');
    const stops = () =>
      page
        .locator('lb-board .tools button[tabindex="0"]:visible')
        .evaluateAll((all) => all.map((one) => one.className));
    expect(await stops()).toEqual(['tool']);
    // On a phone most of them are behind one button.
    await page.setViewportSize({ width: 390, height: 844 });
    await expect.poll(stops).toEqual(['tool more']);
  });
});

describe('the list of commands', () => {
  it('[X103] [X104] comes from everywhere, finds by other words, says why not, and stays where it is', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 4);
    const list = page.locator('lb-command-list');
    const options = list.locator('[role=option]');
    // What is typed before it stands there is typed on the board.
    const ask = async () => {
      await list.waitFor({ state: 'detached' });
      await page.keyboard.press('Control+k');
      await list.locator('input:focus').waitFor();
    };
    await page.getByRole('link', { name: 'All boards' }).focus();
    await ask();
    const box = await list.locator('dialog').boundingBox();
    await page.keyboard.type('skeins');
    expect(await options.allTextContents()).toEqual(['Cutting list']);
    expect(await list.locator('dialog').boundingBox()).toEqual(box);
    await page.keyboard.press('Enter');
    await page.locator('lb-cutting-panel').waitFor();
    await ask();
    await page.keyboard.type('undo');
    await list.getByText('There is nothing of yours to undo.').waitFor();
    expect(await options.first().getAttribute('aria-disabled')).toBe('false');
    await page.keyboard.press('Escape');
    await ask();
    await page.keyboard.type('pdf');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/print');
    await ask();
    await page.keyboard.type('glossary');
    await page.keyboard.press('Enter');
    await page.locator('lb-help-page').waitFor();
    expect(complaints).toEqual([]);
  });
});

describe('panels', () => {
  it('[X105] [X106] what can be said about their entries is one tab stop at most; every field has a name', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 4);
    await page.locator('lb-panels [role=tab]').first().waitFor();
    for (const tab of await page.locator('lb-panels [role=tab]').all()) {
      await tab.click();
      await page.waitForLoadState('networkidle');
      const found = await page.evaluate(() => {
        const all: Element[] = [];
        const walk = (root: Document | ShadowRoot): void => {
          for (const element of root.querySelectorAll('*')) {
            all.push(element);
            if (element.shadowRoot !== null) walk(element.shadowRoot);
          }
        };
        walk(document);
        const fields = all.filter((one) => one.matches('input, select, textarea')) as HTMLInputElement[];
        const isNamed = (one: HTMLInputElement): boolean =>
          [...(one.labels ?? [])].some((label) => label.textContent?.trim()) ||
          ['aria-label', 'aria-labelledby'].some((name) => one.getAttribute(name)?.trim());
        const marks = all.filter((one) => one.matches('lb-entry-mark') && !one.matches('[hidden]'));
        return {
          count: fields.length,
          nameless: fields.filter((one) => !isNamed(one)).map((one) => one.outerHTML),
          marks: marks.length,
          stops: marks.filter((one) => one.shadowRoot!.querySelector('button')?.tabIndex === 0).length,
        };
      });
      expect([await tab.textContent(), found.nameless, found.stops <= 1]).toEqual([
        await tab.textContent(),
        [],
        true,
      ]);
      expect(found.count).toBeGreaterThan(0);
    }
    expect(complaints).toEqual([]);
  });
});
