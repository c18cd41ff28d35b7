/** Two pages type in one field at once: one in English at a desk, one in German on a phone. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, runOn } from '../support/own-board.ts';

const suite = browserSuite('two-hands');
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, locale: 'de-DE' };

async function two(): Promise<{ maker: Visitor; friend: Visitor }> {
  const maker = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  const friend = await visit(suite.browser, 'about:blank', PHONE);
  await friend.context.addCookies(await maker.context.cookies());
  await friend.page.goto(maker.page.url());
  for (const { page } of [maker, friend]) {
    await page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(page);
  }
  return { maker, friend };
}

/** The text with `|` at the caret. */
const seen = (field: Locator): Promise<string> =>
  field.evaluate((box: HTMLInputElement) => {
    const at = box.selectionStart ?? 0;
    return `${box.value.slice(0, at)}|${box.value.slice(at)}`;
  });
const isWide = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > innerWidth);

describe('two hands in one field', () => {
  it('[W1000] [W1002] letter by letter: both people’s words stand there, each caret at its own', async () => {
    const { maker, friend } = await two();
    const mine = maker.page.getByLabel('Title of the board');
    const theirs = friend.page.getByLabel('Name des Bretts');
    await mine.press('End');
    await theirs.press('Home');
    const [right, left] = [' for Ada', 'Small '];
    for (let i = 0; i < right.length; i++) {
      await mine.press(right[i]!);
      if (i < left.length) await theirs.press(left[i]!);
    }
    await expect.poll(() => seen(mine)).toBe('Small Lopsided for Ada|');
    await expect.poll(() => seen(theirs)).toBe('Small |Lopsided for Ada');
    // The browser's undo knows nothing of the other; ours takes back one's own words alone.
    await mine.press('Control+z');
    await expect.poll(() => mine.inputValue()).not.toContain('Ada');
    expect(await mine.inputValue()).toContain('Small ');
    await mine.press('Control+Shift+z');
    await mine.press('Enter');
    for (const { page } of [maker, friend])
      await expect.poll(async () => (await boardOf(page)).title).toBe('Small Lopsided for Ada');
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[W1004] [W1008] what is too long is refused beside the field, on a phone in German too', async () => {
    const { maker, friend } = await two();
    const theirs = friend.page.getByLabel('Name des Bretts');
    await theirs.fill('x'.repeat(131));
    const why = friend.page.getByText('11 Zeichen zu viel. Wird erst gesichert, wenn es kürzer ist.');
    await why.waitFor();
    expect([await isWide(friend.page), await axeFindings(friend.page)]).toEqual([false, []]);
    await theirs.blur();
    expect(await theirs.inputValue()).toHaveLength(131);
    expect((await boardOf(friend.page)).title).toBe('Lopsided');
    await theirs.fill('x'.repeat(120));
    await why.waitFor({ state: 'hidden' });
    await theirs.blur();
    await expect.poll(async () => (await boardOf(maker.page)).title).toHaveLength(120);
  });

  it('[W1007] a colour that somebody removes while its name is being typed gives the words back', async () => {
    const { maker, friend } = await two();
    await openTab(maker.page, 'Colours');
    await openTab(friend.page, 'Farben');
    const name = maker.page.getByLabel('Name of the colour').nth(1);
    await name.press('End');
    await name.pressSequentially(' of the river');
    await friend.page.getByRole('button', { name: 'sand', exact: false }).filter({ hasText: '×' }).click();
    await friend.page.getByRole('button', { name: 'spruce geben' }).click();
    const left = maker.page.locator('lb-left-words details');
    await left.getByText('Somebody removed it while you wrote. Your words are still here.').waitFor();
    expect(await left.locator('blockquote').textContent()).toBe('sand of the river');
    await expect
      .poll(() => maker.page.locator('lb-palette-panel').getByLabel('Name of the colour').count())
      .toBe(2);
    // What stood in the next row was not typed into.
    expect((await boardOf(maker.page)).palette.map((colour) => colour.name)).toEqual(['spruce', 'straw']);
    expect(await axeFindings(maker.page)).toEqual([]);
    await left.getByRole('button', { name: 'Let them go' }).click();
    await left.waitFor({ state: 'detached' });
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[W925] a number that is being typed stays, and its field stays the same one, whatever others choose', async () => {
    const { maker, friend } = await two();
    await runOn(maker.page, { kind: 'set-piece', patch: { repeats: 2, barMm: 19 } });
    await openTab(maker.page, 'Keychain');
    const panel = maker.page.locator('lb-piece-panel');
    const pieceOf = async (): Promise<unknown> => {
      const { repeats, lengthMm, barMm, ring } = (await boardOf(maker.page)).piece;
      return [repeats, lengthMm, barMm, ring];
    };
    const others = async (patch: object, comes: readonly unknown[]): Promise<void> => {
      await expect.poll(async () => (await boardOf(friend.page)).piece.barMm).toBe(19);
      await runOn(friend.page, { kind: 'set-piece', patch });
      await expect.poll(pieceOf).toEqual(comes);
      // Shown by now.
      await panel.evaluate((element) => (element as unknown as { updateComplete: unknown }).updateComplete);
    };
    const repeats = panel.getByLabel('Repeats', { exact: true });
    await repeats.fill('12');
    await others({ repeats: 8 }, [8, undefined, 19, undefined]);
    expect(await repeats.inputValue()).toBe('12');
    // Taken by Enter it is no longer typed.
    await repeats.press('Enter');
    await expect.poll(pieceOf).toEqual([12, undefined, 19, undefined]);
    await expect.poll(async () => (await boardOf(friend.page)).piece.repeats).toBe(12);
    await others({ repeats: 8 }, [8, undefined, 19, undefined]);
    expect(await repeats.inputValue()).toBe('8');
    await repeats.fill('9');
    await others({ lengthMm: 80 }, [undefined, 80, 19, undefined]);
    expect(await repeats.inputValue()).toBe('9');
    await repeats.press('Tab');
    await expect.poll(pieceOf).toEqual([9, undefined, 19, undefined]);
    const bar = panel.getByRole('textbox', { name: 'Usable width (mm)' });
    await bar.fill('2.5');
    await others({ ring: 'round' }, [9, undefined, 19, 'round']);
    expect(await bar.inputValue()).toBe('2.5');
    // Typed back it counts as not typed: what is there is shown.
    await bar.fill('19');
    await bar.press('Tab');
    await panel.getByRole('textbox', { name: 'Inner diameter (mm)' }).waitFor();
    expect(await pieceOf()).toEqual([9, undefined, 19, 'round']);
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[W926] an open colour picker and an open list stay as they are, whatever others choose, and then show it', async () => {
    const { maker, friend } = await two();
    const { page } = maker;
    const hexes = async (of: Page): Promise<readonly string[]> =>
      (await boardOf(of)).palette.map(({ hex }) => hex);
    const rendered = (panel: Locator): Promise<unknown> =>
      panel.evaluate((element) => (element as unknown as { updateComplete: unknown }).updateComplete);
    const isOpen = (field: Locator): Promise<boolean> => field.evaluate((one) => one.matches(':open'));
    /** Closed by Escape, a picker tells nothing: the next move on the page does. */
    const close = async (field: Locator): Promise<void> => {
      await page.keyboard.press('Escape');
      await expect.poll(() => isOpen(field)).toBe(false);
      await page.mouse.move(200, 300);
      await page.mouse.move(210, 310);
    };
    const others = async (hex: string): Promise<void> => {
      await runOn(friend.page, { kind: 'edit-colour', id: 'a', hex });
      await expect.poll(async () => (await hexes(page))[0]).toBe(hex);
      await rendered(colours);
    };

    await openTab(page, 'Colours');
    const colours = page.locator('lb-palette-panel');
    const picker = colours.locator('input[type=color]').first();
    await picker.click();
    expect(await isOpen(picker)).toBe(true);
    await others('#aa1111');
    expect(await picker.inputValue()).toBe('#1f6266');
    await close(picker);
    await expect.poll(() => picker.inputValue()).toBe('#aa1111');
    await picker.click();
    await others('#bb2222');
    // What the picker does when a colour is chosen in it.
    await picker.evaluate((input: HTMLInputElement) => {
      input.value = '#33cc33';
      input.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
    });
    await expect.poll(async () => (await hexes(friend.page))[0]).toBe('#33cc33');
    await others('#bb2222');
    expect(await picker.inputValue()).toBe('#33cc33');
    await close(picker);
    await expect.poll(() => picker.inputValue()).toBe('#bb2222');

    const blue = { id: 'blue', name: 'Blue hour', colours: [] };
    await runOn(friend.page, { kind: 'put-colourway', colourway: blue });
    const list = colours.locator('#dress');
    await list.click();
    await runOn(friend.page, { kind: 'put-colourway', colourway: { ...blue, id: 'ash', name: 'Ash' } });
    await runOn(friend.page, { kind: 'remove-colourway', id: 'blue' });
    await expect.poll(async () => (await boardOf(page)).colourways?.map(({ id }) => id)).toEqual(['ash']);
    await rendered(colours);
    expect([await isOpen(list), await list.locator('option').allTextContents()]).toEqual([
      true,
      ['its own colours', 'Blue hour'],
    ]);
    await close(list);
    await expect.poll(() => list.locator('option').allTextContents()).toEqual(['its own colours', 'Ash']);

    await openTab(page, 'Keychain');
    const piece = page.locator('lb-piece-panel');
    const end = piece.locator('#end');
    await runOn(friend.page, { kind: 'set-piece', patch: { end: 'triangle' } });
    await expect.poll(() => end.inputValue()).toBe('triangle');
    await end.click();
    await runOn(friend.page, { kind: 'set-piece', patch: { end: 'double triangle' } });
    await expect.poll(async () => (await boardOf(page)).piece.end).toBe('double triangle');
    await rendered(piece);
    expect([await isOpen(end), await end.inputValue()]).toEqual([true, 'triangle']);
    await close(end);
    await expect.poll(() => end.inputValue()).toBe('double triangle');
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });
});
