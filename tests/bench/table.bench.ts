/**
 * At the table in a real Chromium without GPU, at the processor's own speed and at a sixth of it by the browser's throttling: a step from
 * the press until its frame is painted, and entering until the knot is drawn. Needs what `npm run build` makes.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core';
import { KNOT_TOKENS } from '../../engine/index.ts';
import type { LbTableTie } from '../../web/table/lb-table-tie.ts';
import type { Tying } from '../../web/table/tying.ts';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { launchBrowser } from '../support/browser.ts';
import { seededRandom } from '../support/seeded-random.ts';
import type { BenchRow } from './bench-row.ts';
import { minAndMedian } from './measure.ts';

const STEPS = 200;
const STEP_MS = 50;
const ENTER_MS = 1000;
/** The processor at its own speed, and throttled to a sixth of it. */
const RATES = [1, 6] as const;
const SIZES = [
  [20, 60],
  [16, 200],
  [60, 400],
] as const;
const HEXES = ['#1f6266', '#e2b95a', '#c8452f', '#efe7da', '#3b3a6e', '#7fb2d9'];

/** A board file with knots of every kind from a seed, six colours. */
function boardFile(strings: number, rows: number): unknown {
  const random = seededRandom(11);
  return {
    format: 'larkboard',
    version: 1,
    title: 'bench',
    palette: HEXES.map((hex, i) => ({ id: `c${i}`, name: `colour ${i}`, hex })),
    strings: Array.from({ length: strings }, () => `c${random.below(HEXES.length)}`),
    rows: Array.from({ length: rows }, (_, row) =>
      Array.from({ length: (strings - (row % 2)) >> 1 }, () => KNOT_TOKENS[1 + random.below(4)]).join(' '),
    ),
    piece: { repeats: 1 },
  };
}

interface AtTable {
  readonly page: Page;
  /** Of the keychain that was begun, in the stage of tying. */
  readonly url: string;
  readonly throttle: (rate: number) => Promise<unknown>;
}

async function withKeychain<T>(
  [strings, rows]: readonly [number, number],
  run: (table: AtTable) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'table-bench-'));
  const server = await startChild({ DATA_DIR: folder });
  let browser: Browser | null = null;
  try {
    browser = await launchBrowser();
    const context = await browser.newContext({
      locale: 'en',
      viewport: { width: 390, height: 844 },
      hasTouch: true,
    });
    return await run(await begin(context, server, boardFile(strings, rows)));
  } finally {
    await browser?.close();
    await server.stop('SIGTERM');
    rmSync(folder, { recursive: true });
  }
}

async function begin(context: BrowserContext, server: ChildServer, file: unknown): Promise<AtTable> {
  const made = await context.request.post(`${server.http}/api/boards`, { data: { file } });
  if (!made.ok()) throw new Error(`board not made: ${made.status()} ${await made.text()}`);
  const { id } = (await made.json()) as { id: string };
  const page = await context.newPage();
  await page.goto(`${server.http}/board/${id}/table`);
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('navigation').getByRole('button', { name: 'Tie', exact: true }).click();
  await page.locator('svg.tying').waitFor();
  // From the middle of the band on, as it is most of the time.
  await page.locator('lb-table-tie').evaluate((element) => {
    const tie = element as unknown as LbTableTie;
    const { steps } = (tie as unknown as { readonly tying: Tying }).tying;
    const tied = new Set(
      steps
        .slice(0, (steps.length - 200) >> 1)
        .map(({ part, repeat, partRow, k }) => `${part} ${repeat} ${partRow} ${k}`),
    );
    tie.dispatchEvent(
      Object.assign(new Event('lb-keychain', { bubbles: true, composed: true }), { patch: { tied } }),
    );
  });
  const cdp: CDPSession = await context.newCDPSession(page);
  const throttle = (rate: number) => cdp.send('Emulation.setCPUThrottlingRate', { rate });
  return { page, url: page.url(), throttle };
}

