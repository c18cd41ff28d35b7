/** From the swatch to the cutting list and to paper: how sure lengths are, in a real browser. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { cutList, fitGauge, type Gauge, needOf } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { friendOf } from '../support/board-page.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, readBoard, undo } from '../support/own-board.ts';

const suite = browserSuite('doubt');

/** All that a panel shows. */
function textOf(panel: Locator): Promise<string> {
  return panel.evaluate((element) => element.shadowRoot?.textContent ?? '');
}

/** Three swatches of one cord; each string once. */
const SWATCHES = [
  { strings: 8, widthMm: 16, rows: 30, heightMm: 90, cutMm: 900, leftMm: 250, knotting: 20, carrier: 10 },
  { strings: 8, widthMm: 16.5, rows: 30, heightMm: 92, cutMm: 900, leftMm: 502, knotting: 10, carrier: 20 },
  { strings: 8, widthMm: 15.8, rows: 30, heightMm: 89, cutMm: 900, leftMm: 370, knotting: 15, carrier: 15 },
] as const;

const LABELS = {
  strings: 'Strings',
  widthMm: 'Width of the band (mm)',
  rows: 'Rows',
  heightMm: 'Height of these rows (mm)',
  cutMm: 'One string before tying (mm)',
  leftMm: 'Left over afterwards (mm)',
  knotting: 'Times it was knotting string',
  carrier: 'Times it was carrier',
} as const;

async function measure(page: Page): Promise<void> {
  await openTab(page, 'Bar and gauge');
  const panel = page.locator('lb-gauge-panel');
  for (const [index, swatch] of SWATCHES.entries()) {
    if (index > 0) await panel.getByRole('button', { name: 'Add a swatch' }).click();
    const form = panel.locator('fieldset').nth(index);
    for (const [field, label] of Object.entries(LABELS))
      await form.getByLabel(label, { exact: true }).fill(String(swatch[field as keyof typeof swatch]));
  }
  await panel.getByRole('button', { name: 'Use these values' }).click();
}

/** ± as it is to be shown: rounded up, to whole millimetres, from 10 cm to whole centimetres. */
function offOf(mm: number): number {
  const step = mm >= 100 ? 10 : 1;
  return Math.ceil(mm / step - 1e-6) * step;
}

/** What the engine says the board should then hold. */
function fitted(): Gauge {
  const fit = fitGauge(SWATCHES);
  if (!fit.ok) throw new Error(fit.error.message);
  return Object.fromEntries(Object.entries(fit.value.patch).filter(([, value]) => value !== null)) as Gauge;
}

