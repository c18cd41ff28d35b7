/** A board whose copy in the browser is taken away while it is open, and answers that are kept of boards that are gone. */
import { expect, it } from 'vitest';
import { friendOf, newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('lost-copy');

it('[B150] [B151] edits reach the server after another tab gave up the copy, and the sign says when none is kept', async () => {
  const maker = await newBoard(suite.browser, suite.http, 6, 4);
  const friend = await friendOf(suite.browser, maker);
  const { page, context } = maker;
  const faults: string[] = [];
  page.on('pageerror', ({ message }) => faults.push(message));
  const id = new URL(page.url()).pathname.split('/').at(-1)!;
  let cut = (): void => {};
  await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => {
    line.connectToServer();
    cut = () => void line.close({ code: 4500 });
  });
  await page.reload();
  await page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(page);
  const tab = await context.newPage();
  await tab.goto(`${suite.http}/`);
  await tab.evaluate(
    (name) =>
      new Promise((resolve, reject) => {
        const request = indexedDB.deleteDatabase(name);
        request.onsuccess = resolve;
        request.onerror = reject;
      }),
    `larkboard-${id}`,
  );
  await focusKnots(page);
  await page.keyboard.press('1');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('2');
  await expect.poll(async () => (await rowsOf(friend.page))[0]).toBe('f b -');
  await untilSaved(page);
  expect(faults).toEqual([]);
  await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => void line.close({ code: 4500 }));
  cut();
  await page.locator('lb-board-page .saved[data-state=unkept]').waitFor();
});

it('[B151] a board opens from the copy while a proxy answers in the place of the server', async () => {
  const { page, context } = await newBoard(suite.browser, suite.http, 6, 4);
  await focusKnots(page);
  await page.keyboard.press('1');
  await untilSaved(page);
  await context.route(/\/api\//, (route) => route.fulfill({ status: 502, body: '<h1>Bad gateway</h1>' }));
  await page.routeWebSocket(/sync/, (line) => void line.close({ code: 4500 }));
  await page.reload();
  await page.locator('lb-board canvas.pattern').waitFor();
  expect((await rowsOf(page))[0]).toBe('f - -');
});

it('[B152] what was kept of a deleted board goes when the server says that it is gone', async () => {
  const { page } = await newBoard(suite.browser, suite.http, 6, 4, { serviceWorkers: 'allow' });
  await untilSaved(page);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  const id = new URL(page.url()).pathname.split('/').at(-1)!;
  const kept = (): Promise<readonly string[]> =>
    page.evaluate(async (board) => {
      const cache = await caches.open('larkboard-answers');
      return (await cache.keys())
        .map(({ url }) => new URL(url).pathname)
        .filter((path) => path.includes(board));
    }, id);
  await page.evaluate(async (board) => {
    for (const path of ['', '/file']) await (await fetch(`/api/boards/${board}${path}`)).text();
  }, id);
  await expect.poll(kept).toHaveLength(2);
  await page.evaluate(async (board) => {
    await fetch(`/api/boards/${board}`, { method: 'DELETE' });
    for (const path of ['', '/file']) await (await fetch(`/api/boards/${board}${path}`)).text();
  }, id);
  await expect.poll(kept).toEqual([]);
});