/** Times of so many steps in the page: from the press until the frame that shows it was painted. */
function timeSteps(page: Page): Promise<readonly number[]> {
  return page.locator('lb-table-page').evaluate(async (element, steps) => {
    const button = element.shadowRoot?.querySelector('.pads .on') as HTMLElement;
    const box = button.getBoundingClientRect();
    const now = performance.now.bind(performance);
    // No press is to be taken for the bounce of the one before.
    let turned = 0;
    performance.now = () => now() + turned;
    const point = { bubbles: true, composed: true, pointerId: 1, clientX: box.x + 9, clientY: box.y + 9 };
    const found: number[] = [];
    for (let step = 0; step < steps; step++) {
      // At rest again: what the step before left to be done is done.
      for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
      turned += 1000;
      const began = now();
      button.dispatchEvent(new PointerEvent('pointerdown', point));
      button.dispatchEvent(new PointerEvent('pointerup', point));
      found.push(
        await new Promise<number>((resolve) => {
          requestAnimationFrame(() => {
            // A message is taken up after the frame's style, layout and paint, so that these count as well.
            const channel = new MessageChannel();
            channel.port1.onmessage = () => resolve(now() - began);
            channel.port2.postMessage(null);
          });
        }),
      );
    }
    return found;
  }, STEPS);
}

async function tiedSteps(page: Page): Promise<number> {
  const count = await page.locator('lb-table-tie .count').textContent();
  return Number(/^\d+/.exec(count ?? '')?.[0]) - 1;
}

const percentile95 = (times: readonly number[]): number =>
  [...times].sort((a, b) => a - b)[Math.ceil(times.length * 0.95) - 1]!;

/** A knot tied by a press, 200 times. */
export async function benchTableSteps(): Promise<readonly BenchRow[]> {
  const rows: BenchRow[] = [];
  for (const size of SIZES)
    for (const rate of RATES)
      rows.push(
        await withKeychain(size, async ({ page, throttle }) => {
          await throttle(rate);
          const before = await tiedSteps(page);
          const times = await timeSteps(page);
          const tied = (await tiedSteps(page)) - before;
          if (tied !== STEPS) throw new Error(`${STEPS} presses tied ${tied} knots`);
          const value = percentile95(times);
          return {
            name: `a step at the table, processor / ${rate}`,
            size: size[0] * size[1],
            value,
            unit: 'ms',
            ...minAndMedian(times),
            note: `${size.join(' x ')}; press to painted frame, 95 of 100 of ${STEPS} steps within; size = places`,
            ratioTo: { name: `${STEP_MS} ms`, ratio: value / STEP_MS, bound: 1 },
          };
        }),
      );
  return rows;
}

/** From the address of a keychain until its knot is drawn, files cached. */
export async function benchTableEntry(): Promise<readonly BenchRow[]> {
  return withKeychain([60, 400], async ({ page, url, throttle }) => {
    const rows: BenchRow[] = [];
    for (const rate of RATES) {
      await throttle(rate);
      const times: number[] = [];
      for (let i = 0; i < 7; i++) {
        await page.goto('about:blank');
        await page.goto(url, { waitUntil: 'commit' });
        await page.locator('svg.tying').waitFor();
        times.push(
          await page.evaluate(
            () =>
              new Promise<number>((resolve) =>
                requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now()))),
              ),
          ),
        );
      }
      const { min, median } = minAndMedian(times);
      rows.push({
        name: `entering the table, processor / ${rate}`,
        size: 60 * 400,
        value: median,
        unit: 'ms',
        min,
        median,
        note: '60 x 400, from a disk cache as a second visit, until the knot is drawn; size = places',
        ratioTo: {
          name: `${ENTER_MS} ms`,
          ratio: median / ENTER_MS,
          ...(rate === 1 ? { bound: 1 } : {}),
        },
      });
    }
    return rows;
  });
}
