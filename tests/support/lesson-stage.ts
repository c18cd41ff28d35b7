/** A lesson in real pages: its teacher, and learners who come by the link. */
import type { Browser, Page } from 'playwright-core';
import { type Visitor, visit } from './browser.ts';
import { makeBoardOf } from './own-board.ts';

export const BESIDE_A_CALL = { viewport: { width: 390, height: 400 }, hasTouch: true };
export const IN_GERMAN = { viewport: { width: 820, height: 1180 }, locale: 'de-DE' };

/** A teacher in a lesson on a board of her own, and the learners' link. */
export interface Teaching extends Visitor {
  readonly link: string;
  readonly board: string;
}

/**
 * Opens a lesson as a teacher does, and reads the link where it is shown.
 * @param on the file of a new board, or the id of one of this visitor's
 * @param version the name of the state that it is about; null = as it stands
 */
export async function teach(
  browser: Browser,
  http: string,
  on: unknown,
  version: string | null = null,
  visitor?: Visitor,
): Promise<Teaching> {
  const teacher = visitor ?? (await visit(browser, 'about:blank'));
  const board = typeof on === 'string' ? on : await makeBoardOf(teacher, http, { file: on });
  const { page } = teacher;
  await page.goto(`${http}/board/${board}/lesson`);
  const open = page.getByRole('button', { name: 'Open a lesson on this board' });
  await open.waitFor();
  if (version !== null) {
    const label = await page.locator('#state option', { hasText: version }).textContent();
    await page.getByLabel('The board', { exact: true }).selectOption({ label: label ?? version });
  }
  await open.click();
  await page.locator('lb-table-cut .huge').waitFor();
  await page.getByRole('button', { name: 'Door' }).click();
  const shown = await page.locator('lb-lesson-door output').textContent();
  const { pathname, search, hash } = new URL(shown ?? '');
  await page.getByRole('button', { name: 'Close' }).click();
  return { ...teacher, board, link: http + pathname + search + hash };
}

/** Somebody at the door, under this name. */
export async function knockAt(
  browser: Browser,
  link: string,
  name: string,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const visitor = await visit(browser, link, options);
  const { page } = visitor;
  await page.locator('lb-lesson-page input[name="name"]').fill(name);
  await page.locator('lb-lesson-page form button').click();
  await page.locator('lb-lesson-ready').waitFor();
  return visitor;
}

/** Lets in who waits, from the teacher's own screen. */
export async function letIn({ page }: Visitor, count: number): Promise<void> {
  await page.getByRole('button', { name: `Let in ${count}` }).click();
  await page.getByRole('button', { name: 'Let all in' }).click();
  await page.getByRole('button', { name: 'Close' }).click();
}

/** The strip above somebody's work. */
export function strip(page: Page): ReturnType<Page['locator']> {
  return page.locator('lb-lesson-work .strip');
}

/** On, so many times, by one key. */
export async function on(page: Page, times = 1): Promise<void> {
  for (let n = 0; n < times; n++) await page.locator('body').press('PageDown');
}
