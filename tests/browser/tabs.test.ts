/** Two tabs of one browser at one board: what one of them edited without a connection survives what the other does. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Role } from '../../engine/document/index.ts';
import { axeFindings } from '../support/axe.ts';
import { friendOf, newBoard } from '../support/board-page.ts';
import { focusKnots, rowsOf, textOf, untilSaved, type Visitor } from '../support/browser.ts';
import { ownServerSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { type LineSwitch, switchLines } from '../support/line-switch.ts';
import { metricAt, wearUnderPages } from '../support/worn-board.ts';

const suite = ownServerSuite('tabs', { RENEW_BYTES: '2000' });

interface Tab {
  readonly page: Page;
  readonly line: LineSwitch;
}

/** A tab at this board, in the browser of somebody who has been there. */
async function tabOf({ context }: Visitor, address: string): Promise<Tab> {
  const page = await context.newPage();
  const line = await switchLines(page);
  await page.goto(address);
  await page.locator('lb-board canvas.pattern').waitFor();
  return { page, line };
}

async function untilOffline(page: Page): Promise<void> {
  await page.locator('lb-board-page .saved[data-state=offline]').waitFor();
}

/** Ties a knot of the first row. */
async function tie(page: Page, k: number, key: string): Promise<void> {
  await focusKnots(page);
  await page.keyboard.press('Home');
  for (let i = 0; i < k; i += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press(key);
}

const firstRow = async (page: Page): Promise<string | undefined> => (await rowsOf(page))[0];

/** Closes a tab once the browser has written what was edited in it: reading waits for that. */
async function close({ page }: Tab): Promise<void> {
  await page.evaluate(async () => {
    for (const { name = '' } of await indexedDB.databases())
      await new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open(name);
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          // A database of documents, or of steps that can be undone.
          const [store] = opening.result.objectStoreNames;
          const reading = opening.result.transaction(store!).objectStore(store!).count();
          reading.onerror = () => reject(reading.error);
          reading.onsuccess = () => {
            opening.result.close();
            resolve();
          };
        };
      });
  });
  await page.close();
}

/** Names under which a browser keeps what was put aside. */
function asidesIn(page: Page): Promise<readonly string[]> {
  return page.evaluate(async () =>
    (await indexedDB.databases()).flatMap(({ name = '' }) => (/\.[^~]/.test(name) ? [name] : [])),
  );
}

/** First row of the board in the file that the page gives out. */
async function savedRow(page: Page): Promise<string | undefined> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the copy as a file' }).click(),
  ]);
  return (JSON.parse(await textOf(download)) as { rows: string[] }).rows[0];
}

