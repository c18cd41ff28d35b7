/** Pages whose board is renewed on the server: one that is away meanwhile, and two that are there. */
import { expect, it } from 'vitest';
import { choose, drag, friendOf, newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { metricAt, wear, wearUnderPages } from '../support/worn-board.ts';

const suite = ownServerSuite('board-renewal', { RENEW_BYTES: '2000' });

const metric = (name: string): Promise<number> => metricAt(suite.http, name);

it('[V108] the page keeps what was tied while it was away, and what was tied while the server closed its line', async () => {
  const maker = await newBoard(suite.browser, suite.http, 6, 4);
  const { page } = maker;
  let isDown = false;
  let held: (() => void)[] | null = null;
  let isHoldDue = false;
  const lines = new Set<{ cut(): Promise<void> }>();
  await page.routeWebSocket(/\/sync\/[^/]+\/design/, (line) => {
    if (isDown) {
      void line.close({ code: 4500 });
      return;
    }
    const upstream = line.connectToServer();
    const toPage = (event: () => void): void => {
      if (held === null) event();
      else held.push(event);
    };
    const own = {
      cut: async () => {
        await upstream.close();
        await line.close({ code: 4500 });
      },
    };
    lines.add(own);
    line.onMessage((data) => {
      upstream.send(data);
      // What the page holds is its answer to the server's question: a sync message, step 2 (y-protocols, sync.js).
      if (isHoldDue && typeof data !== 'string' && data[0] === 0 && data[1] === 1) {
        isHoldDue = false;
        held = [];
      }
    });
    upstream.onMessage((data) => toPage(() => line.send(data)));
    upstream.onClose((code, reason) =>
      toPage(() => void line.close({ code: code ?? 4500, reason: reason ?? '' })),
    );
    line.onClose(() => {
      lines.delete(own);
      void upstream.close();
    });
  });
  await page.reload();
  await page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(page);
  // Both hold the history that is going to end.
  await wearUnderPages(maker, suite.http);
  await expect.poll(() => rowsOf(page)).toEqual(['- - -', '- -', '- - -', '- -']);
  await untilSaved(page);
  isDown = true;
  for (const line of lines) await line.cut();
  await expect.poll(() => metric('larkboard_renewals_total')).toBe(2);
  await focusKnots(page);
  await page.keyboard.press('1');
  await page.locator('lb-board-page .saved[data-state=offline]').waitFor();
  isHoldDue = true;
  isDown = false;
  // The page comes back with its copy; what the server says from then on is held, and so is that it closes the line.
  const closed = 'larkboard_closed_total\\{reason="outdated"\\}';
  await expect.poll(() => metric(closed)).toBe(1);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('2');
  const waiting: readonly (() => void)[] = held ?? [];
  expect(waiting.length).toBeGreaterThan(0);
  held = null;
  for (const event of waiting) event();
  await untilSaved(page);
  const both = ['f b -', '- -', '- - -', '- -'];
  await expect.poll(() => rowsOf(page)).toEqual(both);
  // What the server has, without anything that this browser keeps.
  await page.evaluate(async () => {
    for (const { name } of await indexedDB.databases())
      if (name !== undefined) indexedDB.deleteDatabase(name);
  });
  await page.reload();
  await page.locator('lb-board canvas.pattern').waitFor();
  await expect.poll(() => rowsOf(page)).toEqual(both);
  expect(maker.complaints.filter((text) => !text.includes('WebSocket'))).toEqual([]);
});

it('[V490] [W1043] [W1045] two pages tie, the board is renewed under their hands, and both keep tying', async () => {
  const maker = await newBoard(suite.browser, suite.http, 6, 6);
  const friend = await friendOf(suite.browser, maker);
  const pages = [maker.page, friend.page];
  const before = await metric('larkboard_handed_over_total');
  const sockets: string[] = [];
  for (const page of pages)
    page.on('websocket', (socket) => {
      if (socket.url().includes('/design')) sockets.push(socket.url());
    });
  // All that is marked, opened, typed and scrolled to.
  await maker.page.locator('lb-panels').getByRole('tab').nth(1).click();
  await choose(maker.page, 'tool-select');
  await drag(maker.page, [4, 0], [5, 1]);
  const title = friend.page.locator('lb-board-page .title input');
  await title.click();
  await friend.page.keyboard.press('End');
  await friend.page.keyboard.type('Half a');
  await friend.page.evaluate(() => scrollTo(0, 40));
  const looks = (page: typeof maker.page): Promise<unknown> =>
    page.locator('lb-board-page').evaluate((element) => {
      const at = element.shadowRoot!;
      const board = at.querySelector('lb-board')! as unknown as { editor: { selection: unknown } };
      const tab = at.querySelector('lb-panels')!.shadowRoot!.querySelector('[role=tab][aria-selected=true]');
      const field = at.querySelector('.title')!;
      const title = field.shadowRoot!.querySelector('input')!;
      return JSON.stringify([
        board.editor.selection,
        tab?.textContent,
        scrollY,
        title.value,
        title.selectionStart,
        at.activeElement === field,
        at.querySelector('lb-people')!.shadowRoot!.textContent,
      ]);
    });
  // What is typed is written by itself.
  const typed = maker.page.locator('lb-board-page .title input');
  await expect.poll(() => typed.inputValue()).toBe('Half a');
  const looked = await Promise.all(pages.map(looks));
  expect(looked[0]).not.toContain('[null');
  for (const page of pages)
    await page.locator('lb-board-page header').evaluate((sign) => {
      const states: (string | undefined)[] = [];
      Object.assign(globalThis, { states });
      new MutationObserver(() => {
        states.push(sign.querySelector<HTMLElement>('.saved')!.dataset.state);
      }).observe(sign, { subtree: true, attributes: true, childList: true });
    });
  await wear(maker, suite.http);
  await expect.poll(() => metric('larkboard_handed_over_total')).toBe(before + 2);
  for (const page of pages) await untilSaved(page);
  expect(await Promise.all(pages.map(looks))).toEqual(looked);
  // What is typed goes on where it was.
  await friend.page.keyboard.type(' kite');
  await friend.page.keyboard.press('Enter');
  await choose(maker.page, 'tool-tie', 'knot-2');
  await drag(maker.page, [4, 0], [4, 1]);
  await choose(friend.page, 'knot-1');
  await drag(friend.page, [5, 0]);
  for (const page of pages) {
    await expect.poll(async () => (await rowsOf(page)).slice(4)).toEqual(['b b -', 'f -']);
    await expect.poll(() => page.locator('lb-board-page .title input').inputValue()).toContain('Half a kite');
    await untilSaved(page);
    expect(await page.evaluate(() => Reflect.get(globalThis, 'states'))).not.toContain('offline');
  }
  expect(sockets).toEqual([]);
  expect([...maker.complaints, ...friend.complaints]).toEqual([]);
});
