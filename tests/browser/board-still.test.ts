/** The board stays still under the pointer: box and offset of the canvas, measured through commands, notices and what others do. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import { choose, newBoard, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilDrawn, untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { untilCommands } from '../support/own-board.ts';
import { guestOf } from '../support/guest.ts';
import { switchLines } from '../support/line-switch.ts';

const suite = browserSuite('board-still');
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** Box of the canvas in the window, and the view on it. */
type Still = readonly (readonly [string, number])[];

async function stillOf(page: Page): Promise<Still> {
  await untilDrawn(page);
  return page.locator('lb-board').evaluate((element) => {
    const { canvas, stage } = element as LbBoard;
    const { x, y, width, height } = stage.getBoundingClientRect();
    const { view } = canvas!;
    const page = { scrollX, scrollY };
    return Object.entries({
      x,
      y,
      width,
      height,
      unit: view.unit,
      row: view.row,
      left: view.x,
      top: view.y,
      ...page,
    });
  });
}

/** A hand on the board: where a knot is that it holds, whoever moves it. */
async function holdOf(page: Page, row: number, k: number): Promise<() => Promise<{ x: number; y: number }>> {
  const hold = await page.locator('lb-board').evaluateHandle(
    (element, cell) => {
      const { session } = element as LbBoard;
      const address = session.design.addressOf(cell.row, cell.k)!;
      return () => (element as LbBoard).clientPointOf(session.design.placeOf(address)!)!;
    },
    { row, k },
  );
  return async () => {
    await untilDrawn(page);
    return hold.evaluate((point) => point());
  };
}

type Edit = 'above' | 'left' | 'below' | 'right' | 'delete' | 'colours' | 'gauge' | 'palette';

/** What another maker does at their own board. */
async function edit({ page }: Visitor, what: Edit): Promise<void> {
  await untilCommands(page);
  await page.locator('lb-board').evaluate((element, kind) => {
    const { editor, session } = element as LbBoard;
    const { design } = session;
    editor.moveTo({ on: 'knot', row: 0, k: 0 });
    const { colours } = editor.model.board.pattern;
    if (kind === 'above') editor.insertRows('above');
    else if (kind === 'left') editor.insertStrings('left');
    else if (kind === 'delete') editor.deleteRows();
    else if (kind === 'below' || kind === 'right') {
      editor.moveTo({ on: 'knot', row: editor.model.rows - 1, k: (editor.model.strings >> 1) - 1 });
      if (kind === 'below') editor.insertRows('below');
      else editor.insertStrings('right');
    } else if (kind === 'colours')
      design.run({
        kind: 'recolour-strings',
        strings: [0, 5, 9],
        colour: colours.find((id) => id !== colours[0]) ?? colours[0]!,
      });
    else if (kind === 'gauge') design.run({ kind: 'set-gauge', patch: { cordMm: 1.4 } });
    else design.run({ kind: 'add-colour', name: 'A rather long name for a colour', hex: '#7d3f8c' });
  }, what);
  await untilSaved(page);
}

const EDITS: readonly Edit[] = ['above', 'left', 'below', 'right', 'colours', 'gauge', 'palette', 'delete'];

/** Waits until the page shows what another page holds. */
async function untilAlike(page: Page, other: Page): Promise<void> {
  const seen = (one: Page) =>
    one.locator('lb-board').evaluate((element) => {
      const { pattern, palette, gauge } = (element as LbBoard).editor.model.board;
      return JSON.stringify([pattern.colours, pattern.rows, pattern.start, palette, gauge]);
    });
  const there = await seen(other);
  await expect.poll(() => seen(page)).toBe(there);
}

