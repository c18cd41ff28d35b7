/** What the engine knows and each panel says of it, in a real browser: rings, waste, faint colours, the fewest pick-ups, bad input. */
import { describe, expect, it } from 'vitest';
import { checkPalette, cutList, fitBoard, workOrder } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, readBoard } from '../support/own-board.ts';

const suite = browserSuite('plain');

const open = (file: unknown, options: Parameters<typeof openOwnBoard>[3] = {}) =>
  openOwnBoard(suite.browser, suite.http, file, options);

describe('a small ring', () => {
  it('[X85] eight ends of 2 mm cord on a ring of 25 mm: what it takes, what they need, which rings to buy', async () => {
    // By hand: circles of radius 1 inside one of 12.5, π / asin(1 / 11.5) = 36, half of them 18; 2 (1 + 1 / sin(π / 16)) = 12.25 mm.
    const file = { ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'b', 'a', 'a'], rows: ['f f b b'] };
    const { page } = await open({
      ...file,
      piece: { ring: 'round', ringMm: 25 },
      gauge: { cordMm: 2 },
    });
    await openTab(page, 'Bar and gauge');
    const card = page.locator('lb-gauge-panel section[aria-labelledby=bar]');
    await expect.poll(() => card.textContent()).toContain('Fits.');
    const text = (await card.textContent())?.replace(/\s+/g, ' ') ?? '';
    expect(text).toContain('8 strings need a ring of 12.25 mm inner diameter. Yours takes 18 strings.');
    expect(text).toContain('1/2 in (12.7 mm), 15 mm (0.59 in)');
    expect(text).not.toContain('10 mm');
    expect(fitBoard(await boardOf(page)).ringSizes[0]).toMatchObject({ label: '1/2 in' });
  });

  it('[X85] [W1072] a straight bar: too tight and too loose are said as warnings, in inches too', async () => {
    // 6 strings of 2 mm: 12 mm, from a twentieth less to a quarter more.
    for (const [barMm, sentence] of [
      [8, 'Too tight'],
      [30, 'Too loose'],
    ] as const) {
      const { page, context } = await open({ ...LOPSIDED, piece: { barMm }, gauge: { cordMm: 2 } });
      await openTab(page, 'Bar and gauge');
      const panel = page.locator('lb-gauge-panel');
      await panel.locator('.warn', { hasText: sentence }).waitFor();
      await panel.getByRole('button', { name: 'inches' }).click();
      await panel.getByText('6 strings lie 0.472 in wide: a bar from 0.45 in to 0.591 in fits.').waitFor();
      await context.close();
    }
  });
});

describe('units', () => {
  it('[X84] the finished band is measured in the unit chosen, at once', async () => {
    // 6 ends of 2 mm and 4 rows of 3 mm, which are 5 heights of a row: 12 x 15 mm; 0.472 x 0.591 in, four and five eighths at the nearest.
    const { page } = await open({ ...LOPSIDED, gauge: { cordMm: 2, rowMm: 3 } });
    await page.getByRole('button', { name: 'Finished', exact: true }).click();
    const facts = page.locator('lb-finished .facts');
    await expect.poll(() => facts.textContent()).toContain('12 mm × 15 mm, by your gauge');
    await openTab(page, 'Cutting list');
    await page.locator('lb-cutting-panel').getByRole('button', { name: 'inches' }).click();
    await expect.poll(() => facts.textContent()).toContain('1/2 in × 5/8 in');
    await page.locator('lb-cutting-panel').getByRole('button', { name: 'centimetres' }).click();
    await expect.poll(() => facts.textContent()).toContain('1.2 cm × 1.5 cm');
  });
});

