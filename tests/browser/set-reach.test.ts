/** The matching set for everybody: forty of them, phone, dark, German, axe. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { isLong } from '../support/depth.ts';
import { demoFile } from '../support/own-board.ts';
import { drawnColours, keychains, openOwnSet } from '../support/set-page.ts';

const suite = browserSuite('set-reach');

/** The demo set with so many colourways. */
function setOf(count: number): unknown {
  const file = demoFile('club-set') as { palette: { id: string; name: string; hex: string }[] };
  const colourways = Array.from({ length: count }, (_, i) => ({
    id: `w${i}`,
    name: `For maker ${i + 1}`,
    colours: file.palette.map(({ id, name }, c) => ({
      id,
      name,
      hex: `#${((i * 2_654_435 + c * 5_790_000 + 0x204060) % 0xffffff).toString(16).padStart(6, '0')}`,
    })),
  }));
  return { ...file, colourways };
}

async function widthOf(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth);
}

describe('matching set for everybody', () => {
  it('[Y1] forty colourways hang there, each drawn when it comes into sight', async () => {
    const { page, complaints } = await openOwnSet(suite.browser, suite.http, setOf(40));
    expect(await keychains(page).count()).toBe(41);
    await expect
      .poll(async () => (await drawnColours(page)).slice(0, 5).every((count) => count > 20))
      .toBe(true);
    expect((await drawnColours(page)).at(-1)).toBe(1);
    await keychains(page).first().focus();
    await page.keyboard.press('End');
    await expect.poll(async () => ((await drawnColours(page)).at(-1) ?? 0) > 20).toBe(true);
    expect(await page.locator('lb-set-page [role=tab][aria-selected=true] .name').textContent()).toBe(
      'For maker 40',
    );
    // Up and down go by the rows in which they hang.
    const before = await keychains(page).last().boundingBox();
    await page.keyboard.press('ArrowUp');
    const after = await page.locator('lb-set-page [role=tab][aria-selected=true]').boundingBox();
    expect(Math.abs(after!.x - before!.x)).toBeLessThan(2);
    expect(after!.y).toBeLessThan(before!.y);
    expect(await widthOf(page)).toBeLessThanOrEqual(1280);
    expect(complaints).toEqual([]);
  });

  // A desk and a phone, English and German, light and dark; in the long run more of their pairs.
  const looks = [
    ['en-GB', 1440, 'light'],
    ['de-DE', 390, 'dark'],
    ...(isLong
      ? ([
          ['de-DE', 820, 'dark'],
          ['de-DE', 390, 'light'],
          ['en-GB', 390, 'dark'],
        ] as const)
      : []),
  ] as const;
  it.each(looks)(
    '[Y14] %s, %i px, %s: axe finds nothing in any view, and nothing is wider than the screen',
    async (locale, width, colorScheme) => {
      const { page, context } = await openOwnSet(suite.browser, suite.http, setOf(3), {
        locale,
        colorScheme,
        viewport: { width, height: 844 },
      });
      await page.locator('#add-mine').click();
      await page.locator('lb-set-colours .ask').first().click();
      for (const view of ['colours', 'mounting', 'cutting', 'out']) {
        await page.locator(`lb-set-editor [data-view=${view}]`).click();
        await page.locator('lb-set-editor .panel > *').first().waitFor();
        expect([view, await axeFindings(page)]).toEqual([view, []]);
        expect(await widthOf(page)).toBeLessThanOrEqual(width);
      }
      // Buttons and fields for a finger (WCAG 2.2, 2.5.8: 24 CSS px).
      const small = await page.evaluate(() => {
        const found: string[] = [];
        const look = (root: ParentNode): void => {
          for (const element of root.querySelectorAll('*')) {
            if (element.shadowRoot) look(element.shadowRoot);
            if (!element.matches('button, select, input:not([type=checkbox]), a.button')) continue;
            const { width: w, height: h } = element.getBoundingClientRect();
            if (w > 0 && (w < 24 || h < 24)) found.push(`${element.outerHTML.slice(0, 80)} ${w} x ${h}`);
          }
        };
        look(document);
        return found;
      });
      expect(small).toEqual([]);
      await context.close();
    },
  );
});