describe('commands', () => {
  it('[B240] four pegs are coloured by four clicks, and no knot is tied: whatever the arcs do', async () => {
    for (const options of [{}, PHONE]) {
      const { page, context } = await newBoard(suite.browser, suite.http, 14, 30, options);
      const before = await stillOf(page);
      await page.locator('lb-board .swatch-button').nth(1).click();
      const pegs = await page.locator('lb-board').evaluate((element) => {
        const board = element as LbBoard;
        const { left, top } = board.stage.getBoundingClientRect();
        const { x, y, unit } = board.canvas!.view;
        return [0, 1, 2, 3].map((place) => ({ x: left + x + place * unit, y: top + y - 24 }));
      });
      for (const { x, y } of pegs) await page.mouse.click(x, y);
      const colours = () =>
        page
          .locator('lb-board')
          .evaluate((element) => (element as LbBoard).editor.model.board.pattern.colours.slice(0, 4));
      await expect.poll(async () => new Set(await colours()).size).toBe(1);
      expect((await rowsOf(page)).join('')).not.toMatch(/[fb]/);
      expect(await stillOf(page)).toEqual(before);
      await context.close();
    }
  });

  it.each([
    ['mouse', {}],
    ['touch', PHONE],
    ['keyboard', {}],
  ] as const)(
    '[B240] [B241] through every command the knot in hand stays where it is, to the pixel: %s',
    async (hand, options) => {
      const { page, complaints } = await newBoard(suite.browser, suite.http, 14, 30, options);
      const at = await pointOf(page, 5, 2);
      if (hand === 'mouse') await page.mouse.move(at.x, at.y);
      else if (hand === 'touch') await page.touchscreen.tap(at.x, at.y);
      await page.locator('lb-board').evaluate((element) => {
        const { editor, focusCell } = element as LbBoard;
        focusCell.call(element);
        editor.moveTo({ on: 'knot', row: 5, k: 2 });
      });
      const before = await stillOf(page);
      await page.locator('lb-board').evaluate((element) => (element as LbBoard).openCommands());
      await page.locator('lb-command-list [role=option]').first().waitFor();
      const ids = await page
        .locator('lb-command-list [role=option]')
        .evaluateAll((options) =>
          options
            .map(({ id }) => id)
            .filter(
              (id) =>
                !/look|beside|zoom|fit|true-shape|talk|remark|say|menu|commands|shortcuts|panel|in-out|print|card|share|-set|language|unit|textures|home|help/.test(
                  id,
                ),
            ),
        );
      await page.keyboard.press('Escape');
      expect(ids.length).toBeGreaterThan(40);
      // The list has what cannot be done yet at its end; rows and strings come and go last, so that undo brings none back.
      const isShape = (name: string): boolean => /rows|strings/.test(name);
      const inOrder = [...ids.filter((name) => !isShape(name)), ...ids.filter(isShape)];
      const moved = await page.locator('lb-board').evaluate(async (element, names) => {
        const board = element as LbBoard;
        const { design } = board.session;
        const frame = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
        const wrong: unknown[] = [];
        for (const name of names) {
          // In its own spot each, so that the block in hand is the same one.
          board.editor.clearSelection();
          board.editor.moveTo({ on: 'knot', row: 5, k: 2 });
          if (/selection|repeat|move-/.test(name)) board.editor.selectAlong('row');
          // What is deleted is gone: then what is left of it or above it stays.
          const [row, k] =
            name === 'command-delete-rows' ? [3, 2] : [5, name === 'command-delete-strings' ? 1 : 2];
          const address = design.addressOf(row!, k!)!;
          const point = () => board.clientPointOf(design.placeOf(address)!)!;
          const was = point();
          const box = JSON.stringify(board.stage.getBoundingClientRect());
          board.openCommands();
          const find = () =>
            document.querySelector('lb-app')!.shadowRoot!.querySelector('lb-command-list') as LbBoard | null;
          let list = find();
          for (; list === null; list = find()) await frame();
          await list.updateComplete;
          list.shadowRoot!.querySelector<HTMLElement>(`#${name}`)!.click();
          await frame();
          const is = point();
          if (is.x !== was.x || is.y !== was.y || JSON.stringify(board.stage.getBoundingClientRect()) !== box)
            wrong.push([name, was, is]);
          if (name.endsWith('mirror') || name.endsWith('mirror-row'))
            board.editor.setMirror({ upright: null, level: null });
        }
        return wrong;
      }, inOrder);
      expect(moved).toEqual([]);
      const after = new Map(await stillOf(page));
      for (const [name, value] of before)
        if (name !== 'left' && name !== 'top') expect([name, after.get(name)]).toEqual([name, value]);
      expect(complaints).toEqual([]);
    },
  );
});

describe('others', () => {
  it.each([
    ['the pointer is on', {}],
    ['the finger tapped last', PHONE],
    ['the keyboard is on', {}],
  ] as const)(
    '[B241] the knot that %s stays where it is through their edits, and the box of the board too',
    async (hand, options) => {
      const maker = await newBoard(suite.browser, suite.http, 14, 30, options);
      const other = await guestOf(suite.browser, suite.http, maker, 'co-maker', 'Reed');
      const { page } = maker;
      // What an empty board offers lies over its lower rows.
      await page.locator('lb-begin .close').click();
      const { x, y } = await pointOf(page, 9, 4);
      if (hand === 'the pointer is on') await page.mouse.move(x, y);
      else if (hand === 'the finger tapped last') await page.touchscreen.tap(x, y);
      else {
        await focusKnots(page);
        await page
          .locator('lb-board')
          .evaluate((element) => (element as LbBoard).editor.moveTo({ on: 'knot', row: 9, k: 4 }));
      }
      const held = await holdOf(page, 9, 4);
      const before = await held();
      const box = (still: Still) => still.filter(([name]) => name !== 'left' && name !== 'top');
      const still = await stillOf(page);
      for (const what of EDITS) {
        await edit(other, what);
        await untilAlike(page, other.page);
        expect([what, await held()]).toEqual([what, before]);
        expect(box(await stillOf(page))).toEqual(box(still));
      }
    },
  );
});

