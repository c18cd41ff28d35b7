/** A browser that gives the page no database: it keeps no copy of the board, and the server has the board all the same. */
import { describe, expect, it } from 'vitest';
import { drag, newBoard } from '../support/board-page.ts';
import { rowsOf, untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('no-database');

describe('where the browser gives the page no database', () => {
  it('[B150] the board opens all the same, and without a connection nothing is called kept', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 6);
    const { page, context } = await visit(suite.browser, 'about:blank');
    await context.addInitScript(() => {
      indexedDB.open = () => {
        throw new DOMException('this browser keeps nothing', 'SecurityError');
      };
    });
    await context.addCookies(await maker.context.cookies());
    let cut = (): void => {};
    await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => {
      line.connectToServer();
      cut = () => void line.close({ code: 4500 });
    });
    await page.goto(maker.page.url());
    await page.locator('lb-board canvas.pattern').waitFor();
    await drag(page, [0, 0], [0, 1]);
    await untilSaved(page);
    await expect.poll(async () => (await rowsOf(maker.page))[0]).toBe('f f -');
    await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => void line.close({ code: 4500 }));
    cut();
    await page.locator('lb-board-page .saved[data-state=unkept]').waitFor();
    await context.close();
    await maker.context.close();
  });
});

describe('where the browser lets the page keep nothing', () => {
  it('[B150] the page says so, and a board is made and tied', async () => {
    const { page, context, complaints } = await visit(suite.browser, 'about:blank');
    await context.addInitScript(() =>
      Object.defineProperty(window, 'localStorage', {
        configurable: true,
        get() {
          throw new DOMException('sites may keep nothing', 'SecurityError');
        },
      }),
    );
    await page.goto(`${suite.http}/`);
    await page.getByText('This browser keeps nothing for this page').waitFor();
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await page.locator('button[type=submit]').click();
    await page.locator('lb-board canvas.pattern').waitFor();
    await drag(page, [0, 0], [0, 1]);
    await untilSaved(page);
    expect((await rowsOf(page))[0]).toMatch(/^f f /);
    expect(complaints).toEqual([]);
  });
});
