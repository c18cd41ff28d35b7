/** Ways out and repairs: what they make of the board, before they are done. */
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { boardOf, demoFile, LOPSIDED, openOwnBoard, openTab, runOn } from '../support/own-board.ts';

const suite = browserSuite('outcome');

describe('before it is done', () => {
  it('[B389] [B390] a way out shows the piece before and after, says how it mounts then, and that is so', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, demoFile('crosswind'));
    await untilSaved(page);
    const way = page.locator('lb-ways-out [data-way=recolour]').first();
    await way.scrollIntoViewIfNeeded();
    await way.locator('lb-outcome p').getByText('then with a neat back').waitFor();
    const said = await way.locator('lb-outcome p').textContent();
    const count = Number(/recolours (\d+) string/.exec(said!)![1]);
    expect(await way.locator('lb-outcome lb-keychain canvas').count()).toBe(2);
    const before = (await boardOf(page)).pattern.colours;
    const start = page.locator('lb-ways-out [data-way=start]');
    await start.getByText('Begin the same band elsewhere').waitFor();
    await runOn(page, { kind: 'set-piece', patch: { repeats: 1 } });
    await start.getByText('6 rows are then at the foot: the same band only where it is repeated.').waitFor();
    await start.getByText('Begin with row 7').waitFor();
    await way.getByRole('button', { name: 'Do this' }).click();
    await page.getByText('Mounts with a neat back', { exact: false }).first().waitFor();
    const after = (await boardOf(page)).pattern.colours;
    expect(after.filter((colour, place) => colour !== before[place])).toHaveLength(count);
    expect(complaints).toEqual([]);
  });

  it('[B389] a repair says what it changes and how it mounts then, at 390 px', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED, {
      viewport: { width: 390, height: 844 },
    });
    await untilSaved(page);
    await openTab(page, 'Symmetry');
    const left = page.getByRole('group', { name: 'Mirror the left half onto the right' });
    await left.scrollIntoViewIfNeeded();
    await left.getByText(/recolours 1 string, .*; then with a neat back/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    const { pattern } = await boardOf(page);
    await page.getByRole('button', { name: 'Mirror the left half onto the right' }).click();
    await expect
      .poll(
        async () =>
          (await boardOf(page)).pattern.colours.filter((one, i) => one !== pattern.colours[i]).length,
      )
      .toBe(1);
  });
});