describe('what is said', () => {
  it('[W1060] a demo board becomes one’s own, and nothing moves for what is said of it', async () => {
    for (const options of [{}, PHONE]) {
      const { page, context } = await visit(
        suite.browser,
        `${suite.http}/board/demo-kites-on-a-line`,
        options,
      );
      await page.locator('lb-board canvas.pattern').waitFor();
      await page.locator('lb-panels').waitFor({ state: 'attached' });
      const before = await stillOf(page);
      await focusKnots(page);
      await page.keyboard.press('2');
      await untilSaved(page);
      await page.locator('.notice button').first().waitFor();
      expect(await stillOf(page)).toEqual(before);
      await page.locator('.notice button').first().click();
      expect(await stillOf(page)).toEqual(before);
      await context.close();
    }
  });

  it('[W1060] through a refusal, a hint, more colours, a long title and newcomers the board stays where it is', async () => {
    for (const options of [{}, PHONE]) {
      const owner = await newBoard(suite.browser, suite.http, 14, 30, options);
      const { page } = owner;
      await page.locator('lb-panels').waitFor({ state: 'attached' });
      await untilCommands(page);
      const before = await stillOf(page);
      const say = page.locator('lb-board-page .notice', { has: page.getByRole('button') });
      // A refusal, in a sentence.
      await page.locator('lb-board').evaluate((element) => {
        (element as LbBoard).editor.run({ kind: 'set-title', title: 'x'.repeat(100_000) });
      });
      await say.first().waitFor();
      expect(await stillOf(page)).toEqual(before);
      // A toast, the choice of places, another colour, a longer title.
      await choose(page, 'swap');
      await page.locator('lb-board').evaluate((element) => {
        const { editor } = element as LbBoard;
        editor.chooseShowing();
        for (let i = 0; i < 20; i++)
          editor.run({ kind: 'add-colour', name: 'Another colour', hex: '#7d3f8c' });
        editor.run({
          kind: 'set-title',
          title: 'A title that is longer than any header has room for, on any screen at all',
        });
      });
      expect(await stillOf(page)).toEqual(before);
      // People come, one of them to propose.
      const learner = await guestOf(suite.browser, suite.http, owner, 'learner', 'Sedge', options);
      const theirs = await stillOf(learner.page);
      await learner.page.locator('lb-proposal-bar button').first().waitFor();
      expect(await stillOf(learner.page)).toEqual(theirs);
      await page.locator('lb-people').getByText('S', { exact: true }).first().waitFor();
      expect(await stillOf(page)).toEqual(before);
      await owner.context.close();
      await learner.context.close();
    }
  });

  it('[W1060] the line breaks and comes back, and nothing moves', async () => {
    const { page } = await visit(suite.browser, 'about:blank');
    const line = await switchLines(page);
    const made = await page
      .context()
      .request.post(`${suite.http}/api/boards`, { data: { strings: 14, rows: 30 } });
    await page.goto(`${suite.http}/board/${((await made.json()) as { id: string }).id}`);
    await page.locator('lb-board canvas.pattern').waitFor();
    await untilSaved(page);
    await page.locator('lb-panels').waitFor({ state: 'attached' });
    const before = await stillOf(page);
    await line.cut();
    await page.locator('lb-strip p').waitFor();
    expect(await stillOf(page)).toEqual(before);
    line.mend();
    await untilSaved(page);
    expect(await stillOf(page)).toEqual(before);
  });
});

describe('where it opens', () => {
  it('[B244] a board opens where it was left, and its picture of before stands there too', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 14, 60);
    const { x, y } = await pointOf(page, 2, 2);
    await page.mouse.move(x, y);
    await page.mouse.wheel(0, 700);
    await choose(page, 'zoom-in');
    const before = await stillOf(page);
    await page.reload();
    await page.locator('lb-board canvas.pattern').waitFor();
    expect(await stillOf(page)).toEqual(before);
  });

  it('[B242] beside another look the whole width is in sight, and the arcs are a strip', async () => {
    const { page } = await newBoard(suite.browser, suite.http, 14, 30, {
      viewport: { width: 1280, height: 800 },
    });
    const alone = await stillOf(page);
    await choose(page, 'beside');
    await page.locator('lb-finished canvas').waitFor();
    const { width, left, unit, top } = Object.fromEntries(await stillOf(page)) as Record<string, number>;
    expect(left! - unit! / 2).toBeGreaterThanOrEqual(0);
    expect(left! + 13.5 * unit!).toBeLessThanOrEqual(width!);
    expect(top).toBeLessThanOrEqual(70);
    await choose(page, 'beside');
    expect(await stillOf(page)).toEqual(alone);
  });
});
