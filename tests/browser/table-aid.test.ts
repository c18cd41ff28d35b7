/** Help while tying, in a real browser: by touch at the sizes of a phone, what it takes over, and what is taken over into the board. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('table-aid');
const FILE = { ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'], piece: { repeats: 3 } };
const KNOTS = 30;
const AIDS = ['Where am I?', 'A mistake', 'Running short', 'Pace'];

/** A maker who has tied so many knots, one a second. */
async function tying(knots: number, options: object): Promise<Visitor & { readonly address: string }> {
  const visitor = await visit(suite.browser, 'about:blank', { hasTouch: true, ...options });
  const { page } = visitor;
  const address = `${suite.http}/board/${await makeBoardOf(visitor, suite.http, { file: FILE })}`;
  await page.goto(`${address}/table`);
  await page.evaluate(() => {
    let turned = 0;
    const now = performance.now.bind(performance);
    const date = Date.now.bind(Date);
    performance.now = () => now() + 1000 * turned++;
    Date.now = () => date() + 1000 * turned;
  });
  await page.locator('lb-table-page form button').click();
  await page.locator('lb-table-cut .huge').waitFor();
  await page.locator('nav.stages button').nth(2).click();
  const count = page.locator('lb-table-tie .count');
  for (let knot = 1; knot <= knots; knot++) {
    await page.locator('.pads .on').tap();
    if (knot < KNOTS) await count.getByText(new RegExp(`^${knot + 1} `)).waitFor();
  }
  return { ...visitor, address };
}

async function ask(page: Page, aid: string): Promise<void> {
  await page.locator('lb-table-tie .help').tap();
  await page.locator('lb-table-aid nav').getByRole('button', { name: aid }).tap();
}

it.each([
  [390, 844],
  [390, 400],
  [844, 390],
])(
  '[N42] at %i x %i each help is one touch away, no wider than the screen, and leaves the knot as it was',
  async (width, height) => {
    const { page, complaints } = await tying(6, { viewport: { width, height } });
    const before = await page.locator('lb-table-tie .said').first().textContent();
    for (const aid of AIDS) {
      await ask(page, aid);
      await page.locator('lb-table-aid main > *').first().waitFor();
      const wide = await page
        .locator('lb-table-aid main')
        .evaluate((main) => [main.scrollWidth <= main.clientWidth, document.documentElement.scrollWidth]);
      expect([aid, ...wide]).toEqual([aid, true, width]);
      expect(await axeFindings(page), aid).toEqual([]);
      await page.getByRole('button', { name: 'To the knot' }).tap();
      expect(await page.locator('lb-table-tie .said').first().textContent()).toBe(before);
    }
    expect(complaints).toEqual([]);
  },
);

it('[N43] a place that is tapped is the maker’s from then on', async () => {
  const { page } = await tying(9, { viewport: { width: 390, height: 844 } });
  await ask(page, 'Where am I?');
  const aid = page.locator('lb-table-aid');
  // As they hang three knots before.
  const hangs = await aid.evaluate((element) => {
    const { work, begun } = element as unknown as {
      work: { steps: { kind: string; place: number }[]; at: number };
      begun: { pattern: { colours: string[] }; palette: { id: string; name: string }[] };
    };
    const order = begun.pattern.colours.map((_, place) => place);
    for (const { kind, place } of work.steps.slice(0, work.at - 3))
      if (kind === 'f' || kind === 'b') [order[place], order[place + 1]] = [order[place + 1]!, order[place]!];
    return order.map((string) => begun.palette.find(({ id }) => id === begun.pattern.colours[string])!.name);
  });
  for (const name of hangs) await aid.getByRole('button', { name: `${name} hangs next` }).tap();
  await aid.getByRole('button', { name: /3 knots back/ }).tap();
  await page
    .locator('lb-table-tie .count')
    .getByText(/^7 of 30/)
    .waitFor();
});

it('[N48] a mistake is mended below from then on, also after a reload, and the board stays as it was', async () => {
  const { page } = await tying(9, { viewport: { width: 390, height: 844 } });
  await ask(page, 'A mistake');
  const aid = page.locator('lb-table-aid');
  await aid.getByRole('button', { name: 'two strings exchanged before it' }).tap();
  await aid.getByText('No way leaves fewer.').waitFor();
  expect(await aid.locator('figure').count()).toBe(3);
  await aid.getByRole('button', { name: 'Tie on like this' }).tap();
  await aid.waitFor({ state: 'hidden' });
  const kinds = () =>
    page.locator('lb-table-tie').evaluate((element) => {
      const { keychain } = element as unknown as { keychain: { own: { kinds: Map<string, string> } } };
      return [...keychain.own.kinds];
    });
  const own = await kinds();
  expect(own.length).toBeGreaterThan(0);
  await page.reload();
  await page
    .locator('lb-table-tie .count')
    .getByText(/^10 of 30/)
    .waitFor();
  expect(await kinds()).toEqual(own);
  await page.getByText('The board was changed').waitFor({ state: 'detached' });
});

it('[N61] [N64] minutes left stand beside the step; before the end knot what hangs and the pace are taken over into the board', async () => {
  const { page } = await tying(KNOTS, { viewport: { width: 390, height: 844 } });
  await page.locator('.pads .on').tap();
  const measure = page.locator('lb-table-measure');
  await measure.locator('input').first().fill('150');
  await measure.getByRole('button', { name: 'Take over into the gauge' }).tap();
  await measure.getByText('It stands on the board now.').waitFor();
  const board = await page.locator('lb-table-measure').evaluate((element) => {
    const { design } = element as unknown as {
      design: { snapshot: { board: { gauge: object; piece: object } } };
    };
    return design.snapshot.board;
  });
  expect(board).toMatchObject({
    gauge: { knottingMm: expect.any(Number) },
    piece: { knotsPerMinute: expect.any(Number) },
  });
});

it('[N40] rows that somebody put in above change no tied knot', async () => {
  const { page, context, address } = await tying(9, { viewport: { width: 390, height: 844 } });
  const other = await context.newPage();
  await other.goto(address);
  await other.locator('lb-board canvas.pattern').waitFor();
  await other.locator('lb-board').evaluate((element) => {
    const { session } = element as unknown as { session: { design: { run(command: unknown): unknown } } };
    session.design.run({ kind: 'insert-row-pairs', at: 0, count: 1 });
  });
  await page.getByText('0 of your tied knots are another now.', { exact: false }).waitFor();
});
