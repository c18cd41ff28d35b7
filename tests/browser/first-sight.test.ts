/** What is seen before there is a page, and what it takes until the board can be used: counted in requests and bytes, not timed. */
import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { pointOf } from '../support/board-page.ts';
import { untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { demoFile, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('first-sight');
const KITES = { file: demoFile('kites-on-a-line') };

/** Bytes of all that comes before the board can be used, compressed, heads of answers included. */
const MOST_BYTES = 112_000;

type Options = NonNullable<Parameters<typeof visit>[2]>;

/** A link to a board of somebody else's. */
async function linkTo(role: string): Promise<string> {
  const owner = await visit(suite.browser, 'about:blank');
  const id = await makeBoardOf(owner, suite.http, KITES);
  const made = await owner.context.request.post(`${suite.http}/api/boards/${id}/links`, { data: { role } });
  const { secret } = (await made.json()) as { secret: string };
  return `${suite.http}/board/${id}#${secret}`;
}

/** An owner who has not opened their board yet, and its address. */
async function ownerOf(options: Options = {}): Promise<{ maker: Visitor; address: string }> {
  const maker = await visit(suite.browser, 'about:blank', options);
  return { maker, address: `${suite.http}/board/${await makeBoardOf(maker, suite.http, KITES)}` };
}

/** Holds back the page's scripts. @returns lets them come */
async function holdScripts(page: Page): Promise<() => void> {
  let come = (): void => {};
  const held = new Promise<void>((resolve) => {
    come = resolve;
  });
  await page.route('**/assets/*.js', async (route) => {
    await held;
    await route.continue();
  });
  return come;
}

/** Middle of the first knot, in the picture. */
async function pictured(page: Page): Promise<{ x: number; y: number; unit: number }> {
  return page.locator('#sight .stage svg').evaluate((svg) => {
    const { left, top, width, height } = svg.getBoundingClientRect();
    const [, , strings = 1, rows = 1] = svg.getAttribute('viewBox')!.split(' ').map(Number);
    return { x: left + width / strings, y: top + height / rows, unit: width / strings };
  });
}

describe('before there is a page', () => {
  it.each([
    ['en-US', 1440, 900, 1, 'owner'],
    ['de-DE', 1024, 768, 1, 'owner'],
    ['de-DE', 390, 844, 3, 'owner'],
    ['en-US', 1440, 900, 1, 'learner'],
    ['en-US', 390, 844, 3, 'learner'],
    ['de-DE', 1440, 900, 1, 'guest'],
    ['en-US', 390, 844, 3, 'guest'],
  ] as const)(
    '[W1020] [W1021] %s at %i x %i, %i px a px, a picture stands where the board of the %s will',
    async (locale, width, height, deviceScaleFactor, role) => {
      const options = { locale, viewport: { width, height }, deviceScaleFactor };
      const own = role === 'owner' ? await ownerOf(options) : null;
      const { page } = own?.maker ?? (await visit(suite.browser, 'about:blank', options));
      const come = await holdScripts(page);
      const demo = `${suite.http}/board/demo-kites-on-a-line`;
      const address = own?.address ?? (role === 'guest' ? demo : await linkTo(role));
      await page.goto(address, { waitUntil: 'commit' });
      const picture = page.locator('#sight.has-board .stage svg');
      await picture.waitFor();
      expect(await picture.locator('path').count()).toBeGreaterThan(1);
      expect(await page.locator('#sight .words').textContent()).toBe(
        locale === 'de-DE' ? 'Das Brett wird geöffnet …' : 'Opening the board …',
      );
      expect(await page.locator('#sight .title').textContent()).toBe('Kites on one line');
      const before = await pictured(page);
      come();
      await page.locator('lb-board canvas.pattern').waitFor();
      await page.locator('#sight').waitFor({ state: 'detached' });
      const unit = await page.locator('lb-board').evaluate((board) => (board as LbBoard).canvas!.view.unit);
      // All that comes later has come, and nothing has moved.
      await page.locator('lb-panels').waitFor({ state: 'attached' });
      if (role === 'learner') await page.locator('lb-proposal-bar button').first().waitFor();
      const after = await pointOf(page, 0, 0);
      expect(before.unit).toBeCloseTo(unit, 2);
      expect(Math.abs(after.x - before.x)).toBeLessThanOrEqual(1);
      expect(Math.abs(after.y - before.y)).toBeLessThanOrEqual(1);
    },
  );

  it('[W1020] who may not see a board sees a mark and what is coming, then why it does not come', async () => {
    const { page } = await visit(suite.browser, 'about:blank');
    const come = await holdScripts(page);
    const [address = ''] = (await linkTo('learner')).split('#');
    await page.goto(address, { waitUntil: 'commit' });
    expect(await page.locator('#sight .words').textContent()).toBe('Opening the board …');
    expect(await page.locator('#sight .mark svg').isVisible()).toBe(true);
    expect(await page.locator('#sight .stage svg').count()).toBe(0);
    come();
    await page.getByText('There is no such board').waitFor();
    await page.locator('#sight').waitFor({ state: 'detached' });
  });
});

/** What a page asked for, and how many bytes came. */
class Line {
  readonly asked: string[] = [];
  bytes = 0;

  constructor(cdp: CDPSession) {
    cdp.on('Network.requestWillBeSent', ({ request, initiator }) => {
      const path = request.url.replace(suite.http, '').replace(/[\w-]{22}/, 'ID');
      this.asked.push(`${request.method} ${path.replace(/-[\w-]{8}[.]js/, '.js')} ${initiator.type}`);
    });
    cdp.on('Network.webSocketCreated', ({ url }) =>
      this.asked.push(`socket ${new URL(url).pathname.split('/').at(-1)}`),
    );
    cdp.on('Network.loadingFinished', ({ encodedDataLength }) => {
      this.bytes += encodedDataLength;
    });
  }

  static async of({ context, page }: Visitor): Promise<Line> {
    const cdp = await context.newCDPSession(page);
    await cdp.send('Network.enable');
    return new Line(cdp);
  }
}

/** What had been asked for when the board was first there to be tied on. @param address null: the page is on its way */
async function untilUsable(
  page: Page,
  line: Line,
  address: string | null,
): Promise<{ asked: string[]; bytes: number }> {
  if (address !== null) await page.goto(address, { waitUntil: 'commit' });
  await page.locator('#sight').waitFor({ state: 'detached' });
  await page.locator('lb-board canvas.pattern').waitFor();
  const socket = line.asked.findIndex((one) => one.startsWith('socket'));
  const asked = line.asked.slice(0, socket + 1).filter((one) => !one.includes('icon'));
  return { asked: asked.sort(), bytes: line.bytes };
}

describe('what it takes until the board can be used', () => {
  it('[W1022] who was let in before: the page, its two scripts and one socket', async () => {
    const { maker, address } = await ownerOf();
    const line = await Line.of(maker);
    const { asked } = await untilUsable(maker.page, line, address);
    expect(asked).toEqual([
      'GET /assets/base.js parser',
      'GET /assets/index.js parser',
      'GET /board/ID other',
      'socket design',
    ]);
    await untilSaved(maker.page);
  });

  it('[W1022] who comes by a link: beside that the link and what it opens, asked for by the page itself before its scripts are there', async () => {
    const guest = await visit(suite.browser, 'about:blank');
    const line = await Line.of(guest);
    const come = await holdScripts(guest.page);
    await guest.page.goto(await linkTo('co-maker'), { waitUntil: 'commit' });
    // Before any script of the page has come.
    await guest.page.locator('#sight.has-board .stage svg').waitFor();
    expect(line.asked.filter((one) => one.includes('/api/')).sort()).toEqual([
      'GET /api/boards/ID script',
      'GET /api/boards/ID/me script',
      'GET /api/boards/ID/sight script',
      'POST /api/boards/ID/enter script',
    ]);
    come();
    expect((await untilUsable(guest.page, line, null)).asked).toEqual([
      'GET /api/boards/ID script',
      'GET /api/boards/ID/me script',
      'GET /api/boards/ID/sight script',
      'GET /assets/base.js parser',
      'GET /assets/index.js parser',
      'GET /board/ID other',
      'POST /api/boards/ID/enter script',
      'socket design',
    ]);
  });

  it('[W1022] comes packed, and is no more bytes than a slow line carries in three seconds', async () => {
    const { maker, address } = await ownerOf();
    const line = await Line.of(maker);
    // What is asked for once the board is seen does not count.
    let isOver = false;
    await maker.page.route('**/assets/*.js', async (route) => {
      if (!isOver && !/\/(?:index|base)-[\w-]+[.]js$/.test(route.request().url())) isOver = true;
      if (isOver) await route.abort();
      else await route.continue();
    });
    const { bytes } = await untilUsable(maker.page, line, address);
    expect(bytes).toBeGreaterThan(50_000);
    expect(bytes).toBeLessThan(MOST_BYTES);
  });
});
