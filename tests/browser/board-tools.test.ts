/** Every tool of the board in a real browser, two pages at one board where it edits. */
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { choose, colourAt, drag, friendOf, newBoard, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('board-tools');

describe('tools', () => {
  it('[B58] a drag ties on both pages, in the picture too, and one undo takes it back', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 6);
    const friend = await friendOf(suite.browser, maker);
    const before = await colourAt(friend.page, 'pattern', 2, 1);
    await choose(maker.page, 'knot-2');
    await drag(maker.page, [2, 0], [2, 3]);
    for (const { page } of [maker, friend])
      await expect.poll(async () => (await rowsOf(page))[2]).toBe('b b b b');
    expect(await colourAt(friend.page, 'pattern', 2, 1)).not.toEqual(before);
    await maker.page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await rowsOf(friend.page))[2]).toBe('- - - -');
    expect(await colourAt(friend.page, 'pattern', 2, 1)).toEqual(before);
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[B59] [B57] [B55] lines, filling and mirrored tying reach the other page', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 6);
    const friend = await friendOf(suite.browser, maker);
    await choose(maker.page, 'tool-line', 'mirror');
    await drag(maker.page, [0, 0], [2, 1]);
    await expect
      .poll(() => rowsOf(friend.page))
      .toEqual(['f - - b', 'f - b', '- f b -', '- - -', '- - - -', '- - -']);
    await choose(maker.page, 'mirror', 'knot-3', 'tool-fill');
    await drag(maker.page, [5, 1]);
    await expect
      .poll(() => rowsOf(friend.page))
      .toEqual(['f - - b', 'f - b', 'fb f b fb', 'fb fb fb', 'fb fb fb fb', 'fb fb fb']);
  });

  it('[B54] [B53] a selected block is moved, repeated and untied', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 6);
    const friend = await friendOf(suite.browser, maker);
    await drag(maker.page, [0, 0], [0, 1]);
    await choose(maker.page, 'tool-select');
    await drag(maker.page, [0, 0], [0, 2]);
    await drag(maker.page, [0, 1], [2, 1]);
    await expect.poll(async () => (await rowsOf(friend.page)).slice(0, 3)).toEqual(['- - -', '- -', 'f f -']);
    await focusKnots(maker.page);
    await maker.page.keyboard.press('r');
    await expect.poll(async () => (await rowsOf(friend.page))[4]).toBe('f f -');
    await maker.page.keyboard.press('Delete');
    await expect.poll(async () => (await rowsOf(friend.page))[2]).toBe('- - -');
  });

  it('[B50] copy on one board and paste on another, by keys', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4, {
      permissions: ['clipboard-read', 'clipboard-write'],
    });
    await focusKnots(maker.page);
    await maker.page.keyboard.press('1');
    await maker.page.keyboard.press('Control+a');
    await maker.page.keyboard.press('Control+c');
    expect(await maker.page.evaluate(() => navigator.clipboard.readText())).toBe(
      'f - -\n  - -\n- - -\n  - -',
    );
    await maker.page.goto(`${suite.http}/`);
    await maker.page.locator('input[name=strings]').fill('8');
    await maker.page.locator('button[type=submit]').click();
    await maker.page.locator('lb-board canvas.pattern').waitFor();
    await focusKnots(maker.page);
    await maker.page.keyboard.press('ArrowRight');
    await maker.page.keyboard.press('Control+v');
    await expect.poll(async () => (await rowsOf(maker.page))[0]).toBe('- f - -');
  });

  it('[B56] [B64] [B65] by colour: pegs, showing, swapping and picking', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const friend = await friendOf(suite.browser, maker);
    const swatch = maker.page.locator('lb-board').locator('.swatch-button');
    const colours = () =>
      friend.page
        .locator('lb-board')
        .evaluate((element) => [...(element as LbBoard).editor.model.board.pattern.colours]);
    const before = await colours();
    await swatch.nth(1).click();
    const first = await pointOf(maker.page, 0, 0);
    const { unit } = await maker.page.locator('lb-board').evaluate(async (element) => {
      const host = element as LbBoard;
      const [a, b] = [host.clientPointOf({ row: 0, k: 0 }), host.clientPointOf({ row: 0, k: 1 })];
      return { unit: ((b?.x ?? 0) - (a?.x ?? 0)) / 2 };
    });
    const row = await pointOf(maker.page, 1, 0);
    await maker.page.mouse.click(first.x - unit / 2, first.y - (row.y - first.y) - 20);
    await expect.poll(colours).not.toEqual(before);
    const after = await colours();
    expect(after.slice(1)).toEqual(before.slice(1));
    await choose(maker.page, 'show');
    await maker.page.locator('lb-board').locator('select.places').selectOption('keep');
    await drag(maker.page, [0, 0]);
    await expect.poll(async () => (await rowsOf(friend.page))[0]).toMatch(/^(fb|bf) /);
    await choose(maker.page, 'tool-pick');
    await drag(maker.page, [0, 1]);
    await choose(maker.page, 'swap');
    await swatch.first().click();
    await expect.poll(colours).not.toEqual(after);
  });

  it('[B73] a string is traced: it is lit and its way is told', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    await choose(maker.page, 'knot-1');
    await drag(maker.page, [0, 0]);
    const plain = await colourAt(maker.page, 'overlay', 3, 1);
    await choose(maker.page, 'tool-trace');
    await drag(maker.page, [0, 0]);
    await maker.page
      .locator('lb-board .notice')
      .getByText(/String 1, .+: shows in 1 knot, comes out at place 2/)
      .waitFor();
    await maker.page.mouse.move(5, 5);
    // What is lit is drawn once that has been fetched, which nobody waits for.
    await expect.poll(() => colourAt(maker.page, 'overlay', 3, 1)).not.toEqual(plain);
    await focusKnots(maker.page);
    await maker.page.keyboard.press('Escape');
    await expect.poll(() => colourAt(maker.page, 'overlay', 3, 1)).toEqual(plain);
  });
});
