/** At the table: views of the work, the hand's move, several at once, going on on a phone, a board that is gone. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('table-hands');
const FILE = { ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'] };
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true };
const ACROSS = { viewport: { width: 844, height: 390 }, hasTouch: true };
const HALF = { viewport: { width: 390, height: 400 }, hasTouch: true };

async function atTable(
  options: BrowserContextOptions,
  file: unknown = FILE,
): Promise<Visitor & { readonly address: string }> {
  const visitor = await visit(suite.browser, 'about:blank', options);
  const address = `${suite.http}/board/${await makeBoardOf(visitor, suite.http, { file })}/table`;
  await visitor.page.goto(address);
  return { ...visitor, address };
}

async function begin(page: Page, many = 1): Promise<void> {
  await page.getByLabel('How many').fill(String(many));
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.locator('lb-table-cut .huge').waitFor();
  // No press is to be taken for the bounce of the one before.
  await page.evaluate(() => {
    let turned = 0;
    const real = performance.now.bind(performance);
    performance.now = () => {
      turned += 1000;
      return real() + turned;
    };
  });
}

const stage = (page: Page, name: string) =>
  page.getByRole('navigation').getByRole('button', { name, exact: true }).click();
const said = (page: Page) => page.locator('lb-table-tie .said').first();
const settings = (page: Page) => page.getByRole('button', { name: 'Settings' }).click();

describe('how it is seen', () => {
  it.each([PHONE, ACROSS, HALF])(
    '[N70] [N71] at %o the hand’s move has a name, all of it is in sight, and what is seen from opposite says so',
    async (options) => {
      const { page, complaints } = await atTable(options);
      await begin(page);
      await stage(page, 'Tie');
      const hitches = page.getByRole('img', {
        name: 'forward knot by hand: a half hitch to the right, then one to the right',
      });
      await hitches.waitFor();
      const { width, height } = options.viewport;
      for (const svg of [hitches, page.locator('lb-table-tie svg.tying')]) {
        const box = (await svg.boundingBox())!;
        expect([box.width > 30, box.height > 30]).toEqual([true, true]);
        expect([box.x >= 0, box.y >= 0, box.x + box.width <= width, box.y + box.height <= height]).toEqual([
          true,
          true,
          true,
          true,
        ]);
      }
      expect(await said(page).textContent()).toContain('from the left');
      const pads = await page.locator('.pads').boundingBox();
      await settings(page);
      await page.getByLabel('What comes out').selectOption('opposite');
      expect(await axeFindings(page)).toEqual([]);
      await page.keyboard.press('Escape');
      await expect.poll(() => said(page).textContent()).toContain('from the right');
      await page
        .getByRole('img', { name: 'forward knot by hand: a half hitch to the left, then one to the left' })
        .waitFor();
      expect(await page.locator('.pads').boundingBox()).toEqual(pads);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      expect(complaints).toEqual([]);
    },
  );

  it('[N73] a mirror image is begun before the first cord hangs, says what differs, and goes on after a reload', async () => {
    const { page } = await atTable(PHONE, LOPSIDED);
    await begin(page);
    await settings(page);
    await page.getByLabel('What comes out').selectOption('mirror');
    await page.getByText('knots show another colour').waitFor();
    await page.keyboard.press('Escape');
    await stage(page, 'Tie');
    await expect.poll(() => said(page).textContent()).toContain('backward knot');
    await page.reload();
    await expect.poll(() => said(page).textContent()).toContain('backward knot');
    await page.locator('.pads .on').tap();
    await settings(page);
    await page.getByText('A mirror image is chosen before the first cord hangs.').waitFor();
    expect(await page.getByLabel('What comes out').locator('option').allTextContents()).toEqual([
      'its mirror image',
    ]);
  });
});

describe('cutting and mounting', () => {
  it('[N83] [N87] five are cut in one go, each length in a measure of her own', async () => {
    const { page, address } = await atTable(PHONE);
    await begin(page, 5);
    await page.getByText('one for each of the 5 keychains').waitFor();
    await page.getByText('A measure of my own').tap();
    await page.getByLabel('What it is', { exact: true }).fill('table edge');
    await page.getByLabel('How long, in mm').fill('100');
    await page.getByLabel('How long, in mm').press('Tab');
    await page.getByText(/= \d+ × table edge/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.locator('.pads .on').tap();
    await page.getByText('Cord 2 of 3').waitFor();
    await page.goto(address);
    await page.getByRole('button', { name: 'Go on with Keychain 4' }).tap();
    await page.getByText('Cord 2 of 3').waitFor();
    await page.getByText(/= \d+ × table edge/).waitFor();
  });

  it('[N88] [N89] [N90] folded in the middle, the back drawn, and compared once more after the first row', async () => {
    const { page, complaints } = await atTable(PHONE);
    await begin(page);
    await page.getByLabel(/^Fold all in the middle: takes .+ more thread$/).check();
    await page.getByText('Fold it in the middle.').waitFor();
    await stage(page, 'Mount');
    const on = page.locator('.pads .on');
    await page.getByText('Fix the ring').waitFor();
    for (let move = 0; move < 4; move++) await on.tap();
    await page.getByRole('img', { name: 'Your back must look so: neat.' }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await stage(page, 'Tie');
    await said(page).waitFor();
    for (let knot = 0; knot < 3; knot++) await on.tap();
    await page.getByRole('button', { name: 'Compare once more' }).tap();
    const strip = page.locator('lb-hanging-strip');
    const must = (await strip.locator('.strip').first().getAttribute('aria-label'))!
      .replace('Must hang: ', '')
      .split(', ');
    for (const colour of must) await strip.getByRole('button', { name: `${colour} hangs next` }).tap();
    await page.getByText('It hangs as it must after the first row.').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('button', { name: 'Go on tying' }).tap();
    await page.getByRole('button', { name: 'Compare once more' }).waitFor({ state: 'detached' });
    expect(complaints).toEqual([]);
  });
});

describe('going on on a phone', () => {
  it('[N82] on a server that answers its machine alone it says how to start one that phones reach', async () => {
    const { page } = await atTable(PHONE);
    await begin(page);
    await settings(page);
    await page.getByRole('button', { name: 'Go on on my phone' }).tap();
    await page.getByText('HOST=0.0.0.0 npm start').waitFor();
    expect(await page.locator('lb-hand-over svg.code').count()).toBe(0);
    expect(await axeFindings(page)).toEqual([]);
  });

  it('[N80] by its code a phone goes on at the same knot, may only look at the board, and the code works once', async () => {
    const { page } = await atTable({});
    // As if the machine had an address in the house.
    await page.route('**/hand-over', (route) =>
      route.request().method() === 'GET'
        ? route.fulfill({ json: { addresses: [suite.http] } })
        : route.fallback(),
    );
    await begin(page);
    await stage(page, 'Tie');
    for (let knot = 0; knot < 3; knot++) await page.locator('.pads .on').click();
    await page.locator('lb-table-tie .count').getByText('4 of 10').waitFor();
    const where = await said(page).textContent();
    await settings(page);
    const [answer] = await Promise.all([
      page.waitForResponse((one) => one.url().endsWith('/hand-over') && one.request().method() === 'POST'),
      page.getByRole('button', { name: 'Go on on my phone' }).click(),
    ]);
    await page.getByRole('img', { name: `Code for a phone, opens ${suite.http}` }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    const { code } = (await answer.json()) as { code: string };
    const link = `${page.url().split('?')[0]}#on=${code}`;
    const phone = await visit(suite.browser, link, PHONE);
    await expect.poll(() => said(phone.page).textContent()).toBe(where);
    expect(phone.page.url()).not.toContain(code);
    const board = `${suite.http}/api/boards/${page.url().split('/')[4]}`;
    const me = await phone.context.request.get(`${board}/me`);
    expect(((await me.json()) as { role: string }).role).toBe('onlooker');
    await phone.page.reload();
    await phone.page.locator('lb-table-tie .count').getByText('4 of 10').waitFor();
    const late = await visit(suite.browser, link, PHONE);
    await late.page.getByText('This code works no more').waitFor();
    expect(phone.complaints).toEqual([]);
  });
});

