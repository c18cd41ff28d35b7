/** The panels about making a piece, in a real browser: what they say against the engine, and what they change. */
import { describe, expect, it } from 'vitest';
import { cutList, formatInch } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { untilDrawn, type visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import {
  boardOf,
  demoFile,
  LOPSIDED,
  litOf,
  openOwnBoard,
  openSheet,
  openTab,
  readBoard,
  undo,
} from '../support/own-board.ts';

const suite = browserSuite('panels');

const open = (file: unknown, options: Parameters<typeof visit>[2] = {}) =>
  openOwnBoard(suite.browser, suite.http, file, options);

describe('tabs', () => {
  it('[B30] arrow keys, Home and End move and open, and a panel is fetched when it is first opened', async () => {
    const { page, complaints } = await open(LOPSIDED);
    const fetched: string[] = [];
    page.on('request', (request) => fetched.push(request.url()));
    const selected = (): Promise<string | null> =>
      page.locator('lb-panels [role=tab][aria-selected=true]').textContent();
    await page.getByRole('tab', { name: 'Mounting' }).focus();
    await page.keyboard.press('ArrowDown');
    expect((await selected())?.trim()).toBe('Colours');
    await page.locator('lb-palette-panel h2').waitFor();
    expect(fetched.some((url) => url.includes('lb-palette-panel'))).toBe(true);
    expect(fetched.some((url) => url.includes('lb-piece-panel'))).toBe(false);
    await page.keyboard.press('End');
    expect((await selected())?.trim()).toBe('Notes');
    await page.keyboard.press('ArrowDown');
    expect((await selected())?.trim()).toBe('Mounting');
    await page.keyboard.press('ArrowUp');
    expect((await selected())?.trim()).toBe('Notes');
    await page.keyboard.press('Home');
    expect((await selected())?.trim()).toBe('Mounting');
    expect(complaints).toEqual([]);
  });

  it('[A54] are all in sight, named and large enough, at every width; above a panel left and right move', async () => {
    const { page } = await open(LOPSIDED, { hasTouch: true });
    const tabs = page.locator('lb-panels [role=tab]');
    for (const [width, height, least] of [
      [2560, 1300, 24],
      [1440, 900, 24],
      [1024, 620, 24],
      [820, 1180, 44],
      [390, 844, 44],
    ] as const) {
      await page.setViewportSize({ width, height });
      await untilDrawn(page);
      await openSheet(page);
      const boxes = await tabs.evaluateAll((all) =>
        all.map((tab) => {
          const { left, top, right, bottom, width, height } = tab.getBoundingClientRect();
          const isCut = tab.scrollWidth > tab.clientWidth + 1;
          return { left, top, right, bottom, width, height, isCut };
        }),
      );
      expect(boxes.length).toBe(12);
      for (const box of boxes) {
        expect(box.isCut, `${width}`).toBe(false);
        expect(Math.min(box.width, box.height), `${width}`).toBeGreaterThanOrEqual(least);
        // In a sheet the row scrolls sideways.
        if (width > 860) expect(box.left, `${width}`).toBeGreaterThanOrEqual(0);
        if (width > 860) expect(box.right, `${width}`).toBeLessThanOrEqual(width);
        if (width > 860) expect(box.bottom, `${width}`).toBeLessThanOrEqual(height);
      }
      // One column beside the panel; in a sheet one row.
      const rows = new Set(boxes.map(({ top }) => Math.round(top)));
      expect(rows.size, `${width}`).toBe(width > 860 ? 12 : 1);
    }
    await page.getByRole('tab', { name: 'Mounting' }).focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.locator('lb-panels [role=tab][aria-selected=true]').textContent()).toContain('Colours');
    await page.evaluate(() => {
      document.documentElement.dir = 'rtl';
    });
    await page.keyboard.press('ArrowRight');
    expect(await page.locator('lb-panels [role=tab][aria-selected=true]').textContent()).toContain(
      'Mounting',
    );
  });

  it('[A55] each panel says in a line what it is for', async () => {
    const { page } = await open(LOPSIDED);
    for (const tab of await page.locator('lb-panels [role=tab]').all()) {
      await tab.click();
      const name = (await tab.textContent())?.trim();
      await page.locator('lb-panels [role=tabpanel] h2').first().waitFor();
      const line = page.locator('lb-panels [role=tabpanel] h2 + p').first();
      expect((await line.textContent())?.trim().length, name).toBeGreaterThan(20);
    }
  });

  it('[A55] cautions stand in the panels where they belong', async () => {
    const { page } = await open(LOPSIDED);
    for (const [tab, ...words] of [
      ['Cutting list', 'Scissors', 'synthetic thread', 'children'],
      ['Keychain', 'small parts', 'not for children under 3', 'nickel', 'come first'],
      ['Work order', 'Rest your hands'],
      ['Mounting', 'children under 3', 'round a neck', 'nickel', 'Rest your hands', 'come first'],
    ] as const) {
      await openTab(page, tab);
      const panel = page.locator('lb-panels [role=tabpanel]:not([hidden])');
      const more = panel.locator('lb-cautions summary');
      if (tab === 'Mounting') await more.click();
      for (const word of words) await panel.getByText(word).first().waitFor({ state: 'visible' });
    }
  });
});

