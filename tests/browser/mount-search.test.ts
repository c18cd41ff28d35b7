/** A board whose mounting takes a search: what the page shows meanwhile, and that it does not search itself. */
import type { Page, Route } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { type Pattern, planMount, waysOut } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { drag } from '../support/board-page.ts';
import { untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, readBoard } from '../support/own-board.ts';
import { seededRandom } from '../support/seeded-random.ts';

const suite = browserSuite('mount-search');
const STRINGS = 100;
const COLOURS = [
  { id: 'a', name: 'spruce', hex: '#1f6266' },
  { id: 'b', name: 'sand', hex: '#e8c98a' },
  { id: 'c', name: 'brick', hex: '#a8443a' },
  { id: 'd', name: 'plum', hex: '#5b3a6e' },
  { id: 'e', name: 'moss', hex: '#6d7a2f' },
];

function file(isNeat: boolean): unknown {
  const random = seededRandom(3);
  const half = Array.from({ length: STRINGS / 2 }, () => random.pick(COLOURS).id);
  return {
    format: 'larkboard',
    version: 1,
    title: 'Wide',
    palette: COLOURS,
    strings: isNeat ? [...half, ...half.toReversed()] : random.shuffle([...half, ...half]),
    start: 0,
    rows: [Array(50).fill('f').join(' '), Array(49).fill('b').join(' ')],
  };
}

interface Model {
  readonly isPlanning: boolean;
  readonly plan: unknown;
}

/** What the board knows of its plan. */
const modelOf = (page: Page): Promise<Model> =>
  page.locator('lb-board').evaluate((element) => {
    const { isPlanning, plan } = (element as unknown as { editor: { model: Model } }).editor.model;
    return { isPlanning, plan };
  });

const planned = async (page: Page) => {
  await expect.poll(async () => (await modelOf(page)).plan).not.toBeNull();
  const { pattern, piece } = await boardOf(page);
  return planMount(pattern.colours, piece);
};

interface Recolouring {
  readonly strings: readonly number[];
  readonly colour: string;
}

/** Gives strings another colour, as an edit of the maker. */
const recolour = (page: Page, ...edits: readonly Recolouring[]): Promise<void> =>
  page.locator('lb-board').evaluate((element, commands) => {
    type Board = { session: { design: { run(command: unknown): unknown } } };
    const { design } = (element as unknown as Board).session;
    for (const command of commands) design.run({ kind: 'recolour-strings', ...command });
  }, edits);

/** Holds the worker's file back until it is let through. */
async function held(page: Page): Promise<{ readonly asked: () => number; readonly release: () => void }> {
  const waiting: Route[] = [];
  let isOpen = false;
  let asked = 0;
  await page.context().route(/engine-worker/, (route) => {
    asked++;
    if (isOpen) return route.continue();
    waiting.push(route);
    return undefined;
  });
  return {
    asked: () => asked,
    release: () => {
      isOpen = true;
      // The ones of workers that were ended have nobody left to answer.
      for (const route of waiting) route.continue().catch(() => {});
    },
  };
}

async function openHeld(isNeat = false) {
  // A service worker would fetch the file itself.
  const options = { serviceWorkers: 'block' } as const;
  const visitor = await openOwnBoard(suite.browser, suite.http, file(true), options);
  const gate = await held(visitor.page);
  if (!isNeat) {
    const { strings } = file(false) as { readonly strings: readonly string[] };
    const places = (id: string): number[] => strings.flatMap((one, place) => (one === id ? [place] : []));
    await recolour(visitor.page, ...COLOURS.map(({ id }) => ({ strings: places(id), colour: id })));
  }
  return { ...visitor, gate };
}

