/** An owner takes back what a guest did, while somebody else goes on. */
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { rowsOf, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, openOwnBoard, openTab, runOn, undo } from '../support/own-board.ts';

const suite = browserSuite('take-back');

describe('taking back what somebody did', () => {
  it('[W920] [W921] [W922] a wiper’s visit goes, what another ties on top stays, and it is one step of undo', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    const { page } = owner;
    const before = await rowsOf(page);
    const wiper = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Wim');
    const friend = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Fee');
    const all = [0, 1, 2, 3].flatMap((row) => [0, 1].map((k) => ({ row, k, knot: 0 })));
    await runOn(wiper.page, { kind: 'set-knots', knots: all });
    await untilSaved(wiper.page);
    await expect.poll(async () => (await rowsOf(friend.page))[0]).toMatch(/^- -/);
    await runOn(friend.page, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
    await untilSaved(friend.page);
    await expect.poll(async () => (await rowsOf(page))[0]).toMatch(/^bf -/);
    await openTab(page, 'Versions');
    await page.getByText('Who has been here').click();
    await page.getByRole('button', { name: /^Take back what Wim did/ }).click();
    const dialog = page.getByRole('dialog', { name: 'Take back what Wim did' });
    await dialog.getByText('1 change stays, since Fee went on from it.').waitFor();
    await dialog.getByText('Without what Wim did').first().waitFor();
    expect(await axeFindings(page)).toEqual([]);
    // She goes on while it is looked at.
    await runOn(friend.page, { kind: 'set-knots', knots: [{ row: 1, k: 0, knot: 3 }] });
    await untilSaved(friend.page);
    await dialog.getByText('2 changes stay, since Fee went on from them.').waitFor();
    await dialog.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText('What Wim did is taken back.').waitFor();
    const back = [before[0]!.replace(/^\S+/, 'bf'), before[1]!.replace(/^\S+/, 'fb'), ...before.slice(2)];
    expect(await rowsOf(page)).toEqual(back);
    await expect.poll(() => rowsOf(friend.page)).toEqual(back);
    await undo(page);
    const [first, second, ...others] = await rowsOf(page);
    expect([first, second]).toEqual([expect.stringMatching(/^bf -/), expect.stringMatching(/^fb -/)]);
    expect(others).not.toEqual(before.slice(2));
    // What stood there before is in the list.
    await page.getByText('before something was brought back or taken back').first().waitFor();
    expect([...owner.complaints, ...wiper.complaints, ...friend.complaints]).toEqual([]);
  });
});