describe('how sure lengths are', () => {
  it('[X80] [X81] goes from the swatch through the board to a friend’s cutting list, and undo takes it back', async () => {
    const maker = await openOwnBoard(suite.browser, suite.http, { ...LOPSIDED, piece: { repeats: 30 } });
    const friend = await friendOf(suite.browser, maker);
    await openTab(friend.page, 'Cutting list');
    const list = friend.page.locator('lb-cutting-panel');
    await expect.poll(() => textOf(list)).toContain('±');
    const before = await list.locator('ol .entry').first().textContent();
    await measure(maker.page);
    await expect.poll(async () => (await boardOf(maker.page)).gauge).toEqual(fitted());
    await expect.poll(async () => (await boardOf(friend.page)).gauge).toEqual(fitted());

    const board = { ...readBoard(LOPSIDED), piece: { repeats: 30 }, gauge: fitted() };
    const cut = cutList(board);
    const [first] = [...cut.folds].sort((a, b) => a.turn - b.turn);
    const entry = list.locator('ol .entry').first();
    const off = (mm: number) => `± ${offOf(mm)} mm`;
    const said = async () => ((await entry.textContent()) ?? '').replaceAll(',', '');
    await expect.poll(said).toContain(off(first!.doubt!.plusMinusMm));
    expect(await said()).toContain(`Together ${Math.ceil(needOf(first!) - 1e-6)} mm`);
    expect((await textOf(list)).replaceAll(',', '')).toContain(off(cut.doubt.band!.plusMinusMm));
    expect(await textOf(list)).toContain('19 of 20 keychains');
    await undo(maker.page);
    await expect.poll(async () => (await boardOf(maker.page)).gauge).toEqual({});
    await expect.poll(() => entry.textContent()).toBe(before);
    expect([...maker.complaints, ...friend.complaints]).toEqual([]);
  });

  it('[X82] cuts longer as chosen, for everybody at the board, and says how likely a cord is short', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, {
      ...LOPSIDED,
      piece: { repeats: 30 },
    });
    await openTab(page, 'Cutting list');
    const panel = page.locator('lb-cutting-panel');
    await panel.getByText(/in 10 that a cord in .+ runs short/).waitFor();
    await panel.getByText('Where this comes from').click();
    await panel.getByText('Nothing is measured', { exact: false }).waitFor();
    await panel.getByLabel('How many cords may run short').selectOption('20');
    await expect.poll(async () => (await boardOf(page)).piece.shortOneIn).toBe(20);
    const list = cutList(await boardOf(page));
    const [first] = [...list.folds].sort((a, b) => a.turn - b.turn);
    await expect
      .poll(async () => (await panel.locator('ol .entry').first().textContent())?.replaceAll(',', ''))
      .toContain(`cut ${first!.cutMm} mm`);
    await panel.getByText(/About 1 in 20 that a cord in .+ runs short/).waitFor();
    expect(first!.marginMm[0]).toBeGreaterThan(0);
    expect(await axeFindings(page)).toEqual([]);
    await panel.getByLabel('How many cords may run short').selectOption('0');
    await expect.poll(async () => (await boardOf(page)).piece.shortOneIn).toBeUndefined();
  });

  it('[X83] a board from before keeps its lengths and says that nothing tells how sure they are', async () => {
    const gauge = { cordMm: 2, rowMm: 3, knottingMm: 30, carrierMm: 4 };
    const { page } = await openOwnBoard(suite.browser, suite.http, { ...LOPSIDED, gauge });
    await openTab(page, 'Cutting list');
    const panel = page.locator('lb-cutting-panel');
    await panel.getByText('is not known', { exact: false }).waitFor();
    expect(await textOf(panel)).not.toContain('±');
    expect(await panel.getByLabel('How many cords may run short').count()).toBe(0);
  });

  it('[X84] stands on paper, in German too, and fits a phone', async () => {
    const gauge = fitted();
    const file = { ...LOPSIDED, version: 2, gauge, piece: { repeats: 30 } };
    const { page } = await openOwnBoard(suite.browser, suite.http, file, {
      locale: 'de-DE',
      viewport: { width: 390, height: 844 },
    });
    await page.evaluate(() => localStorage.setItem('larkboard-unit', 'cm'));
    await page.goto(`${page.url()}/print`);
    const sheet = page.locator('lb-paper-page .sheet');
    await sheet.getByText('Garn insgesamt').waitFor();
    const cut = cutList({ ...readBoard(LOPSIDED), gauge, piece: { repeats: 30 } });
    const text = (await sheet.textContent()) ?? '';
    for (const { doubt } of [...cut.folds, ...cut.colours]) {
      const centimetres = String(offOf(doubt!.plusMinusMm) / 10).replace('.', ',');
      expect(text).toContain(`± ${centimetres} cm`);
    }
    expect(text).toContain('19 von 20 Anhängern');
  });
});

describe('the piece in hand', () => {
  it('[Y60] [Y61] [Y62] thread, measured length and where it stops change what is said, each one step of undo', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, { ...LOPSIDED, piece: {}, gauge: {} });
    await openTab(page, 'Bar and gauge');
    const gauge = page.locator('lb-gauge-panel');
    await gauge.getByLabel('Kind', { exact: true }).selectOption('cord');
    await gauge.getByLabel('How thick (mm)', { exact: true }).fill('2');
    await gauge.getByLabel('How thick (mm)', { exact: true }).blur();
    await expect.poll(async () => (await boardOf(page)).gauge).toEqual({ thread: 'cord', threadMm: 2 });
    await gauge.getByLabel('After so many rows', { exact: true }).fill('20');
    await gauge.getByLabel('it is so long (mm)', { exact: true }).fill('27.3');
    await gauge.getByText('Then this keychain has', { exact: false }).waitFor();
    await gauge.getByRole('button', { name: 'Correct the board' }).click();
    await expect.poll(async () => (await boardOf(page)).gauge.rowMm).toBeCloseTo(1.3, 9);
    await gauge.getByRole('button', { name: 'Go back to estimates' }).click();
    await expect.poll(async () => (await boardOf(page)).gauge).toEqual({ thread: 'cord', threadMm: 2 });
    await openTab(page, 'Keychain');
    const piece = page.locator('lb-piece-panel');
    await piece.getByLabel('Given as', { exact: true }).selectOption('length');
    await piece.getByLabel('Length (mm)', { exact: true }).fill('90');
    await piece.getByLabel('Length (mm)', { exact: true }).blur();
    await piece.getByText('Tie until it measures 90 mm', { exact: false }).waitFor();
    await piece.getByLabel('It stops', { exact: true }).selectOption('finished');
    await expect.poll(async () => (await boardOf(page)).piece.stopAt).toBe('finished');
    await undo(page);
    await expect.poll(async () => (await boardOf(page)).piece.stopAt).toBeUndefined();
    expect(await axeFindings(page)).toEqual([]);
  });
});
