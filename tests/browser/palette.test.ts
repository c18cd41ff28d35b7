/** The panel of the colours: their order, their names, what the strings of one get that goes, and the picker as one step. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { untilSaved, type Visitor } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { friendOf } from '../support/board-page.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, runOn } from '../support/own-board.ts';

const suite = browserSuite('palette');

const namesOf = async (page: Page): Promise<string> =>
  (await boardOf(page)).palette.map(({ name }) => name).join(' ');
const undo = (page: Page): Promise<void> =>
  page.getByRole('button', { name: 'Undo', exact: true }).first().click();

async function openColours(options: Parameters<typeof openOwnBoard>[3] = {}): Promise<Visitor> {
  const visitor = await openOwnBoard(suite.browser, suite.http, LOPSIDED, options);
  await untilSaved(visitor.page);
  await openTab(visitor.page, 'Colours');
  await visitor.page.locator('lb-palette-panel .row').nth(2).waitFor();
  return visitor;
}

const gripAt = async (page: Page, name: string): Promise<{ x: number; y: number }> => {
  const grip = page.getByRole('button', { name: `Move ${name}`, exact: true });
  await grip.scrollIntoViewIfNeeded();
  const { x, y, width, height } = (await grip.boundingBox())!;
  return { x: x + width / 2, y: y + height / 2 };
};

describe('the palette', () => {
  it('[B380] is put in order by mouse and by keys, each one step of undo; Escape lets go', async () => {
    const { page, complaints } = await openColours();
    const from = await gripAt(page, 'spruce');
    const to = await gripAt(page, 'straw');
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y + 8, { steps: 8 });
    expect(await namesOf(page)).toBe('spruce sand straw');
    await page.mouse.up();
    await expect.poll(() => namesOf(page)).toBe('sand straw spruce');
    await page.getByText('spruce is now colour 3 of 3.').waitFor({ state: 'attached' });
    await undo(page);
    await expect.poll(() => namesOf(page)).toBe('spruce sand straw');
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y + 8, { steps: 8 });
    await page.keyboard.press('Escape');
    await page.mouse.up();
    const sand = page.getByRole('button', { name: 'Move sand', exact: true });
    const hasKeyboard = (): Promise<boolean> => sand.evaluate((grip) => grip.matches(':focus'));
    await sand.focus();
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => namesOf(page)).toBe('spruce straw sand');
    await page.locator('lb-palette-panel .row:last-of-type .grip[aria-label="Move sand"]').waitFor();
    await expect.poll(hasKeyboard).toBe(true);
    await page.keyboard.press('Home');
    await expect.poll(() => namesOf(page)).toBe('sand spruce straw');
    await page.locator('lb-palette-panel .row:first-of-type .grip[aria-label="Move sand"]').waitFor();
    await expect.poll(hasKeyboard).toBe(true);
    await page.keyboard.press('ArrowUp');
    expect(await namesOf(page)).toBe('sand spruce straw');
    expect(complaints).toEqual([]);
  });

  it('[B380] is put in order by a finger, beside somebody who adds a colour meanwhile', async () => {
    const maker = await openColours({ viewport: { width: 390, height: 844 }, hasTouch: true });
    const { page, context } = maker;
    const friend = await friendOf(suite.browser, maker);
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    const from = await gripAt(page, 'spruce');
    const to = await gripAt(page, 'sand');
    await touch('touchStart', from);
    for (let i = 1; i <= 6; i++)
      await touch('touchMove', { x: from.x, y: from.y + ((to.y + 8 - from.y) * i) / 6 });
    await runOn(friend.page, { kind: 'add-colour', name: 'plum', hex: '#5b2a4a' });
    await expect.poll(() => namesOf(page)).toBe('spruce sand straw plum');
    await touch('touchEnd');
    await expect.poll(() => namesOf(friend.page)).toBe('sand spruce straw plum');
  });

  it('[B381] [B382] has no two names alike, and asks what the strings get of a colour that goes', async () => {
    const { page, complaints } = await openColours();
    const name = page.locator('lb-palette-panel').getByLabel('Name of the colour').first();
    await name.fill('Sand');
    await name.press('Enter');
    await page.getByText('Another colour is called “Sand” already.').waitFor();
    expect(await namesOf(page)).toBe('spruce sand straw');
    await name.fill('');
    await name.press('Enter');
    await page.getByText('This needs a name.').waitFor();
    await name.fill('moss');
    await name.press('Enter');
    await expect.poll(() => namesOf(page)).toBe('moss sand straw');
    await page.getByRole('button', { name: 'Add a colour' }).click();
    await page.getByRole('button', { name: 'Add a colour' }).click();
    await expect.poll(() => namesOf(page)).toBe('moss sand straw new colour new colour 2');
    // No string hangs in it: nothing is asked.
    await page.getByRole('button', { name: 'Remove new colour 2' }).click();
    await expect.poll(() => namesOf(page)).toBe('moss sand straw new colour');
    const remove = page.getByRole('button', { name: 'Remove sand', exact: true });
    await remove.click();
    await page.getByText('3 strings hang in sand.').waitFor();
    await page.getByRole('button', { name: 'Keep sand', exact: true }).click();
    expect(await remove.evaluate((button) => button.matches(':focus'))).toBe(true);
    await remove.click();
    await page.getByRole('button', { name: 'Give new colour' }).click();
    await expect.poll(() => namesOf(page)).toBe('moss straw new colour');
    const { palette, pattern } = await boardOf(page);
    expect(pattern.colours.filter((id) => id === palette[2]!.id)).toHaveLength(3);
    await undo(page);
    await expect.poll(() => namesOf(page)).toBe('moss sand straw new colour');
    expect((await boardOf(page)).pattern.colours.filter((id) => id === 'b')).toHaveLength(3);
    expect(complaints).toEqual([]);
  });
});
