/**
 * The board in a real Chromium without GPU: until it can be used, an edit until the picture is right again, scrolling. Needs what
 * `npm run build` makes. Times of the page are taken in the page.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { KNOT_TOKENS } from '../../engine/index.ts';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { launchBrowser, untilSaved } from '../support/browser.ts';
import { seededRandom } from '../support/seeded-random.ts';
import type { BenchRow } from './bench-row.ts';
import { FRAME_MARK, traceFrames } from './frame-trace.ts';
import { minAndMedian } from './measure.ts';

const EDIT_MS = 8;
const VIEWPORT = { width: 1440, height: 900 };

/** A board file with knots of every kind from a seed, six colours. */
function boardFile(strings: number, rows: number): unknown {
  const random = seededRandom(11);
  const hexes = ['#1f6266', '#e2b95a', '#c8452f', '#efe7da', '#3b3a6e', '#7fb2d9'];
  return {
    format: 'larkboard',
    version: 1,
    title: 'bench',
    palette: hexes.map((hex, i) => ({ id: `c${i}`, name: `colour ${i}`, hex })),
    strings: Array.from({ length: strings }, () => `c${random.below(6)}`),
    start: 0,
    rows: Array.from({ length: rows }, (_, row) =>
      Array.from({ length: (strings - (row % 2)) >> 1 }, () => KNOT_TOKENS[1 + random.below(4)]).join(' '),
    ),
  };
}

async function withPage<T>(
  run: (page: Page, server: ChildServer, browser: Browser) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'board-bench-'));
  const server = await startChild({ DATA_DIR: folder });
  let browser: Browser | null = null;
  try {
    browser = await launchBrowser();
    const context = await browser.newContext({ viewport: VIEWPORT });
    return await run(await context.newPage(), server, browser);
  } finally {
    await browser?.close();
    await server.stop('SIGTERM');
    rmSync(folder, { recursive: true });
  }
}

/** Makes a board and opens it. */
async function openBoard(page: Page, server: ChildServer, strings: number, rows: number): Promise<string> {
  const made = await page
    .context()
    .request.post(`${server.http}/api/boards`, { data: { file: boardFile(strings, rows) } });
  if (!made.ok()) throw new Error(`board not made: ${made.status()} ${await made.text()}`);
  const { id } = (await made.json()) as { id: string };
  const url = `${server.http}/board/${id}`;
  await page.goto(url);
  await page.locator('lb-board canvas.pattern').waitFor();
  await untilSaved(page);
  return url;
}

function mean(times: readonly number[]): number {
  return times.reduce((sum, time) => sum + time, 0) / times.length;
}

function rowOf(name: string, size: number, times: readonly number[], extra: Partial<BenchRow>): BenchRow {
  const { min, median } = minAndMedian(times);
  return { name, size, value: median, unit: 'ms', min, median, ...extra };
}

/** From the address to a drawn board that takes a knot, against the same page without a board (the start page). */
export async function benchBoardFirstPaint(): Promise<readonly BenchRow[]> {
  return withPage(async (page, server) => {
    const url = await openBoard(page, server, 16, 32);
    const timed = async (address: string, ready: string): Promise<number> => {
      await page.goto('about:blank');
      await page.goto(address, { waitUntil: 'commit' });
      await page.locator(ready).first().waitFor();
      return page.evaluate(
        () =>
          new Promise<number>((resolve) =>
            requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now()))),
          ),
      );
    };
    const boards: number[] = [];
    const starts: number[] = [];
    for (let i = 0; i < 7; i++) {
      boards.push(await timed(url, 'lb-board [role=gridcell]'));
      starts.push(await timed(`${server.http}/`, '.card'));
    }
    const start = minAndMedian(starts).median;
    return [
      rowOf('page, until the board is drawn', 16 * 32, boards, {
        note: '16 x 32, from a disk cache as a second visit; size = places',
        ratioTo: { name: 'the start page with its pictures', ratio: minAndMedian(boards).median / start },
      }),
    ];
  });
}

