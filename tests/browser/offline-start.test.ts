/** The page without a server: it starts, shows what it knows, takes edits, and brings them when the server is back. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { focusKnots, rowsOf, untilSaved, visit } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { LOPSIDED } from '../support/own-board.ts';

const suite = ownServerSuite('offline-start');

/** Waits until the service worker has kept the page and answers for it. */
async function untilKept(page: Page): Promise<void> {
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}

describe('without a server', () => {
  it('[X21] the page starts, shows the demo boards, opens the own board and brings its edits later', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`, { serviceWorkers: 'allow' });
    await untilKept(page);
    await page.locator('.card').nth(7).waitFor();
    await page.reload();
    await page.locator('.card').nth(7).waitFor();
    await page.locator('input[name=strings]').fill('6');
    await page.locator('input[name=rows]').fill('4');
    await page.locator('button[type=submit]').click();
    await page.locator('lb-board canvas.pattern').waitFor();
    await focusKnots(page);
    await page.keyboard.press('1');
    await untilSaved(page);
    const address = page.url();

    await suite.stopServer('SIGTERM');
    await page.goto(`${suite.http}/`);
    await page.locator('.card', { hasText: 'Diamonds for the spring meet' }).waitFor();

    await page.goto(address);
    await page.locator('lb-board canvas.pattern').waitFor();
    expect((await rowsOf(page))[0]).toBe('f - -');
    await page.locator('lb-board-page .saved[data-state=offline]').waitFor();
    await focusKnots(page);
    await page.keyboard.press('End');
    await page.keyboard.press('2');
    await page.getByRole('tab', { name: 'Cutting list' }).click();
    await page.locator('lb-cutting-panel li.entry').first().waitFor();

    // Closed and opened once more, still without a server: what was tied is in the browser.
    await page.reload();
    await page.locator('lb-board canvas.pattern').waitFor();
    await expect.poll(async () => (await rowsOf(page))[0]).toBe('f - b');

    await suite.startServer();
    await untilSaved(page);
    const file = await page.evaluate(
      async (path) => (await fetch(path)).json(),
      `/api/boards/${address.split('/').at(-1)}/file`,
    );
    expect((file as { rows: string[] }).rows[0]).toBe('f - b');
  });

  it('[N1] a keychain under way is gone on with at its knot', async () => {
    const { page, context } = await visit(suite.browser, `${suite.http}/`, { serviceWorkers: 'allow' });
    await untilKept(page);
    const made = await context.request.post(`${suite.http}/api/boards`, { data: { file: LOPSIDED } });
    const { id } = (await made.json()) as { id: string };
    await page.goto(`${suite.http}/board/${id}/table`);
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('navigation').getByRole('button', { name: 'Tie', exact: true }).click();
    const count = page.locator('lb-table-tie .count');
    const on = page.locator('.pads .on');
    await count.getByText('1 of 10').waitFor();
    await on.click();
    await count.getByText('2 of 10').waitFor();

    await suite.stopServer('SIGTERM');
    await page.reload();
    await count.getByText('2 of 10').waitFor();
    await on.click();
    await count.getByText('3 of 10').waitFor();
    await page.reload();
    await count.getByText('3 of 10').waitFor();
    await suite.startServer();
  });

  it('[X21] what the page is made of can be installed', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    const manifest = await page.evaluate(async () => {
      const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
      const text = await (await fetch(link?.href ?? '')).json();
      const icons = text as { name: string; start_url: string; icons: { src: string; sizes: string }[] };
      const sizes = await Promise.all(
        icons.icons.map(async ({ src }) => {
          const image = new Image();
          image.src = src;
          await image.decode();
          return `${image.naturalWidth}x${image.naturalHeight}`;
        }),
      );
      return {
        name: icons.name,
        start: icons.start_url,
        stated: icons.icons.map(({ sizes }) => sizes),
        sizes,
      };
    });
    expect(manifest.name).toBe('Larkboard');
    expect(manifest.start).toBe('/');
    for (const [i, stated] of manifest.stated.entries())
      if (stated !== 'any') expect(manifest.sizes[i]).toBe(stated);
    expect(manifest.stated).toContain('192x192');
    expect(manifest.stated).toContain('512x512');
  });

  // https://www.w3.org/TR/appmanifest/#icon-masks: what may be cut off is what lies outside a circle of 40 % of the width.
  it('[X21] the icon for masks is whole inside the safe zone and covers the rest with one colour', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    const { inside, outside } = await page.evaluate(async () => {
      const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
      const { icons } = (await (await fetch(link?.href ?? '')).json()) as {
        icons: { src: string; purpose: string }[];
      };
      const image = new Image();
      image.src = icons.find(({ purpose }) => purpose.split(' ').includes('maskable'))?.src ?? '';
      await image.decode();
      const size = image.naturalWidth;
      const canvas = new OffscreenCanvas(size, size);
      const pen = canvas.getContext('2d');
      if (pen === null) throw new Error('no canvas');
      pen.drawImage(image, 0, 0);
      const { data } = pen.getImageData(0, 0, size, size);
      const seen = { inside: new Set<string>(), outside: new Set<string>() };
      for (let y = 0; y < size; y += 1)
        for (let x = 0; x < size; x += 1) {
          const isSafe = Math.hypot(x + 0.5 - size / 2, y + 0.5 - size / 2) <= 0.4 * size;
          const at = 4 * (y * size + x);
          seen[isSafe ? 'inside' : 'outside'].add(data.slice(at, at + 4).join());
        }
      return { inside: seen.inside.size, outside: [...seen.outside] };
    });
    expect(outside).toHaveLength(1);
    expect(outside[0]).toMatch(/,255$/);
    expect(inside).toBeGreaterThan(2);
  });
});
