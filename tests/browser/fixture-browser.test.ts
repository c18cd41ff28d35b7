/** What an earlier release left in browsers: the page of today opens all of it. See tests/fixtures/store-2026-11/README.md. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readTalk } from '../../engine/document/index.ts';
import { type ChildServer, startChild } from '../server/child-server.ts';
import { temporaryFolder } from '../server/test-server.ts';
import { designWhole } from '../support/board-whole.ts';
import { launchBrowser, rowsOf, textOf, untilSaved, type Visitor } from '../support/browser.ts';
import { documentIn, visitWith } from '../support/browser-dump.ts';
import { Caller } from '../support/caller.ts';
import { openTab } from '../support/own-board.ts';
import { copyFixture, type FixtureBrowser, readDump, readExpected } from '../support/store-fixture.ts';

const expected = readExpected();
const { boards, browsers, deleted } = expected;
const folder = temporaryFolder();
let server: ChildServer;
let browser: Browser;
let orla: Caller;

beforeAll(async () => {
  await copyFixture(folder.path);
  [browser, server] = await Promise.all([launchBrowser(), startChild({ DATA_DIR: folder.path })]);
  orla = new Caller(server.http, expected.people.orla.cookie);
});
afterAll(async () => {
  await browser?.close();
  await server?.stop('SIGTERM');
  folder.remove();
});

const back = (name: FixtureBrowser): Promise<Visitor> => visitWith(browser, server.http, readDump(name));
const fileOf = async (board: string) => (await orla.read(board, 'design', designWhole)).file;

async function open(page: Page, board: string): Promise<void> {
  await page.goto(`${server.http}/board/${board}`);
  await page.locator('lb-board canvas.pattern').waitFor();
}

describe('what an earlier release left in browsers', () => {
  it('[B170] what was tied without a connection reaches the board', async () => {
    const { page, context, complaints } = await back('bridge');
    const { gangway } = boards;
    expect((await fileOf(gangway.id)).rows).toEqual(gangway.design.file.rows);
    expect(browsers.bridge.rows).not.toEqual(gangway.design.file.rows);
    await open(page, gangway.id);
    await untilSaved(page);
    expect(await rowsOf(page)).toEqual(browsers.bridge.rows);
    expect((await fileOf(gangway.id)).rows).toEqual(browsers.bridge.rows);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B170] what waited to be said is said once, in its order; a draft, the place in the work order and choices are there', async () => {
    const { page, context, complaints } = await back('bridge');
    const { harbour } = boards;
    await open(page, harbour.id);
    await untilSaved(page);
    expect(await page.locator('lb-first-steps').count()).toBe(0);
    await page.locator('lb-panels #tab-talk').click();
    expect(await page.getByRole('textbox', { name: 'What you want to say' }).inputValue()).toBe(
      browsers.bridge.draft,
    );
    expect(await page.getByLabel('Marks on the board').isChecked()).toBe(false);
    const notDone = harbour.threads.filter(({ done }) => done === null).length;
    const talk = page.locator('lb-talk-panel .thread');
    await expect.poll(() => talk.count()).toBe(notDone + browsers.bridge.outbox.length);
    await expect.poll(() => page.getByText('Not sent yet').count()).toBe(0);
    const threads = await orla.read(harbour.id, 'talk', (doc) => readTalk(doc).threads);
    const said = threads.slice(harbour.threads.length).map(({ remarks }) => remarks[0]?.text);
    expect(said).toEqual(browsers.bridge.outbox);
    await openTab(page, 'Work order');
    await expect.poll(() => page.locator('lb-work-panel .said').textContent()).toBe(browsers.bridge.step);
    await openTab(page, 'Keychain');
    const centimetres = page
      .getByRole('group', { name: 'Lengths in' })
      .getByRole('button', { pressed: true });
    expect(await centimetres.textContent()).toContain('centimetres');
    await page.goto(`${page.url()}/print`);
    expect(await page.locator('lb-paper-page select#paper').inputValue()).toBe('letter');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B170] what two people tied on two ended generations is brought over, and both see it', async () => {
    const { dock } = boards;
    expect((await fileOf(dock.id)).rows).toEqual(dock.design.file.rows);
    const mate = await back('mate');
    const purser = await back('purser');
    for (const [{ page }, name] of [
      [mate, 'mate'],
      [purser, 'purser'],
    ] as const) {
      const kept = designWhole(documentIn(readDump(name), `larkboard-${dock.id}`)).file.rows;
      expect(kept).toEqual(browsers[name].rows);
      await open(page, dock.id);
      await untilSaved(page);
    }
    for (const { page } of [mate, purser])
      await expect.poll(() => rowsOf(page)).toEqual(expected.dockThen.rows);
    await expect
      .poll(async () => {
        const { title, rows } = await fileOf(dock.id);
        return { title, rows };
      })
      .toEqual(expected.dockThen);
    for (const { context, complaints } of [mate, purser]) {
      expect(complaints.filter((text) => !text.includes('WebSocket'))).toEqual([]);
      await context.close();
    }
  });

  it('[B170] the copy of a board that was deleted is offered as a file, with what was tied in it', async () => {
    const { page, context } = await back('stoker');
    await page.goto(`${server.http}/board/${deleted.id}`);
    await page.getByText(`This browser still holds its own copy of “${deleted.title}”.`).waitFor();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the copy as a file' }).click(),
    ]);
    const { rows } = JSON.parse(await textOf(download)) as { rows: string[] };
    expect(rows).toEqual(browsers.stoker.rows);
    await context.close();
  });

  it('[B170] what was changed on a demo board and could not become one becomes a board', async () => {
    const { page, context, complaints } = await back('stoker');
    await open(page, browsers.stoker.demo);
    await page.getByRole('button', { name: 'Make a board of it' }).click();
    await page.waitForURL(/\/board\/[\w-]{22}$/);
    await untilSaved(page);
    expect(await rowsOf(page)).toEqual(browsers.stoker.demoRows);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('[B170] the page opens every board of the store and shows its rows', async () => {
    const { page, context, complaints } = await back('bridge');
    const { gangway: _, dock: __, ...others } = boards;
    for (const { id, design } of Object.values(others)) {
      await open(page, id);
      await untilSaved(page);
      expect(await rowsOf(page)).toEqual(design.file.rows);
      expect(await page.locator('.title input').inputValue()).toBe(design.file.title);
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
