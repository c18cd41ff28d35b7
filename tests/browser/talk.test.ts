/** What is said about a board, by an owner, a reviewer and an onlooker, each in a browser profile of their own. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { axeFindings } from '../support/axe.ts';
import { focusKnots, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, litOf, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('talk');

const tabOf = (page: Page): Locator => page.locator('lb-panels #tab-talk');
const box = (page: Page): Locator => page.getByRole('textbox', { name: 'What you want to say' });
const threads = (page: Page): Locator => page.locator('lb-talk-panel .thread');
const pins = (page: Page): Locator => page.locator('lb-talk-pins[slot=pins] button');

/** Opens the box about the knot that the keyboard is on. */
async function sayHere(page: Page): Promise<void> {
  await expect
    .poll(() => page.locator('lb-board').evaluate((board) => (board as LbBoard).talk?.canTalk))
    .toBe(true);
  await page.keyboard.press('p');
  await expect.poll(() => box(page).evaluate((area) => area.matches(':focus'))).toBe(true);
}

describe('talk', () => {
  it('[G1] [G2] [G3] a reviewer speaks about a knot; the owner sees it new, on the board too; an onlooker reads', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(owner.page);
    const shop = await guestOf(suite.browser, suite.http, owner, 'reviewer', 'Shop');
    const aunt = await guestOf(suite.browser, suite.http, owner, 'onlooker', 'Aunt');

    // By keyboard, at the second knot of the second row.
    await focusKnots(shop.page);
    await shop.page.keyboard.press('ArrowDown');
    await shop.page.keyboard.press('ArrowRight');
    await sayHere(shop.page);
    expect(await shop.page.getByLabel('About').inputValue()).toBe('knot');
    await shop.page.keyboard.type('Another colour here, please.');
    await shop.page.keyboard.press('Control+Enter');
    await expect.poll(() => threads(shop.page).count()).toBe(1);
    await expect.poll(() => shop.page.locator('lb-talk-panel .unsent').count()).toBe(0);
    expect(await box(shop.page).inputValue()).toBe('');

    await expect.poll(() => tabOf(owner.page).locator('b').textContent()).toBe('1');
    await expect.poll(() => pins(owner.page).count()).toBe(1);
    expect(await owner.page.locator('body > [aria-live]').textContent()).toContain(
      'Shop about row 2, knot 2: Another colour here',
    );
    await pins(owner.page).click();
    await expect.poll(() => threads(owner.page).textContent()).toContain('row 2, knot 2');
    expect(await threads(owner.page).locator('.mark').textContent()).toBe('new');
    // Looked at.
    await expect.poll(() => tabOf(owner.page).locator('b').count()).toBe(0);
    await threads(owner.page).hover();
    await expect.poll(() => litOf(owner.page)).toEqual({ knots: [{ row: 1, k: 1 }] });

    // It stays with its knot, and says so when that is gone.
    await focusKnots(owner.page);
    await owner.page.keyboard.press('Control+Home');
    await owner.page.keyboard.press('Shift+Insert');
    await expect.poll(() => threads(shop.page).textContent()).toContain('row 4, knot 2');
    await tabOf(aunt.page).click();
    await expect.poll(() => threads(aunt.page).textContent()).toContain('row 4, knot 2');
    expect(await box(aunt.page).count()).toBe(0);
    await aunt.page.getByText('You may read what is said here, not speak.').waitFor();
    expect(
      await aunt.page
        .locator('lb-talk-panel')
        .getByRole('button', { name: /Answer|Done:/ })
        .count(),
    ).toBe(0);

    // Spoken at the grid's cell, and found from there.
    await owner.page.keyboard.press('ArrowDown');
    await owner.page.keyboard.press('Home');
    await owner.page.keyboard.press('ArrowRight');
    const cell = owner.page.locator('lb-board [role=gridcell]');
    await expect.poll(() => cell.getAttribute('aria-label')).toContain('1 remark here');
    await owner.page.keyboard.press('Shift+P');
    await expect.poll(() => threads(owner.page).evaluate((card) => card.matches(':focus'))).toBe(true);

    await focusKnots(owner.page);
    await owner.page.keyboard.press('Shift+Delete');
    await expect.poll(() => threads(shop.page).textContent()).toContain('a knot that is gone');
    await expect.poll(() => pins(owner.page).count()).toBe(0);
    await owner.page.keyboard.press('Control+z');
    await expect.poll(() => pins(owner.page).count()).toBe(1);
    // In the other looks too.
    await focusKnots(owner.page);
    await owner.page.keyboard.press('Shift+3');
    const finished = owner.page.locator('lb-talk-pins[slot=finished-pins] button');
    await finished.click();
    await expect.poll(() => threads(owner.page).evaluate((card) => card.matches(':focus'))).toBe(true);
    await owner.page.getByLabel('Marks on the board').uncheck();
    await expect.poll(() => finished.count()).toBe(0);
    expect([...owner.complaints, ...shop.complaints, ...aunt.complaints]).toEqual([]);
  });

  it('[G4] [G6] answers, names, done; one changes and takes back one’s own; what was looked at stays so', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const shop = await guestOf(suite.browser, suite.http, owner, 'reviewer', 'Shop of Ada');
    await openTab(owner.page, 'Talk');
    // Only who is heard of when one names them is offered.
    await owner.page.locator('lb-people').getByText('S', { exact: true }).first().waitFor();
    await box(owner.page).fill('Ready on Friday? @sh');
    await box(owner.page).press('End');
    await owner.page.getByRole('option', { name: 'Shop of Ada' }).waitFor();
    await box(owner.page).press('Enter');
    expect(await box(owner.page).inputValue()).toBe('Ready on Friday? @Shop of Ada ');
    await owner.page.getByRole('button', { name: 'Send remark' }).click();

    await expect.poll(() => tabOf(shop.page).locator('b').textContent()).toBe('1');
    expect(await shop.page.locator('body > [aria-live]').textContent()).toContain(
      'to you about the whole board',
    );
    await shop.page.reload();
    await expect.poll(() => tabOf(shop.page).locator('b').textContent()).toBe('1');
    await tabOf(shop.page).click();
    await expect.poll(() => threads(shop.page).locator('.mark.me').textContent()).toBe('to you');
    await expect.poll(() => tabOf(shop.page).locator('b').count()).toBe(0);
    await shop.page.reload();
    await tabOf(shop.page).click();
    await threads(shop.page).waitFor();
    expect(await tabOf(shop.page).locator('b').count()).toBe(0);
    expect(await threads(shop.page).getByText('new', { exact: true }).count()).toBe(0);
    await shop.page.getByRole('button', { name: 'With me 1' }).click();
    await shop.page.getByRole('button', { name: 'Answer: the whole board' }).click();
    await shop.page.keyboard.type('Yes.');
    await shop.page.getByRole('button', { name: 'Send', exact: true }).click();
    await expect.poll(() => threads(owner.page).textContent()).toContain('Yes.');
    // Somebody else's remarks have no such buttons.
    expect(await owner.page.getByRole('button', { name: 'Change: Yes.' }).count()).toBe(0);
    await shop.page.getByRole('button', { name: 'Change: Yes.' }).click();
    await shop.page.getByRole('textbox', { name: 'Change: Yes.' }).fill('On Thursday.');
    await shop.page.getByRole('button', { name: 'Save' }).click();
    await expect.poll(() => threads(owner.page).textContent()).toContain('On Thursday.');
    await shop.page.getByRole('button', { name: 'Take back: On Thursday.' }).click();
    await expect.poll(() => threads(owner.page).textContent()).toContain('Removed.');
    // About a panel: the way there, and back.
    await owner.page.getByLabel('About').selectOption('panel:cutting');
    await box(owner.page).fill('Cut all longer.');
    await owner.page.getByRole('button', { name: 'Send remark' }).click();
    await owner.page.getByRole('button', { name: 'the panel “Cutting list”', exact: true }).click();
    await owner.page.getByRole('button', { name: '1 remark here' }).click();
    await expect
      .poll(() =>
        threads(owner.page)
          .first()
          .evaluate((card) => card.matches(':focus')),
      )
      .toBe(true);
    await owner.page.getByRole('button', { name: 'Done: the whole board' }).click();
    await owner.page.getByRole('button', { name: 'Done 1' }).click();
    await expect.poll(() => threads(owner.page).textContent()).toContain('Done, says');
    expect([...owner.complaints, ...shop.complaints]).toEqual([]);
  });

  it('[G5] what is said offline waits in the browser over a reload, can be taken back, and goes out once', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const { page } = owner;
    await openTab(page, 'Talk');
    let isDown = true;
    let lost = 0;
    // A server that fails, and one whose answer is lost on the way.
    await page.route('**/talk', async (route) => {
      if (isDown)
        return route.fulfill({ status: 503, json: { error: { kind: 'store-full', message: 'full' } } });
      if (lost++ === 0) {
        await route.fetch();
        return route.abort();
      }
      return route.continue();
    });
    for (const text of ['First', 'Second thoughts']) {
      await box(page).fill(text);
      await page.getByRole('button', { name: 'Send remark' }).click();
    }
    await expect.poll(() => page.getByText('Not sent yet').count()).toBe(2);
    await page.reload();
    await tabOf(page).click();
    await expect.poll(() => page.getByText('Not sent yet').count()).toBe(2);
    const second = threads(page).filter({ hasText: 'Second thoughts' });
    await second.getByRole('button', { name: 'Take back' }).click();
    expect(await box(page).inputValue()).toBe('Second thoughts');
    // What is only being written is there after a reload too.
    await page.reload();
    await tabOf(page).click();
    await expect.poll(() => box(page).inputValue()).toBe('Second thoughts');
    // The server is back at the click and not before: else the box tries again by itself, and there is nothing to click.
    await page.exposeFunction('isBack', () => {
      isDown = false;
    });
    await page.evaluate("addEventListener('click', () => void isBack(), { capture: true, once: true })");
    await page.getByRole('button', { name: 'Send now' }).click();
    await expect.poll(() => lost).toBe(2);
    await expect.poll(() => page.locator('lb-talk-panel .unsent').count()).toBe(0);
    expect(await threads(page).count()).toBe(1);
    await expect
      .poll(() => page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('outbox'))))
      .toEqual([]);
  });

  it('[G6] owners remove what others said, by keyboard and in German too; others only take back their own', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const shop = await guestOf(suite.browser, suite.http, owner, 'reviewer', 'Shop');
    const aunt = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Aunt');
    const mara = await guestOf(suite.browser, suite.http, owner, 'owner', 'Mara', { locale: 'de-DE' });
    await openTab(shop.page, 'Talk');
    for (const text of ['Noise.', 'More noise.']) {
      await box(shop.page).fill(text);
      await shop.page.getByRole('button', { name: 'Send remark' }).click();
    }
    for (const { page } of [owner, aunt, mara]) {
      await tabOf(page).click();
      await expect.poll(() => threads(page).count()).toBe(2);
    }
    expect(await aunt.page.locator('lb-talk-panel .remark .actions').count()).toBe(0);
    expect(await owner.page.getByRole('button', { name: 'Change: Noise.' }).count()).toBe(0);
    expect(await axeFindings(owner.page)).toEqual([]);
    const remove = owner.page.getByRole('button', { name: 'Remove what Shop said: Noise.' });
    await remove.focus();
    await owner.page.keyboard.press('Enter');
    // Asked first, since it cannot be undone; whoever keeps it is where they were.
    const sure = owner.page.getByText('Really remove it?', { exact: false });
    await sure.waitFor();
    expect(await axeFindings(owner.page)).toEqual([]);
    expect(await owner.page.getByText('Removed.').count()).toBe(0);
    await owner.page.getByRole('button', { name: 'Keep it' }).press('Enter');
    await expect.poll(() => sure.count()).toBe(0);
    expect(await remove.evaluate((element) => element.matches(':focus'))).toBe(true);
    await owner.page.keyboard.press('Enter');
    await owner.page.keyboard.press('Tab');
    await owner.page.keyboard.press('Enter');
    for (const { page } of [owner, shop, aunt])
      await expect.poll(() => page.getByText('Removed.').count()).toBe(1);
    expect(await remove.count()).toBe(0);
    // The keyboard stays where it was.
    const card = threads(owner.page).filter({ hasText: 'Removed.' });
    expect(await card.evaluate((element) => element.matches(':focus'))).toBe(true);
    await mara.page.getByRole('button', { name: 'Entfernen, was Shop gesagt hat: More noise.' }).click();
    await mara.page.getByRole('button', { name: 'Ja, entfernen' }).click();
    await expect.poll(() => shop.page.getByText('Removed.').count()).toBe(2);
    expect([...owner.complaints, ...shop.complaints, ...aunt.complaints, ...mara.complaints]).toEqual([]);
  });

  it('[G7] the talk is in no way of anybody: axe, phone, dark, German', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await focusKnots(owner.page);
    await sayHere(owner.page);
    await owner.page.keyboard.type('Is this knot right?');
    await owner.page.keyboard.press('Control+Enter');
    await pins(owner.page).waitFor();
    expect(await axeFindings(owner.page)).toEqual([]);
    const shop = await guestOf(suite.browser, suite.http, owner, 'reviewer', 'Shop', {
      viewport: { width: 390, height: 844 },
      colorScheme: 'dark',
      locale: 'de-DE',
      hasTouch: true,
    });
    await pins(shop.page).tap();
    await expect.poll(() => threads(shop.page).textContent()).toContain('Reihe 1, Knoten 1');
    expect(await axeFindings(shop.page)).toEqual([]);
    expect(await shop.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
