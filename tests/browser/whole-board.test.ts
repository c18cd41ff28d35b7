/** A board as a whole in the page: its archive out and in, and its end. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { axeFindings } from '../support/axe.ts';
import { friendOf } from '../support/board-page.ts';
import { rowsOf, textOf, untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard } from '../support/own-board.ts';

const suite = browserSuite('whole');
/** Another server, which knows nothing of the first one's boards. */
let other: ChildServer;

beforeAll(async () => {
  const folder = join(suite.folder, 'other');
  mkdirSync(folder);
  other = await startChild({ DATA_DIR: folder });
});
afterAll(() => other?.stop('SIGTERM'));

async function openDialog(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'File and print' }).click();
  await page.getByRole('dialog').getByRole('heading', { name: 'File and print' }).waitFor();
}

async function localNames(page: Page): Promise<readonly (string | undefined)[]> {
  return page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name));
}

describe('a board as a whole', () => {
  it('[A40] everything of a board is one file, which another server makes the same board of', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(owner.page);
    const rows = await rowsOf(owner.page);
    await openDialog(owner.page);
    expect(await axeFindings(owner.page)).toEqual([]);
    const [download] = await Promise.all([
      owner.page.waitForEvent('download'),
      owner.page.getByRole('button', { name: 'Download everything' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('Lopsided.zip');
    const path = join(suite.folder, 'taken.zip');
    await download.saveAs(path);

    const guest = await visit(suite.browser, `${other.http}/`);
    await guest.page.locator('input[type=file]').setInputFiles(path);
    await guest.page.waitForURL(/\/board\/[\w-]{22}$/);
    await guest.page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(guest.page);
    expect(await rowsOf(guest.page)).toEqual(rows);
    expect(await guest.page.locator('.title input').inputValue()).toBe('Lopsided');
    expect([...owner.complaints, ...guest.complaints]).toEqual([]);
  });

  it('[A41] a file that is no archive makes nothing and says so', async () => {
    const path = join(suite.folder, 'none.zip');
    writeFileSync(path, 'no zip file');
    const guest = await visit(suite.browser, `${suite.http}/`);
    await guest.page.locator('input[type=file]').setInputFiles(path);
    await guest.page.getByText('this file is not an archive of a board').waitFor();
    expect(guest.page.url()).toBe(`${suite.http}/`);
  });

  it('[A42] an owner deletes a board by typing its title; others are told, may save what they hold, and it is forgotten', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(owner.page);
    const friend = await friendOf(suite.browser, owner);
    const address = owner.page.url();
    const name = `larkboard-${address.split('/').at(-1)}`;
    expect(await localNames(friend.page)).toContain(name);
    for (const { page } of [owner, friend])
      await expect.poll(() => localNames(page)).toContain(`${name}-talk`);
    await openDialog(owner.page);
    await owner.page.getByRole('button', { name: 'Delete this board' }).click();
    // Both answers are in sight, however low the window is.
    for (const name of ['Delete for good', 'Keep the board']) {
      const answer = owner.page.getByRole('button', { name, exact: true });
      await expect
        .poll(() => answer.evaluate((one) => one.getBoundingClientRect().bottom <= innerHeight))
        .toBe(true);
    }
    const field = owner.page.getByLabel('Type the title to confirm: Lopsided');
    expect(await field.evaluate((input) => input === (input.getRootNode() as ShadowRoot).activeElement)).toBe(
      true,
    );
    expect(await axeFindings(owner.page)).toEqual([]);
    const yes = owner.page.getByRole('button', { name: 'Delete for good' });
    await field.fill('Lopside');
    expect(await yes.isDisabled()).toBe(true);
    await field.fill('Lopsided');
    await owner.page.keyboard.press('Enter');
    await owner.page.waitForURL(`${suite.http}/`);
    expect((await localNames(owner.page)).filter((one) => one?.startsWith(name))).toEqual([]);

    await friend.page.getByText('An owner deleted this board for good').waitFor();
    await openDialog(friend.page);
    const [download] = await Promise.all([
      friend.page.waitForEvent('download'),
      friend.page.locator('lb-in-out #file').click(),
    ]);
    expect(download.suggestedFilename()).toBe('Lopsided.json');
    await friend.page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    await friend.page.getByRole('link', { name: 'All boards' }).first().click();
    await friend.page.waitForURL(`${suite.http}/`);
    await expect
      .poll(async () => (await localNames(friend.page)).filter((one) => one?.startsWith(name)))
      .toEqual([]);
    await friend.page.goto(address);
    await friend.page.getByText('There is no such board').waitFor();
  });

  it('[A43] who was away finds the copy of this browser, saves it and forgets it', async () => {
    const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(owner.page);
    const address = owner.page.url();
    const id = address.split('/').at(-1)!;
    await owner.page.goto(`${suite.http}/help`);
    const status = await owner.page.evaluate(
      async (board) => (await fetch(`/api/boards/${board}`, { method: 'DELETE' })).status,
      id,
    );
    expect(status).toBe(200);
    await owner.page.goto(address);
    await owner.page.getByText('This browser still holds its own copy of “Lopsided”.').waitFor();
    expect(await axeFindings(owner.page)).toEqual([]);
    const [download] = await Promise.all([
      owner.page.waitForEvent('download'),
      owner.page.getByRole('button', { name: 'Save the copy as a file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('Lopsided.json');
    const file = JSON.parse(await textOf(download)) as typeof LOPSIDED;
    expect(file.rows).toEqual(LOPSIDED.rows);
    await owner.page.getByRole('button', { name: 'Forget the copy' }).click();
    await expect.poll(() => localNames(owner.page)).not.toContain(`larkboard-${id}`);
    await owner.page.reload();
    await owner.page.getByText('There is no such board').waitFor();
    expect(await owner.page.getByText('its own copy').count()).toBe(0);
  });
});
