/** Somebody who comes to a board by a link, in a browser profile of their own. */
import type { Browser } from 'playwright-core';
import type { Role } from '../../engine/document/index.ts';
import { type Visitor, visit } from './browser.ts';

/** A guest with a link of this role that the owner has just made. @param name what the others call them; null = what the page thinks of */
export async function guestOf(
  browser: Browser,
  http: string,
  owner: Visitor,
  role: Role,
  name: string | null = null,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const { origin, pathname } = new URL(owner.page.url());
  const board = pathname.split('/').at(-1);
  const made = await owner.context.request.post(`${http}/api/boards/${board}/links`, { data: { role } });
  const { secret } = (await made.json()) as { secret: string };
  const person = JSON.stringify({ id: 'x', name, hex: '#2d5aa0' });
  const localStorage = name === null ? [] : [{ name: 'larkboard.person', value: person }];
  const visitor = await visit(browser, `${origin}${pathname}#${secret}`, {
    ...options,
    storageState: { cookies: [], origins: [{ origin: http, localStorage }] },
  });
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}
