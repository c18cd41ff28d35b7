/** Notes of a board, written by two makers in two browsers. */
import { describe, expect, it } from 'vitest';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('notes');

describe('notes', () => {
  it('[X26] what a friend saves joins what is being typed; all of it is in the file', async () => {
    const maker = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const friend = await visit(suite.browser, 'about:blank');
    await friend.context.addCookies(await maker.context.cookies());
    await friend.page.goto(maker.page.url());
    for (const { page } of [maker, friend]) {
      await untilSaved(page);
      await openTab(page, 'Notes');
    }
    const mine = maker.page.getByRole('textbox', { name: 'Notes' });
    const theirs = friend.page.getByRole('textbox', { name: 'Notes' });
    await mine.fill('steel ring\nred cord');
    await expect.poll(() => theirs.inputValue()).toBe('steel ring\nred cord');

    // The friend's words arrive while letters still come, before the pause that saves.
    await mine.press('End');
    let dots = '';
    const typing = (async () => {
      for (; !(await mine.inputValue()).includes('19 mm'); dots += '.') await mine.press('.');
      await mine.pressSequentially(' for Ada');
    })();
    // In one go: between two steps of `fill` the maker's dots could come and take the selection away.
    await theirs.evaluate((box: HTMLTextAreaElement) => {
      box.value = box.value.replace('ring', 'ring, 19 mm');
      box.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
    });
    await typing;
    const both = `steel ring, 19 mm\nred cord${dots} for Ada`;
    await expect.poll(() => mine.inputValue()).toBe(both);
    await expect.poll(() => theirs.inputValue()).toBe(both);
    await untilSaved(maker.page);
    const file = await maker.page.evaluate(
      async (path) => (await fetch(path)).json(),
      `/api/boards/${maker.page.url().split('/').at(-1)}/file`,
    );
    expect((file as { piece: { notes: string } }).piece.notes).toBe(both);
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });
});