it('[N85] [N86] who deletes a board is asked about what is under way; kept, it goes on without the board', async () => {
  const { page, address } = await atTable({});
  await begin(page);
  await page.goto(address.replace('/table', ''));
  await page.locator('lb-board canvas.pattern').waitFor();
  await page.getByRole('button', { name: 'File and print' }).click();
  await page.getByRole('button', { name: 'Delete this board' }).click();
  await page.getByLabel(/Forget the 1 keychain of it that is under way/).waitFor();
  await page.getByLabel('Type the title to confirm').fill('Lopsided');
  await page.getByRole('button', { name: 'Delete for good' }).click();
  await page.waitForURL(`${suite.http}/`);
  await page.goto(address);
  await page.getByRole('button', { name: 'Go on with Keychain 1' }).click();
  await page.getByText('Cord 1 of 3').waitFor();
});

it('[N84] where the address has no https it is said once what is missing for it', async () => {
  const { page } = await atTable(PHONE);
  // Browsers take the machine’s own address for a safe one.
  await page.addInitScript(() => Object.defineProperty(window, 'isSecureContext', { value: false }));
  await page.reload();
  const notice = page.getByText('This address has no https.');
  await notice.waitFor();
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'All right' }).tap();
  await notice.waitFor({ state: 'detached' });
  await page.reload();
  await page.getByLabel('How many').waitFor();
  expect(await notice.count()).toBe(0);
});
