/** The looks of the board from close by: what is drawn anew, the finished band, strings in the paths, pen and wheel. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { choose, colourAt, drag, newBoard, pointOf } from '../support/board-page.ts';
import { rowsOf, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { openOwnBoard } from '../support/own-board.ts';

const suite = browserSuite('board-looks');

/** Two frames later: what was asked for before is drawn then. */
const drawn = (page: Page) =>
  page.evaluate(
    () => new Promise<void>((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve()))),
  );

describe('what is drawn', () => {
  /** Share of the stage that was drawn anew while this was done. */
  async function share(page: Page, act: () => Promise<void>): Promise<number> {
    const read = async (): Promise<readonly [number, number]> => {
      await drawn(page);
      return page.locator('lb-board').evaluate((element) => {
        const { canvas } = element as LbBoard;
        return [canvas?.paintedArea ?? 0, (canvas?.size.width ?? 0) * (canvas?.size.height ?? 0)] as const;
      });
    };
    const [before, stage] = await read();
    await act();
    return ((await read())[0] - before) / stage;
  }

  it('[B68] pointing draws nothing of the pattern, a knot its tiles, a scroll what comes into sight', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 60, 400);
    await choose(page, 'knot-3');
    const at = await pointOf(page, 11, 13);
    expect(
      await share(page, async () => {
        await page.mouse.move(at.x, at.y);
        await page.mouse.move(at.x + 60, at.y + 30);
      }),
    ).toBe(0);
    const knot = await share(page, () => page.mouse.click(at.x, at.y));
    expect(knot).toBeGreaterThan(0);
    expect(knot).toBeLessThan(0.06);
    const scroll = await share(page, () => page.mouse.wheel(0, 90));
    expect(scroll).toBeGreaterThan(0);
    expect(scroll).toBeLessThan(0.35);
  });

  it('[B66] the wheel with Ctrl zooms, and the knot under the pointer stays there', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 60, 400);
    const before = await pointOf(page, 20, 15);
    const wide = async () => (await pointOf(page, 20, 16)).x - (await pointOf(page, 20, 15)).x;
    const was = await wide();
    await page.mouse.move(before.x, before.y);
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -160);
    await page.keyboard.up('Control');
    await expect.poll(wide).toBeGreaterThan(was * 1.3);
    const after = await pointOf(page, 20, 15);
    expect(Math.hypot(after.x - before.x, after.y - before.y)).toBeLessThan(2);
  });
});

describe('paths', () => {
  it('the string that is pointed at is lit from its peg to its end', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 8);
    await choose(page, 'look-paths', 'tool-trace');
    await drawn(page);
    // Beside the band are the numbers of the rows.
    const between = [(await pointOf(page, 0, 0)).x - 20, (await pointOf(page, 0, 2)).x + 20] as const;
    const lit = () =>
      page.locator('lb-board canvas.overlay').evaluate((element, [from, to]) => {
        const canvas = element as HTMLCanvasElement;
        const { left } = canvas.getBoundingClientRect();
        const { data, width, height } = (canvas.getContext('2d') as CanvasRenderingContext2D).getImageData(
          0,
          0,
          canvas.width,
          canvas.height,
        );
        // Opaque pixels are the ribbon, its edge and numbers; the veil lets the others through.
        let [top, bottom] = [height, 0];
        for (let y = 30; y < height; y++)
          for (let x = Math.round(from - left); x < to - left; x++)
            if ((data[(y * width + x) * 4 + 3] as number) === 255) [top, bottom] = [Math.min(top, y), y];
        return bottom - top;
      }, between);
    expect(await lit()).toBeLessThan(0);
    // Where the knots are may still change, when it is known how the strings are mounted.
    const litBeyondBand = async (): Promise<number> => {
      const [first, last] = [await pointOf(page, 0, 0), await pointOf(page, 7, 0)];
      const half = (await pointOf(page, 0, 1)).x - first.x;
      await page.mouse.move(first.x - half / 4, (first.y + last.y) / 2);
      return (await lit()) - (last.y - first.y);
    };
    await expect.poll(litBeyondBand).toBeGreaterThan(40);
    await page.mouse.move(5, 5);
    await expect.poll(lit).toBeLessThan(0);
  });
});

