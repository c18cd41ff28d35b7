/** The panels beside the board, in a real browser: what they say against the engine, and what they change. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Board,
  cutList,
  formatInch,
  parseBoard,
  planMount,
  simulateSight,
  symmetry,
  workOrder,
} from '../../engine/index.ts';
import { type ChildServer, freePort, startChild } from '../server/child-server.ts';
import { axeFindings } from '../support/axe.ts';
import { launchBrowser, visit } from '../support/browser.ts';

let browser: Browser;
let server: ChildServer;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'panels-'));
  server = await startChild({ PORT: String(await freePort()), DATA_DIR: folder });
  browser = await launchBrowser();
}, 180_000);

afterAll(async () => {
  await browser?.close();
  await server?.stop('SIGTERM');
  if (folder) rmSync(folder, { recursive: true });
});

function demo(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../demo-data/${name}.json`, import.meta.url), 'utf8'));
}

/** Six strings that differ from side to side, two of their colours nearly the same. */
const LOPSIDED = {
  format: 'larkboard',
  version: 1,
  title: 'Lopsided',
  palette: [
    { id: 'a', name: 'spruce', hex: '#1f6266' },
    { id: 'b', name: 'sand', hex: '#e8c98a' },
    { id: 'c', name: 'straw', hex: '#e6c27c' },
  ],
  strings: ['a', 'b', 'c', 'c', 'b', 'b'],
  start: 0,
  rows: ['f f b', 'f b', 'f b b', 'fb b'],
};

/** A maker's page on a board of their own with this content. */
async function open(file: unknown, options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(browser, `${server.http}/`, options);
  const id = await visitor.page.evaluate(
    async (body) => {
      const headers = { 'content-type': 'application/json' };
      const answer = await fetch('/api/boards', { method: 'POST', headers, body: JSON.stringify(body) });
      return ((await answer.json()) as { id: string }).id;
    },
    { file },
  );
  await visitor.page.goto(`${server.http}/board/${id}`);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}

async function openTab(page: Page, name: string): Promise<void> {
  await page.getByRole('tab', { name, exact: true }).click();
}

/** The board as the page holds it now. */
async function boardOf(page: Page): Promise<Board> {
  const file = await page.evaluate(() => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: { design: { snapshot: { board: { pattern: { knots: Uint8Array } } } } };
    };
    const { board } = element.session.design.snapshot;
    return { ...board, pattern: { ...board.pattern, knots: [...board.pattern.knots] } };
  });
  const board = file as unknown as Board;
  return { ...board, pattern: { ...board.pattern, knots: Uint8Array.from(board.pattern.knots) } };
}

/** What the board is asked to light up. */
function litOf(page: Page): Promise<unknown> {
  return page.evaluate(() => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as { lit: unknown };
    return element.lit;
  });
}

function read(file: unknown): Board {
  const parsed = parseBoard(file);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return parsed.value;
}

async function undo(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
}

