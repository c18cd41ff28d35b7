/** An owner and two guests of other roles, each in a browser profile of their own: coming in by a link, and being put out. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Role } from '../../engine/document/index.ts';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('links');

/** Makes a link in the dialog and reads its address there. */
async function makeLink(page: Page, role: Role, name: string): Promise<string> {
  if (!(await page.getByRole('dialog').isVisible()))
    await page.getByRole('button', { name: 'Share', exact: true }).click();
  await page.getByLabel('Whoever opens it may').selectOption(role);
  await page.getByLabel('For whom').fill(name);
  await page.getByRole('button', { name: 'Make a link' }).click();
  await page.locator('lb-links-panel .link', { hasText: name }).waitFor();
  return page.getByLabel('The new link').inputValue();
}

async function openBoard(address: string): Promise<Visitor> {
  const guest = await visit(suite.browser, address);
  await guest.page.locator('lb-board canvas.pattern').waitFor();
  return guest;
}

/** What the board's page says to somebody about their role. */
async function ownRole(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Share', exact: true }).click();
  const text = await page.locator('lb-links-panel .role').textContent();
  await page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click();
  return text ?? '';
}

describe('links', () => {
  it('[A20] [W1010] an owner, a co-maker and a reviewer: each may do what their link says', async () => {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const forFriend = await makeLink(owner.page, 'co-maker', 'Kai, tail knots');
    const forShop = await makeLink(owner.page, 'reviewer', 'shop');
    expect(forFriend).toMatch(/\/board\/[\w-]{22}#[\w-]{32}$/);
    await owner.page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click();
    const friend = await openBoard(forFriend);
    const shop = await openBoard(forShop);
    for (const { page } of [owner, friend, shop]) {
      // The secret is not left where it could be copied from or seen.
      expect(page.url()).toMatch(/\/board\/[\w-]{22}$/);
      expect(await page.evaluate(() => JSON.stringify([{ ...localStorage }, document.cookie]))).not.toContain(
        forFriend.split('#')[1],
      );
    }
    expect(await ownRole(owner.page)).toContain('You are an owner');
    expect(await ownRole(friend.page)).toContain('You are a co-maker');
    expect(await ownRole(shop.page)).toContain('You are a reviewer');

    await focusKnots(friend.page);
    await friend.page.keyboard.press('1');
    await untilSaved(friend.page);
    for (const { page } of [owner, shop])
      await expect.poll(async () => (await rowsOf(page))[0]).toBe('f - -');
    await focusKnots(shop.page);
    await shop.page.keyboard.press('2');
    expect((await rowsOf(shop.page))[0]).toBe('f - -');
    expect(await shop.page.locator('lb-board-page .title input').isDisabled()).toBe(true);
    for (const { page } of [friend, shop]) {
      await page.getByRole('button', { name: 'Share', exact: true }).click();
      expect(await page.getByRole('button', { name: 'Make a link' }).count()).toBe(0);
      await page.keyboard.press('Escape');
    }
    // A reload comes in by the cookie alone.
    await friend.page.reload();
    await untilSaved(friend.page);
    expect([...owner.complaints, ...friend.complaints, ...shop.complaints]).toEqual([]);
  });

  it('[A21] a link taken back puts out at once who came in by it, and opens nothing any more', async () => {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const forFriend = await makeLink(owner.page, 'co-maker', 'friend');
    const forOther = await makeLink(owner.page, 'onlooker', 'other');
    const friend = await openBoard(forFriend);
    const other = await openBoard(forOther);
    await owner.page.getByRole('button', { name: 'Take back the link “friend”' }).click();
    await owner.page.getByRole('button', { name: 'Yes, take it back' }).click();
    await friend.page.getByText('Your link to this board was taken back.').waitFor();
    expect(await friend.page.locator('lb-board').count()).toBe(0);
    expect(await other.page.locator('lb-board canvas.pattern').count()).toBe(1);
    await friend.page.reload();
    await friend.page.getByText('Your link to this board was taken back.').waitFor();
    const late = await visit(suite.browser, forFriend);
    await late.page.getByText('This link opens nothing', { exact: false }).waitFor();
    const stranger = await visit(suite.browser, forFriend.split('#')[0]!);
    await stranger.page.getByText('There is no such board', { exact: false }).waitFor();
    // The board's own link cannot be the last to go.
    await owner.page.getByRole('button', { name: 'Take back the link “without a name”' }).click();
    await owner.page.getByRole('button', { name: 'Yes, take it back' }).click();
    await owner.page.getByText('at least one owner link', { exact: false }).waitFor();
  });

  it('[A22] a second, better link opened in the same tab changes what one may do', async () => {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const weak = await makeLink(owner.page, 'onlooker', 'weak');
    const strong = await makeLink(owner.page, 'co-maker', 'strong');
    const guest = await openBoard(weak);
    expect(await ownRole(guest.page)).toContain('You are an onlooker');
    await guest.page.evaluate((address) => {
      location.href = address;
    }, strong);
    await untilSaved(guest.page);
    expect(await ownRole(guest.page)).toContain('You are a co-maker');
    // And back: without the strong one the weak one is left.
    await owner.page.getByRole('button', { name: 'Take back the link “strong”' }).click();
    await owner.page.getByRole('button', { name: 'Yes, take it back' }).click();
    await guest.page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    expect(await ownRole(guest.page)).toContain('You are an onlooker');
    expect(guest.complaints).toEqual([]);
  });
});
