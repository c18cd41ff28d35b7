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
    // [B274] Under each knot what it is in a text.
    expect(await page.locator('.token').allTextContents()).toEqual(
      ['f', 'b', 'fb', 'bf'].map((token) => `In text: ${token}`),
    );
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
      expect(panels).toHaveLength(14);
      await context.close();
    }
  });

  it.each([
    ['en', 'Without a ring a band begins with loose cords'],
    ['de', 'Ohne Ring fängt ein Band mit losen Fäden an'],
  ])('[N103] in %s says how a band begins without a ring', async (locale, words) => {
    const { page } = await visit(suite.browser, `${suite.http}/help`, { locale });
    await page.locator('lb-help-page section:has(#mounting)').getByText(words).waitFor();
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