describe('tabs', () => {
  it('[B30] arrow keys, Home and End move and open, and a panel is fetched when it is first opened', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    const fetched: string[] = [];
    page.on('request', (request) => fetched.push(request.url()));
    const selected = (): Promise<string | null> =>
      page.locator('lb-panels [role=tab][aria-selected=true]').textContent();
    await page.getByRole('tab', { name: 'Mounting' }).focus();
    await page.keyboard.press('ArrowRight');
    expect((await selected())?.trim()).toBe('Cutting list');
    await page.locator('lb-cutting-panel h2').waitFor();
    expect(fetched.some((url) => url.includes('lb-cutting-panel'))).toBe(true);
    expect(fetched.some((url) => url.includes('lb-piece-panel'))).toBe(false);
    await page.keyboard.press('End');
    expect((await selected())?.trim()).toBe('Piece');
    await page.keyboard.press('ArrowRight');
    expect((await selected())?.trim()).toBe('Mounting');
    await page.keyboard.press('ArrowLeft');
    expect((await selected())?.trim()).toBe('Piece');
    await page.keyboard.press('Home');
    expect((await selected())?.trim()).toBe('Mounting');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('cutting list', () => {
  it('[B31] says the cut and the fold of each string, in inches as well, and lights its two ends', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    await openTab(page, 'Cutting list');
    const panel = page.locator('lb-cutting-panel');
    const { folds } = cutList(read(LOPSIDED));
    const [first] = [...folds].sort((a, b) => a.turn - b.turn);
    const entry = panel.locator('ol .entry').first();
    await expect.poll(() => entry.textContent()).toContain(`cut ${first!.cutMm} mm`);
    expect(await entry.textContent()).toContain(`Fold ${first!.foldAtMm} mm from the left end`);
    expect(await panel.locator('ol .entry').count()).toBe(folds.length);
    await entry.hover();
    await expect.poll(() => litOf(page)).toMatchObject({ strings: [first!.left, first!.right] });
    await panel.getByRole('button', { name: 'inches' }).click();
    expect(await entry.textContent()).toContain(`cut ${formatInch(first!.cutMm, 8, 'up')}`);
    await panel.getByText('Not measured but estimated', { exact: false }).waitFor();
    await panel.getByText('State a price', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B32] follows what another page changes, with the cost as soon as a price is stated', async () => {
    const { page, context } = await open(LOPSIDED);
    await openTab(page, 'Cutting list');
    const other = await context.newPage();
    await other.goto(page.url());
    await openTab(other, 'Piece');
    await other.getByLabel('Price of a skein').fill('1,20');
    await other.getByLabel('Price of a skein').blur();
    // Three colours, a skein of each.
    await expect.poll(() => page.locator('lb-cutting-panel dd.number').textContent()).toBe('3.6');
    await context.close();
  });
});

describe('bar and gauge', () => {
  it('[B33] fits a swatch, says how sure it is, and applies it as one step', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    await openTab(page, 'Bar and gauge');
    const panel = page.locator('lb-gauge-panel');
    await panel.getByLabel('Strings', { exact: true }).fill('14');
    await panel.getByLabel('Width over them (mm)').fill('19');
    // Common practice: 14 ends of six-strand floss on a bar of 19 mm.
    await expect
      .poll(() => panel.locator('section[aria-labelledby=result]').textContent())
      .toContain('1.36 mm');
    expect(await panel.locator('section[aria-labelledby=result]').textContent()).toContain(
      'from reading the ruler',
    );
    await panel.getByRole('button', { name: 'Use these values' }).click();
    await expect.poll(async () => (await boardOf(page)).gauge).toEqual({ cordMm: 19 / 14 });
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).gauge).toEqual({});
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B34] says beside the field what is wrong with a swatch, and stores nothing', async () => {
    const { page, context } = await open(LOPSIDED);
    await openTab(page, 'Bar and gauge');
    const panel = page.locator('lb-gauge-panel');
    await panel.getByLabel('One end before tying (mm)').fill('300');
    await panel.getByLabel('Left of it afterwards (mm)').fill('310');
    await panel.getByLabel('Times it was knotting string').fill('10');
    await panel.getByLabel('Times it was carrier').fill('0');
    const left = panel.getByLabel('Left of it afterwards (mm)');
    await expect.poll(() => left.getAttribute('aria-invalid')).toBe('true');
    expect(await panel.locator('#leftMm-0-wrong').textContent()).toBe('More is left than was cut.');
    await panel.getByRole('button', { name: 'Use these values' }).click();
    expect((await boardOf(page)).gauge).toEqual({});
    await left.fill('ten');
    await expect.poll(() => panel.locator('#leftMm-0-wrong').textContent()).toBe('This is not a number.');
    await context.close();
  });
});

