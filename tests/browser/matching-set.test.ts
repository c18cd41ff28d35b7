/** The matching set as one maker works on it. */
import type { Locator } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { cutList, dressBoard, parseBoard, planBoard, shoppingList } from '../../engine/index.ts';
import { textOf, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { demoFile, readBoard } from '../support/own-board.ts';
import {
  chooseKeychain,
  colourOf,
  colourwaysOf,
  goToSet,
  keychains,
  openOwnSet,
  runOnBoard,
  untilSetSaved,
} from '../support/set-page.ts';

const suite = browserSuite('set');

const HEXES = { a: '#1f6266', b: '#e8c98a', c: '#0c0c10' } as const;

/** Four strings a, c, b, c: neat, since the two single ones lie beside and inside the fold. */
const FOUR = {
  format: 'larkboard',
  version: 1,
  title: 'Four',
  palette: Object.entries(HEXES).map(([id, hex]) => ({ id, name: `thread ${id}`, hex })),
  strings: ['a', 'c', 'b', 'c'],
  rows: ['f b', 'f', 'b f', 'b'],
};

describe('matching set', () => {
  it('[Y2] keychains are tabs: arrows, Home and End, and the one shown stands in the address', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/board/demo-club-set/set`);
    await keychains(page).first().waitFor();
    expect(await keychains(page).locator('.name').allTextContents()).toEqual([
      'The board’s own colours',
      'For Ada',
      'For Bo',
      'For Cy',
    ]);
    const chosen = () => page.locator('lb-set-page [role=tab][aria-selected=true] .name').textContent();
    await keychains(page).first().focus();
    for (const [key, name] of [
      ['ArrowRight', 'For Ada'],
      ['End', 'For Cy'],
      ['ArrowRight', 'For Cy'],
      ['ArrowLeft', 'For Bo'],
      ['Home', 'The board’s own colours'],
      ['ArrowRight', 'For Ada'],
    ]) {
      await page.keyboard.press(key!);
      expect([key, await chosen()]).toEqual([key, name]);
    }
    expect(page.url()).toMatch(/\/board\/demo-club-set\/set\?colourway=ada$/);
    await page.reload();
    await keychains(page).first().waitFor();
    expect(await chosen()).toBe('For Ada');
    expect(await page.getByRole('tabpanel').locator('.right').textContent()).toContain('demo board');
    expect(await page.locator('lb-set-colours input').count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  it('[Y3] [Y6] [W971] one’s own colourway: whole from the start, then thread, name, code, swap, another’s colours', async () => {
    const { page, complaints } = await openOwnSet(suite.browser, suite.http, FOUR);
    await page.locator('#add-mine').click();
    const [mine] = await colourwaysOf(page);
    expect(mine!.colours).toEqual(FOUR.palette);
    expect(mine!.name).toBe(`For ${mine!.maker!.name}`);
    await page.getByLabel('Name', { exact: true }).fill('Kites');
    await page.keyboard.press('Tab');
    const code = page.getByLabel('Code of the colour for thread a');
    await code.fill('moss');
    await page.keyboard.press('Tab');
    await page.getByText('“moss” is not a colour', { exact: false }).waitFor();
    await code.fill('446633');
    await page.keyboard.press('Tab');
    await page.getByLabel('Name of the thread for thread a', { exact: true }).fill('moss');
    await page.keyboard.press('Tab');
    await page.getByLabel('Colour for thread b', { exact: true }).fill('#ddccbb');
    await expect
      .poll(async () => (await colourwaysOf(page))[0])
      .toEqual({
        ...mine,
        name: 'Kites',
        colours: [
          { id: 'a', name: 'moss', hex: '#446633' },
          { id: 'b', name: 'thread b', hex: '#ddccbb' },
          { id: 'c', name: 'thread c', hex: HEXES.c },
        ],
      });
    // The board's name is not that of another thread: one is asked, told no, and takes the word at hand.
    const asked = colourOf(page, 'b').locator('.name-it');
    await expect
      .poll(() => asked.textContent())
      .toContain('“thread b” is the board’s colour. What is this one called?');
    expect(await keychains(page).last().locator('.mark.note').textContent()).toBe('1 thread without a name');
    const field = page.getByLabel('Name of the thread for thread b', { exact: true });
    expect(await field.inputValue()).toBe('');
    await field.fill('thread b');
    await page.keyboard.press('Tab');
    await colourOf(page, 'b').getByText('It needs another name.').waitFor();
    const call = asked.getByRole('button', { name: 'Call it' });
    const word = /^Call it (.+)$/.exec((await call.textContent())!)![1]!;
    await call.click();
    await expect.poll(() => field.inputValue()).toBe(word);
    expect(await asked.textContent()).not.toContain('called');
    await page.getByLabel('Swap the colour for thread a with').selectOption({ label: word });
    await expect
      .poll(async () => (await colourwaysOf(page))[0]!.colours.map(({ name }) => name))
      .toEqual([word, 'moss', 'thread c']);
    await page.locator('#add-one').click();
    await page.getByLabel('Take all colours from').selectOption({ label: 'Kites' });
    await page.locator('#copy').click();
    const [kites, second] = await colourwaysOf(page);
    expect(second!.colours).toEqual(kites!.colours);
    expect(second!.maker).toBeUndefined();
    await untilSetSaved(page);
    expect(complaints).toEqual([]);
  });

  it('[Y8] ideas: taking one leaves nothing to look at', async () => {
    const { page } = await openOwnSet(suite.browser, suite.http, FOUR);
    await page.locator('#add-mine').click();
    // Nearly the same as thread b.
    await page.getByLabel('Colour for thread a', { exact: true }).fill('#e6c788');
    await page.getByText('look alike', { exact: false }).first().waitFor();
    await page.getByRole('button', { name: 'Ideas for thread a' }).click();
    const ideas = colourOf(page, 'a').locator('.ideas button');
    expect(await ideas.count()).toBeGreaterThan(5);
    await ideas.first().click();
    await page.getByText('the colours can be told apart in every sight', { exact: false }).waitFor();
  });

  it('[Y10] colours that become one make the order cross: marked, said, and what keeping them apart comes to', async () => {
    const { page } = await openOwnSet(suite.browser, suite.http, FOUR);
    await page.locator('#add-mine').click();
    expect(await keychains(page).last().locator('.mark').allTextContents()).toEqual(['neat back']);
    await page.getByLabel('Colour for thread a', { exact: true }).fill(HEXES.b);
    expect(await keychains(page).last().locator('.mark').allTextContents()).toEqual([
      '1 crossing',
      '2 colours became one',
    ]);
    const said = page.locator('lb-set-editor .say');
    expect(await said.textContent()).toContain('floats on the back: thread c.');
    expect(await said.textContent()).toContain('thread a, thread b are one thread here');
    expect(await said.textContent()).toContain('0 crossings, with 2 more single cords');
    // The board's own keychain is as it was.
    expect(await keychains(page).first().locator('.mark').allTextContents()).toEqual(['neat back']);
  });

  it('[Y9] a colour that joins the pattern afterwards is shown as the board’s until one is chosen', async () => {
    const { page } = await openOwnSet(suite.browser, suite.http, FOUR);
    await page.locator('#add-mine').click();
    await runOnBoard(
      page,
      { kind: 'add-colour', id: 'd', name: 'late plum', hex: '#221133' },
      { kind: 'recolour-strings', strings: [0], colour: 'd' },
    );
    expect(await keychains(page).last().locator('.mark').last().textContent()).toBe(
      '1 colour from the board',
    );
    const late = colourOf(page, 'd');
    expect(await late.textContent()).toContain('as on the board');
    await late.getByRole('button', { name: 'Choose a colour for late plum' }).click();
    await page.getByLabel('Colour for late plum', { exact: true }).fill('#3355aa');
    await expect
      .poll(async () => (await colourwaysOf(page))[0]!.colours.at(-1))
      .toEqual({ id: 'd', name: 'late plum', hex: '#3355aa' });
    await runOnBoard(page, { kind: 'remove-colour', id: 'd', replaceWith: 'a' });
    expect((await colourwaysOf(page))[0]!.colours.map(({ id }) => id)).toEqual(['a', 'b', 'c']);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await colourwaysOf(page))[0]!.colours.at(-1)?.hex).toBe('#3355aa');
  });

  it('[Y13] [W970] removing a colourway asks first, and it comes back with one button', async () => {
    const { page } = await openOwnSet(suite.browser, suite.http, demoFile('club-set'));
    await chooseKeychain(page, 'For Bo');
    const remove = page.getByRole('button', { name: 'Remove this colourway' });
    await remove.click();
    const sure = page.getByRole('group', { name: 'Remove “For Bo” from the set?' });
    const keep = sure.getByRole('button', { name: 'Keep it' });
    const isFocused = (one: Locator): Promise<boolean> =>
      one.evaluate((element) => element === (element.getRootNode() as ShadowRoot).activeElement);
    await expect.poll(() => isFocused(keep)).toBe(true);
    await keep.click();
    await expect.poll(() => isFocused(remove)).toBe(true);
    expect(await colourwaysOf(page)).toHaveLength(3);
    await remove.click();
    await sure.getByRole('button', { name: 'Remove it' }).click();
    await page.getByText('For Bo was removed from the set.').waitFor();
    expect((await colourwaysOf(page)).map(({ id }) => id)).toEqual(['ada', 'cy']);
    await page.locator('#undo-removal').click();
    expect(await colourwaysOf(page)).toEqual(readBoard(demoFile('club-set')).colourways);
  });

  it('[Y11] mounting, cutting list, sheet, card and board file speak of the colourway’s own colours', async () => {
    const board = readBoard(demoFile('club-set'));
    const ada = dressBoard(board, board.colourways[0]!);
    const { page, complaints } = await visit(
      suite.browser,
      `${suite.http}/board/demo-club-set/set?colourway=ada`,
    );
    await page.locator('lb-set-editor [data-view=mounting]').click();
    await page.locator('lb-set-editor lb-mounting-panel ol li').first().waitFor();
    const steps = await page.locator('lb-mounting-panel ol').textContent();
    for (const name of ['dusk', 'sky', 'cloud']) expect(steps).toContain(name);
    expect(steps).not.toContain('poppy');
    await page.locator('lb-set-editor [data-view=cutting]').click();
    const first = [...cutList(ada).folds].sort((a, b) => a.turn - b.turn)[0]!;
    await page.getByText(`dusk: cut ${first.cutMm} mm`).first().waitFor();
    await page.locator('lb-set-editor [data-view=out]').click();
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#file').click()]);
    const saved = parseBoard(await textOf(download));
    expect(saved.ok && saved.value).toEqual({ ...ada, title: 'Matching set for the club · For Ada' });
    for (const link of ['Working sheet in these colours', 'Card in these colours']) {
      await page.goto(`${suite.http}/board/demo-club-set/set?colourway=ada`);
      await page.locator('lb-set-editor [data-view=out]').click();
      await page.getByRole('link', { name: link }).click();
      await page.locator('.sheet h1').waitFor();
      expect(await page.locator('.sheet h1').textContent()).toBe('Matching set for the club · For Ada');
      expect(await page.locator('.sheet .colours').first().textContent()).toContain('dusk');
      expect(await page.locator('.sheet').textContent()).not.toContain('poppy');
    }
    await page.getByRole('link', { name: 'Back to the set' }).click();
    await keychains(page).first().waitFor();
    await page.goto(`${suite.http}/board/demo-club-set/print?colourway=nobody`);
    await page.getByText('has no such colourway', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('[Y12] [Y88] [W973] [W974] one shopping list: what the engine buys for the friends, with the board’s own when asked, as text', async () => {
    const file = demoFile('club-set');
    const board = readBoard(file);
    const { page, context } = await openOwnSet(suite.browser, suite.http, file);
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    const rows = () =>
      page
        .locator('lb-set-shopping tbody tr')
        .evaluateAll((all) =>
          all.map((row) => [...row.querySelectorAll('.count')].map((cell) => cell.textContent)),
        );
    const expected = (ways: Parameters<typeof shoppingList>[1]) => {
      const list = shoppingList(board, ways, planBoard);
      const mm = (value: number): string => `${new Intl.NumberFormat('en').format(value)} mm`;
      return list.threads.map(({ pieces, totalMm, fromHomeMm, skeins, wasteMm }) => [
        String(pieces),
        mm(totalMm),
        fromHomeMm === 0 ? '–' : mm(fromHomeMm),
        String(skeins),
        mm(wasteMm),
      ]);
    };
    expect(await page.locator('lb-set-page h2#keychains').textContent()).toBe('3 keychains');
    expect(await rows()).toEqual(expected(board.colourways));
    const own = page.locator('lb-set-shopping').getByRole('checkbox', { name: 'The board’s own colours' });
    await own.check();
    expect(await rows()).toEqual(expected([null, ...board.colourways]));
    await own.uncheck();
    expect(await rows()).toEqual(expected(board.colourways));
    // Three of Ada's instead of one, and back again.
    const [ada, ...others] = board.colourways;
    const pieces = page.locator('lb-set-shopping').getByLabel(`How many: ${ada!.name}`);
    await pieces.fill('3');
    await pieces.blur();
    await expect.poll(rows).toEqual(expected([ada!, ada!, ada!, ...others]));
    await pieces.fill('many');
    await pieces.blur();
    expect(await pieces.inputValue()).toBe('3');
    await pieces.fill('1');
    await pieces.blur();
    await expect.poll(rows).toEqual(expected(board.colourways));
    await page.locator('#copy-list').click();
    await page.locator('lb-set-shopping').getByText('Copied.').waitFor();
    const text = await page.evaluate(() => navigator.clipboard.readText());
    const list = shoppingList(board, board.colourways, planBoard);
    expect(text.split('\n')[0]).toBe('Shopping list for the set: Matching set for the club (3 keychains)');
    expect(text).toContain('cloud (#efe8da)');
    expect(text).toContain(' · For Ada, For Bo, For Cy');
    expect(text).toContain(`${list.skeins} skeins, 3 bars`);
    // Printed is the list and nothing else.
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('lb-set-page .gallery').isVisible()).toBe(false);
    expect(await page.locator('lb-set-shopping table').isVisible()).toBe(true);
    expect(await page.locator('#copy-list').isVisible()).toBe(false);
  });

  it('[Y1] the set opens from the board and leads back', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/demo-club-set`);
    await page.locator('lb-board canvas.pattern').waitFor();
    await page.getByRole('link', { name: 'Matching set' }).click();
    await keychains(page).first().waitFor();
    await page.getByRole('link', { name: 'Back to the board' }).click();
    await page.locator('lb-board canvas.pattern').waitFor();
    await goToSet(page, suite.http, 'demo-odd-one');
    await page.getByText('Nobody has colours of their own yet.', { exact: false }).waitFor();
    await page.goto(`${suite.http}/board/nowhere/set`);
    await page.getByText('There is no such board', { exact: false }).waitFor();
  });
});