describe('what is left, what is faint, what is fewest', () => {
  it('skeins stand with what is left of them', async () => {
    const { page } = await open({ ...LOPSIDED, piece: { skeinMm: 900 } });
    await openTab(page, 'Cost');
    const [first] = cutList(await boardOf(page)).colours;
    const thread = page.locator('lb-thread-lines .line').first();
    await expect
      .poll(async () => (await thread.textContent())?.replaceAll(',', ''))
      .toContain(`${first!.wasteMm} mm left over`);
  });

  it.each(['light', 'dark'] as const)(
    '[X87] colours faint on the %s page are named with their contrast',
    async (colorScheme) => {
      const { page, context } = await open(LOPSIDED, { colorScheme });
      await openTab(page, 'Colours');
      const background = await page
        .locator('lb-colour-check')
        .evaluate((element) => getComputedStyle(element).getPropertyValue('--lb-surface').trim());
      const faint = checkPalette(readBoard(LOPSIDED).palette, { background }).page.filter(
        (one) => one.isFaint,
      );
      const entries = page.locator('lb-colour-check .faint li');
      await expect.poll(() => entries.count()).toBe(faint.length);
      // Spruce on dark, sand and straw on light.
      expect(faint.map(({ colour }) => colour)).toEqual(colorScheme === 'dark' ? ['a'] : ['b', 'c']);
      const ratio = String(Math.floor(faint[0]!.contrast * 100) / 100);
      expect(await entries.first().textContent()).toContain('is hard to see on this page');
      // [W1071] The figure stands under More.
      const more = page.locator('lb-colour-check details');
      expect(await more.getByText(`${ratio} : 1`, { exact: false }).isVisible()).toBe(false);
      await more.getByText('More', { exact: true }).click();
      await more.getByText(`${ratio} : 1`, { exact: false }).waitFor();
      expect(await axeFindings(page)).toEqual([]);
      await context.close();
    },
  );

  it('[X88] the fewest pick-ups are found and called proven', async () => {
    const { page } = await open(LOPSIDED);
    await openTab(page, 'Work order');
    const panel = page.locator('lb-work-panel');
    await panel.getByLabel('Order').selectOption('exact');
    const order = workOrder(await boardOf(page), { method: 'exact' });
    if (!order.ok) throw new Error(order.error.message);
    await panel.getByText(`${order.pickUps} pick-ups. No order needs fewer.`, { exact: false }).waitFor();
  });
});

/** A small board file, and what is wrong with a copy of it. */
const FILE = {
  format: 'larkboard',
  version: 1,
  palette: [{ id: 'a', hex: '#000000' }],
  strings: ['a', 'a', 'a', 'a'],
  rows: ['f f'],
};
const NO_STRINGS = { ...FILE, strings: [], rows: [] };
const KNOT_OUTSIDE = { ...FILE, rows: ['f f f'] };
const NEGATIVE_GAUGE = { ...FILE, gauge: { cordMm: -1 } };

describe('bad input', () => {
  it.each([
    {
      locale: 'en-GB',
      tab: 'Bar and gauge',
      typed: 'Strings must be a whole number from 2 to 200.',
      noStrings: 'Number of strings must have 2 to 200 entries, not 0',
      outside: 'rows[0] must have 2 knots for 4 strings, not 3',
      gauge: 'Width of a string (mm) must be above 0.01 and at most 100, not -1',
      moreLeft: 'More is left than was cut.',
      aboveZero: 'Must be above 0.',
    },
    {
      locale: 'de-DE',
      tab: 'Steg und Maße',
      typed: 'Stränge muss eine ganze Zahl von 2 bis 200 sein.',
      noStrings: 'Zahl der Stränge muss 2 bis 200 Einträge haben, nicht 0',
      outside: 'rows[0] muss bei 4 Strängen 2 Knoten haben, nicht 3',
      gauge: 'Breite eines Strangs (mm) muss größer als 0,01 und höchstens 100 sein, nicht -1',
      moreLeft: 'Es ist mehr übrig, als abgeschnitten wurde.',
      aboveZero: 'Muss größer als 0 sein.',
    },
  ])(
    '[B7] [B34] [X89] no strings, a knot outside the row, more left than was cut, a negative gauge ($locale)',
    async (words) => {
      const { page, context } = await visit(suite.browser, `${suite.http}/`, { locale: words.locale });
      await page.locator('input[name=strings]').fill('0');
      await page.locator('button[type=submit]').click();
      await page.getByRole('alert').getByText(words.typed, { exact: false }).waitFor();
      for (const [file, sentence] of [
        [NO_STRINGS, words.noStrings],
        [KNOT_OUTSIDE, words.outside],
        [NEGATIVE_GAUGE, words.gauge],
      ] as const) {
        const buffer = Buffer.from(JSON.stringify(file));
        await page
          .locator('input[type=file]')
          .setInputFiles({ name: 'bad.json', mimeType: 'application/json', buffer });
        await page.getByRole('alert').getByText(sentence, { exact: false }).waitFor();
        expect(page.url()).toBe(`${suite.http}/`);
      }
      await context.close();

      const own = await open(FILE, { locale: words.locale });
      await openTab(own.page, words.tab);
      const panel = own.page.locator('lb-gauge-panel');
      for (const [id, value] of [
        ['cutMm', '100'],
        ['leftMm', '150'],
        ['knotting', '3'],
        ['carrier', '2'],
      ] as const)
        await panel.locator(`#${id}-0`).fill(value);
      await expect.poll(() => panel.locator('#leftMm-0-wrong').textContent()).toBe(words.moreLeft);
      await panel.locator('#leftMm-0').fill('50');
      await panel.locator('#strings-0').fill('4');
      await panel.locator('#widthMm-0').fill('-4');
      await expect.poll(() => panel.locator('#widthMm-0-wrong').textContent()).toBe(words.aboveZero);
      await panel.locator('button[type=submit]').click();
      expect((await boardOf(own.page)).gauge).toEqual({});
      await own.context.close();
    },
  );
});
