/** What is said stands beside what it is about, and does not take what is being typed. */
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { newBoard } from '../support/board-page.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('said-beside');

describe('the start page', () => {
  it('[B392] marks the field that is wrong, puts the keyboard there, and forgets it once it is another', async () => {
    const { page, complaints } = await visit(suite.browser, suite.http);
    const rows = page.getByLabel('Rows', { exact: true });
    await rows.fill('0');
    await page.getByRole('button', { name: 'Make the board' }).first().click();
    const said = page.locator('lb-start-page #problem');
    await said.waitFor();
    const state = (): Promise<unknown> =>
      rows.evaluate((field) => [field.getAttribute('aria-invalid'), field.matches(':focus')]);
    expect(await state()).toEqual(['true', true]);
    expect(await axeFindings(page)).toEqual([]);
    await page.keyboard.press('ArrowUp');
    await said.waitFor({ state: 'detached' });
    expect(await state()).toEqual(['false', true]);
    await page.getByText('Paste a board as text').click();
    const text = page.locator('lb-start-page textarea');
    await text.fill('no board');
    await page.locator('lb-start-page .use-text').click();
    await said.waitFor();
    // Between the text and its button.
    const [field, words, button] = await Promise.all(
      [text, said, page.locator('lb-start-page .use-text')].map((one) => one.boundingBox()),
    );
    expect(words!.y).toBeGreaterThan(field!.y);
    expect(words!.y).toBeLessThan(button!.y);
    await text.fill('no board either');
    await said.waitFor({ state: 'detached' });
    expect(complaints).toEqual([]);
  });
});

describe('a link', () => {
  it('[B393] whose end is being typed keeps what is typed when an answer comes', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 4);
    await page.getByRole('button', { name: 'Share', exact: true }).click();
    await page.getByLabel('For whom').fill('shop');
    await page.getByRole('button', { name: 'Make a link' }).click();
    const link = page.locator('lb-links-panel .link', { hasText: 'shop' });
    await link.waitFor();
    const end = link.locator('input[type=date]');
    const answers: (() => Promise<void>)[] = [];
    await page.route('**/links/*', async (route) => {
      if (route.request().method() !== 'PATCH') await route.continue();
      else answers.push(() => route.continue());
    });
    await end.focus();
    await end.fill('2041-03-05');
    await expect.poll(() => answers.length).toBe(1);
    // The next day is typed before the server has answered.
    await end.evaluate((field) => {
      (field as HTMLInputElement).value = '2041-03-07';
    });
    await answers[0]!();
    await link.getByText('Mar 5, 2041', { exact: false }).waitFor();
    expect(await end.inputValue()).toBe('2041-03-07');
    await end.blur();
    await expect.poll(() => end.inputValue()).toBe('2041-03-05');
  });
});
