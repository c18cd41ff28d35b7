/** An owner, a reviewer who proposes and an onlooker, each in a browser profile of their own. */
import type { Page } from 'playwright-core';
import { beforeEach, expect, it } from 'vitest';
import type { Role } from '../../engine/document/index.ts';
import { axeFindings } from '../support/axe.ts';
import { focusKnots, rowsOf, untilSaved, type Visitor } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, openOwnBoard, openSheet, undo } from '../support/own-board.ts';

const suite = browserSuite('proposals');
let owner: Visitor;
let reviewer: Visitor;
let boardUrl: string;

beforeEach(async () => {
  owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  boardUrl = owner.page.url();
  reviewer = await guest('reviewer');
});

const guest = (role: Role): Promise<Visitor> => guestOf(suite.browser, suite.http, owner, role);

/** Its name ends with the number that waits, for an owner. */
async function openProposals(page: Page): Promise<void> {
  await openSheet(page);
  await page.getByRole('tab', { name: /^Proposals/ }).click();
}

async function propose(page: Page, title: string): Promise<void> {
  await openProposals(page);
  await page.getByLabel('What you propose').fill(title);
  await page.locator('lb-proposals-panel').getByRole('button', { name: 'Propose changes' }).click();
  await page.getByText(`You work on the proposal “${title}”`).waitFor();
  await untilSaved(page);
}

/** Ties the first knot anew, by keyboard. */
async function tieFirst(page: Page, key: string): Promise<void> {
  await focusKnots(page);
  await page.keyboard.press(key);
  await untilSaved(page);
}

const bar = (page: Page) => page.locator('lb-proposal-bar');

/** The reviewer proposes another first knot and hands it in. */
async function handIn(title: string, key: string): Promise<void> {
  await propose(reviewer.page, title);
  await tieFirst(reviewer.page, key);
  await bar(reviewer.page).getByRole('button', { name: 'Hand it in' }).click();
  await bar(reviewer.page).getByText('is handed in').waitFor();
}

it('[A30] [A31] [A32] a reviewer proposes, the owner sees what differs and takes it over, and both hear of it', async () => {
  expect(await bar(reviewer.page).textContent()).toBeDefined();
  await bar(reviewer.page).getByRole('button', { name: 'Propose changes' }).click();
  await propose(reviewer.page, 'softer edge');
  await tieFirst(reviewer.page, '2');
  expect((await rowsOf(reviewer.page))[0]).toBe('b f b');
  expect((await rowsOf(owner.page))[0]).toBe('f f b');
  expect(await axeFindings(reviewer.page)).toEqual([]);
  // Its maker sees what differs too, and goes on.
  const own = reviewer.page.locator('lb-review');
  await bar(reviewer.page).getByRole('button', { name: 'What differs' }).click();
  await own.getByText('Row 1, knot 1: forward → backward').waitFor();
  expect(await own.getByRole('button', { name: /Take|Decline/ }).count()).toBe(0);
  await own.getByRole('button', { name: 'Close' }).click();
  await bar(reviewer.page).getByRole('button', { name: 'Hand it in' }).click();
  await bar(reviewer.page).getByText('is handed in').waitFor();

  // The owner's page hears of it by itself.
  await bar(owner.page).getByText('1 proposal waits').waitFor();
  await owner.page.getByRole('tab', { name: 'Proposals 1' }).waitFor();
  await bar(owner.page).getByRole('button', { name: 'See them' }).click();
  await owner.page.getByRole('button', { name: 'See what differs in “softer edge”' }).click();
  const review = owner.page.locator('lb-review');
  await review.getByText('Row 1, knot 1: forward → backward').waitFor();
  await review.getByRole('row', { name: /Mounting/ }).waitFor();
  expect(await axeFindings(owner.page)).toEqual([]);
  await review.getByLabel('A word with your answer').fill('lovely');
  await review.getByRole('button', { name: 'Take all of it over' }).click();
  await review.getByText('Taken over.').waitFor();
  expect((await rowsOf(owner.page))[0]).toBe('b f b');

  // The proposer's page hears of it without being loaded anew.
  await bar(reviewer.page).getByText('was taken over').waitFor();
  await bar(reviewer.page).getByText('The owner says: lovely').waitFor();
  await review.getByRole('button', { name: 'Close' }).click();
  await undo(owner.page);
  expect((await rowsOf(owner.page))[0]).toBe('f f b');
  await untilSaved(owner.page);
  expect([...owner.complaints, ...reviewer.complaints]).toEqual([]);
});

