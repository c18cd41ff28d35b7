/** Somebody who comes to a board by a link, in a browser profile of their own. */
import type { Browser } from 'playwright-core';
import type { Role } from '../../engine/document/index.ts';
import { type Visitor, visit } from './browser.ts';

/** A guest with a link of this role that the owner has just made, by this name. */
export async function guestOf(
  browser: Browser,
  http: string,
  owner: Visitor,
  role: Role,
  name: string,
  options: Parameters<typeof visit>[2] = {},
): Promise<Visitor> {
  const board = owner.page.url().split('/').at(-1);
  const secret = await owner.page.evaluate(
    async ([id, wanted]) => {
      const body = JSON.stringify({ role: wanted });
      const answer = await fetch(`/api/boards/${id}/links`, { method: 'POST', body });
      return ((await answer.json()) as { secret: string }).secret;
    },
    [board, role] as const,
  );
  const visitor = await visit(browser, `${http}/help`, options);
  await visitor.page.evaluate((own) => {
    const person = { id: 'x', name: own, hex: '#2d5aa0' };
    localStorage.setItem('larkboard.person', JSON.stringify(person));
  }, name);
  await visitor.page.goto(`${owner.page.url()}#${secret}`);
  await visitor.page.locator('lb-board canvas.pattern').waitFor();
  return visitor;
}
