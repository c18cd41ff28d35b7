/** The panels about the design, in a real browser: work order, ways out, colours, symmetry. */
import { describe, expect, it } from 'vitest';
import { planBoard, planMount, simulateSight, symmetry, workOrder } from '../../engine/index.ts';
import type { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import {
  boardOf,
  demoFile,
  LOPSIDED,
  litOf,
  openOwnBoard,
  openTab,
  readBoard,
  undo,
} from '../support/own-board.ts';

const suite = browserSuite('panels');

const open = (file: unknown, options: Parameters<typeof visit>[2] = {}) =>
  openOwnBoard(suite.browser, suite.http, file, options);

describe('work order', () => {
  it('[B36] goes step by step by key, lights the present knot, and tells it for the left hand', async () => {
    const { page, complaints } = await open(LOPSIDED);
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    const { steps } = workOrder(readBoard(LOPSIDED), { method: 'rows' });
    const card = panel.getByRole('group', { name: 'This step' });
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
    await panel.getByLabel('For whom').selectOption('left-handed');
    await expect.poll(() => panel.locator('.said').textContent()).toContain('from the right');
    expect(complaints).toEqual([]);
  });

  it('[B36] [B124] begins on the right for tying, mounting and cutting, and after a reload', async () => {
    const { page, complaints } = await open(demoFile('two-nests'));
    const board = readBoard(demoFile('two-nests'));
    await openTab(page, 'Work order');
    await page.locator('lb-work-panel').getByLabel('Begin').selectOption('on the right');
    const [first] = workOrder(board, { method: 'rows', firstHalf: 'right' }).steps;
    const lit = { knots: [{ row: first!.row, k: first!.k }], isFollowed: true };
    expect(first!.k).not.toBe(workOrder(board, { method: 'rows' }).steps[0]!.k);
    await expect.poll(() => litOf(page)).toEqual(lit);
    const placesOf = (half: 'left' | 'right'): readonly string[] =>
      [...planBoard(board, half).folds]
        .sort((a, b) => a.turn - b.turn)
        .map(({ left, right }) => `${left} ${right}`);
    expect(placesOf('right')).not.toEqual(placesOf('left'));
    const listed = (): Promise<readonly (string | undefined)[]> =>
      page
        .locator('lb-mounting-panel ol li')
        .evaluateAll((items) => items.map((item) => (item as HTMLElement).dataset.strings));
    await openTab(page, 'Mounting');
    await expect.poll(listed).toEqual(placesOf('right'));
    await page.reload();
    await expect.poll(listed).toEqual(placesOf('right'));
    await page.locator('lb-mounting-panel').getByLabel('Begin').selectOption('on the left');
    await expect.poll(listed).toEqual(placesOf('left'));
    expect(complaints).toEqual([]);
  });

  it('[B37] makes the order of a big board in a worker, which can be stopped', async () => {
    const { page, complaints } = await open(demoFile('long-streamer'));
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    await panel.locator('.said').waitFor();
    expect(page.workers().length).toBe(0);
    await panel.getByLabel('Order').selectOption('segments');
    await panel.getByRole('button', { name: 'Stop looking' }).click();
    await panel.getByText('Stopped.', { exact: false }).waitFor();
    expect(page.workers().length).toBe(0);
    await panel.getByRole('button', { name: 'Try again' }).click();
    await panel.locator('.said').waitFor();
    const order = workOrder(readBoard(demoFile('long-streamer')), { method: 'segments' });
    const knots = new Intl.NumberFormat('en').format(order.steps.length);
    const pickUps = new Intl.NumberFormat('en').format(order.pickUps);
    await panel.getByText(`${knots} knots, ${pickUps} pick-ups.`, { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });
});

describe('ways out', () => {
  it('[B38] each way makes the back neat as one step of undo', async () => {
    const { page, complaints } = await open(demoFile('crosswind'));
    const panel = page.locator('lb-ways-out');
    const before = await boardOf(page);
    expect(planMount(before.pattern.colours).neat).toBe(false);
    for (const kind of ['start', 'lead-in', 'recolour']) {
      const way = panel.locator(`[data-way=${kind}]`).first();
      await way.waitFor();
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
  });
});

describe('single strings instead of crossings', () => {
  it('[M17] one click stores it on the board: panel, cutting list and undo follow; another click folds them again', async () => {
    const { page, complaints } = await open(demoFile('crosswind'));
    const before = await boardOf(page);
    const way = page.locator('lb-ways-out [data-way=singles]');
    await way.waitFor();
    await way.getByRole('button').click();
    const panel = page.locator('lb-mounting-panel');
    await panel.getByText('Mounts with a neat back', { exact: false }).waitFor();
    expect((await boardOf(page)).piece).toEqual({ ...before.piece, singles: 'free' });
    const free = planMount(before.pattern.colours, { singles: 'free' });
    expect(await panel.locator('ol li').count()).toBe(free.folds.length);
    await openTab(page, 'Cutting list');
    await expect
      .poll(() => page.locator('lb-cutting-panel li.entry').count())
      .toBe(free.folds.length + free.singles.length);
    await openTab(page, 'Mounting');
    await panel.getByRole('button', { name: 'Fold as many as can be' }).click();
    await panel.getByText('Does not mount neatly', { exact: false }).waitFor();
    expect((await boardOf(page)).piece).toEqual(before.piece);
    await undo(page);
    await panel.getByText('Mounts with a neat back', { exact: false }).waitFor();
    await undo(page);
    await panel.getByText('Does not mount neatly', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });
});

describe('colours', () => {
  it('[B39] names two colours that are hard to tell apart, and shows the palette as others see it', async () => {
    const { page, complaints } = await open(LOPSIDED);
    await openTab(page, 'Colours');
    const check = page.locator('lb-colour-check');
    // What a colour is given to lights on the board, and the other way round.
    await page.locator('lb-palette-panel .row').first().hover();
    await expect.poll(() => litOf(page)).toMatchObject({ strings: [0] });
    await check.getByText('sand and straw look alike', { exact: false }).hover();
    await expect.poll(() => litOf(page)).toMatchObject({ strings: [1, 2, 3, 4, 5] });
    await check.getByText('sand and straw look alike', { exact: false }).waitFor();
    await check.getByLabel('As seen with', { exact: true }).selectOption('deutan');
    const seen = (): Promise<string> =>
      check.locator('[data-id=a]').evaluate((chip) => getComputedStyle(chip).backgroundColor);
    const hex = simulateSight('#1f6266', 'deutan');
    const rgb = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
    await expect.poll(seen).toBe(`rgb(${rgb.join(', ')})`);
    expect(complaints).toEqual([]);
  });
});

describe('symmetry', () => {
  it('[B40] names what breaks the mirror, lights it, and repairs it as one step', async () => {
    const { page, complaints } = await open(LOPSIDED);
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
  });
});
