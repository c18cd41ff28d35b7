/** Told, not found out: two people at one board, and what the one does to the other's work. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Command } from '../../engine/document/index.ts';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { axeFindings } from '../support/axe.ts';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { switchLines } from '../support/line-switch.ts';

const suite = browserSuite('lost-notice');

/** Somebody else at the maker's board, by a link, under a name of their own. */
async function guestOf(maker: Visitor, name: string): Promise<Visitor> {
  const id = /\/board\/([\w-]+)/.exec(maker.page.url())![1]!;
  const secret = await maker.page.evaluate(async (board) => {
    const answer = await fetch(`/api/boards/${board}/links`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ role: 'co-maker', name: 'guest', endsAt: null }),
    });
    return ((await answer.json()) as { secret: string }).secret;
  }, id);
  const guest = await visit(suite.browser, `${suite.http}/help`);
  await guest.page.evaluate((called) => {
    const person = { id: 'not known yet', name: called, hex: '#2d5aa0' };
    localStorage.setItem('larkboard.person', JSON.stringify(person));
  }, name);
  await guest.page.goto(`${suite.http}/board/${id}#${secret}`);
  await guest.page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(guest.page);
  return guest;
}

function run(page: Page, ...commands: readonly Command[]): Promise<void> {
  return page.locator('lb-board').evaluate((element, all) => {
    for (const command of all) (element as LbBoard).session.design.run(command as never);
  }, commands as unknown[]);
}

const tie = (knots: readonly (readonly [row: number, k: number])[], knot: 1 | 2): Command => ({
  kind: 'set-knots',
  knots: knots.map(([row, k]) => ({ row, k, knot })),
});
const noticeOf = (page: Page): Locator => page.locator('lb-lost-notice .box');
const boxOf = (page: Page): Promise<unknown> => page.locator('lb-board').boundingBox();

describe('work that another changes', () => {
  it('[W980] [W983] [W985] one quiet notice that moves nothing: who, how many, Show, put back as one step of undo', async () => {
    const mia = await newBoard(suite.browser, suite.http, 6, 6);
    const tom = await guestOf(mia, 'Tom');
    // What tells of lost work comes after the board, and who is there with the first word of them.
    await mia.page.waitForFunction(() => customElements.get('lb-lost-notice') !== undefined);
    await mia.page.locator('lb-people').getByText('T', { exact: true }).first().waitFor();
    await run(
      mia.page,
      tie(
        [
          [0, 0],
          [0, 1],
          [4, 0],
        ],
        1,
      ),
    );
    await expect.poll(() => rowsOf(tom.page)).toContain('f f -');
    const was = await rowsOf(mia.page);
    await focusKnots(mia.page);
    const before = await boxOf(mia.page);
    await run(
      tom.page,
      tie(
        [
          [0, 0],
          [0, 1],
        ],
        2,
      ),
    );
    await run(
      tom.page,
      tie(
        [
          [4, 0],
          [2, 2],
        ],
        2,
      ),
    );
    const notice = noticeOf(mia.page);
    await expect
      .poll(() => notice.locator('[role=status]').textContent())
      .toBe('Tom changed 3 of your knots.');
    expect(await boxOf(mia.page)).toEqual(before);
    expect(await axeFindings(mia.page)).toEqual([]);
    // It lies over nothing that is worked on: not over the board, where the keyboard is.
    const [board, over] = await Promise.all([
      mia.page.locator('lb-board').boundingBox(),
      notice.boundingBox(),
    ]);
    expect(over!.x).toBeGreaterThanOrEqual(board!.x + board!.width);
    // Nothing took the keyboard; going back from the board it is the next.
    expect(await mia.page.evaluate(() => document.activeElement?.tagName)).toBe('LB-APP');
    await notice.getByRole('button', { name: 'Show' }).click();
    const litKnots = (): Promise<number> =>
      mia.page.locator('lb-board').evaluate((element) => (element as LbBoard).lit.value?.knots?.length ?? 0);
    expect(await litKnots()).toBe(3);
    await notice.getByRole('button', { name: 'Put it back' }).press('Enter');
    await expect.poll(() => rowsOf(mia.page)).toEqual([...was.slice(0, 2), '- - b', ...was.slice(3)]);
    await expect.poll(() => notice.locator('[role=status]').textContent()).toContain('It is as you left it.');
    await mia.page.keyboard.press('Escape');
    await expect.poll(() => notice.getByRole('button').count()).toBe(0);
    expect(await litKnots()).toBe(0);
    // Tom, whose knots went for it, is told in his turn; not any more once they are there again.
    const told = noticeOf(tom.page).locator('[role=status]');
    await expect.poll(() => told.textContent()).toMatch(/ 3 of your knots\.$/);
    await mia.page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await rowsOf(mia.page))[0]).toBe('b b -');
    await expect.poll(() => told.textContent()).toBe('');
    expect([...mia.complaints, ...tom.complaints]).toEqual([]);
  });

  it('[W986] what was changed while one was offline is told on coming back', async () => {
    const mia = await newBoard(suite.browser, suite.http, 6, 6);
    const tom = await guestOf(mia, 'Tom');
    const line = await switchLines(mia.page);
    await mia.page.reload();
    await mia.page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(mia.page);
    await run(
      mia.page,
      tie(
        [
          [0, 0],
          [1, 0],
        ],
        1,
      ),
    );
    await expect.poll(async () => (await rowsOf(tom.page))[0]).toBe('f - -');
    await line.cut();
    await mia.page.locator('lb-board-page .saved[data-state=offline]').waitFor();
    await run(tom.page, tie([[0, 0]], 2));
    await untilSaved(tom.page);
    expect(await noticeOf(mia.page).getByRole('button').count()).toBe(0);
    line.mend();
    await expect.poll(async () => (await rowsOf(mia.page))[0]).toBe('b - -');
    await expect
      .poll(() => noticeOf(mia.page).locator('[role=status]').textContent())
      .toBe('Tom changed 1 of your knots.');
    expect([...mia.complaints, ...tom.complaints]).toEqual([]);
  });

  it('[W927] a knot that was tied and overwritten before the page had fetched what tells of it is told of', async () => {
    const mia = await newBoard(suite.browser, suite.http, 6, 6);
    const tom = await guestOf(mia, 'Tom');
    // Nor is it kept by then: what keeps steps comes later, too.
    let open = (): void => {};
    const isOpen = new Promise<void>((resolve) => {
      open = resolve;
    });
    await mia.context.route(/\/(lb-lost-notice|own-steps)-[^/]*\.js$/, async (route) => {
      await isOpen;
      await route.continue();
    });
    await mia.page.reload();
    await mia.page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(mia.page);
    await run(mia.page, tie([[0, 0]], 1));
    await expect.poll(async () => (await rowsOf(tom.page))[0]).toBe('f - -');
    await run(tom.page, tie([[0, 0]], 2));
    await expect.poll(async () => (await rowsOf(mia.page))[0]).toBe('b - -');
    expect(await mia.page.evaluate(() => customElements.get('lb-lost-notice') === undefined)).toBe(true);
    open();
    await expect
      .poll(() => noticeOf(mia.page).locator('[role=status]').textContent())
      .toBe('Tom changed 1 of your knots.');
    expect([...mia.complaints, ...tom.complaints]).toEqual([]);
  });
});
