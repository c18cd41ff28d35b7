/** Pegs that are taken hold of by mouse, finger and keys, and what shows before a hand lets go. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { axeFindings } from '../support/axe.ts';
import { choose, colourAt, friendOf, pointOf } from '../support/board-page.ts';
import { focusKnots, untilSaved, type Visitor } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, openOwnBoard } from '../support/own-board.ts';

const suite = browserSuite('pegs');

/** Eight strings in four colours, each pair of neighbours alike, and some knots. */
const PAIRED = {
  format: 'larkboard',
  version: 1,
  title: 'Paired',
  palette: [
    { id: 'a', name: 'spruce', hex: '#1f6266' },
    { id: 'b', name: 'sand', hex: '#e8c98a' },
    { id: 'c', name: 'brick', hex: '#a03020' },
  ],
  strings: ['a', 'a', 'b', 'b', 'c', 'c', 'a', 'a'],
  start: 0,
  rows: ['f f b b', '- f -', '- - - -', '- f -'],
};

const stringsOf = async (page: Page): Promise<string> => (await boardOf(page)).pattern.colours.join('');
/** Of the mounting that is shown above the pegs. */
const crossingsOf = (page: Page): Promise<number> =>
  page.locator('lb-board').evaluate((board) => (board as LbBoard).editor.model.plan?.crossings.length ?? -1);

async function pegAt(page: Page, place: number): Promise<{ x: number; y: number }> {
  const [first, next] = [await pointOf(page, 0, 0), await pointOf(page, 0, 1)];
  const unit = (next.x - first.x) / 2;
  const view = await page.locator('lb-board').evaluate((board) => (board as LbBoard).canvas!.view);
  return { x: first.x + (place - 0.5) * unit, y: first.y - view.row - 20 };
}

async function open(options: Parameters<typeof openOwnBoard>[3] = {}): Promise<Visitor> {
  const visitor = await openOwnBoard(suite.browser, suite.http, PAIRED, options);
  await untilSaved(visitor.page);
  return visitor;
}

describe('pegs', () => {
  it('[B385] one is dragged elsewhere by mouse, the mounting follows meanwhile, and undo takes back the whole of it', async () => {
    const maker = await open();
    const { page, complaints } = maker;
    const friend = await friendOf(suite.browser, maker);
    const from = await pegAt(page, 1);
    const to = await pegAt(page, 2);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 4 });
    await expect.poll(() => stringsOf(page)).toBe('ababccaa');
    await expect.poll(() => crossingsOf(page)).toBe(1);
    const far = await pegAt(page, 3);
    await page.mouse.move(far.x, far.y, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => stringsOf(friend.page)).toBe('abbaccaa');
    await expect.poll(() => crossingsOf(page)).toBe(0);
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
    await expect.poll(() => stringsOf(friend.page)).toBe('aabbccaa');
    expect(complaints).toEqual([]);
  });

  it('[B385] [B386] with a colour a stroke paints them, mirrored where tying is', async () => {
    const { page } = await open();
    await page.locator('lb-board').getByRole('button', { name: 'brick', exact: false }).first().click();
    await choose(page, 'mirror');
    const from = await pegAt(page, 0);
    const to = await pegAt(page, 1);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => stringsOf(page)).toBe('ccbbcccc');
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
    await expect.poll(() => stringsOf(page)).toBe('aabbccaa');
  });

  it('[B385] [B387] by a finger at 390 px, and from the menu that a long press opens', async () => {
    const { page, context } = await open({ viewport: { width: 390, height: 844 }, hasTouch: true });
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    const from = await pegAt(page, 0);
    const to = await pegAt(page, 2);
    await touch('touchStart', from);
    for (let i = 1; i <= 4; i++)
      await touch('touchMove', { x: from.x + ((to.x - from.x) * i) / 4, y: from.y });
    await touch('touchEnd');
    await expect.poll(() => stringsOf(page)).toBe('ababccaa');
    const menu = page.locator('lb-board-menu [role=menu]');
    await page.clock.install();
    await touch('touchStart', from);
    await page.clock.runFor(900);
    await touch('touchEnd');
    await menu.waitFor();
    await menu.getByRole('menuitem', { name: 'Sort the pegs by colour' }).click();
    await expect.poll(() => stringsOf(page)).toBe('aaaabbcc');
  });

  it('[B385] [B387] by keys alone: moved, coloured and put in order from a menu without findings', async () => {
    const { page } = await open();
    await focusKnots(page);
    await page.keyboard.press('Control+Home');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Alt+ArrowRight');
    await page.keyboard.press('Alt+ArrowRight');
    await expect.poll(() => stringsOf(page)).toBe('ababccaa');
    await page.keyboard.press('Shift+F10');
    const menu = page.locator('lb-board-menu [role=menu]');
    await menu.waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await menu.getByRole('menuitem', { name: 'Give it brick' }).press('Enter');
    await expect.poll(() => stringsOf(page)).toBe('abcbccaa');
    await page.keyboard.press('Shift+F10');
    await menu.getByRole('menuitem', { name: 'Mirror the left half of the pegs' }).press('Enter');
    await expect.poll(() => stringsOf(page)).toBe('abcbbcba');
  });
});

describe('before a hand lets go', () => {
  it('[B384] the knot under the mouse shows its colour, and what changes further down shows faintly', async () => {
    const { page } = await open();
    const knot = await pointOf(page, 2, 0);
    const opacity = async (row: number, k: number): Promise<number> =>
      (await colourAt(page, 'overlay', row, k))[3]!;
    await choose(page, 'knot-1');
    await page.mouse.move(knot.x, knot.y);
    await expect.poll(() => opacity(2, 0)).toBeGreaterThan(240);
    expect(await opacity(3, 1)).toBe(0);
    // The second knot of the fourth row hangs on the right string of this one.
    const above = await pointOf(page, 2, 1);
    await page.mouse.move(above.x, above.y);
    await expect.poll(() => opacity(2, 1)).toBeGreaterThan(240);
    const faint = await opacity(3, 1);
    expect(faint).toBeGreaterThan(60);
    expect(faint).toBeLessThan(230);
    await page.mouse.down();
    await page.mouse.up();
    const shown = await colourAt(page, 'pattern', 3, 1);
    expect(shown[3]).toBe(255);
  });
});