describe('cutting list', () => {
  it('[B31] says the cut and the fold of each string, in inches as well, and lights its two ends', async () => {
    const { page, complaints } = await open(LOPSIDED);
    await openTab(page, 'Cutting list');
    const panel = page.locator('lb-cutting-panel');
    const { folds } = cutList(readBoard(LOPSIDED));
    const [first] = [...folds].sort((a, b) => a.turn - b.turn);
    const entry = panel.locator('ol .entry').first();
    await expect.poll(() => entry.textContent()).toContain(`cut ${first!.cutMm} mm`);
    expect(await entry.textContent()).toContain(`Fold so that ${first!.foldAtMm} mm hangs on the left`);
    expect(await panel.locator('ol .entry').count()).toBe(folds.length);
    await entry.hover();
    await expect.poll(() => litOf(page)).toMatchObject({ strings: [first!.left, first!.right] });
    await panel.getByRole('button', { name: 'inches' }).click();
    expect(await entry.textContent()).toContain(`cut ${formatInch(first!.cutMm, 8, 'up')}`);
    await panel.getByText('Not measured but estimated', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });
});

describe('bar and gauge', () => {
  it('[B33] fits a swatch, says how sure it is, and applies it as one step', async () => {
    const { page, complaints } = await open(LOPSIDED);
    await openTab(page, 'Bar and gauge');
    const panel = page.locator('lb-gauge-panel');
    await panel.getByLabel('Strings', { exact: true }).fill('14');
    await panel.getByLabel('Width of the band (mm)').fill('19');
    // Common practice: 14 ends of six-strand floss on a bar of 19 mm.
    await expect
      .poll(() => panel.locator('section[aria-labelledby=result]').textContent())
      .toContain('1.36 mm');
    expect(await panel.locator('section[aria-labelledby=result]').textContent()).toContain(
      'from reading the ruler',
    );
    await panel.getByRole('button', { name: 'Use these values' }).click();
    await expect
      .poll(async () => (await boardOf(page)).gauge)
      .toEqual({ cordMm: 19 / 14, cordErrorMm: 0.5 / 14, cordFreedom: 0 });
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).gauge).toEqual({});
    expect(complaints).toEqual([]);
  });

  it('[B34] says beside the field what is wrong with a swatch, and stores nothing', async () => {
    const { page } = await open(LOPSIDED);
    await openTab(page, 'Bar and gauge');
    const panel = page.locator('lb-gauge-panel');
    await panel.getByLabel('One string before tying (mm)').fill('300');
    await panel.getByLabel('Left over afterwards (mm)').fill('310');
    await panel.getByLabel('Times it was knotting string').fill('10');
    await panel.getByLabel('Times it was carrier').fill('0');
    const left = panel.getByLabel('Left over afterwards (mm)');
    await expect.poll(() => left.getAttribute('aria-invalid')).toBe('true');
    expect(await panel.locator('#leftMm-0-wrong').textContent()).toBe('More is left than was cut.');
    await panel.getByRole('button', { name: 'Use these values' }).click();
    expect((await boardOf(page)).gauge).toEqual({});
    await left.fill('ten');
    await expect.poll(() => panel.locator('#leftMm-0-wrong').textContent()).toBe('This is not a number.');
  });
});

describe('piece', () => {
  it('[B35] sets fields in the unit shown, each as one step, and refuses with a sentence', async () => {
    const { page, complaints } = await open(LOPSIDED);
    await openTab(page, 'Keychain');
    const panel = page.locator('lb-piece-panel');
    const repeats = panel.getByLabel('Repeats', { exact: true });
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
    await panel.getByLabel('Usable width (in)', { exact: true }).fill('0.75');
    await panel.getByLabel('Usable width (in)', { exact: true }).blur();
    // The international inch is 25.4 mm exactly.
    await expect.poll(async () => (await boardOf(page)).piece).toEqual({ repeats: 3, barMm: 19.05 });
    await panel.getByLabel('Last rows', { exact: true }).selectOption('triangle');
    await expect.poll(async () => (await boardOf(page)).piece.end).toBe('triangle');
    await undo(page);
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).piece).toEqual({ repeats: 3 });
    expect(complaints).toEqual([]);
  });
});

describe('access', () => {
  const screens = [
    { name: 'light and wide', options: {} },
    { name: 'dark and narrow', options: { colorScheme: 'dark', viewport: { width: 390, height: 844 } } },
  ] as const;
  for (const { name, options } of screens)
    it(`[B41] axe finds nothing in any panel, ${name}, and nothing is wider than the screen`, async () => {
      const { page } = await open(demoFile('crosswind'), options);
      for (const tab of [
        'Mounting',
        'Colours',
        'Cutting list',
        'Cost',
        'Bar and gauge',
        'Work order',
        'Symmetry',
        'Keychain',
        'Notes',
      ]) {
        await openTab(page, tab);
        await page.locator('lb-panels [role=tabpanel] h2').first().waitFor();
        if (tab === 'Mounting') await page.locator('lb-ways-out [data-way=accept]').waitFor();
        expect(await axeFindings(page), tab).toEqual([]);
        const width = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(width, tab).toBeLessThanOrEqual(0);
      }
    });
});
