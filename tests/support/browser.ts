/** A real Chromium and a real server for the browser tests. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import {
  type Browser,
  type BrowserContext,
  type BrowserServer,
  chromium,
  type Download,
  type Page,
} from 'playwright-core';

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

/** How long something may hang. No measure of speed. */
const HUNG_MS = 120_000;

/** The first is the one without windows: a page costs it a third of the processor time. */
const PLACES = [
  '/usr/bin/chromium-headless-shell',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

const PACKAGE = 'chromium-headless-shell';

/**
 * Path of a Chromium: `CHROMIUM_PATH`, a usual place, or Debian's, installed now where this process may.
 * @throws Error naming the one command to run when there is none and it cannot be installed
 */
export function findChromium(): string {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined) {
    if (existsSync(named)) return named;
    throw new Error(`CHROMIUM_PATH names ${named}, which does not exist`);
  }
  const found = PLACES.find((place) => existsSync(place));
  if (found !== undefined) return found;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    execFileSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', PACKAGE], {
      stdio: 'inherit',
    });
    const installed = PLACES.find((place) => existsSync(place));
    if (installed !== undefined) return installed;
  }
  throw new Error(
    `The browser tests need a Chromium. Run: sudo apt-get install -y ${PACKAGE}  (or set CHROMIUM_PATH)`,
  );
}

/** Starts a Chromium of one's own; close it in the end. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: findChromium(), args: FLAGS });
}

/** Starts a Chromium that several processes can use, each by {@link joinBrowser}. */
export function serveBrowser(): Promise<BrowserServer> {
  return chromium.launchServer({ executablePath: findChromium(), args: FLAGS });
}

/** A part of a Chromium at this address: its contexts are its own and are gone once it is closed. */
export function joinBrowser(address: string): Promise<Browser> {
  return chromium.connect(address);
}

export interface Visitor {
  readonly context: BrowserContext;
  readonly page: Page;
  /** What the page complained of: errors thrown and errors on its console. */
  readonly complaints: string[];
}

/** An address that no other visitor of this run has, likely enough: 2^48 of them in a network for documentation (RFC 3849). */
function ownAddress(): string {
  const [a, b, c] = crypto.getRandomValues(new Uint16Array(3));
  return `2001:db8:${a!.toString(16)}:${b!.toString(16)}::${c!.toString(16)}`;
}

/**
 * A person of their own: own cookies, own storage, own client address where the server believes a proxy, one page. Nothing moves unless
 * `reducedMotion` is `'no-preference'`. Their browser has no service worker unless `serviceWorkers` is `'allow'`: it would fetch
 * everything there is of the page once more for each visitor.
 */
export async function visit(
  browser: Browser,
  url: string,
  options: Parameters<Browser['newContext']>[0] = {},
): Promise<Visitor> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 860 },
    reducedMotion: 'reduce',
    extraHTTPHeaders: { 'x-forwarded-for': ownAddress() },
    ...options,
  });
  if (options.serviceWorkers !== 'allow')
    await context.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, 'serviceWorker'));
  context.setDefaultTimeout(HUNG_MS);
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`${message.text()} ${message.location().url}`);
  });
  // A new page is blank.
  if (url !== 'about:blank') await page.goto(url);
  return { context, page, complaints };
}

/** Waits until the page says that everything is saved. */
export async function untilSaved(page: Page): Promise<void> {
  await page.locator('lb-board-page .saved[data-state=saved]').waitFor();
}

/** Waits until the page has laid out and painted what it knew at the call: two frames, since one may be under way. */
export function untilDrawn(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => resolve()));
      }),
  );
}

/** The pattern's rows as text, as the page holds them now. */
export function rowsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const tokens = ['-', 'f', 'b', 'fb', 'bf'];
    const board = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: {
        design: {
          snapshot: {
            board: { pattern: { colours: string[]; rows: number; start: number; knots: Uint8Array } };
          };
        };
      };
    };
    const { colours, rows, start, knots } = board.session.design.snapshot.board.pattern;
    const stride = colours.length >> 1;
    return Array.from({ length: rows }, (_, row) => {
      const count = (colours.length - ((start + row) & 1)) >> 1;
      return Array.from(knots.subarray(row * stride, row * stride + count), (code) => tokens[code]).join(' ');
    });
  });
}

/** Puts the keyboard on the board's knots. */
export async function focusKnots(page: Page): Promise<void> {
  await page.locator('lb-board [role=gridcell]').focus();
}

/** What the page gave out to be kept, as text. */
export async function textOf(download: Download): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString();
}
