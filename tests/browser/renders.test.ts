/** How often elements are rendered: the pointer renders no panel, and an edit the open one once. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { focusKnots, rowsOf, untilSaved, visit } from '../support/browser.ts';
import { pointOf } from '../support/board-page.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { beginCount, rendersOf, untilSteady } from '../support/count-renders.ts';
import { demoFile, litOf, makeBoardOf, openTab } from '../support/own-board.ts';

const suite = browserSuite('renders');

/** Each panel by its tab, with its own elements that speak of the knots; those that do not are the last. */
const PANELS: Readonly<Record<string, { readonly is: string; readonly speaks: readonly string[] }>> = {
  Mounting: { is: 'lb-mounting-panel', speaks: ['lb-mounting-panel', 'lb-mount-steps', 'lb-ways-out'] },
  Colours: { is: 'lb-palette-panel', speaks: ['lb-palette-panel', 'lb-colour-check'] },
  Symmetry: { is: 'lb-symmetry-panel', speaks: ['lb-symmetry-panel', 'lb-repeat-panel'] },
  Piece: { is: 'lb-piece-panel', speaks: ['lb-piece-panel'] },
  'Bar and gauge': { is: 'lb-gauge-panel', speaks: ['lb-gauge-panel'] },
  'Cutting list': { is: 'lb-cutting-panel', speaks: ['lb-cutting-panel'] },
  'Work order': { is: 'lb-work-panel', speaks: ['lb-work-panel'] },
  Talk: { is: 'lb-talk-panel', speaks: ['lb-talk-panel'] },
  Versions: { is: 'lb-versions-panel', speaks: ['lb-versions-panel'] },
  Notes: { is: 'lb-notes-panel', speaks: ['lb-notes-panel'] },
  Proposals: { is: 'lb-proposals-panel', speaks: [] },
};

/** A maker's board with this panel open, in a browser whose workers never answer: what a search says later is not counted. */
async function openPanel(tab: string): Promise<Page> {
  const visitor = await visit(suite.browser, 'about:blank', { viewport: { width: 1440, height: 1000 } });
  const { page } = visitor;
  await page.addInitScript(() => {
    class SilentWorker extends EventTarget {
      postMessage(): void {}
      terminate(): void {}
    }
    (window as { Worker: unknown }).Worker = SilentWorker;
  });
  const id = await makeBoardOf(visitor, suite.http, { file: demoFile('crosswind') });
  await page.goto(`${suite.http}/board/${id}`);
  await untilSaved(page);
  await beginCount(page);
  await openTab(page, tab);
  await page.locator(`lb-panels ${PANELS[tab]!.is}`).waitFor();
  await untilSteady(page);
  return page;
}

/** Renders of panels, of what is in them and of what holds them. */
async function panelRenders(page: Page): Promise<Readonly<Record<string, number>>> {
  const isOutside = /^lb-(?:app|board|board-page|first-steps|people|band-picture|remark-box|version-view)$/;
  const all = Object.entries(await rendersOf(page));
  return Object.fromEntries(all.filter(([name]) => !isOutside.test(name)));
}

describe('renders', () => {
  it.each(Object.keys(PANELS))(
    '[A60] %s: a hundred moves over the board render no panel, and an edit the open one once',
    async (tab) => {
      const page = await openPanel(tab);
      const knots = await Promise.all(
        Array.from({ length: 10 }, (_, i) => pointOf(page, 2 * i, i % 2 === 0 ? 1 : 4)),
      );
      await page.mouse.move(knots[0]!.x, knots[0]!.y);
      await page.locator('lb-board').evaluate((board) => {
        board.addEventListener('lb-point', () => {
          board.dataset.points = String(Number(board.dataset.points ?? 0) + 1);
        });
      });
      await untilSteady(page);
      await beginCount(page);
      for (let move = 1; move <= 100; move++) {
        const { x, y } = knots[move % knots.length]!;
        await page.mouse.move(x, y);
      }
      await untilSteady(page);
      const points = await page.locator('lb-board').getAttribute('data-points');
      expect(Number(points)).toBe(100);
      expect(await panelRenders(page)).toEqual({});

      await focusKnots(page);
      await page.keyboard.press('ArrowDown');
      await untilSteady(page);
      const before = await rowsOf(page);
      await beginCount(page);
      await page.keyboard.press('Delete');
      await expect.poll(() => rowsOf(page)).not.toEqual(before);
      await untilSaved(page);
      // Panels are told after the picture, once the browser rests.
      const speaks = PANELS[tab]!.speaks;
      await expect
        .poll(async () => Object.keys(await rendersOf(page)))
        .toEqual(expect.arrayContaining([...speaks]));
      await untilSteady(page);
      expect(await panelRenders(page)).toEqual(Object.fromEntries(speaks.map((element) => [element, 1])));
    },
  );

  it('[A61] a hundred moves over the entries of a panel light the board and render nothing', async () => {
    const page = await openPanel('Mounting');
    const entries = page.locator('lb-mounting-panel ol li');
    const count = await entries.count();
    expect(count).toBeGreaterThan(3);
    await beginCount(page);
    const lit = new Set<string>();
    for (let move = 0; move < 100; move++) {
      await entries.nth(move % count).hover();
      lit.add(JSON.stringify(await litOf(page)));
    }
    await untilSteady(page);
    expect(lit.size).toBe(count);
    expect(await rendersOf(page)).toEqual({});
  });
});
