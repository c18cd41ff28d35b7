/** Two people at one long board: names, what the other sees, following. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { newBoard } from '../support/board-page.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';

const suite = browserSuite('people');

interface Seen {
  readonly self: boolean;
  readonly presence: {
    readonly person: { readonly id: string; readonly name: string };
    readonly view: { readonly fromRow: number; readonly toRow: number } | null;
  };
}

/** Who is here, as the page knows it. */
function peopleOf(page: Page): Promise<readonly Seen[]> {
  return page.evaluate(() => {
    const board = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as { session: { people: { value: Seen[] } } };
    return board.session.people.value.map(({ self, presence }) => ({ self, presence }));
  });
}

async function middleRow(page: Page): Promise<number | null> {
  const view = (await peopleOf(page)).find((one) => one.self)?.presence.view;
  return view ? (view.fromRow + view.toRow) / 2 : null;
}

async function wheel(page: Page, by: number): Promise<void> {
  const box = await page.locator('lb-board .stage').boundingBox();
  if (!box) throw new Error('no board');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.wheel(0, by);
}

describe('people at a board', () => {
  it('[A25] each sees the other by name; one follows the other until one goes one’s own way', async () => {
    const maker = await newBoard(suite.browser, suite.http, 12, 200);
    const guest = await guestOf(suite.browser, suite.http, maker, 'onlooker');
    await expect.poll(async () => (await peopleOf(guest.page)).length).toBe(2);
    const ids = (await peopleOf(guest.page)).map((one) => one.presence.person.id);
    expect(new Set(ids).size).toBe(2);

    await maker.page.locator('lb-people summary').click();
    await maker.page.getByLabel('Your name').fill('Imre <b>');
    await maker.page.keyboard.press('Enter');
    await guest.page.locator('lb-people summary').click();
    await guest.page.getByRole('button', { name: 'Follow Imre <b>', exact: false }).click();
    await guest.page.getByText('You follow Imre <b>', { exact: false }).waitFor();

    await maker.page.getByLabel('Your name').fill('Imre of old');
    await maker.page.keyboard.press('Enter');
    await guest.page.getByText('You follow Imre of old', { exact: false }).waitFor();

    await wheel(maker.page, 1_500);
    await expect.poll(() => middleRow(maker.page)).toBeGreaterThan(30);
    const there = async (): Promise<number> => {
      const [a, b] = [await middleRow(maker.page), await middleRow(guest.page)];
      return a === null || b === null ? Number.POSITIVE_INFINITY : Math.abs(a - b);
    };
    await expect.poll(there).toBeLessThanOrEqual(2);
    await wheel(guest.page, -1_000);
    expect(await guest.page.getByText('You follow', { exact: false }).count()).toBe(0);
    await wheel(maker.page, 1_000);
    await expect.poll(there).toBeGreaterThan(20);
    await maker.context.close();
    await expect.poll(async () => (await peopleOf(guest.page)).length).toBe(1);
    expect(guest.complaints).toEqual([]);
  });
});
