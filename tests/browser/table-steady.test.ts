/** At the table: 200 steps through all stages move no button and change little, and mounting has the sides of the view. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('table-steady');
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };
const KINDS = ['f', 'b', 'fb', 'bf'];
/** 20 strings, 24 rows, 228 knots of all kinds. */
const WIDE = {
  ...LOPSIDED,
  strings: Array.from({ length: 20 }, (_, at) => 'abc'[(at * at) % 3]!),
  rows: Array.from({ length: 24 }, (_, row) =>
    Array.from({ length: 10 - (row % 2) }, (_, k) => KINDS[(row * 7 + k * 5 + row * k) % 4]!).join(' '),
  ),
  piece: { repeats: 1 },
};

async function begin(options: Parameters<typeof visit>[2], file: unknown): Promise<Page> {
  const visitor = await visit(suite.browser, 'about:blank', options);
  const id = await makeBoardOf(visitor, suite.http, { file });
  await visitor.page.goto(`${suite.http}/board/${id}/table`);
  await visitor.page.locator('lb-table-page form button').click();
  await visitor.page.locator('lb-table-cut .huge').waitFor();
  return visitor.page;
}

/** Presses On so often, as fast as the page goes, and tells of each button that was elsewhere than before, and what a step changed. */
function pressOn(page: Page, times: number) {
  return page.locator('lb-table-page').evaluate(async (element, presses) => {
    const root = element.shadowRoot!;
    const now = performance.now.bind(performance);
    let turned = 0;
    performance.now = () => now() + turned;
    const boxes = new Map<string, string>();
    const moved: string[] = [];
    const changes: number[] = [];
    const seen = new Set<string>();
    const observer = new MutationObserver((records) => {
      changed += records.length;
    });
    let changed = 0;
    let watched: Element | null = null;
    for (let press = 0; press < presses; press++) {
      turned += 1000;
      root.querySelector<HTMLElement>('.pads .on')!.click();
      await (element as unknown as { updateComplete: Promise<unknown> }).updateComplete;
      const stage = root.querySelector('main.stage > *') as HTMLElement & {
        updateComplete: Promise<unknown>;
      };
      await stage.updateComplete;
      const stageName = stage.localName;
      seen.add(stageName);
      if (stage === watched) changes.push(changed + observer.takeRecords().length);
      else {
        observer.disconnect();
        observer.observe(stage.shadowRoot!, {
          subtree: true,
          childList: true,
          attributes: true,
          characterData: true,
        });
        watched = stage;
      }
      const own =
        stageName === 'lb-table-tie' ? [...stage.shadowRoot!.querySelectorAll('button, select')] : [];
      changed = 0;
      for (const button of [
        ...root.querySelectorAll('header a, header > button, nav button, .pads button'),
        ...own,
      ]) {
        const { x, y, width, height } = button.getBoundingClientRect();
        if (width === 0) continue;
        const name = `${own.includes(button) ? 'tie ' : ''}${button.getAttribute('aria-label') ?? button.className}${button.parentElement!.matches('nav') ? [...button.parentElement!.children].indexOf(button) : ''}`;
        const box = [x, y, width, height].join(' ');
        if ((boxes.get(name) ?? box) !== box)
          moved.push(`${press}: ${name} from ${boxes.get(name)} to ${box}`);
        else boxes.set(name, box);
      }
    }
    return { moved, changes, stages: [...seen], buttons: [...boxes.keys()] };
  }, times);
}

