/** The board where things are in the way: low windows, no clipboard, wrong files. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { drag, newBoard, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilDrawn } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('board-rough');

/** Drops a file of these bytes on the page. */
const drop = (page: Page, name: string, text: string): Promise<void> =>
  page.evaluate(
    (file) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([file.text], file.name));
      dispatchEvent(new DragEvent('drop', { dataTransfer, cancelable: true }));
    },
    { name, text },
  );

describe('room', () => {
  it('[B146] nothing of the board covers another part, however low the window is, and a wide page fits it', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 12, 40);
    const measure = () =>
      page.locator('lb-board').evaluate((element) => {
        const box = (name: string) => element.shadowRoot?.querySelector(name)?.getBoundingClientRect();
        const { scrollHeight } = document.documentElement;
        return { stage: box('.stage'), colours: box('.colours'), tooLong: scrollHeight - innerHeight };
      });
    for (const [width, height] of [
      [844, 390],
      [667, 375],
      [568, 320],
      [900, 360],
      [1280, 400],
    ] as const) {
      await page.setViewportSize({ width, height });
      const { stage, colours } = await measure();
      expect(stage?.height, `${width} x ${height}`).toBeGreaterThan(150);
      // Turned, a phone has its colours in a column beside the board.
      const isBeside = (colours?.right ?? 0) <= (stage?.left ?? 0) + 1;
      const covered = (stage?.bottom ?? 0) - (colours?.top ?? 0);
      expect(isBeside ? 0 : covered, `${width} x ${height}`).toBeLessThan(1);
    }
    await page.setViewportSize({ width: 1280, height: 860 });
    expect((await measure()).tooLong).toBe(0);
  });
});

describe('a board without rows', () => {
  it.each([
    ['mouse', {}],
    ['finger', { hasTouch: true }],
  ])('[B63] gets two by the button in its place: %s', async (hand, options) => {
    const { page } = await newBoard(suite.browser, suite.http, 8, 2, options);
    await focusKnots(page);
    await page.keyboard.press('Shift+Delete');
    await expect.poll(() => rowsOf(page)).toEqual([]);
    const button = page.locator('lb-board .empty button');
    await (hand === 'mouse' ? button.click() : button.tap());
    await expect.poll(async () => (await rowsOf(page)).length).toBe(2);
  });
});

describe('another screen', () => {
  it('the board and the finished band beside it get the pixels of the screen they come to', async () => {
    // The browser's own window: the size that is set for a page hides from it that its screen changes.
    const { page, context } = await newBoard(suite.browser, suite.http, 12, 20, { viewport: null });
    await page.locator('lb-board [data-action=beside]').click();
    const pixels = () =>
      page.locator('lb-board').evaluate((element) =>
        [
          element.shadowRoot?.querySelector('canvas.pattern'),
          element.shadowRoot?.querySelector('lb-finished')?.shadowRoot?.querySelector('canvas'),
        ].map((one) => {
          const canvas = one as HTMLCanvasElement;
          return Math.round((10 * canvas.width) / canvas.getBoundingClientRect().width) / 10;
        }),
      );
    await page.locator('lb-finished canvas').waitFor();
    const client = await context.newCDPSession(page);
    await expect.poll(pixels).toEqual([1, 1]);
    const screen = { width: 0, height: 0, deviceScaleFactor: 2, mobile: false };
    await client.send('Emulation.setDeviceMetricsOverride', screen);
    await expect.poll(pixels).toEqual([2, 2]);
  });
});

