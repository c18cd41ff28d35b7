/** The arc diagram step by step, the palette's editor, and the rail of panels in forced colours. */
import { describe, expect, it } from 'vitest';
import { planBoard } from '../../engine/index.ts';
import { axeFindings } from '../support/axe.ts';
import { focusKnots, untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import {
  boardOf,
  demoFile,
  LOPSIDED,
  litOf,
  openOwnBoard,
  openTab,
  readBoard,
} from '../support/own-board.ts';

const suite = browserSuite('editors');

describe('panels', () => {
  it('[A58] the arcs go on the bar one by one in mounting order, each lit, and crossings are marked once both are on', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, demoFile('crosswind'));
    const plan = planBoard(readBoard(demoFile('crosswind')));
    const steps = page.locator('lb-mount-steps');
    const turns = (): Promise<string[]> => steps.locator('.arc text').allTextContents();
    await steps.locator('.arc').first().waitFor();
    expect(plan.crossings.length).toBeGreaterThan(0);
    expect(await steps.locator('.fault').count()).toBe(plan.crossings.length);
    for (let shown = plan.folds.length; shown > 0; shown--) await steps.locator('.back').click();
    await steps.getByText('The bar is empty', { exact: false }).waitFor();
    expect(await turns()).toEqual([]);
    for (let shown = 1; shown <= plan.folds.length; shown++) {
      await steps.locator('.on').click();
      await expect.poll(turns).toEqual(Array.from({ length: shown }, (_, i) => String(i + 1)));
      const { left, right } = plan.folds.find(({ turn }) => turn === shown)!;
      expect(await litOf(page)).toMatchObject({ strings: [left, right] });
      const marked = plan.crossings.filter((pair) => pair.every((fold) => plan.folds[fold]!.turn <= shown));
      expect(await steps.locator('.fault').count()).toBe(marked.length);
    }
    // By itself too, from the empty bar to the full one.
    await steps.locator('.play').click();
    await steps.getByText(`1 of ${plan.folds.length}`, { exact: false }).waitFor();
    await steps.getByRole('button', { name: 'Play' }).waitFor();
    expect((await turns()).length).toBe(plan.folds.length);
    expect(complaints).toEqual([]);
  });

  it('[A59] a colour is named, changed, added, given to a string and removed, each as one step of undo', async () => {
    const { page, complaints } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(page);
    await openTab(page, 'Colours');
    const panel = page.locator('lb-palette-panel');
    const palette = async (): Promise<readonly string[]> =>
      (await boardOf(page)).palette.map(({ name, hex }) => `${name} ${hex}`);
    const undo = (): Promise<void> => page.getByRole('button', { name: 'Undo', exact: true }).first().click();
    const before = await palette();
    const name = panel.getByLabel('Name of the colour').first();
    await name.fill('moss');
    await name.press('Enter');
    await expect.poll(palette).toEqual(['moss #1f6266', ...before.slice(1)]);
    await undo();
    await expect.poll(palette).toEqual(before);
    await panel.getByLabel('Colour of spruce').fill('#224466');
    await expect.poll(palette).toEqual(['spruce #224466', ...before.slice(1)]);
    await undo();
    await panel.getByRole('button', { name: 'Add a colour' }).click();
    await expect.poll(async () => (await palette()).length).toBe(4);
    await panel.getByRole('button', { name: 'Use new colour' }).click();
    await focusKnots(page);
    await page.keyboard.press('Control+Home');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await expect
      .poll(async () => {
        const board = await boardOf(page);
        return board.pattern.colours[0] === board.palette.at(-1)!.id;
      })
      .toBe(true);
    await panel.getByRole('button', { name: 'Remove new colour' }).click();
    await panel.getByRole('button', { name: 'Give spruce' }).click();
    await expect.poll(palette).toEqual(before);
    await undo();
    await expect.poll(async () => (await palette()).length).toBe(4);
    expect(complaints).toEqual([]);
  });

  it('[A54] in forced colours the open tab has a sign of its own, and axe finds nothing', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/board/demo-crosswind`, {
      forcedColors: 'active',
    });
    await page.locator('lb-mounting-panel h2').waitFor();
    const signs = await page.locator('lb-panels [role=tab]').evaluateAll((tabs) =>
      tabs.map((tab) => {
        const { content, borderInlineStartWidth, borderInlineStartColor } = getComputedStyle(tab, '::after');
        const isSeen = borderInlineStartColor !== getComputedStyle(tab).backgroundColor;
        return content !== 'none' && borderInlineStartWidth === '3px' && isSeen;
      }),
    );
    expect(signs).toEqual([true, ...Array(11).fill(false)]);
    expect(await axeFindings(page)).toEqual([]);
  });
});