/** One knot tied with a press on a 60 x 400 board, until the picture is right again: the page's main thread, paint included. */
export async function benchBoardEdit(): Promise<readonly BenchRow[]> {
  return withPage(async (page, server) => {
    await openBoard(page, server, 60, 400);
    const times = await page.locator('lb-board').evaluate(async (element) => {
      const { editor, session } = element as LbBoard;
      const found: number[] = [];
      for (let i = 0; i < 60; i++) {
        // At rest again: the edit before is stored, and nothing is left to be done for it.
        do await new Promise((resolve) => requestIdleCallback(resolve));
        while (session.saved !== 'saved');
        found.push(
          await new Promise<number>((resolve) => {
            let frameBegan = 0;
            let edited = 0;
            // Callbacks of one frame run in the order in which they were asked for: the board's drawing between these two.
            requestAnimationFrame(() => {
              frameBegan = performance.now();
            });
            const began = performance.now();
            editor.chooseKnot(((i % 4) + 1) as 1 | 2 | 3 | 4);
            editor.press({ row: 2 + (i % 5), k: 3 + (i % 20) });
            editor.release();
            queueMicrotask(() => {
              edited = performance.now() - began;
            });
            requestAnimationFrame(() => {
              // A message is taken up after the frame's style, layout and paint, so that these count as well.
              const channel = new MessageChannel();
              channel.port1.onmessage = () => resolve(edited + performance.now() - frameBegan);
              channel.port2.postMessage(null);
            });
          }),
        );
      }
      return found.slice(10);
    });
    const { median } = minAndMedian(times);
    return [
      rowOf('edit to picture', 60 * 400, times, {
        note: '60 x 400, a knot near the top; size = places',
        ratioTo: { name: `${EDIT_MS} ms`, ratio: median / EDIT_MS, bound: 1 },
      }),
    ];
  });
}

/** What the page's main thread may take a frame, 95 of 100 of them, while a hand moves the board. */
const FRAME_MS = 6;

/**
 * Frames while a 100 x 1,000 board scrolls and while it zooms, while the searches that begin as it is opened run and after them: against the
 * frames of the page at rest, and what they cost the page's main thread.
 */
export async function benchBoardScroll(): Promise<readonly BenchRow[]> {
  return withPage(async (page, server, browser) => {
    await openBoard(page, server, 100, 1000);
    const frames = (what: 'rest' | 'scroll' | 'zoom') =>
      page.locator('lb-board').evaluate(
        async (element, { kind, mark }) => {
          const stage = element.shadowRoot?.querySelector('.stage') as HTMLElement;
          const box = stage.getBoundingClientRect();
          const wheel = (deltaY: number, ctrlKey: boolean): void => {
            const at = { clientX: box.left + box.width / 2, clientY: box.top + box.height / 2 };
            stage.dispatchEvent(
              new WheelEvent('wheel', { deltaY, ctrlKey, bubbles: true, cancelable: true, ...at }),
            );
          };
          const found: number[] = [];
          let last = await new Promise<number>(requestAnimationFrame);
          for (let i = 0; i < 180; i++) {
            performance.mark(mark);
            if (kind === 'scroll') wheel(i % 180 < 90 ? 23 : -23, false);
            if (kind === 'zoom') wheel(i % 60 < 30 ? -18 : 18, true);
            const now = await new Promise<number>(requestAnimationFrame);
            found.push(now - last);
            last = now;
          }
          return found.slice(10);
        },
        { kind: what, mark: FRAME_MARK },
      );
    const percentile = (times: readonly number[]): number =>
      [...times].sort((a, b) => a - b)[Math.floor(times.length * 0.95)] as number;
    const rowsOf = async (when: string): Promise<readonly BenchRow[]> => {
      const rest = await frames('rest');
      const atRest = minAndMedian(rest).median;
      const rows: BenchRow[] = [];
      for (const what of ['scroll', 'zoom'] as const) {
        const name = what === 'scroll' ? 'scrolling' : 'zooming';
        const times = await frames(what);
        const late = times.filter((time) => time > 1.5 * atRest).length;
        const { mainMs, faults } = await traceFrames(browser, page, () => frames(what));
        const p95 = percentile(mainMs.slice(10));
        rows.push(
          rowOf(`frame while ${name}, ${when}`, 100 * 1000, times, {
            note: `100 x 1,000; 95 of 100 frames within ${percentile(times).toFixed(1)} ms; ${late} of ${times.length} late; size = places`,
            // The mean, not the median: one frame in ten that is late moves it, and is seen.
            ratioTo: { name: 'frames at rest, in the mean', ratio: mean(times) / mean(rest), bound: 1.1 },
          }),
          rowOf(`main thread a frame while ${name}, ${when}`, 100 * 1000, mainMs.slice(10), {
            value: p95,
            note: `processor time that 95 of 100 frames stay within; ${faults.toFixed(1)} page faults a frame; size = places`,
            ratioTo: { name: `${FRAME_MS} ms`, ratio: p95 / FRAME_MS, bound: 1 },
          }),
        );
      }
      return rows;
    };
    const looking = page.locator('lb-ways-out progress');
    await looking.waitFor();
    const searching = await rowsOf('searches running');
    await looking.waitFor({ state: 'detached' });
    return [...searching, ...(await rowsOf('searches over'))];
  });
}
