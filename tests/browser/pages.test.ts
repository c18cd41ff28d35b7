/** The pages by themselves: the demo boards, bad input, small screens, and access for everyone. */
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { isLong } from '../support/depth.ts';

const suite = browserSuite('pages');

async function openDemo(id: string, options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(suite.browser, `${suite.http}/board/${id}`, options);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}

describe('start page', () => {
  it('[B6] shows every demo board and opens one', async () => {
    const { page, complaints } = await visit(suite.browser, `${suite.http}/`);
    await page.locator('.card').nth(7).waitFor();
    expect(await page.locator('.card').count()).toBeGreaterThanOrEqual(8);
    await page.locator('.card', { hasText: 'Diamonds for the spring meet' }).click();
    await page.locator('lb-mounting-panel').getByText('Mounts with a neat back', { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('[B7] a truncated file is refused with a sentence, and nothing is made', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    const file = {
      name: 'half.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"format":"larkboard","ver'),
    };
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByRole('alert').getByText('not whole JSON', { exact: false }).waitFor();
    expect(page.url()).toBe(`${suite.http}/`);
  });

  it('[B7] a number of strings out of range is named', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    await page.locator('input[name=strings]').fill('1');
    await page.locator('button[type=submit]').click();
    await page.getByRole('alert').getByText('from 2 to 200', { exact: false }).waitFor();
  });
});

describe('board page', () => {
  it('[B8] a crossing order says so, and which colour shows', async () => {
    const { page } = await openDemo('demo-crosswind');
    await page.locator('lb-mounting-panel').getByText('Does not mount neatly', { exact: false }).waitFor();
    await page.locator('lb-mounting-panel').getByText('a float of', { exact: false }).first().waitFor();
  });

  it('[B9] a demo board is looked at; its copy can be changed', async () => {
    const { page } = await openDemo('demo-open-windows');
    await page.getByRole('button', { name: 'Make my copy' }).click();
    await page.waitForURL((url) => !url.pathname.includes('demo-'));
    await page.locator('lb-board-page .saved[data-state=saved]').waitFor();
  });

  it('[B10] an unknown board is a sentence and a way home', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/nowhere`);
    await page.getByText('There is no such board', { exact: false }).waitFor();
    await page.getByRole('link', { name: 'All boards' }).click();
    await page.locator('.card').first().waitFor();
  });

  it('[V7] an address that is not there is a page for a person, a problem for a program', async () => {
    const ask = (path: string, accept: string): Promise<Response> =>
      fetch(suite.http + path, { headers: { accept } });
    const forPerson = await ask('/nowhere', 'text/html,*/*;q=0.8');
    expect(forPerson.status).toBe(404);
    expect(forPerson.headers.get('content-type')).toMatch(/^text\/html/);
    for (const [path, accept] of [
      ['/nowhere', '*/*'],
      ['/api/nowhere', 'text/html'],
      ['/assets/nowhere.js', 'text/html'],
    ] as const) {
      const forProgram = await ask(path, accept);
      expect(forProgram.status, path).toBe(404);
      expect(forProgram.headers.get('content-type'), path).toMatch(/^application\/json/);
    }
  });

  // A desk and a phone; in the long run each of them in light and in dark.
  const looks = [
    ['light', 1440],
    ['dark', 390],
    ...(isLong
      ? ([
          ['dark', 1440],
          ['light', 390],
        ] as const)
      : []),
  ] as const;
  it.each(looks)('[B11] axe finds nothing on either page, %s, %i px wide', async (colorScheme, width) => {
    const options = { colorScheme, viewport: { width, height: 844 } };
    const start = await visit(suite.browser, `${suite.http}/`, options);
    await start.page.locator('.card').nth(7).waitFor();
    expect(await axeFindings(start.page)).toEqual([]);
    const board = await openDemo('demo-mirrored-diamonds', options);
    expect(await axeFindings(board.page)).toEqual([]);
  });

  it('[B12] nothing is wider than a phone of 390 px', async () => {
    for (const path of ['/', '/board/demo-long-streamer']) {
      const { page, context } = await visit(suite.browser, suite.http + path, {
        viewport: { width: 390, height: 844 },
      });
      await page.locator('lb-board canvas.pattern, .card').first().waitFor();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
      await context.close();
    }
  });

  it('[B13] the knots are a grid that says what each is', async () => {
    const { page } = await openDemo('demo-mirrored-diamonds');
    const cell = page.locator('lb-board [role=gridcell]');
    await cell.focus();
    expect(await cell.getAttribute('aria-label')).toMatch(/^row 1, knot 1, backward, .+ over .+$/);
    await page.keyboard.press('ArrowDown');
    expect(await cell.getAttribute('aria-label')).toMatch(/^row 2, knot 1/);
    await page.keyboard.press('ArrowUp');
    expect(await cell.getAttribute('aria-label')).toMatch(/^row 1, knot 1/);
    // Above the first row are the pegs, and above them nothing.
    for (let i = 0; i < 3; i++) {
      await page.keyboard.press('ArrowUp');
      expect(await cell.getAttribute('aria-label')).toBe('peg 1, spruce');
    }
  });
});
