/** A page that was away while its board was renewed on the server. */
import { expect, it } from 'vitest';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { metricAt, wear } from '../support/worn-board.ts';

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
  await wear(maker, suite.http);
  await expect.poll(() => rowsOf(page)).toEqual(['- - -', '- -', '- - -', '- -']);
  await untilSaved(page);
  isDown = true;
  for (const line of lines) await line.cut();
  await expect.poll(() => metric('larkboard_renewals_total')).toBe(1);
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