describe('a mounting that takes a search', () => {
  it('[B120] [B121] [B122] says that it is worked out, lets the maker go on, and shows the plan of the last edit', async () => {
    const { page, complaints, gate } = await openHeld();
    const panel = page.locator('lb-mounting-panel');
    await panel.locator('.planning progress').waitFor();
    expect(await modelOf(page)).toEqual({ isPlanning: true, plan: null });
    await panel.getByText('Working out how it mounts').waitFor();
    expect(await axeFindings(page)).toEqual([]);

    // Editing goes on: a knot, then a colour, which asks for another plan.
    await drag(page, [1, 3]);
    await expect.poll(async () => (await boardOf(page)).pattern.knots[STRINGS / 2 + 3]).toBe(1);
    expect((await modelOf(page)).plan).toBeNull();
    const first = (await boardOf(page)).pattern.colours;
    await expect.poll(() => gate.asked()).toBeGreaterThan(0);
    const before = gate.asked();
    await recolour(page, { strings: [0, 99], colour: 'c' });
    await expect.poll(() => gate.asked()).toBeGreaterThan(before);
    gate.release();
    const plan = await planned(page);
    expect((await boardOf(page)).pattern.colours).not.toEqual(first);
    expect((await modelOf(page)).plan).toEqual(plan);
    await panel.locator('p.warn').first().waitFor();
    expect(await panel.locator('p.warn').first().textContent()).toContain(String(plan.crossings.length));
    expect(await panel.locator('ol > li').count()).toBe(plan.folds.length);

    // What was found once is there at once when it is asked for again. A knot between, so that both colourings are steps of their own.
    await drag(page, [1, 4]);
    await expect.poll(async () => (await boardOf(page)).pattern.knots[STRINGS / 2 + 4]).toBe(1);
    await recolour(page, { strings: [0, 99], colour: 'd' });
    await planned(page);
    const again = await page.locator('lb-board').evaluate((element) => {
      const board = element as unknown as {
        session: { design: { undo(): void } };
        editor: { model: Model };
      };
      board.session.design.undo();
      return board.editor.model.plan;
    });
    expect(again).toEqual(plan);
    // Without a service worker the browser has none to ask after.
    expect(complaints.filter((text) => !text.includes("reading 'waiting'"))).toEqual([]);
  });

  it('[B121] the page calls hardly more functions than for an order that mounts neatly', async () => {
    const calls = async (isNeat: boolean): Promise<number> => {
      const { page, context, gate } = await openHeld(isNeat);
      gate.release();
      await planned(page);
      const session = await context.newCDPSession(page);
      await session.send('Profiler.enable');
      await session.send('Profiler.startPreciseCoverage', { callCount: true, detailed: false });
      // A pair of strings that are folded together, so that the order stays as neat as it was.
      await recolour(page, { strings: [10, 89], colour: 'c' });
      await recolour(page, { strings: [11, 88], colour: 'c' });
      await planned(page);
      const { result } = await session.send('Profiler.takePreciseCoverage');
      await context.close();
      return result
        .flatMap(({ functions }) => functions)
        .reduce((sum, { ranges }) => sum + (ranges[0]?.count ?? 0), 0);
    };
    const neat = await calls(true);
    const searched = await calls(false);
    expect(neat).toBeGreaterThan(1000);
    // Planning such an order takes millions of calls.
    expect(searched).toBeLessThan(20 * neat);
    expect(searched).toBeLessThan(400_000);
  });

  it('[B123] is stopped and begun again, and says when the worker cannot be had', async () => {
    const { page, context, gate } = await openHeld();
    const panel = page.locator('lb-mounting-panel');
    await panel.getByRole('button', { name: 'Stop' }).click();
    await panel.getByText('How it mounts is not worked out').waitFor();
    expect(await modelOf(page)).toEqual({ isPlanning: false, plan: null });
    await context.unroute(/engine-worker/);
    await context.route(/engine-worker/, (route) => route.abort());
    await panel.getByRole('button', { name: 'Try again' }).click();
    await panel.getByRole('alert').getByText('could not be fetched').waitFor();
    await context.unroute(/engine-worker/);
    await panel.getByRole('button', { name: 'Try again' }).click();
    const plan = await planned(page);
    expect((await modelOf(page)).plan).toEqual(plan);
    gate.release();
  });

  it('[B124] cutting list, paper and set show the same plan', async () => {
    const { page, gate } = await openHeld();
    gate.release();
    const plan = await planned(page);
    const turns = [...plan.folds].sort((a, b) => a.turn - b.turn);
    await openTab(page, 'Cutting list');
    const entries = page.locator('lb-cutting-panel ol > li');
    await entries.first().waitFor();
    expect(
      await entries.evaluateAll((list) => list.map((entry) => (entry as HTMLElement).dataset.strings)),
    ).toEqual(turns.map(({ left, right }) => `${left} ${right}`));
    await untilSaved(page);
    const address = page.url().split('#')[0]!;
    await page.goto(`${address}/print`);
    const rows = page
      .locator('lb-paper-page section')
      .filter({ hasText: 'Cutting list' })
      .locator('tbody tr');
    await expect.poll(() => rows.count()).toBe(plan.folds.length + plan.singles.length);
    expect(
      await rows.evaluateAll((list) => list.map((row) => row.querySelectorAll('td')[2]!.textContent)),
    ).toEqual(turns.map(({ left, right }) => `${left + 1}, ${right + 1}`));
    await page.goto(`${address}/set`);
    const mark = page.locator('lb-set-page .mark.warn').first();
    await expect.poll(() => mark.textContent()).toContain(String(plan.crossings.length));
    await page.locator('lb-set-shopping table').waitFor();
  });

  it('[B125] a recolouring says that it is proven, or how far it can be off while a proof is looked for', async () => {
    const crossing = { ...LOPSIDED, strings: ['a', 'b', 'c', 'a', 'b', 'c'] };
    const { pattern, palette } = readBoard(crossing);
    const { plan, ways } = waysOut(pattern, { palette: palette.map(({ id }) => id) });
    const way = ways.find(({ kind }) => kind === 'recolour');
    if (way?.kind !== 'recolour') throw new Error('there is no recolouring');
    const options = { serviceWorkers: 'block' } as const;
    const { page, context } = await openOwnBoard(suite.browser, suite.http, LOPSIDED, options);
    // In place of the engine: an answer without proof, then a better bound, and no end.
    const open = { ...way.recolouring, exact: false, lowerBound: way.recolouring.changes.length - 2 };
    const better = { ...open, lowerBound: open.lowerBound + 1 };
    const answers = {
      plan,
      ways: [{ ...way, recolouring: open }, ...ways.filter(({ kind }) => kind === 'accept')],
    };
    await context.route(/engine-worker/, (route) =>
      route.fulfill({
        contentType: 'text/javascript',
        body: `onmessage = ({ data }) => data.kind === 'ways-out'
          ? postMessage({ kind: 'answer', answer: ${JSON.stringify(answers)} })
          : data.kind === 'recolour' && postMessage({ kind: 'best', answer: ${JSON.stringify(better)} });`,
      }),
    );
    const set = (strings: readonly string[]): Promise<void> =>
      recolour(page, ...strings.map((colour, place) => ({ strings: [place], colour })));
    await set(crossing.strings);
    const entry = page.locator('lb-ways-out [data-way=recolour]');
    await entry.getByText('at most 1 above the fewest').waitFor();
    await entry.locator('progress').waitFor();
    await entry.getByRole('button', { name: 'Stop, keep this' }).click();
    await expect.poll(() => entry.locator('progress').count()).toBe(0);
    await entry.getByText('at most 1 above the fewest').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    // The engine itself proves so small an order at once.
    await context.unroute(/engine-worker/);
    await set(['b', 'a', 'c', 'b', 'a', 'c']);
    await entry.getByText('proven fewest').first().waitFor();
  });

  it('[Y80] [Y81] ways known so far stand there while others are looked for, and stay when that is stopped', async () => {
    const crossing = { ...LOPSIDED, strings: ['a', 'b', 'c', 'a', 'b', 'c'] };
    const { plan, ways } = waysOut(readBoard(crossing).pattern);
    const plainOf = (pattern: Pattern): object => ({ ...pattern, knots: [...pattern.knots] });
    const soFar = {
      plan,
      ways: ways.flatMap((way): object[] =>
        way.kind === 'lead-in'
          ? [
              {
                ...way,
                leadIn: { ...way.leadIn, pattern: plainOf(way.leadIn.pattern), exact: false, lowerBound: 0 },
              },
            ]
          : way.kind === 'accept'
            ? [way]
            : [],
      ),
    };
    const options = { serviceWorkers: 'block' } as const;
    const { page, context } = await openOwnBoard(suite.browser, suite.http, LOPSIDED, options);
    // In place of the engine: what is known so far, and no end.
    await context.route(/engine-worker/, (route) =>
      route.fulfill({
        contentType: 'text/javascript',
        body: `onmessage = ({ data }) => data.kind === 'ways-out' &&
          postMessage({ kind: 'best', answer: ${JSON.stringify(soFar)} });`,
      }),
    );
    await recolour(page, ...crossing.strings.map((colour, place) => ({ strings: [place], colour })));
    const panel = page.locator('lb-ways-out');
    const entry = panel.locator('[data-way=lead-in]');
    await entry.getByText('no shorter one known').waitFor();
    await panel.locator('progress').waitFor();
    expect(await panel.locator('[data-way]').count()).toBe(2);
    expect(await axeFindings(page)).toEqual([]);
    await panel.getByRole('button', { name: 'Stop, keep this' }).click();
    await expect.poll(() => panel.locator('progress').count()).toBe(0);
    await entry.getByText('no shorter one known').waitFor();
    // The engine itself looks at all orders of so few strings.
    await context.unroute(/engine-worker/);
    await recolour(
      page,
      ...['b', 'a', 'c', 'b', 'a', 'c'].map((colour, place) => ({ strings: [place], colour })),
    );
    await entry.getByText('proven fewest').waitFor();
  });
});