describe('when the board was renewed', () => {
  /** Two tabs with the history that has ended; the second is away and has tied a knot. */
  async function renewed(): Promise<{ readonly maker: Visitor; readonly here: Tab; readonly away: Tab }> {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const address = maker.page.url();
    await maker.page.goto(`${suite.http}/healthz`);
    const [here, away] = [await tabOf(maker, address), await tabOf(maker, address)];
    await maker.page.close();
    const before = await metricAt(suite.http, 'larkboard_renewals_total');
    await wearUnderPages({ ...maker, page: here.page }, suite.http);
    for (const { page } of [here, away]) {
      await expect.poll(() => rowsOf(page)).toEqual(['- - -', '- -', '- - -', '- -']);
      await untilSaved(page);
    }
    for (const { line } of [away, here]) await line.cut();
    await expect.poll(() => metricAt(suite.http, 'larkboard_renewals_total')).toBe(before + 2);
    await untilOffline(away.page);
    await tie(away.page, 0, '1');
    return { maker: { ...maker, page: here.page }, here, away };
  }

  it('[B180] a tab that was closed with edits not sent: the other one brings them', async () => {
    const { maker, here, away } = await renewed();
    await close(away);
    here.line.mend();
    await expect.poll(() => firstRow(here.page)).toBe('f - -');
    await untilSaved(here.page);
    const friend = await friendOf(suite.browser, maker);
    expect(await firstRow(friend.page)).toBe('f - -');
    expect(await asidesIn(here.page)).toEqual([]);
  });

  it('[B180] [B181] a tab that is open and away keeps what it edits from then on, and it reaches the board after it was closed', async () => {
    const { maker, here, away } = await renewed();
    here.line.mend();
    await expect.poll(() => firstRow(here.page)).toBe('f - -');
    await untilSaved(here.page);
    await expect.poll(() => asidesIn(here.page)).toHaveLength(1);
    await tie(away.page, 1, '2');
    await untilOffline(away.page);
    await close(away);
    await here.line.cut();
    await here.page.reload();
    await here.page
      .getByText('This browser also keeps changes from another tab.', { exact: false })
      .waitFor();
    expect(await firstRow(here.page)).toBe('f - -');
    here.line.mend();
    await expect.poll(() => firstRow(here.page)).toBe('f b -');
    expect(await here.page.locator('.aside').count()).toBe(0);
    await untilSaved(here.page);
    await expect.poll(() => asidesIn(here.page)).toEqual([]);
    const friend = await friendOf(suite.browser, maker);
    expect(await firstRow(friend.page)).toBe('f b -');
  });

  it('[B180] a tab that comes back late leaves alone what the other has edited since', async () => {
    const { maker, here, away } = await renewed();
    here.line.mend();
    await expect.poll(() => firstRow(here.page)).toBe('f - -');
    await untilSaved(here.page);
    await here.line.cut();
    await untilOffline(here.page);
    await tie(here.page, 2, '3');
    await tie(away.page, 1, '2');
    away.line.mend();
    await expect.poll(() => firstRow(away.page)).toMatch(/^f b/);
    await untilSaved(away.page);
    await close(here);
    await away.page.reload();
    await expect.poll(() => firstRow(away.page)).toBe('f b fb');
    await untilSaved(away.page);
    await expect.poll(() => asidesIn(away.page)).toEqual([]);
    const friend = await friendOf(suite.browser, { ...maker, page: away.page });
    expect(await firstRow(friend.page)).toBe('f b fb');
  });
});