describe('side by side', () => {
  it('[B89] the chart beside the paths: what is tied and scrolled in one is seen in the other', async () => {
    const { page, complaints } = await newBoard(suite.browser, suite.http, 8, 60);
    await choose(page, 'beside');
    await page.locator('lb-finished canvas').waitFor();
    const which = page.getByLabel('What is shown beside it');
    await which.selectOption({ label: 'Paths' });
    const second = page.locator('lb-second-look canvas.pattern');
    /** Remembers what is shown as this. */
    const keep = (name: string) =>
      second.evaluate((element, as) => {
        const canvas = element as HTMLCanvasElement & Record<string, unknown>;
        const context = canvas.getContext('2d') as CanvasRenderingContext2D;
        canvas[as] = context.getImageData(0, 0, canvas.width, canvas.height).data;
      }, name);
    /** How many values differ from it by more than the rounding at the edges of what was drawn anew. */
    const differ = (from: string) =>
      second.evaluate((element, as) => {
        const canvas = element as HTMLCanvasElement & Record<string, unknown>;
        const before = canvas[as] as Uint8ClampedArray;
        const context = canvas.getContext('2d') as CanvasRenderingContext2D;
        const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
        return data.reduce((sum, value, i) => sum + (Math.abs(value - (before[i] as number)) > 6 ? 1 : 0), 0);
      }, from);
    await second.waitFor();
    await drawn(page);
    await keep('untied');
    await drag(page, [0, 0], [0, 2]);
    await expect.poll(() => differ('untied')).toBeGreaterThan(100);
    await drawn(page);
    await keep('tied');
    const { x, y } = await pointOf(page, 3, 1);
    await page.mouse.move(x, y);
    await page.mouse.wheel(0, 300);
    await expect.poll(() => differ('tied')).toBeGreaterThan(100);
    await page.mouse.wheel(0, -600);
    await expect.poll(() => differ('tied')).toBe(0);
    await choose(page, 'look-paths');
    // The paths are the first look now, so that the finished band stands beside them.
    await page.locator('lb-finished canvas').waitFor();
    expect(await second.count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});

describe('first use', () => {
  it('[B88] two clicks from the start page to a knot, and the mounting order is in sight', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`, {
      viewport: { width: 1440, height: 900 },
    });
    await page.locator('button[type=submit]').click();
    await page.locator('lb-board canvas.pattern').waitFor();
    await page.getByText('Tie a knot: tap or click a spot', { exact: false }).waitFor();
    const { x, y } = await pointOf(page, 0, 1);
    await page.mouse.click(x, y);
    await expect.poll(async () => (await rowsOf(page))[0]).toMatch(/^- f/);
    const order = page.locator('lb-mounting-panel ol li').first();
    await order.waitFor();
    const box = await order.boundingBox();
    expect((box?.y ?? 0) > 0 && (box?.y ?? 0) + (box?.height ?? 0) <= 900).toBe(true);
    expect(await order.textContent()).toMatch(/places \d+ and \d+/);
  });
});

describe('finished', () => {
  const CROSSING = {
    format: 'larkboard',
    version: 1,
    title: 'Test input',
    palette: [
      { id: 'a', name: 'red', hex: '#e01010' },
      { id: 'b', name: 'blue', hex: '#1010e0' },
    ],
    strings: ['a', 'b', 'a', 'b'],
    start: 0,
    rows: ['- -', '-', '- -', '-'],
    piece: { endKnot: 'none' },
  };

  it('[B84] the back shows the bar of crossing folds over the head between its ends; the front does not', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, CROSSING);
    await choose(page, 'look-finished');
    const finished = page.locator('lb-finished');
    await finished.locator('canvas').waitFor();
    for (let i = 0; i < 4; i++) await choose(page, 'zoom-in');
    const blue = () =>
      finished.locator('canvas').evaluate((element) => {
        const canvas = element as HTMLCanvasElement;
        const { data } = (canvas.getContext('2d') as CanvasRenderingContext2D).getImageData(
          0,
          0,
          canvas.width,
          canvas.height,
        );
        // Rows of pixels in which blue runs on over more than a head is wide.
        let longest = 0;
        for (let y = 0; y < canvas.height; y++) {
          let run = 0;
          for (let x = 0; x < canvas.width; x++) {
            const at = (y * canvas.width + x) * 4;
            const isBlue =
              (data[at + 3] as number) > 200 && (data[at + 2] as number) > 2 * (data[at] as number) + 20;
            run = isBlue ? run + 1 : 0;
            longest = Math.max(longest, run);
          }
        }
        return longest;
      });
    const top = finished.locator('.scroll');
    await top.evaluate((element) => element.scrollTo(0, 120));
    await drawn(page);
    const front = await blue();
    await finished.getByRole('button', { name: 'Back', exact: true }).click();
    await finished.getByText('Floats on the back', { exact: false }).waitFor();
    await expect.poll(blue).toBeGreaterThan(front * 1.8);
  });

  it('[B83] buttons, wheel and two fingers zoom the finished band, and it can be fitted whole', async () => {
    const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
    const { page, context, complaints } = await visit(
      suite.browser,
      `${suite.http}/board/demo-two-nests`,
      phone,
    );
    await page.locator('lb-board canvas.pattern').waitFor();
    await choose(page, 'look-finished');
    const scroll = page.locator('lb-finished .scroll');
    await page.locator('lb-finished canvas').waitFor();
    await drawn(page);
    const long = () => scroll.evaluate((element) => element.scrollHeight);
    const box = await scroll.boundingBox();
    if (box === null) throw new Error('no finished band');
    const first = await long();
    await choose(page, 'zoom-in', 'zoom-in');
    await expect.poll(long).toBeGreaterThan(first * 1.3);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const client = await context.newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      ...touchPoints: { x: number; y: number; id: number }[]
    ) => client.send('Input.dispatchTouchEvent', { type, touchPoints });
    const apart = (px: number) => [
      { x: x - px, y, id: 0 },
      { x: x + px, y, id: 1 },
    ];
    const second = await long();
    await touch('touchStart', ...apart(30));
    for (let px = 35; px <= 70; px += 5) await touch('touchMove', ...apart(px));
    await touch('touchEnd');
    await expect.poll(long).toBeGreaterThan(second * 1.3);
    await choose(page, 'fit');
    await expect.poll(long).toBeLessThanOrEqual(Math.ceil(box.height) + 1);
    expect(complaints).toEqual([]);
  });
});

describe('pen', () => {
  it('[B87] a pen ties along its way, at once and without hovering first', async () => {
    const { page, context } = await newBoard(suite.browser, suite.http, 6, 6);
    const client = await context.newCDPSession(page);
    const [from, to] = [await pointOf(page, 2, 0), await pointOf(page, 2, 2)];
    const pen = (type: 'mousePressed' | 'mouseMoved' | 'mouseReleased', at: { x: number; y: number }) =>
      client.send('Input.dispatchMouseEvent', {
        type,
        ...at,
        button: 'left',
        buttons: type === 'mouseReleased' ? 0 : 1,
        clickCount: 1,
        pointerType: 'pen',
        force: 0.5,
      });
    const before = await colourAt(page, 'pattern', 2, 0);
    await pen('mousePressed', from);
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('f - -');
    for (let i = 1; i <= 6; i++)
      await pen('mouseMoved', { x: from.x + ((to.x - from.x) * i) / 6, y: from.y });
    await pen('mouseReleased', to);
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('f f f');
    expect(await colourAt(page, 'pattern', 2, 0)).not.toEqual(before);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(async () => (await rowsOf(page))[2]).toBe('- - -');
    await drag(page, [0, 0]);
  });
});