it('[A33] where the board went on in the same place the owner is asked, and nothing is chosen beforehand', async () => {
  await handIn('other start', '3');
  await tieFirst(owner.page, '4');
  await owner.page.locator('lb-board-page .title input').fill('Went on');
  await owner.page.locator('lb-board-page .title input').press('Enter');
  await untilSaved(owner.page);

  await openProposals(owner.page);
  await owner.page.getByRole('button', { name: 'See what differs in “other start”' }).click();
  const review = owner.page.locator('lb-review');
  await review.getByText('Changed on the board and in the proposal').waitFor();
  const take = review.getByRole('button', { name: 'Take over what is chosen' });
  expect(await take.isDisabled()).toBe(true);
  expect(await review.getByRole('radio', { checked: true }).count()).toBe(0);
  await review.getByRole('radio', { name: /^Proposal:/ }).check();
  await review.getByRole('button', { name: 'Take all of it over' }).click();
  await review.getByText('Taken over.').waitFor();
  expect((await rowsOf(owner.page))[0]).toBe('fb f b');
  expect(await owner.page.locator('lb-board-page .title input').inputValue()).toBe('Went on');
  await review.getByRole('button', { name: 'Close' }).click();
});

it('[A34] an owner declines with a word; a proposer withdraws', async () => {
  for (const [title, end] of [
    ['too bold', 'declined'],
    ['second thoughts', 'withdrawn'],
  ] as const) {
    await reviewer.page.goto(boardUrl);
    await reviewer.page.locator('lb-board canvas.pattern').waitFor();
    await propose(reviewer.page, title);
    if (end === 'withdrawn') {
      await bar(reviewer.page).getByRole('button', { name: 'Withdraw' }).click();
      await bar(reviewer.page).getByRole('button', { name: 'Yes, withdraw' }).click();
    } else {
      await openProposals(owner.page);
      await owner.page.getByRole('button', { name: `See what differs in “${title}”` }).click();
      const review = owner.page.locator('lb-review');
      await review.getByText('Nothing is left to take over').waitFor();
      await review.getByLabel('A word with your answer').fill('next year');
      await review.getByRole('button', { name: 'Decline' }).click();
      await review.getByText('Declined.').waitFor();
      await review.getByRole('button', { name: 'Close' }).click();
    }
    await bar(reviewer.page).getByText(`was ${end}`).waitFor();
    // Nobody works there any more.
    await reviewer.page.locator('.saved[data-state=viewing]').waitFor();
  }
  await reviewer.page.getByText('The owner says').waitFor({ state: 'detached' });
});

it('[A35] an onlooker sees proposals and what differs, and makes and answers none', async () => {
  await handIn('softer edge', '2');
  const { page } = await guest('onlooker');
  await openProposals(page);
  await page.getByText('You may only look at this board.').waitFor();
  expect(await page.getByRole('button', { name: 'Propose changes' }).count()).toBe(0);
  await page.getByRole('button', { name: 'See what differs in “softer edge”' }).click();
  const review = page.locator('lb-review');
  await review.getByText('Row 1, knot 1: forward → backward').waitFor();
  expect(await review.getByRole('checkbox').count()).toBe(0);
  expect(await review.getByRole('button', { name: /Take|Decline/ }).count()).toBe(0);
  expect(await axeFindings(page)).toEqual([]);
});

it('[A36] the review fits a phone and goes by keyboard', async () => {
  await handIn('softer edge', '2');
  await owner.page.setViewportSize({ width: 390, height: 800 });
  await openProposals(owner.page);
  await owner.page.getByRole('button', { name: 'See what differs in “softer edge”' }).focus();
  await owner.page.keyboard.press('Enter');
  const review = owner.page.locator('lb-review');
  const show = review.getByRole('button', { name: /^Show in the pictures/ });
  await show.first().focus();
  await owner.page.keyboard.press('Enter');
  const wide = await owner.page.evaluate(() => document.documentElement.scrollWidth);
  expect(wide).toBeLessThanOrEqual(390);
  const box = await show.first().boundingBox();
  expect(Math.min(box!.width, box!.height)).toBeGreaterThanOrEqual(24);
  await owner.page.keyboard.press('Escape');
  await review.locator('dialog').waitFor({ state: 'hidden' });
});