it.each([
  ['en', 390, 844],
  ['de', 390, 844],
  ['de', 844, 390],
  ['en', 390, 400],
  ['en', 820, 1180],
])(
  '[N101] [N100] in %s at %i x %i no button moves through 200 steps and all stages, and a step changes little',
  async (locale, width, height) => {
    const page = await begin({ locale, hasTouch: true, viewport: { width, height } }, WIDE);
    const stage = (index: number) => page.locator('nav.stages button').nth(index).click();
    const begun = await pressOn(page, 6);
    await stage(1);
    await page.locator('lb-table-mount').waitFor();
    const mounted = await pressOn(page, 4);
    await stage(2);
    await page.locator('lb-table-tie svg.tying').waitFor();
    const tied = await pressOn(page, 200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
    expect(await axeFindings(page)).toEqual([]);
    await page.locator('lb-table-tie .count').getByText('201').waitFor();
    await stage(3);
    await page.locator('lb-table-finish').waitFor();
    const finished = await pressOn(page, 2);
    for (const { moved } of [begun, mounted, tied, finished]) expect(moved).toEqual([]);
    expect([begun, mounted, tied, finished].flatMap(({ stages }) => stages)).toEqual([
      'lb-table-cut',
      'lb-table-mount',
      'lb-table-tie',
      'lb-table-finish',
    ]);
    // Those of the page, and of tying how large a step is, help, and looking back and ahead.
    expect(begun.buttons.length).toBeGreaterThanOrEqual(8);
    expect(tied.buttons.length).toBeGreaterThanOrEqual(begun.buttons.length + 4);
    const sorted = [...tied.changes].sort((a, b) => a - b);
    expect(tied.changes.length).toBe(199);
    // A knot of one kind or another, the strings of two knots, what is said: never all that is drawn.
    expect(sorted[0]).toBeGreaterThan(0);
    expect(sorted[100]).toBeLessThan(120);
  },
);

it('[N104] a table link fetches no panels, and the board that one goes on to does', async () => {
  const visitor = await visit(suite.browser, 'about:blank', PHONE);
  const { page } = visitor;
  const id = await makeBoardOf(visitor, suite.http, { file: LOPSIDED });
  await page.goto(`${suite.http}/board/${id}/table`);
  await page.locator('lb-table-page form button').click();
  await page.getByRole('navigation').getByRole('button', { name: 'Tie', exact: true }).click();
  await page.locator('lb-table-tie svg.tying').waitFor();
  // What the first page fetches once it was seen has come as well.
  await page.waitForFunction(() => customElements.get('lb-left-words') && customElements.get('lb-people'));
  const fetched = () =>
    page.evaluate(() =>
      performance.getEntriesByType('resource').map(({ name }) => name.replace(/^.*\//, '')),
    );
  const editing = /^lb-(?!table|hand|people|text-field|strip|left|lost)[\w-]+-[\w-]{8}[.]js$|^one-tab-stop/;
  expect((await fetched()).filter((name) => editing.test(name))).toEqual([]);
  await page.getByRole('link', { name: 'All keychains' }).click();
  await page.getByRole('link', { name: 'To the board' }).click();
  await page.locator('lb-board canvas.pattern').waitFor();
  await expect.poll(async () => (await fetched()).some((name) => name.startsWith('lb-panels-'))).toBe(true);
});

it('[N102] begun from the right, the ring and what hangs are counted from there; from opposite all is turned', async () => {
  const page = await begin(PHONE, {
    ...LOPSIDED,
    strings: ['a', 'b', 'c', 'c', 'b', 'a'],
    rows: ['f f b', 'f b'],
  });
  const see = async (view: string): Promise<void> => {
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByLabel('What comes out').selectOption(view);
    await page.keyboard.press('Escape');
  };
  await page.getByRole('navigation').getByRole('button', { name: 'Mount', exact: true }).click();
  const ring = page.locator('lb-table-mount svg.ring');
  await ring.waitFor();
  await see('from-right');
  await pressOn(page, 1);
  await page
    .locator('lb-table-mount')
    .getByText(/at 1st and .+ from the right/)
    .waitFor();
  expect(await ring.locator('g[transform^="rotate(180"]').count()).toBe(0);
  const numbers = () => ring.locator('text').allTextContents();
  expect((await numbers()).map(Number).sort()).toEqual([1, 6]);
  await see('opposite');
  await ring.locator('> g[transform^="rotate(180"]').waitFor();
  await page
    .locator('lb-table-mount')
    .getByText(/from the right/)
    .waitFor();
  expect(await axeFindings(page)).toEqual([]);
  await see('from-right');
  await pressOn(page, 4);
  const strip = page.locator('lb-hanging-strip');
  await strip.getByText('Tap in the colours that hang, from the right.').waitFor();
  const [first, last] = await strip
    .locator('.strip')
    .first()
    .locator('span')
    .evaluateAll((spans) => [spans.at(0)!, spans.at(-1)!].map((span) => span.getBoundingClientRect().x));
  expect(first).toBeGreaterThan(last!);
  expect(await axeFindings(page)).toEqual([]);
});