describe('when one may only look from now on', () => {
  /** A guest with a link to edit and one to look, and how to take back the first. */
  async function lowered(): Promise<{
    readonly guest: Visitor;
    readonly address: string;
    readonly lower: () => Promise<void>;
    /** A new link to edit: what stands behind the `#`. */
    readonly raise: () => Promise<string>;
  }> {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const id = new URL(owner.page.url()).pathname.split('/').at(-1);
    const links = `${suite.http}/api/boards/${id}/links`;
    const guest = await guestOf(suite.browser, suite.http, owner, 'co-maker');
    const secretOf = async (role: Role): Promise<string> => {
      const made = await owner.context.request.post(links, { data: { role } });
      return ((await made.json()) as { secret: string }).secret;
    };
    const address = guest.page.url();
    await guest.page.goto(`${address}#${await secretOf('onlooker')}`);
    await untilSaved(guest.page);
    await guest.page.goto(`${suite.http}/healthz`);
    const lower = async (): Promise<void> => {
      const all = (await (await owner.context.request.get(links)).json()) as { id: string; role: string }[];
      const strong = all.find(({ role }) => role === 'co-maker');
      expect((await owner.context.request.delete(`${links}/${strong?.id}`)).ok()).toBe(true);
    };
    return { guest, address, lower, raise: () => secretOf('co-maker') };
  }

  it('[B180] [B182] what another tab edited is offered as a file in either, and is no part of the board', async () => {
    const { guest, address, lower } = await lowered();
    const [here, away] = [await tabOf(guest, address), await tabOf(guest, address)];
    for (const { page } of [here, away]) await untilSaved(page);
    await away.line.cut();
    await untilOffline(away.page);
    await tie(away.page, 0, '1');
    await lower();
    await here.page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    expect(await savedRow(here.page)).toBe('f - -');
    expect(await axeFindings(here.page)).toEqual([]);
    expect(await firstRow(here.page)).toBe('- - -');
    // It is still there to be seen and edited where it was made, and kept.
    await tie(away.page, 1, '2');
    await untilOffline(away.page);
    expect(await firstRow(away.page)).toBe('f b -');
    await here.page.getByRole('button', { name: 'Forget the copy' }).click();
    away.line.mend();
    await away.page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    await expect.poll(() => firstRow(away.page)).toBe('- - -');
    expect(await savedRow(away.page)).toBe('f b -');
    await away.page.getByRole('button', { name: 'Forget the copy' }).click();
    await expect.poll(() => asidesIn(away.page)).toEqual([]);
    await away.page.reload();
    await away.page.locator('lb-board canvas.pattern').waitFor();
    expect(await away.page.locator('.aside').count()).toBe(0);
  });

  it('[B182] a tab that was away alone is told, and what was all saved is not offered', async () => {
    const { guest, address, lower } = await lowered();
    const { page, line } = await tabOf(guest, address);
    await tie(page, 0, '1');
    await untilSaved(page);
    await line.cut();
    await untilOffline(page);
    await lower();
    line.mend();
    await page.locator('lb-board-page .saved[data-state=viewing]').waitFor();
    await page.getByText('You may only look at this board now.', { exact: false }).waitFor();
    await expect.poll(() => asidesIn(page)).toEqual([]);
    expect(await page.locator('.aside').count()).toBe(0);
    expect(await firstRow(page)).toBe('f - -');
  });

  it('[B182] whoever may edit again finds the edits on the board', async () => {
    const { guest, address, lower, raise } = await lowered();
    const { page, line } = await tabOf(guest, address);
    await untilSaved(page);
    await line.cut();
    await untilOffline(page);
    await tie(page, 0, '1');
    await lower();
    line.mend();
    await page.getByRole('button', { name: 'Save the copy as a file' }).waitFor();
    await page.evaluate(
      (hash) => {
        location.hash = hash;
      },
      await raise(),
    );
    await expect.poll(() => firstRow(page)).toBe('f - -');
    await untilSaved(page);
    await expect.poll(() => asidesIn(page)).toEqual([]);
  });
});

describe('when the board is deleted', () => {
  it('[B180] [A43] what another tab edited is offered as a file at its address', async () => {
    const maker = await newBoard(suite.browser, suite.http, 6, 4);
    const address = maker.page.url();
    const away = await tabOf(maker, address);
    await untilSaved(away.page);
    await away.line.cut();
    await untilOffline(away.page);
    await tie(away.page, 0, '1');
    await maker.context.request.delete(`${suite.http}/api/boards/${address.split('/').at(-1)}`);
    await maker.page.getByText('An owner deleted this board for good', { exact: false }).waitFor();
    // Left, this tab forgets the board, as far as it knows it.
    await maker.page.getByRole('link', { name: 'All boards' }).click();
    await maker.page.locator('lb-start-page').waitFor();
    await tie(away.page, 1, '2');
    away.line.mend();
    await expect.poll(() => away.page.getByText('still holds its own copy').count()).toBeGreaterThan(0);
    await close(away);
    await maker.page.goto(address);
    await maker.page.getByText('still holds its own copy', { exact: false }).first().waitFor();
    const save = maker.page.getByRole('button', { name: 'Save the copy as a file' });
    const rows: (string | undefined)[] = [];
    for (let i = 0; i < (await save.count()); i += 1) {
      const [download] = await Promise.all([maker.page.waitForEvent('download'), save.nth(i).click()]);
      rows.push((JSON.parse(await textOf(download)) as { rows: string[] }).rows[0]);
    }
    expect(rows).toContain('f b -');
    const forget = maker.page.getByRole('button', { name: 'Forget the copy' });
    for (let left = await forget.count(); left > 0; left -= 1) {
      await forget.first().click();
      await expect.poll(() => forget.count()).toBe(left - 1);
    }
    await maker.page.reload();
    await maker.page.getByText('There is no such board', { exact: false }).waitFor();
    expect(await forget.count()).toBe(0);
  });
});
