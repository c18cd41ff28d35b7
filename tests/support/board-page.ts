/** A board in a real browser, and hands on it: for the browser tests. */
import type { Browser, Page } from 'playwright-core';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { untilSaved, type Visitor, visit } from './browser.ts';
import { makeBoardOf } from './own-board.ts';

/** A maker's page on a new board of their own, saved. */
export async function newBoard(
  browser: Browser,
  http: string,
  strings: number,
  rows: number,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const maker = await visit(browser, 'about:blank', options);
  await maker.page.goto(`${http}/board/${await makeBoardOf(maker, http, { strings, rows })}`);
  await maker.page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(maker.page);
  return maker;
}

/** A friend at the same board, in a browser of their own. */
export async function friendOf(browser: Browser, maker: Visitor): Promise<Visitor> {
  const friend = await visit(browser, 'about:blank');
  await friend.context.addCookies(await maker.context.cookies());
  await friend.page.goto(maker.page.url());
  await friend.page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(friend.page);
  return friend;
}

/** Middle of a knot on the screen. */
export async function pointOf(page: Page, row: number, k: number): Promise<{ x: number; y: number }> {
  const point = await page
    .locator('lb-board')
    .evaluate((element, cell) => (element as LbBoard).clientPointOf(cell), { row, k });
  if (point === null) throw new Error('the board is not drawn yet');
  return point;
}

/** Presses the mouse on the first knot, moves over the others and lets go on the last. */
export async function drag(page: Page, ...cells: readonly (readonly [number, number])[]): Promise<void> {
  const [first, ...others] = await Promise.all(cells.map(([row, k]) => pointOf(page, row, k)));
  if (first === undefined) return;
  await page.mouse.move(first.x, first.y);
  await page.mouse.down();
  for (const { x, y } of others) await page.mouse.move(x, y, { steps: 6 });
  await page.mouse.up();
}

/** Clicks the buttons of these actions, one after the other. */
export async function choose(page: Page, ...actions: readonly string[]): Promise<void> {
  for (const action of actions) {
    const button = page.locator(`lb-board [data-action=${action}]`).filter({ visible: true }).first();
    // On a phone most tools are behind one button.
    if (!(await button.isVisible())) await page.locator('lb-board .tool.more').click();
    await button.click();
  }
}

/** Shows the buttons of the header that a narrow page keeps behind one; where they stand in the row, nothing. */
export async function openHeaderMenu(page: Page): Promise<void> {
  const more = page.locator('lb-board-page header .more');
  if (await more.isVisible()) await more.click();
}

/** What a layer of the board's canvases shows at a knot's middle: red, green, blue, opacity. */
export async function colourAt(
  page: Page,
  layer: string,
  row: number,
  k: number,
): Promise<readonly number[]> {
  const point = await pointOf(page, row, k);
  return page.locator('lb-board').evaluate(
    (element, at) =>
      new Promise<readonly number[]>((resolve) => {
        // Two frames: what is asked for in this one is drawn in the next.
        requestAnimationFrame(() =>
          requestAnimationFrame(() => {
            const canvas = element.shadowRoot?.querySelector(`canvas.${at.layer}`) as HTMLCanvasElement;
            const box = canvas.getBoundingClientRect();
            const ratio = canvas.width / box.width;
            const context = canvas.getContext('2d') as CanvasRenderingContext2D;
            const { data } = context.getImageData((at.x - box.left) * ratio, (at.y - box.top) * ratio, 1, 1);
            resolve([...data]);
          }),
        );
      }),
    { layer, ...point },
  );
}
