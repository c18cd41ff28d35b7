/** What goes out of a board and into it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { parseBoard, weave } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { newBoard, openHeaderMenu } from '../support/board-page.ts';
import { rowsOf, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { runOther } from '../support/other-program.ts';

const suite = browserSuite('files');
/** Where in the dialog it is said what came of bringing something in, and of saving. */
const BROUGHT = 'lb-in-out [aria-labelledby=load]';
const GOES_OUT = 'lb-in-out [aria-labelledby=save]';
/** How a PNG begins (ISO/IEC 15948, 5.2). */
const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

const demoFile = (name: string): string => readFileSync(`demo-data/${name}.json`, 'utf8');

async function openDialog(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'File and print' }).click();
  await page.getByRole('dialog').getByRole('heading', { name: 'File and print' }).waitFor();
}

async function openDemo(id: string, options: Parameters<typeof visit>[2] = {}) {
  const visitor = await visit(suite.browser, `${suite.http}/board/${id}`, options);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}

/** Saves by a button of the dialog. @returns the file's name and where it is */
async function saved(page: Page, id: string): Promise<{ readonly name: string; readonly path: string }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.locator(`lb-in-out #${id}`).click(),
  ]);
  const path = join(suite.folder, `${id}-${download.suggestedFilename()}`);
  await download.saveAs(path);
  return { name: download.suggestedFilename(), path };
}

/** Drops files on the page, as a file manager would. */
async function drop(
  page: Page,
  files: readonly { readonly name: string; readonly text: string }[],
): Promise<void> {
  const transfer = await page.evaluateHandle((all) => {
    const data = new DataTransfer();
    for (const { name, text } of all) data.items.add(new File([text], name, { type: 'application/json' }));
    return data;
  }, files);
  await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer });
  await page.getByText('Drop the board file here').waitFor();
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}