describe('piece', () => {
  it('[B35] sets fields in the unit shown, each as one step, and refuses with a sentence', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    await openTab(page, 'Piece');
    const panel = page.locator('lb-piece-panel');
    const repeats = panel.getByLabel('Repeats');
    await repeats.fill('0');
    await repeats.blur();
    await expect
      .poll(() => panel.locator('#repeats-wrong').textContent())
      .toBe('Must be a whole number from 1 to 10,000.');
    expect((await boardOf(page)).piece).toEqual({});
    await repeats.fill('3');
    await repeats.blur();
    await expect.poll(async () => (await boardOf(page)).piece).toEqual({ repeats: 3 });
    await panel.getByRole('button', { name: 'inches' }).click();
    await panel.getByLabel('Usable width (in)').fill('0.75');
    await panel.getByLabel('Usable width (in)').blur();
    // The international inch is 25.4 mm exactly.
    await expect.poll(async () => (await boardOf(page)).piece).toEqual({ repeats: 3, barMm: 19.05 });
    await panel.getByLabel('Last rows').selectOption('triangle');
    await expect.poll(async () => (await boardOf(page)).piece.end).toBe('triangle');
    await undo(page);
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).piece).toEqual({ repeats: 3 });
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('work order', () => {
  it('[B36] goes step by step by key, lights the present knot, and tells it for the left hand', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    const { steps } = workOrder(read(LOPSIDED), { method: 'rows' });
    const card = panel.getByRole('group', { name: 'Present step' });
    await card.focus();
    const seen: unknown[] = [];
    for (const step of steps) {
      await expect
        .poll(() => litOf(page))
        .toEqual({ knots: [{ row: step.row, k: step.k }], isFollowed: true });
      seen.push(step);
      await page.keyboard.press('ArrowRight');
    }
    expect(seen.length).toBe(10);
    await panel.getByText('That was the last knot.').waitFor();
    await page.keyboard.press('Home');
    await expect.poll(() => card.textContent()).toContain(`Step 1 of ${steps.length}`);
    const said = await panel.locator('.said').textContent();
    expect(said).toContain('from the left');
    await panel.getByLabel('Told for').selectOption('left-handed');
    await expect.poll(() => panel.locator('.said').textContent()).toContain('from the right');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B37] makes the order of a big board in a worker, which can be stopped', async () => {
    const { page, context, complaints } = await open(demo('long-streamer'));
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    await panel.locator('.said').waitFor({ timeout: 20_000 });
    expect(page.workers().length).toBe(0);
    await panel.getByLabel('Order').selectOption('segments');
    await panel.getByRole('button', { name: 'Stop looking' }).click();
    await panel.getByText('Stopped.', { exact: false }).waitFor();
    expect(page.workers().length).toBe(0);
    await panel.getByRole('button', { name: 'Try again' }).click();
    await panel.locator('.said').waitFor({ timeout: 20_000 });
    const order = workOrder(read(demo('long-streamer')), { method: 'segments' });
    const knots = new Intl.NumberFormat('en').format(order.steps.length);
    const pickUps = new Intl.NumberFormat('en').format(order.pickUps);
    await panel.getByText(`${knots} knots, ${pickUps} pick-ups.`, { exact: false }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('ways out', () => {
  it('[B38] each way makes the back neat as one step of undo', async () => {
    const { page, context, complaints } = await open(demo('crosswind'));
    const panel = page.locator('lb-ways-out');
    const before = await boardOf(page);
    expect(planMount(before.pattern.colours).neat).toBe(false);
    for (const kind of ['start', 'lead-in', 'recolour']) {
      const way = panel.locator(`[data-way=${kind}]`).first();
      await way.waitFor({ timeout: 20_000 });
      await way.getByRole('button').click();
      await expect.poll(async () => planMount((await boardOf(page)).pattern.colours).neat).toBe(true);
      const after = await boardOf(page);
      if (kind === 'lead-in') {
        expect(after.pattern.rows - before.pattern.rows).toBe(after.piece.leadInRows);
        expect(after.pattern.rows).toBeGreaterThan(before.pattern.rows);
      } else expect(after.piece).toEqual(before.piece);
      await page
        .locator('lb-mounting-panel')
        .getByText('Mounts with a neat back', { exact: false })
        .waitFor();
      await undo(page);
      await expect.poll(async () => (await boardOf(page)).pattern).toEqual(before.pattern);
      expect((await boardOf(page)).piece).toEqual(before.piece);
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('colours', () => {
  it('[B39] names two colours that are hard to tell apart, and shows the palette as others see it', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    const check = page.locator('lb-colour-check');
    await check.getByText('sand and straw look alike', { exact: false }).waitFor();
    await check.getByLabel('As seen with', { exact: true }).selectOption('deutan');
    const seen = (): Promise<string> =>
      check.locator('[data-id=a]').evaluate((chip) => getComputedStyle(chip).backgroundColor);
    const hex = simulateSight('#1f6266', 'deutan');
    const rgb = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
    await expect.poll(seen).toBe(`rgb(${rgb.join(', ')})`);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('symmetry', () => {
  it('[B40] names what breaks the mirror, lights it, and repairs it as one step', async () => {
    const { page, context, complaints } = await open(LOPSIDED);
    await openTab(page, 'Symmetry');
    const panel = page.locator('lb-symmetry-panel');
    const before = await boardOf(page);
    const breaks = symmetry(before.pattern).breaks;
    expect(breaks.length).toBeGreaterThan(0);
    await panel.getByRole('heading', { name: `What breaks it (${breaks.length})` }).waitFor();
    await panel.getByText('places 1 and 6: spruce against sand').hover();
    await expect.poll(() => litOf(page)).toMatchObject({ strings: [0, 5] });
    await panel.getByRole('button', { name: 'Mirror the left half onto the right' }).click();
    await expect.poll(async () => symmetry((await boardOf(page)).pattern).breaks).toEqual([]);
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).pattern).toEqual(before.pattern);
    await panel.getByRole('button', { name: 'Repair: Half turn' }).click();
    await expect.poll(async () => symmetry((await boardOf(page)).pattern).band?.halfTurn).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('access', () => {
  const screens = [
    { name: 'light and wide', options: {} },
    { name: 'dark and narrow', options: { colorScheme: 'dark', viewport: { width: 390, height: 844 } } },
  ] as const;
  for (const { name, options } of screens)
    it(`[B41] axe finds nothing in any panel, ${name}, and nothing is wider than the screen`, async () => {
      const { page, context } = await open(demo('crosswind'), options);
      for (const tab of ['Mounting', 'Cutting list', 'Bar and gauge', 'Work order', 'Symmetry', 'Piece']) {
        await openTab(page, tab);
        await page.locator('lb-panels [role=tabpanel] h2').first().waitFor();
        if (tab === 'Mounting')
          await page.locator('lb-ways-out [data-way=accept]').waitFor({ timeout: 20_000 });
        expect(await axeFindings(page), tab).toEqual([]);
        const width = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(width, tab).toBeLessThanOrEqual(0);
      }
      await context.close();
    });
});
