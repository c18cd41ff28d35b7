/** A board whose copy in the browser is taken away while it is open. */
import { expect, it } from 'vitest';
import { friendOf, newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { type LineSwitch, switchLines } from '../support/line-switch.ts';

const suite = browserSuite('lost-copy');

/** A maker's page and a friend's at one board. */
async function two(): Promise<{ maker: Visitor; friend: Visitor; line: LineSwitch; faults: string[] }> {
  const maker = await newBoard(suite.browser, suite.http, 6, 4);
  const friend = await friendOf(suite.browser, maker);
  const faults: string[] = [];
  maker.page.on('pageerror', ({ message }) => faults.push(message));
  const line = await switchLines(maker.page);
  await maker.page.reload();
  await maker.page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(maker.page);
  return { maker, friend, line, faults };
}

/** Ties two knots, of which the friend sees both. */
async function tieTwo({ page }: Visitor, friend: Visitor): Promise<void> {
  await focusKnots(page);
  await page.keyboard.press('1');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('2');
  await expect.poll(async () => (await rowsOf(friend.page))[0]).toBe('f b -');
  await untilSaved(page);
}

it('[B150] edits reach the server after the copy was cleared, and the sign says when none is kept', async () => {
  const { maker, friend, line, faults } = await two();
  const devtools = await maker.context.newCDPSession(maker.page);
  await devtools.send('Storage.clearDataForOrigin', { origin: suite.http, storageTypes: 'indexeddb' });
  await tieTwo(maker, friend);
  expect(faults).toEqual([]);
  await line.cut();
  await maker.page.locator('lb-board-page .saved[data-state=unkept]').waitFor();
});

it('[B150] [B181] edits are kept, and reach the server, after another tab took the copy away', async () => {
  const { maker, friend, line, faults } = await two();
  const tab = await maker.context.newPage();
  await tab.goto(`${suite.http}/`);
  await tab.evaluate(
    (name) =>
      new Promise((resolve, reject) => {
        const request = indexedDB.deleteDatabase(name);
        request.onsuccess = resolve;
        request.onerror = reject;
      }),
    `larkboard-${new URL(maker.page.url()).pathname.split('/').at(-1)}`,
  );
  await tieTwo(maker, friend);
  await line.cut();
  await maker.page.locator('lb-board-page .saved[data-state=offline]').waitFor();
  await maker.page.keyboard.press('ArrowRight');
  await maker.page.keyboard.press('3');
  // A second look at it, by a tab that has a connection.
  await tab.goto(maker.page.url());
  await expect.poll(async () => (await rowsOf(friend.page))[0]).toBe('f b fb');
  expect(faults).toEqual([]);
});
