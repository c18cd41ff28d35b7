/** The board on paper: printed to PDF by a real Chromium and read back by another program (poppler). */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { runOther } from '../support/other-program.ts';
import { LOPSIDED, openOwnBoard } from '../support/own-board.ts';

const suite = browserSuite('paper');

async function openPaper(board: string, kind: 'print' | 'card', options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(suite.browser, `${suite.http}/board/${board}/${kind}`, options);
  await visitor.page.locator('.sheet h1').waitFor();
  return visitor;
}

interface Printed {
  readonly pages: readonly string[];
  /** Width and height in points, of which an inch has 72. */
  readonly size: readonly [number, number];
}

/** Prints a page as the browser's own print command would, and reads the PDF with `pdftotext` and `pdfinfo` of poppler-utils. */
async function printed(page: Page, name: string): Promise<Printed> {
  const file = join(suite.folder, `${name}.pdf`);
  writeFileSync(file, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  const run = (program: string, args: readonly string[]): string => runOther(program, args, 'poppler-utils');
  const size = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(run('pdfinfo', [file]))!;
  // A form feed ends each page.
  const pages = run('pdftotext', ['-layout', file, '-']).split('\f').slice(0, -1);
  return { pages, size: [Number(size[1]), Number(size[2])] };
}

describe('on paper', () => {
  it.each([
    // ISO 216: A4 is 210 mm x 297 mm. US Letter is 8.5 in x 11 in (ANSI/ASME Y14.1, size A).
    ['A4', (210 / 25.4) * 72, (297 / 25.4) * 72],
    ['letter', 8.5 * 72, 11 * 72],
  ] as const)(
    '[X60] [B202] the working sheet on %s: every part, every row, every step, nothing cut off',
    async (paper, width, height) => {
      const { page, context, complaints } = await openPaper('demo-mirrored-diamonds', 'print');
      await page.locator('#paper').selectOption(paper);
      const { pages, size } = await printed(page, `sheet-${paper}`);
      expect(Math.abs(size[0] - width)).toBeLessThan(1);
      expect(Math.abs(size[1] - height)).toBeLessThan(1);
      const text = pages.join('\n');
      for (const heading of [
        ...['Mounting', 'Cutting list', 'True size', 'Chart with row numbers', 'Steps', 'Take care'],
        'This line is 50 mm long',
      ])
        expect(text).toContain(heading);
      // 16 strings and 32 rows hold 16 x 8 and 16 x 7 places; this board has a knot at each.
      expect(text).toContain('16 strings, 32 rows, 240 knots');
      for (const number of [1, 120, 240]) expect(text).toMatch(new RegExp(`(^|\\s)${number}\\. Row `, 'm'));
      expect(pages.length).toBeGreaterThanOrEqual(4);
      expect(pages.length).toBeLessThanOrEqual(8);
      for (const content of pages) expect(content.trim()).not.toBe('');
      expect(text).not.toContain('Back to the board');
      // Nothing reaches beyond the paper's own width.
      const excess = await page.evaluate(() => {
        const sheet = document
          .querySelector('lb-app')!
          .shadowRoot!.querySelector('lb-paper-page')!
          .shadowRoot!.querySelector('.sheet')!;
        return sheet.scrollWidth - sheet.clientWidth;
      });
      expect(excess).toBeLessThanOrEqual(0);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  it('[X61] a chart of many rows is cut at rows: each number once, and no piece across two pages', async () => {
    const { page } = await openPaper('demo-long-streamer', 'print');
    for (const part of ['Picture', 'Mounting', 'Cutting list', 'Steps', 'Cautions'])
      await page.getByRole('checkbox', { name: part }).uncheck();
    const numbers = await page.locator('svg.chart text').allTextContents();
    expect(numbers.map(Number)).toEqual(Array.from({ length: numbers.length }, (_, i) => i + 1));
    const captions = await page.locator('figcaption').allTextContents();
    expect(captions.length).toBeGreaterThan(1);
    const { pages } = await printed(page, 'streamer');
    for (const caption of captions) expect(pages.join('\n')).toContain(caption);
    // Height of what is printed on A4 between margins of 14 mm, at 96 CSS pixels an inch.
    const tallest = Math.max(
      ...(await page
        .locator('figure')
        .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height))),
    );
    expect(tallest).toBeLessThan(((279.4 - 28) / 25.4) * 96);
  });

  it('the notes are printed as they were written, line by line; without notes there is no heading for them', async () => {
    const notes = 'steel ring, 19 mm\n<b>red</b> cord for Ada';
    const maker = await openOwnBoard(suite.browser, suite.http, { ...LOPSIDED, piece: { notes } });
    await maker.page.goto(`${maker.page.url()}/print`);
    await maker.page.locator('.sheet').waitFor();
    const { pages } = await printed(maker.page, 'notes');
    expect(pages[0]).toMatch(/Notes\s+steel ring, 19 mm\s*\n\s*<b>red<\/b> cord for Ada/);
    await maker.page.getByRole('checkbox', { name: 'Notes' }).uncheck();
    expect(await maker.page.locator('.sheet .notes').count()).toBe(0);
    await maker.context.close();
    const { page } = await openPaper('demo-long-streamer', 'print');
    expect(await page.locator('.sheet .notes').count()).toBe(0);
  });

  it('[X62] the card is one page with care and cautions, and a line to write on', async () => {
    for (const locale of ['en-GB', 'de-DE']) {
      const { page, context } = await openPaper('demo-mirrored-diamonds', 'card', { locale });
      const { pages } = await printed(page, `card-${locale}`);
      expect(pages).toHaveLength(1);
      const words =
        locale === 'de-DE' ? ['Kinder', 'Nickel', 'Hals'] : ['children under 3', 'nickel', 'neck'];
      for (const word of words) expect(pages[0]).toContain(word);
      await context.close();
    }
  });

  it('[X63] paper is white in a dark page too, axe finds nothing, and a phone shows all of it', async () => {
    for (const [kind, width, colorScheme] of [
      ['print', 1280, 'dark'],
      ['print', 390, 'light'],
      ['card', 390, 'dark'],
      ['card', 2560, 'light'],
    ] as const) {
      const { page, context } = await openPaper('demo-crosswind', kind, {
        colorScheme,
        viewport: { width, height: 844 },
      });
      expect(await page.locator('.sheet').evaluate((one) => getComputedStyle(one).backgroundColor)).toBe(
        'rgb(255, 255, 255)',
      );
      expect(await axeFindings(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await context.close();
    }
  });

  it('[X63] forced colours leave the pattern its colours', async () => {
    const { page } = await openPaper('demo-crosswind', 'print', { forcedColors: 'active' });
    const hexes = await page
      .locator('.colours .swatch')
      .evaluateAll((all) => all.map((one) => getComputedStyle(one).backgroundColor));
    expect(new Set(hexes).size).toBe(6);
  });

  it('a board that is not there is a sentence, not an empty sheet', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/nowhere/print`);
    await page.getByText('there is no such board', { exact: false }).waitFor();
    expect(await page.getByRole('button', { name: 'Print' }).isDisabled()).toBe(true);
  });
});
