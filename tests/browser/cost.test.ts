/** What a piece costs, in a real browser: threads and parts as the maker knows them, rates, and the price with every term. */
import { expect, it } from 'vitest';
import { planBoard, shoppingList } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, LOPSIDED, openOwnBoard, openTab, undo } from '../support/own-board.ts';

const suite = browserSuite('cost');

it('[Y86] [Y87] [B32] a price follows what is known of threads, parts, time and sale; each is one step of undo', async () => {
  const { page, context, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
  await openTab(page, 'Cost');
  const panel = page.locator('lb-cost-panel');
  await panel.getByText('Give a price of thread', { exact: false }).waitFor();
  const fill = async (label: string | RegExp, value: string): Promise<void> => {
    const field = panel.getByLabel(label, typeof label === 'string' ? { exact: true } : {}).first();
    await field.fill(value);
    await field.blur();
  };
  const terms = () => panel.locator('section.card dl').first().textContent();
  // A friend beside her sees the price as soon as it is stated.
  const other = await context.newPage();
  await other.goto(page.url());
  await openTab(other, 'Cost');
  await fill('Rate for an hour', '12');
  await fill('Margin (% of the price)', '25');
  const one = async () => {
    const list = shoppingList(await boardOf(page), [null], planBoard);
    if (list.price.kind !== 'priced') throw new Error(list.price.kind);
    return { list, price: list.price };
  };
  const { price } = await one();
  expect(price.margin).toBeCloseTo(price.price / 4, 9);
  for (const text of [
    price.work!.toFixed(2),
    `25 % of the price${price.margin.toFixed(2)}`,
    `Price${price.price.toFixed(2)}`,
  ])
    await expect.poll(terms).toContain(text);
  await expect
    .poll(() => other.locator('lb-cost-panel section.card dl').first().textContent())
    .toContain(price.price.toFixed(2));

  // What is no share stands with a sentence and is not kept.
  await fill('Margin (% of the price)', '120');
  await panel.getByText('Must be from 0 to 95.').waitFor();
  expect((await boardOf(page)).piece.marginShare).toBe(0.25);
  await fill('Margin (% of the price)', '25');

  const thread = panel.locator('lb-thread-lines details').first();
  await thread.locator('summary').click();
  await thread.getByLabel('Your number').fill('B5200');
  await thread.getByLabel('Have at home (mm)').fill('9000');
  await thread.getByLabel('Have at home (mm)').blur();
  await expect
    .poll(async () => (await boardOf(page)).supplies?.threads[0])
    .toMatchObject({ number: 'B5200', haveMm: 9000 });
  await panel
    .locator('lb-thread-lines .line')
    .first()
    .getByText('nothing to buy', { exact: false })
    .waitFor();
  await thread.getByLabel('Same thread as').selectOption({ index: 1 });
  await expect.poll(() => panel.locator('lb-thread-lines .line').count()).toBe(2);

  await panel.getByRole('button', { name: 'Add a part' }).click();
  const line = panel.locator('lb-part-lines [role=group]');
  await line.getByLabel('Price of one').fill('0,40');
  await line.getByLabel('Price of one').blur();
  await expect.poll(async () => (await one()).list.toPay.parts).toBeCloseTo(0.4, 9);
  await panel.getByRole('button', { name: 'Remove ring' }).click();
  await expect.poll(() => line.count()).toBe(0);
  await undo(page);
  await expect
    .poll(async () => (await boardOf(page)).supplies?.parts[0])
    .toMatchObject({ kind: 'ring', price: 0.4 });
  expect(await axeFindings(page)).toEqual([]);
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  expect(complaints).toEqual([]);
});
