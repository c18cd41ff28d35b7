/** Three browsers at one set: the owner of the board and two friends who came by links. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Role } from '../../engine/document/index.ts';
import { type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { demoFile } from '../support/own-board.ts';
import { chooseKeychain, colourwaysOf, keychains, openOwnSet, untilSetSaved } from '../support/set-page.ts';

const suite = browserSuite('set-together');

/** Somebody with a name of their own who comes to the owner's set by a link. */
async function friendBy(owner: Visitor, role: Role, name: string): Promise<Visitor> {
  const id = /\/board\/([\w-]+)\//.exec(owner.page.url())![1]!;
  const secret = await owner.page.evaluate(
    async ({ board, body }) => {
      const headers = { 'content-type': 'application/json' };
      const answer = await fetch(`/api/boards/${board}/links`, {
        method: 'POST',
        headers,
        body: JSON.stringify(body),
      });
      return ((await answer.json()) as { secret: string }).secret;
    },
    { board: id, body: { role, name, endsAt: null } },
  );
  const friend = await visit(suite.browser, `${suite.http}/help`);
  await friend.page.evaluate((called) => {
    const person = { id: 'not known yet', name: called, hex: '#2d5aa0' };
    localStorage.setItem('larkboard.person', JSON.stringify(person));
  }, name);
  await friend.page.goto(`${suite.http}/board/${id}/set#${secret}`);
  await keychains(friend.page).first().waitFor();
  return friend;
}

function namesOf(page: Page): Promise<readonly string[]> {
  return keychains(page).locator('.name').allTextContents();
}

async function setColour(page: Page, palette: string, hex: string): Promise<void> {
  await page.getByLabel(`Colour for ${palette}`, { exact: true }).fill(hex);
}

describe('a set of three', () => {
  it('[Y1] [Y4] [Y5] [Y7] [W970] each friend makes her own, sees the others’, and the owner changes all', async () => {
    const owner = await openOwnSet(suite.browser, suite.http, {
      ...(demoFile('club-set') as object),
      colourways: [],
    });
    const kit = await friendBy(owner, 'co-maker', 'Kit');
    const fay = await friendBy(owner, 'co-maker', 'Fay');
    const shop = await friendBy(owner, 'reviewer', 'Shop');
    await kit.page.locator('#add-mine').click();
    await expect.poll(() => namesOf(fay.page)).toEqual(['The board’s own colours', 'For Kit']);
    await fay.page.locator('#add-mine').click();
    for (const { page } of [owner, kit, fay, shop])
      await expect.poll(() => namesOf(page)).toEqual(['The board’s own colours', 'For Kit', 'For Fay']);
    expect(await kit.page.locator('#add-mine').count()).toBe(0);
    expect(await keychains(kit.page).nth(1).locator('.whose').textContent()).toBe('yours');
    expect(await keychains(kit.page).nth(2).locator('.whose').textContent()).toBe('Fay’s');

    // Kit looks at Fay's and may not change it; the reviewer changes nothing at all.
    await chooseKeychain(kit.page, 'For Fay');
    expect(await kit.page.locator('lb-set-editor .right').textContent()).toContain('Only Fay and the owners');
    expect(await kit.page.locator('lb-set-colours input, lb-set-colours select').count()).toBe(0);
    await chooseKeychain(shop.page, 'For Fay');
    expect(await shop.page.locator('lb-set-editor .right').textContent()).toContain('not change it');
    expect(await shop.page.locator('#add-one').count()).toBe(0);

    // Fay and the owner change Fay's at once: each another colour, and of one colour thread and name.
    await chooseKeychain(owner.page, 'For Fay');
    await Promise.all([setColour(fay.page, 'poppy', '#3b3563'), setColour(owner.page, 'honey', '#7fb2d0')]);
    await fay.page.getByLabel('Name of the thread for cloud', { exact: true }).fill('snow');
    await owner.page.getByLabel('Colour for cloud', { exact: true }).fill('#fafafa');
    await fay.page.keyboard.press('Tab');
    for (const { page } of [owner, kit, fay, shop])
      await expect
        .poll(async () => (await colourwaysOf(page))[1]?.colours)
        .toEqual([
          { id: 'poppy', name: 'poppy', hex: '#3b3563' },
          { id: 'honey', name: 'honey', hex: '#7fb2d0' },
          { id: 'cloud', name: 'snow', hex: '#fafafa' },
        ]);

    // Let go by Fay, it is anybody's; Kit takes it; the owner gives it back to Fay, who is here.
    await fay.page.locator('#let-go').click();
    await kit.page.locator('#take').click();
    await expect.poll(() => keychains(fay.page).nth(2).locator('.whose').textContent()).toBe('Kit’s');
    await owner.page.getByLabel('Belongs to').selectOption({ label: 'Fay' });
    await expect.poll(() => keychains(fay.page).nth(2).locator('.whose').textContent()).toBe('yours');
    // The owner would remove it while Kit and the shop look at it on the set and Fay on the board: asked, with their names.
    await fay.page.locator('lb-set-editor [data-view=out]').click();
    await fay.page.getByRole('link', { name: 'The board in these colours' }).click();
    await fay.page.locator('lb-board canvas.pattern').waitFor();
    await owner.page.getByRole('button', { name: 'Remove this colourway' }).click();
    const said = owner.page.locator('lb-set-editor #sure');
    await expect.poll(() => said.textContent()).toMatch(/Remove “For Fay”.* have it open now\./s);
    for (const name of ['Fay', 'Kit', 'Shop']) expect(await said.textContent()).toContain(name);
    for (const { page } of [kit, shop]) await chooseKeychain(page, 'For Kit');
    await owner.page.getByText('Fay has it open now.').waitFor();
    await owner.page.getByRole('button', { name: 'Keep it' }).click();
    await untilSetSaved(owner.page);
    for (const one of [owner, kit, fay, shop]) {
      expect(one.complaints).toEqual([]);
      await one.context.close();
    }
  });
});
