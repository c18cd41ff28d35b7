/** Bringing back a version while others work, and on a board of very many knots. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { rowsOf, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, openOwnBoard, openTab, runOn, undo } from '../support/own-board.ts';

const suite = browserSuite('bring-back');

async function keep(page: Page, name: string): Promise<void> {
  await untilSaved(page);
  await openTab(page, 'Versions');
  await page.getByLabel('Name of this version').fill(name);
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText(`Kept as “${name}”.`).waitFor();
}

const bringBack = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name: new RegExp(`^Bring back “${name}”`) }).click();

describe('bringing back', () => {
  it('[B118] what another ties between keeping and bringing back stays, and is told', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const { page } = owner;
    await keep(page, 'First');
    const [, second] = await rowsOf(page);
    const friend = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Fee');
    await runOn(page, {
      kind: 'set-knots',
      knots: [0, 1].flatMap((row) => [0, 1].map((k) => ({ row, k, knot: 0 }))),
    });
    await untilSaved(page);
    // The server keeps what stands there; before the page hears of it, the friend ties.
    let hear = (): void => {};
    const isHeard = new Promise<void>((resolve) => {
      hear = resolve;
    });
    let isKept = (): void => {};
    const wasKept = new Promise<void>((resolve) => {
      isKept = resolve;
    });
    await page.route('**/versions/keep', async (route) => {
      const response = await route.fetch();
      isKept();
      await isHeard;
      await route.fulfill({ response });
    });
    await bringBack(page, 'First');
    await wasKept;
    await runOn(friend.page, {
      kind: 'set-knots',
      knots: [
        { row: 0, k: 0, knot: 4 },
        { row: 2, k: 0, knot: 4 },
      ],
    });
    await untilSaved(friend.page);
    await expect.poll(async () => (await rowsOf(page))[0]).toContain('bf');
    hear();
    await page.getByText('1 spot changed meanwhile stays as changed.').waitFor();
    await untilSaved(page);
    const rows = ['bf f b', second, 'bf b b', 'fb b'];
    expect(await rowsOf(page)).toEqual(rows);
    await expect.poll(() => rowsOf(friend.page)).toEqual(rows);
    // One step; what the friend tied is not in it.
    await undo(page);
    expect(await rowsOf(page)).toEqual(['bf - b', '- -', 'bf b b', 'fb b']);
    expect([...owner.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[B118] a board of 119,400 knots comes back as one step', async () => {
    const rows = 1_200;
    const file = {
      ...LOPSIDED,
      strings: Array.from({ length: 200 }, () => 'a'),
      rows: Array.from({ length: rows }, (_, row) =>
        Array(row % 2 === 0 ? 100 : 99)
          .fill('f')
          .join(' '),
      ),
    };
    const owner = await openOwnBoard(suite.browser, suite.http, file);
    const { page } = owner;
    await keep(page, 'All forward');
    const tied = (knot: number, from: number, to: number): Promise<void> =>
      page.evaluate(
        ([code, first, last]) => {
          const element = document
            .querySelector('lb-app')
            ?.shadowRoot?.querySelector('lb-board-page')
            ?.shadowRoot?.querySelector('lb-board') as unknown as {
            session: { design: { run(command: unknown): { readonly ok: boolean } } };
          };
          const knots = [];
          for (let row = first!; row < last!; row++)
            for (let k = 0; k < 100 - (row % 2); k++) knots.push({ row, k, knot: code });
          if (!element.session.design.run({ kind: 'set-knots', knots }).ok) throw new Error('refused');
        },
        [knot, from, to],
      );
    // More than one command ties at once, and more than a message carries knot by knot.
    await tied(2, 0, rows / 2);
    await tied(2, rows / 2, rows);
    await page.locator('lb-board-page .saved[data-state=saved]').waitFor();
    const kinds = async (): Promise<readonly string[]> => [
      ...new Set((await rowsOf(page)).flatMap((row) => row.split(' '))),
    ];
    expect(await kinds()).toEqual(['b']);
    await bringBack(page, 'All forward');
    await page.getByText(/^“All forward”, .* is back on the board/).waitFor();
    expect(await kinds()).toEqual(['f']);
    await page.locator('lb-board-page .saved[data-state=saved]').waitFor();
    await undo(page);
    expect(await kinds()).toEqual(['b']);
    expect(owner.complaints).toEqual([]);
  });
});
