/** Beginnings on the start page: chosen, changed, made; and one's own boards. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { parseBoard, planMount, symmetry } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('beginnings');

/** The start page with what each figure comes to. */
async function openStart(options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(suite.browser, `${suite.http}/`, options);
  await untilTold(visitor.page);
  return visitor;
}

async function untilTold(page: Page): Promise<void> {
  await page.locator('lb-beginnings .figure').nth(6).waitFor();
  await page
    .locator('lb-beginnings .hand [role=status]')
    .getByText('mounts neatly', { exact: false })
    .waitFor();
}

describe('beginnings on the start page', () => {
  it('[B306] [B307] seven figures on the strings chosen; the one in hand is made as it is shown', async () => {
    const { page, complaints } = await openStart();
    await page.locator('input[name=strings]').fill('16');
    await page.locator('.figure[data-kind=windows]').click();
    await page.locator('lb-beginnings .hand h3').getByText('Open windows, 16 strings').waitFor();
    await page.getByRole('button', { name: 'Ink', exact: true }).click();
    await page.getByRole('button', { name: 'Smaller', exact: true }).click();
    await untilTold(page);
    await page.getByRole('button', { name: 'Make this board' }).click();
    await untilSaved(page);
    const { pattern, piece, palette } = await boardOf(page);
    expect(pattern.colours.length).toBe(16);
    expect(symmetry(pattern).frieze).toBe('p2mm');
    expect(pattern.knots.some((knot) => knot === 0)).toBe(true);
    expect(palette.map(({ name }) => name)).toContain('Ink');
    expect(piece).toMatchObject({ lengthMm: 80, stopAt: 'finished' });
    expect(complaints).toEqual([]);
  });

  it('[B307] every figure says in a line what it comes to, for the bar that was chosen', async () => {
    const { page } = await openStart();
    const lines = page.locator('lb-beginnings .figures .figure lb-start-card span');
    await expect.poll(async () => (await lines.allTextContents()).every((line) => line !== '')).toBe(true);
    for (const line of await lines.allTextContents())
      expect(line).toMatch(
        /^mounts neatly · needs a bar of .+ · \d+ min · \d+ pick-ups? a repeat · (?:all strings .+|strings from .+ to .+)$/,
      );
    await page.locator('lb-beginnings select').selectOption('25.4');
    await expect
      .poll(() =>
        lines.allTextContents().then((all) => all.filter((line) => line.includes('too loose')).length),
      )
      .toBe(7);
  });

  it('[B308] more like this: others by words and picture; one of them is gone on with', async () => {
    const { page } = await openStart();
    await page.locator('.figure[data-kind=diamonds]').click();
    await untilTold(page);
    await page.getByRole('button', { name: 'More like this' }).click();
    const found = page.locator('lb-beginnings .found .figure');
    await found.first().waitFor();
    const name = await found.first().locator('b').textContent();
    expect(name).not.toBe('');
    await found.first().click();
    await found.first().waitFor({ state: 'detached' });
    await untilTold(page);
  });

  it('[B309] from a drawer: what there is thread for, and nothing where there is none', async () => {
    const { page } = await openStart();
    await page.getByRole('button', { name: 'From my drawer' }).click();
    await page.getByRole('button', { name: 'What can I make?' }).click();
    await page.getByText('0 boards for which you have the thread', { exact: false }).waitFor();
    await page.locator('.drawer label', { hasText: 'Oat' }).locator('input').fill('8');
    await page.locator('.drawer label', { hasText: 'Moss' }).locator('input').fill('8');
    await page.getByRole('button', { name: 'What can I make?' }).click();
    await page.locator('lb-beginnings .found .figure').first().click();
    await untilSaved(page);
    expect((await boardOf(page)).palette.map(({ name }) => name).sort()).toEqual(['Moss', 'Oat']);
  });

  it('[B310] for a group: a board in twelve colourways, on the page of its set', async () => {
    const { page } = await openStart();
    await page.getByRole('button', { name: 'For a group: 12 colourways' }).click();
    await page.waitForURL(/\/set$/);
    await page.locator('lb-set-page .keychain').nth(12).waitFor();
    expect(await page.locator('lb-set-page .keychain').count()).toBe(13);
  });

  it('[B310] for a lesson: twelve patterns of one order, made at once', async () => {
    const { page, context } = await openStart();
    await page.locator('input[name=strings]').fill('8');
    await page.getByRole('button', { name: 'For a lesson: 12 patterns' }).click();
    await page.getByRole('button', { name: 'Make all 12 boards' }).click();
    await page.locator('.card.own').nth(11).waitFor();
    const own = (await (await context.request.get(`${suite.http}/api/mine`)).json()) as { id: string }[];
    const orders = new Set<string>();
    for (const { id } of own) {
      const parsed = parseBoard(
        await (await context.request.get(`${suite.http}/api/boards/${id}/file`)).json(),
      );
      if (!parsed.ok) throw new Error(parsed.error.message);
      const { pattern } = parsed.value;
      expect(planMount(pattern.colours).neat).toBe(true);
      orders.add(`${pattern.colours.join()} ${pattern.rows}`);
    }
    expect(own.length).toBe(12);
    expect(orders.size).toBe(1);
  });

  it('[B311] on a phone and by keyboard, in German; axe finds nothing and nothing is wider', async () => {
    const viewport = { width: 390, height: 844 };
    const { page } = await visit(suite.browser, `${suite.http}/`, {
      viewport,
      locale: 'de-DE',
      colorScheme: 'dark',
    });
    await page
      .locator('lb-beginnings .hand [role=status]')
      .getByText('ohne Kreuzung', { exact: false })
      .waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.locator('.figure[data-kind=hearts]').focus();
    await page.keyboard.press('Enter');
    await page.locator('lb-beginnings .hand h3').getByText('Herzen', { exact: false }).waitFor();
    // A new board comes first, then the figures, then one's own.
    const tops = await page.evaluate(() => {
      const root = document.querySelector('lb-app')!.shadowRoot!.querySelector('lb-start-page')!.shadowRoot!;
      return ['.new', '.boards', '.open'].map(
        (part) => root.querySelector(part)!.getBoundingClientRect().top,
      );
    });
    expect(tops).toEqual([...tops].sort((a, b) => a - b));
  });
});

describe('own boards', () => {
  it('[B312] have a picture, what they are, their date; a duplicate is one more, and deleting asks for the name', async () => {
    const visitor = await visit(suite.browser, 'about:blank');
    await makeBoardOf(visitor, suite.http, { strings: 14, rows: 30 });
    const { page } = visitor;
    await page.goto(`${suite.http}/`);
    const cards = page.locator('.own-card');
    await cards.first().waitFor();
    expect(await cards.first().locator('b').textContent()).toBe('14 strings, 30 rows');
    expect(await cards.first().locator('a .small').textContent()).toMatch(/^made .*\d{4}/);
    await cards.first().locator('button.copy').click();
    await cards.nth(1).waitFor();
    await cards.first().locator('button.whole').click();
    const whole = page.locator('lb-whole-board');
    await whole.locator('#delete').click();
    await whole.locator('input').fill('14 strings, 30 rows');
    await whole.locator('button[type=submit]').click();
    await cards.nth(1).waitFor({ state: 'detached' });
    expect(await cards.count()).toBe(1);
  });
});
