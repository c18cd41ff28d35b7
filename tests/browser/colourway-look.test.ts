/** Looking at a board in a colourway of its set, while another edits it. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { choose, colourAt, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, runOn } from '../support/own-board.ts';

const suite = browserSuite('colourway-look');

/** In Ines's colours spruce is a red, and sand and straw are one thread. */
const WITH_SET = {
  ...LOPSIDED,
  version: 2,
  colourways: [
    {
      id: 'ines',
      name: 'Ines',
      colours: [
        { id: 'a', name: 'poppy', hex: '#d0482c' },
        { id: 'b', name: 'chalk', hex: '#f4f1e8' },
        { id: 'c', name: 'chalk', hex: '#f4f1e8' },
      ],
    },
    { id: 'tove', name: 'Tove', colours: [{ id: 'a', name: 'sky', hex: '#2f6fb5' }] },
  ],
};

const notice = (page: Page) => page.locator('lb-board-page .notice', { hasText: 'You see the board in' });
const look = (page: Page, name: string): Promise<unknown> =>
  page.locator('lb-palette-panel #dress').selectOption({ label: name });

describe('looking at a board in a colourway', () => {
  it('[X94] [X95] shows board, looks and panels in its colours, changes nothing, and goes back', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, WITH_SET);
    const { page } = owner;
    await untilSaved(page);
    const before = await boardOf(page);
    const spruce = await colourAt(page, 'pattern', 0, 0);
    await openTab(page, 'Colours');
    await look(page, 'Ines');
    await notice(page).getByText('You see the board in “Ines”. Nothing is changed').waitFor();
    expect(page.url()).toContain('colourway=ines');
    await expect.poll(() => colourAt(page, 'pattern', 0, 0)).not.toEqual(spruce);
    // Chart, paths and finished look are of one editor's board; the panels of the same.
    const shown = (): Promise<readonly string[]> =>
      page
        .locator('lb-board')
        .evaluate((board) => [
          ...(board as unknown as { editor: { model: { hexes: readonly string[] } } }).editor.model.hexes,
        ]);
    expect(await shown()).toEqual(['#d0482c', '#f4f1e8', '#f4f1e8', '#f4f1e8', '#f4f1e8', '#f4f1e8']);
    await choose(page, 'look-finished');
    await page.locator('lb-finished').waitFor();
    await choose(page, 'look-chart');
    await openTab(page, 'Mounting');
    await page.locator('lb-mounting-panel ol li').filter({ hasText: 'chalk' }).first().waitFor();
    await openTab(page, 'Cutting list');
    const cutting = page.locator('lb-cutting-panel');
    await cutting.getByText('poppy', { exact: false }).first().waitFor();
    expect(await cutting.textContent()).not.toContain('spruce');
    expect(await axeFindings(page)).toEqual([]);

    // Tools are off, by pointer and key, and say why.
    const { x, y } = await pointOf(page, 0, 0);
    await page.mouse.click(x, y);
    await page.getByText('To change it, go back to the board first.').waitFor();
    await focusKnots(page);
    await page.keyboard.press('4');
    await page.keyboard.press('Delete');
    for (const name of ['Undo', 'Redo'])
      expect(await page.getByRole('button', { name, exact: true }).isDisabled()).toBe(true);
    await openTab(page, 'Colours');
    await page.locator('lb-palette-panel input').first().waitFor();
    expect(await page.locator('lb-palette-panel input:enabled').count()).toBe(0);
    expect(await boardOf(page)).toEqual(before);

    // What another ties and recolours is seen at once, in these colours.
    const friend = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Fee');
    await runOn(friend.page, { kind: 'set-knots', knots: [{ row: 3, k: 0, knot: 4 }] });
    await runOn(friend.page, { kind: 'recolour-strings', strings: [5], colour: 'a' });
    await expect.poll(shown).toEqual(['#d0482c', '#f4f1e8', '#f4f1e8', '#f4f1e8', '#f4f1e8', '#d0482c']);
    expect((await rowsOf(page))[3]).toBe('bf b');

    // Another colourway, a reload, and back: everything works again.
    await notice(page).locator('select').selectOption({ label: 'Tove' });
    await expect.poll(shown).toEqual(['#2f6fb5', '#e8c98a', '#e6c27c', '#e6c27c', '#e8c98a', '#2f6fb5']);
    await page.reload();
    await notice(page).getByText('“Tove”').waitFor();
    await runOn(friend.page, { kind: 'remove-colourway', id: 'tove' });
    await page.getByText('This colourway is gone.').waitFor();
    await page.getByRole('button', { name: 'Back to the board' }).click();
    await expect.poll(() => page.url()).not.toContain('colourway');
    await focusKnots(page);
    await page.keyboard.press('2');
    await untilSaved(page);
    await expect.poll(async () => (await rowsOf(friend.page))[0]).toMatch(/^b /);
    const after = await boardOf(page);
    expect(after.palette).toEqual(before.palette);
    expect(after.colourways).toEqual(before.colourways.filter(({ id }) => id !== 'tove'));
    expect([...owner.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[X95] from the set, on a phone, by who may only look', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, WITH_SET);
    await untilSaved(owner.page);
    const phone = {
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      locale: 'de-DE',
      colorScheme: 'dark',
    } as const;
    const aunt = await guestOf(suite.browser, suite.http, owner, 'onlooker', 'Aunt', phone);
    const { page } = aunt;
    await page.goto(`${owner.page.url()}/set?colourway=ines`);
    await page.getByText('Drucken und sichern', { exact: true }).tap();
    await page.getByRole('link', { name: 'Das Brett in diesen Farben' }).click();
    await page.getByText('Du siehst das Brett in „Ines“').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.getByRole('button', { name: 'Zurück zum Brett' }).tap();
    await expect.poll(() => page.getByText('Du siehst das Brett in').count()).toBe(0);
    expect(aunt.complaints).toEqual([]);
  });
});
