/** The board for everyone: menu, commands, keys alone, three looks, touch, any screen. */
import { describe, expect, it } from 'vitest';
import { choose, colourAt, friendOf, newBoard, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilDrawn, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';

const suite = browserSuite('board-reach');

describe('menu, commands and keys', () => {
  it('[B63] [B74] the context menu opens at the pointer and by key, and edits for both', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const friend = await friendOf(suite.browser, maker);
    const { x, y } = await pointOf(maker.page, 2, 1);
    await maker.page.mouse.click(x, y, { button: 'right' });
    await maker.page.locator('lb-board-menu [data-action=rows-below]').click();
    await expect.poll(async () => (await rowsOf(friend.page)).length).toBe(6);
    await expect.poll(() => maker.page.locator('lb-board-menu').count()).toBe(0);
    await maker.page.keyboard.press('Shift+F10');
    await maker.page.locator('lb-board-menu [role=menu]').waitFor();
    await maker.page.keyboard.press('ArrowRight');
    await maker.page.keyboard.press('Enter');
    await expect.poll(async () => (await rowsOf(friend.page))[2]).toBe('- b -');
    await maker.page.keyboard.press('Shift+F10');
    await maker.page.locator('lb-board-menu [role=menu]').waitFor();
    await maker.page.keyboard.press('Escape');
    await expect.poll(() => maker.page.locator('lb-board-menu').count()).toBe(0);
    expect(maker.complaints).toEqual([]);
  });

  it('[B72] a command is found by its words and run; the keyboard is back on the board after', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    await focusKnots(maker.page);
    await maker.page.keyboard.press('Control+k');
    await maker.page.locator('lb-command-list input').waitFor();
    await maker.page.keyboard.type('above two');
    expect(await maker.page.locator('lb-command-list [role=option]').count()).toBe(1);
    await maker.page.keyboard.press('Enter');
    await expect.poll(async () => (await rowsOf(maker.page)).length).toBe(6);
    await expect.poll(() => maker.page.locator('lb-board [role=gridcell]:focus').count()).toBe(1);
    await maker.page.keyboard.press('?');
    await maker.page.locator('lb-shortcut-sheet').getByText('Ctrl+Shift+Z').waitFor();
    await maker.page.keyboard.press('Escape');
    await expect.poll(() => maker.page.locator('lb-shortcut-sheet').count()).toBe(0);
    expect(maker.complaints).toEqual([]);
  });

  it('[B75] everything by keyboard: a line, a block, a peg’s colour; each knot is said', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 6);
    const cell = page.locator('lb-board [role=gridcell]');
    await focusKnots(page);
    for (const key of ['l', 'Enter', 'ArrowDown', 'ArrowDown', 'Enter']) await page.keyboard.press(key);
    await expect.poll(async () => (await rowsOf(page)).slice(0, 3)).toEqual(['f - -', 'f -', 'f - -']);
    expect(await cell.getAttribute('aria-label')).toMatch(/^row 3, knot 1, forward, .+ over .+$/);
    for (const key of ['Shift+ArrowRight', 'Shift+ArrowRight', '3']) await page.keyboard.press(key);
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('fb fb fb');
    expect(await cell.getAttribute('aria-selected')).toBe('true');
    for (const key of ['Escape', 'Control+Home', 'ArrowUp', 'ArrowRight']) await page.keyboard.press(key);
    expect(await cell.getAttribute('aria-label')).toMatch(/^peg 2, /);
    await page.locator('lb-board .swatch-button').nth(1).click();
    await cell.focus();
    const name = await page.locator('lb-board .swatch-button').nth(1).getAttribute('aria-label');
    await page.keyboard.press('Enter');
    await expect.poll(() => cell.getAttribute('aria-label')).toBe(`peg 2, ${name}`);
  });
});

