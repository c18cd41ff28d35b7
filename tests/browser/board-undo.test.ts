/** Every tool that edits, on two pages: the other sees what it did, and undo takes back that alone. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { choose, drag, friendOf, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { openOwnBoard } from '../support/own-board.ts';

const suite = browserSuite('board-undo');

const BOARD = {
  format: 'larkboard',
  version: 1,
  title: 'Test input',
  palette: [
    { id: 'a', name: 'one', hex: '#1f6266' },
    { id: 'b', name: 'two', hex: '#e8c98a' },
    { id: 'c', name: 'three', hex: '#a63a1d' },
  ],
  strings: ['a', 'b', 'c', 'a', 'a', 'c', 'b', 'a'],
  start: 0,
  rows: ['f b f -', '- - -', '- - - -', 'b f b', 'f f f f', '- - -', '- - - -', 'f b f'],
};

interface State {
  readonly rows: readonly string[];
  readonly colours: string;
}

async function stateOf(page: Page): Promise<State> {
  const colours = await page
    .locator('lb-board')
    .evaluate((element) => (element as LbBoard).editor.model.board.pattern.colours.join(''));
  return { rows: await rowsOf(page), colours };
}

async function press(page: Page, ...keys: readonly string[]): Promise<void> {
  await focusKnots(page);
  for (const key of keys) await page.keyboard.press(key);
}

async function select(
  page: Page,
  from: readonly [number, number],
  to: readonly [number, number],
): Promise<void> {
  await choose(page, 'tool-select');
  await press(page, 'Escape');
  await drag(page, from, to);
}

/** Runs a command of the context menu at a knot. */
async function menu(page: Page, row: number, k: number, action: string): Promise<void> {
  const { x, y } = await pointOf(page, row, k);
  await page.mouse.click(x, y, { button: 'right' });
  await page.locator(`lb-board-menu [data-action=${action}]`).click();
}

const swatch = (page: Page, i: number) => page.locator('lb-board .swatch-button').nth(i);

/** By name: what a maker does with the tool. Each changes the board. */
const TOOLS: Readonly<Record<string, (page: Page) => Promise<void>>> = {
  'a kind of knot': async (page) => {
    await choose(page, 'knot-4');
    await drag(page, [0, 0], [0, 1]);
  },
  'by colour, changing places': async (page) => {
    await swatch(page, 1).click();
    await choose(page, 'show');
    await page.locator('lb-board select.places').selectOption('change');
    await drag(page, [2, 0]);
  },
  'by colour, keeping places': async (page) => {
    await page.locator('lb-board select.places').selectOption('keep');
    await drag(page, [0, 0]);
    await swatch(page, 0).click();
  },
  line: async (page) => {
    await choose(page, 'knot-2', 'tool-line');
    await drag(page, [0, 0], [2, 1]);
  },
  fill: async (page) => {
    await choose(page, 'knot-3', 'tool-fill');
    await drag(page, [1, 1]);
    await choose(page, 'tool-tie');
  },
  'mirrored beside a knot': async (page) => {
    await press(page, 'Control+Home', 'ArrowRight', 'Shift+M');
    await choose(page, 'knot-1');
    await drag(page, [2, 0]);
    await press(page, 'Shift+M', 'Control+Home', 'ArrowRight', 'Shift+M');
  },
  'mirrored above and below': async (page) => {
    await menu(page, 2, 1, 'mirror-row');
    await choose(page, 'knot-1');
    await drag(page, [1, 0]);
    expect((await rowsOf(page))[3]?.startsWith('b')).toBe(true);
    await menu(page, 2, 1, 'mirror-row');
  },
  move: async (page) => {
    await select(page, [0, 0], [0, 1]);
    await press(page, 'Alt+ArrowDown');
  },
  'drag of a block': async (page) => {
    await select(page, [0, 0], [0, 1]);
    await drag(page, [0, 0], [2, 1]);
  },
  'copy and paste': async (page) => {
    await select(page, [0, 0], [0, 1]);
    await press(page, 'Control+c', 'Escape', 'ArrowDown', 'ArrowDown', 'Control+v');
  },
  cut: async (page) => {
    await select(page, [0, 0], [0, 1]);
    await press(page, 'Control+x');
  },
  untie: async (page) => {
    await select(page, [3, 0], [4, 1]);
    await press(page, 'Delete');
  },
  'repeat downwards': async (page) => {
    await select(page, [0, 0], [0, 1]);
    await press(page, 'r');
  },
  'repeat to the right': async (page) => {
    await select(page, [0, 0], [0, 0]);
    await press(page, 'Shift+R', 'Escape');
    await choose(page, 'tool-tie');
  },
  'rows above': (page) => press(page, 'Shift+Insert'),
  'rows below': (page) => press(page, 'Insert'),
  'rows deleted': (page) => press(page, 'Control+Home', 'Shift+Delete'),
  'strings on the left': (page) => menu(page, 2, 1, 'strings-left'),
  'strings on the right': (page) => menu(page, 2, 1, 'strings-right'),
  'strings deleted': (page) => menu(page, 2, 0, 'delete-strings'),
  'two colours swapped': async (page) => {
    await choose(page, 'swap');
    await swatch(page, 2).click();
  },
  'a peg’s colour': async (page) => {
    await swatch(page, 2).click();
    await press(page, 'Control+Home', 'ArrowUp', 'Enter', 'ArrowDown');
  },
};

it('[B86] each tool is seen on the other page, and its undo leaves what the other did meanwhile', async () => {
  const maker = await openOwnBoard(suite.browser, suite.http, BOARD, {
    viewport: { width: 1280, height: 860 },
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  await untilSaved(maker.page);
  const friend = await friendOf(suite.browser, maker);
  let knot = 1;
  for (const [name, use] of Object.entries(TOOLS)) {
    const before = await stateOf(friend.page);
    await use(maker.page);
    await expect.poll(() => stateOf(friend.page), { message: name }).not.toEqual(before);
    knot = 3 - knot;
    await press(friend.page, 'Control+End', String(knot));
    const rows = [...before.rows];
    rows[rows.length - 1] =
      `${(rows[rows.length - 1] as string).split(' ').slice(0, -1).join(' ')} ${knot === 1 ? 'f' : 'b'}`;
    const last = () => rowsOf(maker.page).then((all) => all[all.length - 1]?.at(-1));
    await expect.poll(last, { message: name }).toBe(knot === 1 ? 'f' : 'b');
    await maker.page.getByRole('button', { name: 'Undo', exact: true }).click();
    for (const { page } of [maker, friend])
      await expect.poll(() => stateOf(page), { message: name }).toEqual({ rows, colours: before.colours });
  }
  expect([...maker.complaints, ...friend.complaints]).toEqual([]);
});