describe('without what a browser mostly has', () => {
  it('[B147] without a clipboard the menu says so, and what was copied here can be pasted here', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 6, 6);
    // As in a page without HTTPS.
    await page.evaluate(() => Object.defineProperty(navigator, 'clipboard', { value: undefined }));
    await drag(page, [0, 0], [0, 0]);
    const menu = async (row: number, action: string): Promise<void> => {
      const { x, y } = await pointOf(page, row, 0);
      await page.mouse.click(x, y, { button: 'right' });
      await page.locator(`lb-board-menu [data-action=${action}]`).click();
    };
    await menu(0, 'copy');
    await page.locator('lb-board .notice', { hasText: 'Use the keys' }).waitFor();
    await menu(2, 'paste');
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('f - -');
    expect(complaints).toEqual([]);
  });

  it('[B144] by keys alone a block is copied, the cursor moved on, and the block pasted there', async () => {
    const { page, context } = await newBoard(suite.browser, suite.http, 8, 8);
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    await focusKnots(page);
    for (const key of ['1', 'Shift+ArrowRight', '2', 'Control+c', 'ArrowDown', 'ArrowDown', 'Control+v'])
      await page.keyboard.press(key);
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('- b b -');
  });
});

describe('wrong files', () => {
  it('after a file that is none, a good one is said to be taken', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 6);
    const notice = page.locator('lb-board-page p.notice[role=alert]');
    await drop(page, 'kite.json', '{"format":');
    await notice.filter({ hasText: 'This file is not a board' }).waitFor();
    const rows = ['f f', 'f'];
    const palette = [{ id: 'a', name: 'sand', hex: '#e8c98a' }];
    const strings = ['a', 'a', 'a', 'a'];
    const file = { format: 'larkboard', version: 1, title: 'Tail', palette, strings, start: 0, rows };
    await drop(page, 'tail.json', JSON.stringify(file));
    await notice.filter({ hasText: 'The file replaced the board' }).waitFor();
    expect(await rowsOf(page)).toEqual(rows);
  });
});

describe('what is begun can be left', () => {
  it('[B75] the space bar that is let go elsewhere moves the view no longer', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 6);
    await focusKnots(page);
    await page.keyboard.down('Space');
    await page.locator('lb-board .stage.tool-pan').waitFor();
    await page.locator('lb-board [data-action=knot-2]').focus();
    await page.keyboard.up('Space');
    await drag(page, [0, 0], [0, 1]);
    await expect.poll(async () => (await rowsOf(page))[0]).toMatch(/^[fb] [fb] -$/);
  });

  it('[B64] Escape leaves the swapping of colours, on the board and among the colours', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 6);
    const swap = page.locator('lb-board [data-action=swap]');
    const colours = () =>
      page.locator('lb-board').evaluate((element) => (element as LbBoard).editor.model.board.pattern.colours);
    const before = await colours();
    await focusKnots(page);
    for (const start of [() => page.keyboard.press('t'), () => swap.click()]) {
      await start();
      expect(await swap.getAttribute('aria-pressed')).toBe('true');
      await page.keyboard.press('Escape');
      await expect.poll(() => swap.getAttribute('aria-pressed')).toBe('false');
    }
    await page.locator('lb-board .swatch-button').nth(1).click();
    expect(await colours()).toEqual(before);
  });

  it('[B89] the second look is moved by drag and wheel, and the first goes along', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 12, 200);
    await page.locator('lb-board [data-action=beside]').click();
    await page.locator('lb-board .view select').selectOption('paths');
    const second = page.locator('lb-board lb-second-look');
    // What draws it is fetched when it is asked for first.
    await expect
      .poll(() =>
        second
          .locator('canvas')
          .first()
          .evaluate((element) => {
            const { width, height } = element as HTMLCanvasElement;
            if (width === 0 || height === 0) return false;
            const context = (element as HTMLCanvasElement).getContext('2d')!;
            return context.getImageData(0, 0, width, height).data.some((value) => value !== 0);
          }),
      )
      .toBe(true);
    await untilDrawn(page);
    const box = await second.boundingBox();
    if (box === null) throw new Error('there is no second look');
    const row = async () => (await pointOf(page, 0, 0)).y;
    const before = await row();
    await page.mouse.move(box.x + 50, box.y + 300);
    await page.mouse.down();
    await page.mouse.move(box.x + 50, box.y + 100, { steps: 4 });
    await page.mouse.up();
    await expect.poll(row).toBeLessThan(before - 100);
    const after = await row();
    await page.mouse.wheel(0, 200);
    await expect.poll(row).toBeLessThan(after - 100);
    expect((await rowsOf(page)).join('')).not.toMatch(/[fb]/);
  });
});
