/** A page that was away while its board was renewed on the server. */
import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { Design } from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { seededRandom } from '../server/chaos.ts';
import { message, RawClient } from '../server/raw-client.ts';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';

const suite = ownServerSuite('board-renewal', { RENEW_BYTES: '2000' });

async function metric(name: string): Promise<number> {
  const text = await (await fetch(`${suite.http}/metrics`)).text();
  return Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1] ?? 0);
}

/** Ties the same knots again and again, and unties them, with the maker's cookie. */
async function wear(maker: Visitor): Promise<void> {
  const cookies = await maker.context.cookies();
  const cookie = cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  const id = new URL(maker.page.url()).pathname.split('/').at(-1);
  const client = await new RawClient(`${suite.http.replace('http', 'ws')}/sync/${id}/design`, {
    headers: { cookie },
  }).join();
  const before = Y.encodeStateVector(client.doc);
  let count = 0;
  const newId = (): string => `w${count++}`;
  const design = new Design(client.doc, { makerId: 'w', newId, captureMs: 0 });
  const random = seededRandom(5);
  const tie = (row: number, k: number, knot: number): void => {
    expect(design.run({ kind: 'set-knots', knots: [{ row, k, knot: knot as KnotCode }] })).toEqual({
      ok: true,
    });
  };
  for (let i = 0; i < 400; i += 1) tie(Math.floor(random() * 4), Math.floor(random() * 2), i % 5);
  for (let cell = 0; cell < 8; cell += 1) tie(cell >> 1, cell & 1, 0);
  client.send(message(0, 2, Y.encodeStateAsUpdate(client.doc, before)));
  client.mark(1);
  await client.savedMark(1);
  design.dispose();
  client.close();
}

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
  await wear(maker);
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
