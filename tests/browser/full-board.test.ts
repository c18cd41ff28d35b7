/** Somebody whose last edit was too much for the board: the page says what makes room, and stores it then. */
import { expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard } from '../support/own-board.ts';

const suite = ownServerSuite('full-board', { MAX_DOCUMENT_BYTES: '20000', RENEW_BYTES: '0' });

it('[B158] the page says what to do until what was edited is stored', async () => {
  const { page, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  await untilSaved(page);
  const board = page.locator('lb-board');
  const grow = (): Promise<void> =>
    board.evaluate((element) => {
      const { design } = (element as LbBoard).session!;
      const at = design.snapshot.rowPairIds.length;
      design.run({ kind: 'insert-row-pairs', at, count: 50 });
    });
  const notice = page.getByText('This board is full', { exact: false });
  while ((await notice.count()) === 0) {
    await grow();
    await expect
      .poll(async () => (await page.locator('.saved[data-state=saved]').count()) + (await notice.count()))
      .toBeGreaterThan(0);
  }
  expect(await notice.textContent()).toContain('Delete rows or knots, or bring an earlier version back');
  expect(await axeFindings(page)).toEqual([]);
  await board.evaluate((element) => {
    const { design } = (element as LbBoard).session!;
    design.run({ kind: 'delete-row-pairs', from: 1, count: design.snapshot.rowPairIds.length - 1 });
  });
  await untilSaved(page);
  expect(await notice.count()).toBe(0);
  expect(complaints).toEqual([]);
});