describe('looks', () => {
  it('[B76] chart, paths and finished show the same board; the finished one beside it, front and back', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/board/demo-crosswind`);
    await page.locator('lb-board canvas.pattern').waitFor();
    const chart = await colourAt(page, 'pattern', 0, 0);
    await choose(page, 'look-paths');
    await expect.poll(() => colourAt(page, 'pattern', 0, 0)).not.toEqual(chart);
    await choose(page, 'look-chart');
    await expect.poll(() => colourAt(page, 'pattern', 0, 0)).toEqual(chart);
    await choose(page, 'beside');
    const finished = page.locator('lb-finished');
    await finished.getByRole('button', { name: 'Back' }).click();
    await finished.getByText('Floats on the back', { exact: false }).waitFor();
    const picture = () =>
      finished.locator('canvas').evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL().length);
    expect(await picture()).toBeGreaterThan(5000);
    await choose(page, 'look-finished');
    expect(await page.locator('lb-board .stage').isVisible()).toBe(false);
    await choose(page, 'look-chart');
    expect(await page.locator('lb-board .stage').isVisible()).toBe(true);
    await expect.poll(() => colourAt(page, 'pattern', 0, 0)).toEqual(chart);
    expect(complaints).toEqual([]);
  });

  it('[B66] the canvas has a pixel for each of the screen, whatever the ratio', async () => {
    for (const deviceScaleFactor of [1, 1.5, 2, 3]) {
      const options = { deviceScaleFactor, viewport: { width: 800, height: 600 } };
      const { page, context } = await visit(suite.browser, `${suite.http}/board/demo-two-nests`, options);
      await page.locator('lb-board canvas.pattern').waitFor();
      const [pixels, css] = await page
        .locator('lb-board canvas.pattern')
        .evaluate((canvas) => [(canvas as HTMLCanvasElement).width, canvas.getBoundingClientRect().width]);
      expect(pixels).toBe(Math.round((css as number) * deviceScaleFactor));
      await context.close();
    }
  });

  it('[B77] others are seen: their knot with their colour, on a layer of its own', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    // Another person, not another tab of the same one.
    const friend = await guestOf(suite.browser, suite.http, maker, 'co-maker');
    const seen = () =>
      maker.page
        .locator('lb-board')
        .locator('canvas.others')
        .evaluate((canvas) => {
          const { width, height } = canvas as HTMLCanvasElement;
          const context = (canvas as HTMLCanvasElement).getContext('2d') as CanvasRenderingContext2D;
          return context.getImageData(0, 0, width, height).data.some((value) => value !== 0);
        });
    expect(await seen()).toBe(false);
    const { x, y } = await pointOf(friend.page, 1, 1);
    await friend.page.mouse.move(x, y);
    await expect.poll(seen).toBe(true);
    await friend.context.close();
    await expect.poll(seen).toBe(false);
  });
});

describe('touch', () => {
  const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

  it('[B69] [B245] a finger that is let ties along, two fingers zoom and tie nothing', async () => {
    const { page, context } = await newBoard(suite.browser, suite.http, 6, 6, phone);
    await page.getByRole('button', { name: 'Finger moves' }).click();
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...points: readonly { x: number; y: number }[]
    ) =>
      client.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: points.map((point, id) => ({ ...point, id })),
      });
    const [from, to] = [await pointOf(page, 2, 0), await pointOf(page, 2, 2)];
    await touch('touchStart', from);
    for (let i = 1; i <= 6; i++)
      await touch('touchMove', {
        x: from.x + ((to.x - from.x) * i) / 6,
        y: from.y + ((to.y - from.y) * i) / 6,
      });
    await touch('touchEnd');
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('f f f');
    const wide = async () => (await pointOf(page, 0, 1)).x - (await pointOf(page, 0, 0)).x;
    const before = await wide();
    const rows = await rowsOf(page);
    const middle = await pointOf(page, 1, 0);
    await touch('touchStart', { x: middle.x - 30, y: middle.y }, { x: middle.x + 30, y: middle.y });
    for (let i = 1; i <= 5; i++)
      await touch(
        'touchMove',
        { x: middle.x - 30 - 8 * i, y: middle.y },
        { x: middle.x + 30 + 8 * i, y: middle.y },
      );
    await touch('touchEnd');
    await expect.poll(wide).toBeGreaterThan(before * 1.5);
    expect(await rowsOf(page)).toEqual(rows);
  });

  it('[B74] a finger that rests on a knot opens the menu there, and ties nothing', async () => {
    const { page, context } = await newBoard(suite.browser, suite.http, 6, 6, phone);
    const client = await context.newCDPSession(page);
    const { x, y } = await pointOf(page, 2, 1);
    await page.clock.install();
    await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
    await page.clock.runFor(900);
    await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await page.locator('lb-board-menu [role=menu]').waitFor();
    // It stays, whatever the browser makes of a finger that is lifted.
    await untilDrawn(page);
    await untilDrawn(page);
    expect(await page.locator('lb-board-menu [role=menu]').isVisible()).toBe(true);
    expect((await rowsOf(page)).join('')).not.toContain('f');
    await page.locator('lb-board-menu').getByRole('menuitem', { name: 'Backward knot', exact: true }).click();
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('- b -');
  });

  it('[B78] every button is 24 px or larger each way (WCAG 2.2, 2.5.8)', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 6, phone);
    const small = await page.locator('lb-board').evaluate((element) =>
      [...(element.shadowRoot?.querySelectorAll('button, select') ?? [])]
        .map((button) => ({
          name: button.getAttribute('aria-label') ?? button.textContent,
          box: button.getBoundingClientRect(),
        }))
        .filter(({ box }) => box.width > 0 && (box.width < 24 || box.height < 24))
        .map(({ name }) => name),
    );
    expect(small).toEqual([]);
  });
});
