/** The help page. */
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';

const suite = browserSuite('help');

describe('help', () => {
  it('[X65] the start page leads there and back; every drawing has a name', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/`);
    await page.getByRole('link', { name: 'Help' }).click();
    await page.getByRole('heading', { name: 'The four knots' }).waitFor();
    expect(await page.getByRole('img').count()).toBe(8);
    for (const image of await page.getByRole('img').all())
      expect((await image.getAttribute('aria-label'))!.length).toBeGreaterThan(20);
    await page.getByRole('link', { name: 'All boards' }).click();
    await page.locator('.card').first().waitFor();
    expect(complaints).toEqual([]);
  });

  it('[X93] says what an archive is, what it holds, where it is loaded, and that deleting is for good', async () => {
    for (const [locale, wanted] of [
      [
        'en',
        [
          'Archive of a board',
          'all versions and proposals',
          'on this server or on another',
          'nobody can bring it back',
        ],
      ],
      [
        'de',
        [
          'Archiv eines Bretts',
          'alle Stände und Vorschläge',
          'oder auf einem anderen',
          'niemand kann es zurückholen',
        ],
      ],
    ] as const) {
      const { page, context } = await visit(suite.browser, `${suite.http}/help`, { locale });
      await page.locator('lb-help-page #data').waitFor();
      const text = await page.locator('lb-help-page section:has(#data)').textContent();
      for (const words of wanted) expect(text).toContain(words);
      const panels = await page.locator('lb-help-page section:has(#panels) dt').allTextContents();
      expect(panels).toHaveLength(13);
      await context.close();
    }
  });

  it('[X66] the drawings are those of the board: which string lies on top, and to which side the strokes lean', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/help`);
    await page.getByRole('heading', { name: 'The four knots' }).waitFor();
    // Forward: the left string ties over the right one and shows; its half hitches lean like a backslash.
    const seen = await page.locator('section:has(#knots) li').evaluateAll((cards) =>
      cards.map((card) => {
        const lozenge = card.querySelector('.line')!.getAttribute('fill');
        const cords = [...card.querySelectorAll('path[stroke^="#"]')].filter(
          (path) => path.getAttribute('stroke-width') === '9',
        );
        const top = cords.at(-1)!;
        const [x] = /^M([\d.]+)/.exec(top.getAttribute('d')!)!.slice(1).map(Number);
        const strokes = card.querySelector('.line')!.nextElementSibling!.getAttribute('d')!;
        const leans = [...strokes.matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/g)].map(([, ...ends]) => {
          const [x0, y0, x1, y1] = ends.map(Number) as [number, number, number, number];
          return (x1 - x0) * (y1 - y0) > 0 ? '\\' : '/';
        });
        return {
          isTopLeft: x! < 45,
          showsTop: top.getAttribute('stroke') === lozenge,
          leans: leans.join(' '),
        };
      }),
    );
    expect(seen).toEqual([
      { isTopLeft: true, showsTop: true, leans: '\\ \\' },
      { isTopLeft: false, showsTop: true, leans: '/ /' },
      { isTopLeft: true, showsTop: true, leans: '\\ /' },
      { isTopLeft: false, showsTop: true, leans: '/ \\' },
    ]);
  });

  it.each([
    { width: 1280, colorScheme: 'light', locale: 'en-GB', dir: 'ltr' },
    { width: 390, colorScheme: 'dark', locale: 'de-DE', dir: 'ltr' },
    { width: 390, colorScheme: 'light', locale: 'en-GB', dir: 'rtl' },
    { width: 2560, colorScheme: 'dark', locale: 'en-GB', dir: 'ltr' },
  ] as const)(
    '[X67] axe finds nothing and nothing is cut off: $width px, $colorScheme, $locale, $dir',
    async ({ width, colorScheme, locale, dir }) => {
      const { page, context } = await visit(suite.browser, `${suite.http}/help`, {
        colorScheme,
        locale,
        viewport: { width, height: 844 },
      });
      await page.locator('#glossary').waitFor();
      await page.evaluate((value) => {
        document.documentElement.dir = value;
      }, dir);
      expect(await axeFindings(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await context.close();
    },
  );
});