describe('in and out', () => {
  it('[X70] a board file saved and dropped on the start page is the same board', async () => {
    const { page } = await openDemo('demo-crosswind');
    await openDialog(page);
    const { name, path } = await saved(page, 'file');
    expect(name).toMatch(/\.json$/);
    const text = readFileSync(path, 'utf8');
    const [before, after] = [parseBoard(demoFile('crosswind')), parseBoard(text)];
    expect(after).toEqual(before);
    await page.goto(`${suite.http}/`);
    await page.locator('.card').first().waitFor();
    await drop(page, [{ name, text }]);
    await page.waitForURL(/\/board\//);
    await page.locator('lb-board canvas.pattern').waitFor();
    if (!after.ok) throw new Error('the file is no board');
    expect((await rowsOf(page)).length).toBe(after.value.pattern.rows);
  });

  it('[B130] a board file is dragged out of the page, as a file and as text', async () => {
    const { page, complaints } = await openDemo('demo-crosswind');
    await openDialog(page);
    const dragged = await page.locator('lb-in-out li[draggable=true]').evaluate((entry) => {
      const dataTransfer = new DataTransfer();
      entry.dispatchEvent(new DragEvent('dragstart', { bubbles: true, composed: true, dataTransfer }));
      const [type, name, ...address] = dataTransfer.getData('DownloadURL').split(':');
      return { type, name, address: address.join(':'), text: dataTransfer.getData('text/plain') };
    });
    expect([dragged.type, dragged.name]).toEqual(['application/json', 'Crosswind.json']);
    // What the browser would fetch for whoever the file is dropped on.
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.evaluate(({ address, name }) => {
        Object.assign(document.createElement('a'), { href: address, download: name }).click();
      }, dragged),
    ]);
    const path = join(suite.folder, 'dragged.json');
    await download.saveAs(path);
    const before = parseBoard(demoFile('crosswind'));
    expect(parseBoard(readFileSync(path, 'utf8'))).toEqual(before);
    expect(parseBoard(dragged.text)).toEqual(before);
    expect(complaints).toEqual([]);
  });

  it('[X71] what is dropped on a board takes its place as one step of undo; a bad file changes nothing and says why', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 4);
    const empty = await rowsOf(page);
    await drop(page, [{ name: 'lesson.json', text: demoFile('first-lesson') }]);
    await page.getByText('Undo brings the old one back', { exact: false }).waitFor();
    const loaded = await rowsOf(page);
    expect(loaded).not.toEqual(empty);
    await drop(page, [{ name: 'bad.json', text: '{"format":"larkboard","version":1' }]);
    await page.getByRole('alert').getByText('not whole JSON', { exact: false }).waitFor();
    expect(await rowsOf(page)).toEqual(loaded);
    await drop(page, [
      { name: 'a.json', text: '{}' },
      { name: 'b.json', text: '{}' },
    ]);
    await page.getByRole('alert').getByText('one file at a time', { exact: false }).waitFor();
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(() => rowsOf(page)).toEqual(empty);
  });

  it('[X72] a board pasted as text: rows, colours by name, and every mistake by its line', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 6, 4);
    await openDialog(page);
    const paste = async (text: string): Promise<void> => {
      await page.locator('lb-in-out textarea').fill(text);
      await page.locator('lb-in-out #use-text').click();
    };
    for (const [text, sentence] of [
      ['f b\nx', 'line 2: “x” is not a knot'],
      ['f b\nf f', 'line 2 has 2 knots where 1 belong'],
      ['', 'no rows of knots'],
      ['strings: red\nf', 'the first line names 1 string'],
      ['{"format":', 'not whole JSON'],
    ] as const) {
      // Two rows of two knots are five strings; a third row tells that these are four.
      await paste(text === 'f b\nf f' ? 'strings: a b c d\nf b\nf f' : text);
      const line = text === 'f b\nf f' ? sentence.replace('line 2', 'line 3') : sentence;
      await page.locator(`${BROUGHT} [role=alert]`).getByText(line, { exact: false }).waitFor();
    }
    const input = page.locator(`${BROUGHT} input[type=file]`);
    await input.setInputFiles({ name: 'a.json', mimeType: 'application/json', buffer: PNG });
    await page.locator(`${BROUGHT} [role=alert]`).getByText('it is a picture', { exact: false }).waitFor();
    await paste('strings: red blue blue red\nf b\nfb\nbf -\n');
    await page.locator(BROUGHT).getByText('The text replaced the board').waitFor();
    expect(await rowsOf(page)).toEqual(['f b', 'fb', 'bf -']);
    const board = await saved(page, 'file');
    const { palette } = JSON.parse(readFileSync(board.path, 'utf8')) as {
      palette: { name: string; hex: string }[];
    };
    // CSS Color Module Level 4, 6.1: named colours.
    expect(palette.map(({ name, hex }) => [name, hex])).toEqual([
      ['red', '#ff0000'],
      ['blue', '#0000ff'],
    ]);
    await page.locator('lb-in-out').getByRole('button', { name: 'Close' }).click();
    await page.getByText('red: places 1 and 4', { exact: false }).first().waitFor();
  });

  it('[X73] the start page makes a board of pasted text', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`);
    await page.getByText('Paste a board as text').click();
    await page.locator('textarea').fill('f f f\nb b\nf - bf');
    await page.locator('.use-text').click();
    await page.locator('lb-board canvas.pattern').waitFor();
    expect(await rowsOf(page)).toEqual(['f f f', 'b b', 'f - bf']);
  });

  it('[X74] picture as SVG: another program draws it, and each knot has the colour that the engine says shows', async () => {
    const { page } = await openDemo('demo-mirrored-diamonds');
    await openDialog(page);
    await page.locator('lb-in-out #repeats').fill('1');
    const { path } = await saved(page, 'svg');
    const png = join(suite.folder, 'by-another.png');
    // librsvg shares no code with the browser. Four pixels to each of the picture's own units.
    runOther('rsvg-convert', ['--zoom', '4', '--output', png, path], 'librsvg2-bin');
    const parsed = parseBoard(demoFile('mirrored-diamonds'));
    if (!parsed.ok) throw new Error(parsed.error.message);
    const { pattern, palette } = parsed.value;
    const { shown } = weave(pattern);
    const places: { x: number; y: number; hex: string }[] = [];
    shown.forEach((row, r) => {
      row.forEach((string, k) => {
        const place = 2 * k + ((pattern.start + r) & 1);
        const hex = palette.find(({ id }) => id === pattern.colours[string])!.hex.toLowerCase();
        // Near the lower tip of the lozenge there are no strokes. A place is 16 units wide, a row 1.15 times as high.
        places.push({ x: 4 * 16 * (place + 1), y: 4 * 1.15 * 16 * (r + 1.82), hex });
      });
    });
    expect(places).toHaveLength(240);
    const wrong = await page.evaluate(
      async ({ source, places }) => {
        const image = new Image();
        image.src = source;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height);
        const context = canvas.getContext('2d')!;
        context.drawImage(image, 0, 0);
        return places.filter(({ x, y, hex }) => {
          const [r, g, b] = context.getImageData(x, Math.floor(y), 1, 1).data;
          return `#${[r, g, b].map((part) => part!.toString(16).padStart(2, '0')).join('')}` !== hex;
        });
      },
      { source: `data:image/png;base64,${readFileSync(png).toString('base64')}`, places },
    );
    expect(wrong).toEqual([]);
  });

  it('[X75] picture as PNG at the size chosen; a size that cannot be is refused with its number', async () => {
    const { page } = await openDemo('demo-mirrored-diamonds');
    await openDialog(page);
    await page.locator('lb-in-out #repeats').fill('2');
    await page.locator('lb-in-out #width').fill('640');
    const png = readFileSync((await saved(page, 'png')).path);
    // PNG, W3C recommendation 2003, 11.2.2. 64 rows and half a row above and below, of 1.15 x 16 units, to 16 places of 16.
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([
      640,
      Math.round((65 * 1.15 * 16 * 640) / 256),
    ]);
    await page.locator('lb-in-out #repeats').fill('100');
    await page.locator('lb-in-out #width').fill('16000');
    await page.locator('lb-in-out #png').click();
    await page.locator(`${GOES_OUT} [role=alert]`).getByText('more than 16384', { exact: false }).waitFor();
    await page.locator('lb-in-out #width').fill('3.5');
    await page.locator('lb-in-out #png').click();
    await page.locator(`${GOES_OUT} [role=alert]`).getByText('from 16 to 16384', { exact: false }).waitFor();
  });

  it('the steps as text: one line for each knot', async () => {
    const { page } = await openDemo('demo-mirrored-diamonds');
    await openDialog(page);
    const lines = readFileSync((await saved(page, 'steps')).path, 'utf8')
      .trim()
      .split('\n');
    expect(lines).toHaveLength(240);
    expect(lines.every((line, i) => line.startsWith(`${i + 1}. Row `))).toBe(true);
  });

  it('[X77] a board that one may only look at gives everything out and takes nothing in', async () => {
    const { page } = await openDemo('demo-mirrored-diamonds');
    await openDialog(page);
    expect(await page.locator('lb-in-out textarea').count()).toBe(0);
    const before = await rowsOf(page);
    const transfer = await page.evaluateHandle((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], 'lesson.json'));
      return data;
    }, demoFile('first-lesson'));
    await page.dispatchEvent('body', 'dragover', { dataTransfer: transfer });
    await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
    expect(await rowsOf(page)).toEqual(before);
  });

  it.each([
    { width: 1280, colorScheme: 'dark', locale: 'en-GB', name: 'File and print' },
    { width: 390, colorScheme: 'light', locale: 'de-DE', name: 'Datei und Druck' },
  ] as const)(
    '[X78] axe finds nothing in the dialog: $width px, $colorScheme, $locale',
    async ({ width, colorScheme, locale, name }) => {
      const { page, context } = await openDemo('demo-open-windows', {
        colorScheme,
        locale,
        viewport: { width, height: 844 },
      });
      await openHeaderMenu(page);
      await page.getByRole('button', { name }).click();
      await page.getByRole('dialog').getByRole('heading', { name }).waitFor();
      expect(await axeFindings(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await page.keyboard.press('Escape');
      await expect.poll(() => page.getByRole('dialog').count()).toBe(0);
      await context.close();
    },
  );
});
