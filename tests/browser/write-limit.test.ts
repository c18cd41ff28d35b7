/** Somebody who writes more in an hour than is allowed: what they did stays in their browser, and is stored later. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard, untilCommands } from '../support/own-board.ts';

/** A person alone has a sixteenth. */
const suite = ownServerSuite('write-limit', { MAX_WRITTEN_BYTES_PER_HOUR: '32000' });

const saved = (page: Page): ReturnType<Page['locator']> => page.locator('lb-board-page .saved');

/** Names the board so often, each time anew. */
function name(page: Page, times: number): Promise<void> {
  return page.locator('lb-board').evaluate((board, count) => {
    const { design } = (board as LbBoard).session!;
    for (let i = 1; i <= count; i += 1) design.run({ kind: 'set-title', title: `Reeds ${i}` });
  }, times);
}

it('[V339] the page says that too much was written, keeps it, and has it stored when it may again', async () => {
  const { page, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  await untilSaved(page);
  await untilCommands(page);
  await name(page, 2);
  await untilSaved(page);
  await name(page, 400);
  await name(page, 401);
  await expect.poll(() => saved(page).getAttribute('data-state')).toBe('write-limit');
  expect(await saved(page).textContent()).toContain('Too much was written from here in the last hour');
  expect(await axeFindings(page)).toEqual([]);
  expect(complaints).toEqual([]);
  // Where the count begins anew, as it does after an hour.
  await suite.stopServer('SIGTERM');
  await suite.startServer();
  await untilSaved(page);
  const id = new URL(page.url()).pathname.split('/').at(-1);
  const answer = await page.request.get(`${suite.http}/api/boards/${id}`);
  expect(((await answer.json()) as { title: string }).title).toBe('Reeds 401');
});
