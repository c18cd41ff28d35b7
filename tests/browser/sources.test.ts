/** Boards from letters and from a picture: chosen, fitted, solved, made. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('sources');

/** A red square on its corner, on a pale ground. */
const LOZENGE = `<svg xmlns="http://www.w3.org/2000/svg" width="300" height="400" viewBox="0 0 300 400">
  <rect width="300" height="400" fill="#efe3cc"/><path d="M150 60L260 200 150 340 40 200z" fill="#a63a1d"/><image href="/leak.png" width="9" height="9"/></svg>`;

async function openSource(name: string, options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(suite.browser, `${suite.http}/`, options);
  await visitor.page.getByRole('button', { name, exact: true }).click();
  await visitor.page.locator('lb-sources dialog[open]').waitFor();
  return visitor;
}

const choose = (page: Page, name: string, body: string | Buffer): Promise<void> =>
  page
    .locator('lb-sources input[type=file]')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(body) });

describe('boards from letters', () => {
  it('[B360] [B361] letters and a motif, as wished and as the finished keychain, become the board', async () => {
    const { page, complaints } = await openSource('From letters');
    const dialog = page.locator('lb-sources');
    await dialog.locator('#text').fill('ai');
    await dialog.getByRole('button', { name: 'Heart', exact: true }).click();
    await dialog
      .locator('.tally')
      .getByText('every knot shows it · mounts neatly', { exact: false })
      .waitFor();
    await dialog.locator('.wish path').nth(1).waitFor();
    await dialog.locator('lb-start-card canvas').waitFor();
    expect(await dialog.locator('.prices li').allTextContents()).toHaveLength(2);
    await dialog.getByText('ask before you sell', { exact: false }).waitFor();
    await dialog.getByRole('button', { name: 'Make this board' }).click();
    await untilSaved(page);
    const { pattern, palette, piece } = await boardOf(page);
    expect(pattern.colours.length).toBe(12);
    expect(palette.map(({ name }) => name)).toEqual(['Oat', 'Ember']);
    expect(planMount(pattern.colours).neat).toBe(true);
    expect(piece.repeats).toBe(1);
    expect(complaints).toEqual([]);
  });

  it('[B362] what does not fit says how many strings it needs; with them it fits', async () => {
    const { page } = await openSource('From letters');
    const dialog = page.locator('lb-sources');
    await dialog.getByRole('button', { name: 'Paw', exact: true }).click();
    await dialog.getByRole('alert').getByText('🐾 needs 14 strings.').waitFor();
    expect(await dialog.locator('.wish').count()).toBe(0);
    await dialog.locator('#strings').fill('14');
    await dialog.locator('#strings').blur();
    await dialog.locator('.tally').waitFor();
    await dialog.locator('#text').fill('é');
    await dialog.getByRole('alert').getByText('Not drawn yet: É').waitFor();
  });

  it('[B365] on an empty board they take its place, as one step of undo', async () => {
    const visitor = await visit(suite.browser, `${suite.http}/`);
    const { page } = visitor;
    const id = await makeBoardOf(visitor, suite.http, { strings: 10, rows: 12 });
    await page.goto(`${suite.http}/board/${id}`);
    await page.locator('lb-begin button.from').click();
    const dialog = page.locator('lb-sources');
    await dialog.locator('#text').fill('T');
    await dialog.getByRole('button', { name: 'Along the band' }).click();
    await dialog.getByRole('button', { name: 'Make this board' }).click();
    await untilSaved(page);
    const { pattern } = await boardOf(page);
    expect(pattern.colours.length).toBe(10);
    expect(pattern.knots.some((knot) => knot !== 0)).toBe(true);
    await page.getByRole('button', { name: 'Undo', exact: false }).first().click();
    await expect.poll(async () => (await boardOf(page)).pattern.knots.every((knot) => knot === 0)).toBe(true);
  });
});

