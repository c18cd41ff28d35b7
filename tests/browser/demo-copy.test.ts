/** A demo board that is changed becomes a copy of one's own by itself, and says so where it cannot. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf } from '../support/own-board.ts';

const DEMO = 'demo-mirrored-diamonds';
const suite = browserSuite('demo-copy');

async function openDemo(options: Parameters<typeof visit>[2] = {}): Promise<Visitor> {
  const visitor = await visit(suite.browser, `${suite.http}/board/${DEMO}`, options);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}

async function untilOwn(page: Page): Promise<void> {
  await page.getByText('This is now your own copy', { exact: false }).waitFor();
  expect(page.url()).toMatch(/\/board\/[\w-]{22}$/);
  await untilSaved(page);
}

/** The rows of the demo board as somebody else finds it. */
async function rowsOfDemo(): Promise<readonly string[]> {
  const { page, context } = await openDemo();
  const rows = await rowsOf(page);
  await context.close();
  return rows;
}

describe('a demo board that is changed', () => {
  it('[B9] by the pointer becomes a copy, with the change in it and the demo as it was', async () => {
    // With the worker that keeps the page, since it keeps what the server says of the demo board too.
    const { page, complaints } = await openDemo({ serviceWorkers: 'allow' });
    const before = await rowsOf(page);
    expect(before[0]).toMatch(/^b /);
    await page.evaluate(() => Object.assign(window, { sameDocument: true }));
    expect(await page.locator('lb-board-page .saved').getAttribute('data-state')).toBe('viewing');
    const { x, y } = await pointOf(page, 0, 0);
    await page.mouse.click(x, y);
    await expect.poll(() => rowsOf(page)).not.toEqual(before);
    const after = await rowsOf(page);
    await untilOwn(page);
    expect(await page.evaluate(() => 'sameDocument' in window)).toBe(true);
    expect(await rowsOf(page)).toEqual(after);
    await page.reload();
    await untilSaved(page);
    expect(await rowsOf(page)).toEqual(after);
    expect(await page.getByText('This is now your own copy', { exact: false }).count()).toBe(0);
    expect(await rowsOfDemo()).toEqual(before);
    // Nothing of it stays in this browser's copy of the demo either.
    await page.goto(`${suite.http}/board/${DEMO}`);
    await page.locator('lb-board canvas.pattern').waitFor();
    expect(await rowsOf(page)).toEqual(before);
    expect(complaints).toEqual([]);
  });

  it('[B9] by keys becomes one copy, also of what is typed while it is made, and the keys go on there', async () => {
    const { page, complaints } = await openDemo();
    let posts = 0;
    await page.route('**/api/boards', async (route) => {
      posts++;
      if (posts === 1) {
        await page.keyboard.press('ArrowDown');
        await page.keyboard.press('1');
      }
      await route.continue();
    });
    await focusKnots(page);
    await page.keyboard.press('1');
    await untilOwn(page);
    expect(posts).toBe(2);
    expect(await page.evaluate(async () => (await (await fetch('/api/mine')).json()).length)).toBe(1);
    const rows = await rowsOf(page);
    expect([rows[0]?.split(' ')[0], rows[1]?.split(' ')[0]]).toEqual(['f', 'f']);
    const cell = page.locator('lb-board [role=gridcell]');
    expect(await cell.getAttribute('aria-label')).toMatch(/^row 2, knot 1/);
    await page.keyboard.press('2');
    await expect.poll(async () => (await rowsOf(page))[1]?.split(' ')[0]).toBe('b');
    await untilSaved(page);
    expect(complaints).toEqual([]);
  });

  it('[B9] in a panel or by its title becomes a copy', async () => {
    const { page, complaints } = await openDemo();
    await page.getByRole('tab', { name: 'Colours' }).click();
    const before = (await boardOf(page)).palette.length;
    await page.locator('lb-palette-panel').getByRole('button', { name: 'Add', exact: false }).click();
    await untilOwn(page);
    expect((await boardOf(page)).palette).toHaveLength(before + 1);
    await page.goto(`${suite.http}/board/${DEMO}`);
    await page.locator('lb-board-page .title input').fill('Tail for Monday');
    await page.locator('lb-board-page .title input').press('Enter');
    await untilOwn(page);
    expect((await boardOf(page)).title).toBe('Tail for Monday');
    expect(complaints).toEqual([]);
  });

  it('[B9] stays on the screen when the server is away, and can be tried again', async () => {
    const { page, context } = await openDemo();
    await page.route('**/api/boards', (route) => route.abort());
    await focusKnots(page);
    await page.keyboard.press('1');
    const alert = page.getByRole('alert').getByText('could not be made', { exact: false });
    await alert.waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(page.url()).toContain(DEMO);
    expect(await page.locator('lb-board-page .saved').getAttribute('data-state')).toBe('viewing');
    expect((await rowsOf(page))[0]).toMatch(/^f /);
    await page.getByText('What you changed is kept in this browser.').waitFor();
    await focusKnots(page);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('1');
    await page.unroute('**/api/boards');
    await page.getByRole('button', { name: 'Try again' }).click();
    await untilOwn(page);
    const rows = await rowsOf(page);
    expect([rows[0]?.split(' ')[0], rows[1]?.split(' ')[0]]).toEqual(['f', 'f']);
    await context.close();
  });

  it.each(['back of the browser', 'link home', 'reload'])(
    '[B9] left by the %s after a failed copy, what was changed is kept, offered and becomes a board',
    async (way) => {
      const { page, context } = await visit(suite.browser, `${suite.http}/`);
      await page.locator(`lb-start-page a[href='/board/${DEMO}']`).first().click();
      await page.locator('lb-board canvas.pattern').waitFor();
      const asked: string[] = [];
      page.on('dialog', (dialog) => {
        asked.push(dialog.type());
        void dialog.dismiss();
      });
      await page.route('**/api/boards', (route) => route.abort());
      await focusKnots(page);
      await page.keyboard.press('1');
      await page.getByRole('alert').getByText('could not be made', { exact: false }).waitFor();
      // Also what is changed after the failure.
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('1');
      await page.unroute('**/api/boards');
      if (way === 'back of the browser') {
        await page.goBack();
        await page.locator('lb-start-page').waitFor();
        await page.goto(`${suite.http}/board/${DEMO}`);
      } else if (way === 'link home') {
        await page.getByRole('link', { name: 'All boards' }).click();
        await page.locator('lb-start-page').waitFor();
        await page.goto(`${suite.http}/board/${DEMO}`);
      } else await page.reload();
      await page.getByText('What you changed here before is kept in this browser').waitFor();
      expect(asked).toEqual([]);
      expect(await axeFindings(page)).toEqual([]);
      await page.getByRole('button', { name: 'Make a board of it' }).click();
      await untilOwn(page);
      const rows = await rowsOf(page);
      expect([rows[0]?.split(' ')[0], rows[1]?.split(' ')[0]]).toEqual(['f', 'f']);
      expect(
        await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('sketch'))),
      ).toEqual([]);
      await context.close();
    },
  );

  it('[B9] where the browser has no room to keep it, leaving asks', async () => {
    const { page } = await openDemo();
    await page.route('**/api/boards', (route) => route.abort());
    await page.evaluate(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException('full', 'QuotaExceededError');
      };
    });
    await focusKnots(page);
    await page.keyboard.press('1');
    await page.getByText('What you changed is only on this screen.').waitFor();
    let asked = 0;
    page.on('dialog', (dialog) => {
      asked++;
      void dialog.dismiss();
    });
    await page.getByRole('link', { name: 'All boards' }).click();
    expect(page.url()).toContain(DEMO);
    expect(asked).toBe(1);
    expect((await rowsOf(page))[0]).toMatch(/^f /);
  });

  it('[B9] has no form for versions', async () => {
    const { page } = await openDemo();
    await page.getByRole('tab', { name: 'Versions' }).click();
    await page.locator('lb-versions-panel').waitFor();
    expect(await page.locator('lb-versions-panel form').count()).toBe(0);
  });
});
