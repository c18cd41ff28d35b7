/** Two makers at one board, in two real browsers. */
import { describe, expect, it } from 'vitest';
import { friendOf, newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved, visit } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';

const suite = ownServerSuite('board-pages');

describe('two makers at one board', () => {
  it('[B1] each sees the knots of the other, and both are saved', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const friend = await friendOf(suite.browser, maker);
    await focusKnots(maker.page);
    await maker.page.keyboard.press('1');
    await focusKnots(friend.page);
    await friend.page.keyboard.press('ArrowRight');
    await friend.page.keyboard.press('2');
    const both = ['f b -', '- -', '- - -', '- -'];
    await expect.poll(() => rowsOf(maker.page)).toEqual(both);
    await expect.poll(() => rowsOf(friend.page)).toEqual(both);
    await untilSaved(maker.page);
    await untilSaved(friend.page);
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[B2] undo takes back only what one did oneself', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const friend = await friendOf(suite.browser, maker);
    await focusKnots(maker.page);
    await maker.page.keyboard.press('1');
    await expect.poll(async () => (await rowsOf(friend.page))[0]).toBe('f - -');
    await focusKnots(friend.page);
    await friend.page.keyboard.press('End');
    await friend.page.keyboard.press('3');
    await expect.poll(async () => (await rowsOf(maker.page))[0]).toBe('f - fb');
    await maker.page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await rowsOf(friend.page))[0]).toBe('- - fb');
  });

  it('[B3] what is tied offline is kept, survives a reload of nothing else, and merges when the connection is back', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const friend = await friendOf(suite.browser, maker);
    await suite.stopServer('SIGTERM');
    await maker.page.locator('lb-board-page .saved[data-state=offline]').waitFor();
    await friend.page.locator('lb-board-page .saved[data-state=offline]').waitFor();
    await focusKnots(maker.page);
    await maker.page.keyboard.press('1');
    await focusKnots(friend.page);
    await friend.page.keyboard.press('End');
    await friend.page.keyboard.press('2');
    expect((await rowsOf(maker.page))[0]).toBe('f - -');
    expect((await rowsOf(friend.page))[0]).toBe('- - b');
    await suite.startServer();
    for (const { page } of [maker, friend])
      await expect.poll(async () => (await rowsOf(page))[0]).toBe('f - b');
    await untilSaved(maker.page);
    await untilSaved(friend.page);
  });

  it('[B4] the server killed while knots flow: every knot shown as saved is there afterwards', async () => {
    const maker = await newBoard(suite.browser, suite.http, 20, 30);
    await focusKnots(maker.page);
    let saved: readonly string[] = await rowsOf(maker.page);
    for (let i = 0; i < 60; i++) {
      await maker.page.keyboard.press(String(1 + (i % 4)));
      await maker.page.keyboard.press(i % 9 === 8 ? 'ArrowDown' : i % 18 < 9 ? 'ArrowRight' : 'ArrowLeft');
      // Once it is waited for: a hand this fast may leave the server no moment to catch up in.
      if (i === 20) await untilSaved(maker.page);
      if (await maker.page.locator('lb-board-page .saved[data-state=saved]').isVisible())
        saved = await rowsOf(maker.page);
    }
    await suite.stopServer('SIGKILL');
    const address = maker.page.url();
    const cookies = await maker.context.cookies();
    // The maker's browser is gone too, so that nothing but the server's disk can bring the knots back.
    await maker.context.close();
    await suite.startServer();
    const later = await visit(suite.browser, 'about:blank');
    await later.context.addCookies(cookies);
    await later.page.goto(address);
    await later.page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(later.page);
    const found = await rowsOf(later.page);
    const lost: string[] = [];
    saved.forEach((row, r) => {
      row.split(' ').forEach((knot, k) => {
        if (knot !== '-' && found[r]!.split(' ')[k] === '-') lost.push(`row ${r}, knot ${k}`);
      });
    });
    expect(saved.join(' ')).toMatch(/f|b/);
    expect(lost).toEqual([]);
  });

  it('[B5] a click ties, a drag ties along, and it can be undone as one', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 6);
    const box = await maker.page.locator('lb-board .stage').boundingBox();
    if (!box) throw new Error('no board');
    // The middle of the stage is on the band; a long diagonal crosses several knots.
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await maker.page.mouse.move(x - 60, y - 60);
    await maker.page.mouse.down();
    await maker.page.mouse.move(x + 60, y + 60, { steps: 12 });
    await maker.page.mouse.up();
    const tied = (await rowsOf(maker.page)).join(' ').match(/f/g)?.length ?? 0;
    expect(tied).toBeGreaterThan(1);
    await maker.page.getByRole('button', { name: 'Undo', exact: true }).click();
    expect((await rowsOf(maker.page)).join(' ')).not.toMatch(/f/);
  });
});