describe('boards from a picture', () => {
  it('[B363] [B364] [X116] fitted by keys, brought to threads and made; nothing of it leaves the browser', async () => {
    const { page, complaints } = await openSource('From a picture');
    const dialog = page.locator('lb-sources');
    const sent: string[] = [];
    // The page itself may still fetch scripts and demo boards, of which it sends nothing but the address.
    const ofPage = /^(?:blob:.*|http:\/\/127\.0\.0\.1:\d+\/(?:api\/boards\/demo-[\w-]+\/file|[\w/.-]+\.js))$/;
    page.on('request', (request) => {
      const isOwn = request.method() === 'GET' && request.postData() === null && ofPage.test(request.url());
      if (!isOwn) sent.push(`${request.method()} ${request.url()}`);
    });
    await choose(page, 'lozenge.svg', LOZENGE);
    await dialog.locator('.tally').waitFor();
    const wish = dialog.locator('.wish');
    const before = await wish.innerHTML();
    await dialog.locator('.view').focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
    await expect.poll(() => wish.innerHTML()).not.toBe(before);
    const moved = await wish.innerHTML();
    await page.keyboard.press('>');
    await page.keyboard.press('+');
    await expect.poll(() => wish.innerHTML()).not.toBe(moved);
    await dialog.getByRole('button', { name: 'All of it' }).click();
    await expect.poll(() => wish.innerHTML()).toBe(before);
    await dialog.locator('#colours').fill('1');
    await dialog.locator('#colours').blur();
    await expect.poll(() => dialog.locator('.prices li').allTextContents()).toHaveLength(1);
    await dialog.locator('#colours').fill('2');
    await dialog.locator('#colours').blur();
    await expect.poll(() => dialog.locator('.prices li').allTextContents()).toHaveLength(2);
    expect(sent).toEqual([]);
    await dialog.getByRole('button', { name: 'Make this board' }).click();
    await untilSaved(page);
    expect((await boardOf(page)).palette.map(({ name }) => name)).toEqual(['Oat', 'Ember']);
    expect(complaints).toEqual([]);
  });

  it('[B363] dragged by mouse, and made larger by the wheel', async () => {
    const { page } = await openSource('From a picture');
    const dialog = page.locator('lb-sources');
    await choose(page, 'lozenge.svg', LOZENGE);
    const canvas = dialog.locator('.view canvas');
    const at = (): Promise<string> => canvas.evaluate((one) => (one as HTMLElement).style.transform);
    await expect.poll(at).toContain('matrix');
    const before = await at();
    const box = (await dialog.locator('.view').boundingBox())!;
    await page.mouse.move(box.x + 100, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + 130, box.y + 90);
    await page.mouse.up();
    await expect.poll(at).not.toBe(before);
    const [, , , , x, y] = (await at()).match(/-?[\d.]+(?:e-?\d+)?/g)!.map(Number);
    const [, , , , x0, y0] = before.match(/-?[\d.]+(?:e-?\d+)?/g)!.map(Number);
    expect([Math.round(x! - x0!), Math.round(y! - y0!)]).toEqual([30, -10]);
    const dragged = await at();
    await page.mouse.wheel(0, -100);
    await expect.poll(at).not.toBe(dragged);
  });

  it('[B363] a PNG and a JPEG of it show the same; one that is dropped on the page opens the dialog', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    await page.locator('lb-beginnings .from-image').waitFor();
    const wish = page.locator('lb-sources .wish');
    const drop = (type: string): Promise<void> =>
      page.evaluate(
        async ([lines, as]) => {
          const image = new Image();
          image.src = URL.createObjectURL(new Blob([lines!], { type: 'image/svg+xml' }));
          await image.decode();
          const canvas = new OffscreenCanvas(300, 400);
          canvas.getContext('2d')!.drawImage(image, 0, 0);
          const dataTransfer = new DataTransfer();
          dataTransfer.items.add(new File([await canvas.convertToBlob({ type: as! })], 'x', { type: as! }));
          dispatchEvent(new DragEvent('drop', { dataTransfer, cancelable: true }));
        },
        [LOZENGE, type],
      );
    const seen: string[] = [];
    for (const type of ['image/png', 'image/jpeg']) {
      await drop(type);
      await wish.waitFor();
      await page.locator('lb-sources .tally').waitFor();
      seen.push(
        await wish.locator('path').evaluateAll((paths) => paths.map((one) => one.getAttribute('d')).join()),
      );
      await page.keyboard.press('Escape');
    }
    expect(seen[0]!.length).toBeGreaterThan(500);
    expect(seen[1]).toBe(seen[0]);
  });

  it('[X114] [X115] what is no picture, damaged or too large is refused by name and place', async () => {
    const { page } = await openSource('From a picture');
    const alert = page.locator('lb-sources').getByRole('alert');
    await choose(page, 'notes.txt', 'a heart');
    await alert.getByText('notes.txt is not a PNG, JPEG or SVG picture.').waitFor();
    const huge = Buffer.from('89504e470d0a1a0a0000000d4948445200002000000020000806000000', 'hex');
    await choose(page, 'huge.png', huge);
    await alert.getByText('huge.png has 8192 × 8192 pixels; 40 million are the most.').waitFor();
    await choose(page, 'cut.png', Buffer.from('89504e470d0a1a0a0000000d4948', 'hex'));
    await alert.getByText('cut.png: no size of the PNG picture at byte 12', { exact: false }).waitFor();
    await choose(
      page,
      'torn.png',
      Buffer.from('89504e470d0a1a0a0000000d49484452000000200000002008060000', 'hex'),
    );
    await alert.getByText('torn.png: the browser cannot draw this PNG picture', { exact: false }).waitFor();
  });

  it('[B366] on a phone, in German and in the dark, axe finds nothing and nothing is wider', async () => {
    const { page } = await openSource('Aus einem Bild', {
      viewport: { width: 390, height: 844 },
      locale: 'de-DE',
      colorScheme: 'dark',
    });
    await choose(page, 'raute.svg', LOZENGE);
    await page.locator('lb-sources .tally').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(
      await page.locator('lb-sources dialog').evaluate((dialog) => dialog.scrollWidth - dialog.clientWidth),
    ).toBe(0);
    await page.keyboard.press('Escape');
    await page.locator('lb-sources dialog[open]').waitFor({ state: 'detached' });
  });
});
