/** What is said about entries of the panels, by an owner and a reviewer, each in a browser profile of their own. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, litOf, openOwnBoard, openTab, runOn } from '../support/own-board.ts';

const suite = browserSuite('entries');

const box = (page: Page): Locator => page.getByRole('textbox', { name: 'What you want to say' });
const threads = (page: Page): Locator => page.locator('lb-talk-panel .thread');
const say = async (page: Page, text: string): Promise<void> => {
  await expect.poll(() => box(page).evaluate((area) => area.matches(':focus'))).toBe(true);
  await page.keyboard.type(text);
  await page.keyboard.press('Control+Enter');
  await expect.poll(() => threads(page).filter({ hasText: text }).count()).toBe(1);
  await expect.poll(() => page.locator('lb-talk-panel .unsent').count()).toBe(0);
};

describe('remarks about entries', () => {
  it('[X90] [X91] a reviewer speaks about a cut string by mouse; it stays with its string and says when it is gone', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(owner.page);
    const shop = await guestOf(suite.browser, suite.http, owner, 'reviewer', 'Shop');

    await openTab(shop.page, 'Cutting list');
    const entries = shop.page.locator('lb-cutting-panel li.entry');
    await entries
      .filter({ hasText: 'straw' })
      .getByRole('button', { name: /Say something/ })
      .click();
    const about = shop.page.getByLabel('About');
    await expect
      .poll(() => about.locator('option:checked').textContent())
      .toBe('the cord at places 3 and 4 (“Cutting list”)');
    await say(shop.page, 'Cut this one longer.');

    // Heard, new at the entry, and the way from there to the words.
    await openTab(owner.page, 'Cutting list');
    expect(await owner.page.locator('body > [aria-live]').textContent()).toContain(
      'Shop about the cord at places 3 and 4',
    );
    const own = owner.page.locator('lb-cutting-panel li.entry').filter({ hasText: 'straw' });
    await own.getByRole('button', { name: /^1 remark about the cord.*new$/ }).click();
    await threads(owner.page).hover();
    await expect.poll(() => litOf(owner.page)).toEqual({ strings: [2, 3] });

    // Looked at: no longer new. And from the words to the entry.
    await threads(owner.page)
      .getByRole('button', { name: /the cord at places 3 and 4/ })
      .first()
      .click();
    await expect.poll(() => own.evaluate((entry) => entry.matches(':focus'))).toBe(true);
    await expect
      .poll(() => own.getByRole('button').getAttribute('aria-label'))
      .toBe('1 remark about the cord at places 3 and 4');

    // Strings come in before it: it is at other places now, for both.
    await runOn(owner.page, { kind: 'insert-string-pairs', at: 0, count: 1 });
    await openTab(shop.page, 'Talk');
    await expect.poll(() => threads(shop.page).textContent()).toContain('places 5 and 6');

    // Its ends are of two colours now: it is cut no longer as one, the remark says so and stays.
    await runOn(owner.page, { kind: 'recolour-strings', strings: [4], colour: 'a' });
    await expect.poll(() => threads(shop.page).textContent()).toContain('not an entry any more');
    await runOn(owner.page, { kind: 'delete-string-pairs', from: 2, count: 1 });
    await expect.poll(() => threads(shop.page).textContent()).toContain('a cord of which a string is gone');
    expect(await threads(shop.page).textContent()).toContain('Cut this one longer.');
    await owner.page.getByRole('button', { name: 'Undo', exact: true }).click();
    await owner.page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect
      .poll(() => threads(shop.page).locator('h3').textContent())
      .toBe('the cord at places 5 and 6 (“Cutting list”)');
    expect([...owner.complaints, ...shop.complaints]).toEqual([]);
  });

  it('[X92] entries of every panel are talked about by key and by finger; onlookers read them', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const { page } = owner;
    await untilSaved(page);
    // By key, on the entry itself.
    await openTab(page, 'Mounting');
    const step = page.locator('lb-mounting-panel ol li').first();
    await step.locator('lb-entry-mark button').waitFor();
    await step.focus();
    await page.keyboard.press('p');
    await say(page, 'First?');
    await openTab(page, 'Symmetry');
    await page.locator('lb-symmetry-panel li.break').first().focus();
    await page.keyboard.press('p');
    await say(page, 'Let it be.');
    await openTab(page, 'Work order');
    await page.locator('lb-work-panel .next').click();
    await page.locator('lb-work-panel lb-entry-mark button').focus();
    await page.keyboard.press('Enter');
    await say(page, 'Mind this one.');
    await openTab(page, 'Keychain');
    await page
      .locator('lb-piece-panel .field')
      .filter({ hasText: 'Tail' })
      .locator('lb-entry-mark button')
      .click();
    await say(page, 'Longer tails.');
    await openTab(page, 'Bar and gauge');
    await page.locator('lb-gauge-panel dt lb-entry-mark button').first().click();
    await say(page, 'Measured?');
    // Back at the step that was spoken of, though another is shown.
    await openTab(page, 'Work order');
    await page.locator('lb-work-panel .previous').click();
    await openTab(page, 'Talk');
    await threads(page).filter({ hasText: 'Mind this one.' }).locator('.place').click();
    await expect.poll(() => page.locator('lb-work-panel lb-entry-mark button').textContent()).toBe('1');
    expect(await axeFindings(page)).toEqual([]);

    // By finger, on a phone.
    const finger = {
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      locale: 'de-DE',
      colorScheme: 'dark',
    } as const;
    const aunt = await guestOf(suite.browser, suite.http, owner, 'onlooker', 'Aunt', finger);
    await openTab(aunt.page, 'Farben');
    const colours = aunt.page.locator('lb-palette-panel');
    await colours.waitFor();
    expect(await colours.locator('lb-entry-mark button').count()).toBe(0);
    await openTab(aunt.page, 'Aufhängen');
    const marks = aunt.page.locator('lb-mounting-panel lb-entry-mark button');
    await expect.poll(() => marks.count()).toBe(1);
    await marks.tap();
    await threads(aunt.page).filter({ hasText: 'First?' }).waitFor();
    expect(await axeFindings(aunt.page)).toEqual([]);
    const friend = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Fee', finger);
    await openTab(friend.page, 'Farben');
    await friend.page.locator('lb-palette-panel lb-entry-mark button').first().tap();
    await friend.page.locator('lb-talk-panel textarea').first().fill('Dunkler.');
    await friend.page.locator('lb-talk-panel .new .primary').tap();
    await expect.poll(() => threads(friend.page).first().textContent()).toContain('die Farbe spruce (');
    expect(await friend.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await expect.poll(() => page.locator('lb-panels #tab-talk b').textContent()).toBe('1');
    expect([...owner.complaints, ...aunt.complaints, ...friend.complaints]).toEqual([]);
  });
});
