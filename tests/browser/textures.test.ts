/** Textures for colours that are hard to tell apart: offered where there are such, drawn, remembered. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { untilDrawn, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('textures');

/** How many different colours the pattern's canvas shows. */
function coloursDrawn(page: Page, selector = 'lb-board canvas.pattern'): Promise<number> {
  return page.locator(selector).evaluate((element) => {
    const canvas = element as HTMLCanvasElement;
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
    const seen = new Set<number>();
    for (let i = 0; i < data.length; i += 4) seen.add((data[i]! << 16) | (data[i + 1]! << 8) | data[i + 2]!);
    return seen.size;
  });
}

/** What is read once it reads the same twice, a frame apart. */
async function steady(page: Page, read: () => Promise<number>): Promise<number> {
  for (let before = await read(); ; ) {
    await untilDrawn(page);
    const now = await read();
    if (now === before) return now;
    before = now;
  }
}

describe('textures', () => {
  it('[X25] are drawn when they are wanted, also after a reload, and go again', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await openTab(page, 'Colours');
    const choice = page.getByLabel('Show textures on the board');
    await choice.waitFor();
    const plain = await coloursDrawn(page);
    await choice.check();
    await expect.poll(() => coloursDrawn(page)).toBeGreaterThan(plain);
    await page.reload();
    await expect.poll(() => coloursDrawn(page)).toBeGreaterThan(plain);
    await openTab(page, 'Colours');
    await choice.waitFor();
    expect(await choice.isChecked()).toBe(true);
    await choice.uncheck();
    await expect.poll(() => coloursDrawn(page)).toBe(plain);
    expect(complaints).toEqual([]);
  });

  it('[X25] are on the pegs, in the paths and on the finished band too', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await openTab(page, 'Colours');
    const choice = page.getByLabel('Show textures on the board');
    await choice.waitFor();
    const pixels = (selector: string, rows: readonly [number, number]) =>
      page.locator(selector).evaluate((element, [from, to]) => {
        const canvas = element as HTMLCanvasElement;
        const { data } = canvas.getContext('2d')!.getImageData(0, from, canvas.width, to - from);
        let sum = 0;
        for (let i = 0; i < data.length; i++) sum = (sum * 31 + data[i]!) | 0;
        return sum;
      }, rows);
    const pegs = async (): Promise<number> => {
      const { top } = await page.locator('lb-board').evaluate((element) => {
        const board = element as unknown as { canvas: { view: { y: number } } };
        return { top: Math.round(board.canvas.view.y) };
      });
      return pixels('lb-board canvas.pattern', [top - 40, top - 8]);
    };
    const all: readonly [number, number] = [0, 500];
    const looks: readonly (readonly [string, () => Promise<number>])[] = [
      ['look-chart', pegs],
      ['look-paths', () => pixels('lb-board canvas.pattern', all)],
      ['look-finished', () => pixels('lb-finished canvas', [0, 300])],
    ];
    for (const [look, picture] of looks) {
      const chart = await pixels('lb-board canvas.pattern', all);
      await page.locator(`lb-board [data-action=${look}]`).click();
      // What draws them is fetched when they are asked for first.
      if (look === 'look-paths')
        await expect.poll(() => pixels('lb-board canvas.pattern', all)).not.toBe(chart);
      if (look === 'look-finished')
        await expect.poll(() => coloursDrawn(page, 'lb-finished canvas')).toBeGreaterThan(3);
      const plain = await steady(page, picture);
      await choice.check();
      await expect.poll(picture, { message: look }).not.toBe(plain);
      await choice.uncheck();
      await expect.poll(picture, { message: look }).toBe(plain);
    }
    expect(complaints).toEqual([]);
  });

  it('[X25] are not offered where all colours can be told apart', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/demo-mirrored-diamonds`);
    await openTab(page, 'Colours');
    await page
      .locator('lb-colour-check')
      .getByText('All colours can be told apart', { exact: false })
      .waitFor();
    expect(await page.getByLabel('Show textures on the board').count()).toBe(0);
  });
});
