/** The matching set's page in a real browser. */
import type { Browser, Locator, Page } from 'playwright-core';
import type { Command } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { type Visitor, visit } from './browser.ts';
import { makeBoardOf } from './own-board.ts';

/** A maker on the set's page of a new board of their own with this content. */
export async function openOwnSet(
  browser: Browser,
  http: string,
  file: unknown,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const visitor = await visit(browser, 'about:blank', options);
  await goToSet(visitor.page, http, await makeBoardOf(visitor, http, { file }));
  return visitor;
}

/** Opens the set of a board and waits until its keychains hang there. */
export async function goToSet(page: Page, http: string, id: string): Promise<void> {
  await page.goto(`${http}/board/${id}/set`);
  await keychains(page).first().waitFor();
}

export function keychains(page: Page): Locator {
  return page.locator('lb-set-page .keychain');
}

/** Chooses a keychain by its name. */
export async function chooseKeychain(page: Page, name: string): Promise<void> {
  await keychains(page)
    .filter({ has: page.getByText(name, { exact: true }) })
    .click();
}

/** The part of the editor that is for one colour of the board. */
export function colourOf(page: Page, id: string): Locator {
  return page.locator(`lb-set-colours [data-colour=${id}]`);
}

/** Waits until the set's page says that everything is saved. */
export async function untilSetSaved(page: Page): Promise<void> {
  await page.locator('lb-set-page .saved[data-state=saved]').waitFor();
}

interface SetPage {
  readonly session: {
    readonly design: {
      readonly snapshot: { readonly board: Board };
      run(command: unknown): { readonly ok: boolean };
    };
  };
}

/** The colourways as the page holds them now. */
export function colourwaysOf(page: Page): Promise<Board['colourways']> {
  return page.evaluate(() => {
    const element = document.querySelector('lb-app')?.shadowRoot?.querySelector('lb-set-page');
    return (element as unknown as SetPage).session.design.snapshot.board.colourways;
  });
}

/** Does what a maker would do on the board itself. */
export async function runOnBoard(page: Page, ...commands: readonly Command[]): Promise<void> {
  const refused = await page.evaluate((all) => {
    const element = document.querySelector('lb-app')?.shadowRoot?.querySelector('lb-set-page');
    return all.filter((command) => !(element as unknown as SetPage).session.design.run(command).ok).length;
  }, commands as unknown[]);
  if (refused > 0) throw new Error(`${refused} commands were refused`);
}

/** How many different colours each picture of a keychain shows: one, nothing, where it is not drawn yet. */
export function drawnColours(page: Page): Promise<readonly number[]> {
  return page.locator('lb-set-page .keychain lb-keychain').evaluateAll((all) =>
    all.map((element) => {
      const canvas = element.shadowRoot!.querySelector('canvas')!;
      if (canvas.width === 0 || canvas.height === 0) return 0;
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      return new Set(new Uint32Array(data.buffer)).size;
    }),
  );
}
