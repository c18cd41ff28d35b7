/** A board of the maker's own in a real page, and what the page holds. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { type Board, parseBoard } from '../../engine/index.ts';
import { type Visitor, visit } from './browser.ts';

/** A demo board's file. */
export function demoFile(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../demo-data/${name}.json`, import.meta.url), 'utf8'));
}

/** Six strings that differ from side to side, two of their colours nearly the same. */
export const LOPSIDED = {
  format: 'larkboard',
  version: 1,
  title: 'Lopsided',
  palette: [
    { id: 'a', name: 'spruce', hex: '#1f6266' },
    { id: 'b', name: 'sand', hex: '#e8c98a' },
    { id: 'c', name: 'straw', hex: '#e6c27c' },
  ],
  strings: ['a', 'b', 'c', 'c', 'b', 'b'],
  start: 0,
  rows: ['f f b', 'f b', 'f b b', 'fb b'],
};

/** Makes a board that this visitor owns. @param body what the request asks for @returns the board's id */
export async function makeBoardOf({ context }: Visitor, http: string, body: unknown): Promise<string> {
  const answer = await context.request.post(`${http}/api/boards`, { data: body });
  if (!answer.ok()) throw new Error(`board not made: ${await answer.text()}`);
  return ((await answer.json()) as { id: string }).id;
}

/** A maker's page on a board of their own with this content. */
export async function openOwnBoard(
  browser: Browser,
  http: string,
  file: unknown,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const visitor = await visit(browser, 'about:blank', options);
  await visitor.page.goto(`${http}/board/${await makeBoardOf(visitor, http, { file })}`);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}

/** Draws the sheet of panels over the board, where they are one and it is closed. */
export async function openSheet(page: Page): Promise<void> {
  await page.locator('lb-panels').waitFor({ state: 'attached' });
  const button = page.locator('lb-board button.panels');
  if ((await button.isVisible()) && !(await page.locator('lb-panels').isVisible())) await button.click();
}

/** Opens a panel by the name of its tab. */
export async function openTab(page: Page, name: string): Promise<void> {
  await openSheet(page);
  await page.getByRole('tab', { name, exact: true }).click();
}

/** The board as the page holds it now. */
export async function boardOf(page: Page): Promise<Board> {
  const file = await page.evaluate(() => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: { design: { snapshot: { board: { pattern: { knots: Uint8Array } } } } };
    };
    const { board } = element.session.design.snapshot;
    return { ...board, pattern: { ...board.pattern, knots: [...board.pattern.knots] } };
  });
  const board = file as unknown as Board;
  return { ...board, pattern: { ...board.pattern, knots: Uint8Array.from(board.pattern.knots) } };
}

/** Until commands that tie nothing can be run as well: they come with the field of the title. Only for who may edit. */
export function untilCommands(page: Page): Promise<void> {
  return page.locator('lb-board-page .title input').waitFor();
}

/** Runs a command on the page's design, as its tools do; fails when it is refused. */
export async function runOn(page: Page, command: unknown): Promise<void> {
  await untilCommands(page);
  await page.evaluate((given) => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: { design: { run(command: unknown): { readonly ok: boolean } } };
    };
    if (!element.session.design.run(given).ok) throw new Error('refused');
  }, command);
}

/** What the board is asked to light up. */
export function litOf(page: Page): Promise<unknown> {
  return page.evaluate(() => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as { lit: { value: unknown } };
    return element.lit.value;
  });
}

/** @throws Error when the file is no board */
export function readBoard(file: unknown): Board {
  const parsed = parseBoard(file);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return parsed.value;
}

/** Takes back the last step. */
export async function undo(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
}
