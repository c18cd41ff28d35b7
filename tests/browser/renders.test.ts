/**
 * How often elements are rendered: the pointer renders no panel, an edit the open one once, and where people are nothing. What is told to
 * elements that come, go and come back.
 */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LbBoard } from '../../web/board/lb-board.ts';
import type { BoardSession } from '../../web/sync/index.ts';
import { newBoard, pointOf } from '../support/board-page.ts';
import { focusKnots, rowsOf, untilDrawn, untilSaved, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { beginCount, rendersOf, untilSteady } from '../support/count-renders.ts';
import { guestOf } from '../support/guest.ts';
import { demoFile, litOf, makeBoardOf, openTab } from '../support/own-board.ts';

const suite = browserSuite('renders');

/** Each panel by its tab, with its own elements that speak of the knots; those that do not are the last. */
const PANELS: Readonly<Record<string, { readonly is: string; readonly speaks: readonly string[] }>> = {
  Mounting: { is: 'lb-mounting-panel', speaks: ['lb-mounting-panel', 'lb-mount-steps', 'lb-ways-out'] },
  Colours: { is: 'lb-palette-panel', speaks: ['lb-palette-panel', 'lb-colour-check'] },
  Symmetry: { is: 'lb-symmetry-panel', speaks: ['lb-symmetry-panel', 'lb-repeat-panel'] },
  Keychain: { is: 'lb-piece-panel', speaks: ['lb-piece-panel'] },
  'Bar and gauge': { is: 'lb-gauge-panel', speaks: ['lb-gauge-panel'] },
  'Cutting list': { is: 'lb-cutting-panel', speaks: ['lb-cutting-panel'] },
  'Work order': { is: 'lb-work-panel', speaks: ['lb-work-panel'] },
  Talk: { is: 'lb-talk-panel', speaks: ['lb-talk-panel'] },
  Versions: { is: 'lb-versions-panel', speaks: ['lb-versions-panel'] },
  Notes: { is: 'lb-notes-panel', speaks: ['lb-notes-panel'] },
  Proposals: { is: 'lb-proposals-panel', speaks: [] },
};

/** A maker's board with this panel open, in a browser whose workers never answer: what a search says later is not counted. */
async function openPanel(tab: string): Promise<Page> {
  return (await visitPanel(tab)).page;
}

async function visitPanel(tab: string): Promise<Visitor> {
  const visitor = await visit(suite.browser, 'about:blank', { viewport: { width: 1440, height: 1000 } });
  const { page } = visitor;
  await page.addInitScript(() => {
    class SilentWorker extends EventTarget {
      postMessage(): void {}
      terminate(): void {}
    }
    (window as { Worker: unknown }).Worker = SilentWorker;
  });
  const id = await makeBoardOf(visitor, suite.http, { file: demoFile('crosswind') });
  await page.goto(`${suite.http}/board/${id}`);
  await untilSaved(page);
  await beginCount(page);
  await openTab(page, tab);
  await page.locator(`lb-panels ${PANELS[tab]!.is}`).waitFor();
  await untilSteady(page);
  return visitor;
}

/** Renders of panels, of what is in them and of what holds them. */
async function panelRenders(page: Page): Promise<Readonly<Record<string, number>>> {
  const isOutside =
    /^lb-(?:app|board|board-page|begin|first-steps|people|band-picture|outcome|keychain|remark-box|version-view)$/;
  const all = Object.entries(await rendersOf(page));
  return Object.fromEntries(all.filter(([name]) => !isOutside.test(name)));
}

describe('renders', () => {
  it('[A60] a hundred moves over the board render no panel, and an edit the open one once, whichever panel it is', async () => {
    const page = await openPanel('Mounting');
    const knots = await Promise.all(
      Array.from({ length: 10 }, (_, i) => pointOf(page, 2 * i, i % 2 === 0 ? 1 : 4)),
    );
    await page.locator('lb-board').evaluate((board) => {
      board.addEventListener('lb-point', () => {
        board.dataset.points = String(Number(board.dataset.points ?? 0) + 1);
      });
    });
    for (const [tab, { is, speaks }] of Object.entries(PANELS)) {
      await openTab(page, tab);
      await page.locator(`lb-panels ${is}`).waitFor();
      await page.mouse.move(knots[0]!.x, knots[0]!.y);
      await untilSteady(page);
      await page.locator('lb-board').evaluate((board) => {
        board.dataset.points = '0';
      });
      await beginCount(page);
      for (let move = 1; move <= 100; move++) {
        const { x, y } = knots[move % knots.length]!;
        await page.mouse.move(x, y);
      }
      await untilSteady(page);
      expect(Number(await page.locator('lb-board').getAttribute('data-points')), tab).toBe(100);
      expect(await panelRenders(page), tab).toEqual({});

      await focusKnots(page);
      await page.keyboard.press('ArrowDown');
      await untilSteady(page);
      const before = await rowsOf(page);
      await beginCount(page);
      await page.keyboard.press('Delete');
      await expect.poll(() => rowsOf(page), { message: tab }).not.toEqual(before);
      await untilSaved(page);
      // Panels are told after the picture, once the browser rests.
      await expect
        .poll(async () => Object.keys(await rendersOf(page)), { message: tab })
        .toEqual(expect.arrayContaining([...speaks]));
      await untilSteady(page);
      expect(await panelRenders(page), tab).toEqual(
        Object.fromEntries(speaks.map((element) => [element, 1])),
      );
    }
  });

  it('[A61] a hundred moves over the entries of a panel light the board and render nothing', async () => {
    const page = await openPanel('Mounting');
    const entries = page.locator('lb-mounting-panel ol li');
    const count = await entries.count();
    expect(count).toBeGreaterThan(3);
    await beginCount(page);
    const lit = new Set<string>();
    for (let move = 0; move < 100; move++) {
      await entries.nth(move % count).hover();
      lit.add(JSON.stringify(await litOf(page)));
    }
    await untilSteady(page);
    expect(lit.size).toBe(count);
    expect(await rendersOf(page)).toEqual({});
  });
});

interface There {
  readonly cursor: unknown;
  readonly view: unknown;
  readonly name: string;
}

/** Where somebody is, as a page of the board or of its set knows it: this person, or the other one. */
function whereIs(page: Page, who: 'self' | 'other'): Promise<There | undefined> {
  return page.evaluate((isSelf) => {
    const root = document.querySelector('lb-app')?.shadowRoot;
    const shown = root?.querySelector('lb-board-page, lb-set-page') as
      | { session: BoardSession }
      | null
      | undefined;
    const people = shown?.session.people.value ?? [];
    // The same person may be at the board in two tabs.
    const own = people.find(({ self }) => self)?.presence;
    const other = people.find(({ presence }) => presence.person.id !== own?.person.id)?.presence;
    const one = isSelf ? own : other;
    return one && { cursor: one.cursor, view: one.view, name: one.person.name };
  }, who === 'self');
}

/** Another person at the same board, who may edit too. */
async function comeTo(maker: Visitor): Promise<Visitor> {
  const guest = await guestOf(suite.browser, suite.http, maker, 'co-maker', 'Fitzgerald');
  await untilSaved(guest.page);
  return guest;
}

/** Waits until a page knows of the other one what that one's own page says. */
async function untilKnown(page: Page, other: Page): Promise<void> {
  await expect.poll(async () => whereIs(page, 'other')).toEqual(await whereIs(other, 'self'));
}

/** Does something, and waits until the own page has told where this person is by then. */
async function andTell(
  page: Page,
  what: 'cursor' | 'view' | 'name',
  act: () => Promise<unknown>,
): Promise<void> {
  const before = (await whereIs(page, 'self'))?.[what];
  await act();
  await expect.poll(async () => (await whereIs(page, 'self'))?.[what]).not.toEqual(before);
}

describe('people at the board', () => {
  it('[A62] where they are renders nothing; what they see, and who they are, not the page', async () => {
    const maker = await visitPanel('Mounting');
    const friend = await comeTo(maker);
    const set = await maker.context.newPage();
    await set.goto(`${maker.page.url()}/set`);
    await set.locator('lb-set-page .keychain').first().waitFor();
    await beginCount(set);
    await focusKnots(friend.page);
    const { page } = maker;
    const watched = [page, set];
    const untilCalm = async (): Promise<void> => {
      for (const one of watched) {
        await untilKnown(one, friend.page);
        await untilSteady(one);
      }
    };
    await andTell(friend.page, 'cursor', () => friend.page.keyboard.press('ArrowDown'));
    await untilCalm();
    for (const one of watched) await beginCount(one);

    for (const key of ['ArrowDown', 'ArrowRight', 'ArrowDown', 'ArrowUp']) {
      await andTell(friend.page, 'cursor', () => friend.page.keyboard.press(key));
      await untilCalm();
    }
    for (const [row, k] of [
      [0, 1],
      [2, 2],
      [4, 3],
    ] as const) {
      const { x, y } = await pointOf(page, row, k);
      await andTell(page, 'cursor', () => page.mouse.move(x, y));
    }
    await untilCalm();
    for (const one of watched) expect(await rendersOf(one)).toEqual({});

    await andTell(friend.page, 'view', () =>
      friend.page.locator('lb-board').evaluate((board) => (board as LbBoard).zoomBy(3)),
    );
    await untilCalm();
    expect(Object.keys(await rendersOf(page))).toEqual(['lb-people']);
    expect(Object.keys(await rendersOf(set))).toEqual(['lb-people']);

    await beginCount(page);
    await friend.page.locator('lb-people summary').click();
    await andTell(friend.page, 'name', async () => {
      await friend.page.getByLabel('Your name').fill('Ottoline');
      await friend.page.keyboard.press('Enter');
    });
    await untilCalm();
    expect(Object.keys(await rendersOf(page))).toEqual(['lb-people']);
    expect(Object.keys(await rendersOf(set))).toContain('lb-set-page');
  });

  it('[A62] an edit of another renders the page once, wherever they go on to', async () => {
    const maker = await visitPanel('Mounting');
    const friend = await comeTo(maker);
    const { page } = maker;
    await focusKnots(friend.page);
    await andTell(friend.page, 'cursor', () => friend.page.keyboard.press('ArrowDown'));
    await untilKnown(page, friend.page);
    await untilSteady(page);
    const before = await rowsOf(page);
    await beginCount(page);
    await friend.page.keyboard.press('Delete');
    await expect.poll(() => rowsOf(page)).not.toEqual(before);
    await untilSaved(friend.page);
    for (const key of ['ArrowDown', 'ArrowDown']) {
      await andTell(friend.page, 'cursor', () => friend.page.keyboard.press(key));
      await untilKnown(page, friend.page);
    }
    await expect.poll(async () => Object.keys(await rendersOf(page))).toContain('lb-mounting-panel');
    await untilSteady(page);
    expect(await rendersOf(page)).toMatchObject({ 'lb-board-page': 1, 'lb-mounting-panel': 1 });
    expect(await rendersOf(page)).not.toHaveProperty('lb-people');
  });
});

/** Goes to another board as a link on the page does. */
function goToBoard(page: Page, id: string): Promise<void> {
  return page.evaluate((board) => {
    history.pushState(null, '', `/board/${board}`);
    dispatchEvent(new PopStateEvent('popstate'));
  }, id);
}

describe('elements that come and go', () => {
  it('[A63] mounting that is being played leaves nothing lit when it goes', async () => {
    const page = await openPanel('Mounting');
    await page.locator('lb-mount-steps .play').click();
    await page.mouse.move(0, 0);
    await expect.poll(() => litOf(page)).not.toBeNull();
    await page.locator('lb-mount-steps').evaluate((steps) => steps.remove());
    expect(await litOf(page)).toBeNull();
  });

  it('[A63] a board that leaves the page opens nothing there, and comes back whole', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 12);
    const { page } = maker;
    const left = await page.locator('lb-board').evaluate(async (element) => {
      const board = element as LbBoard;
      board.showBeside(true, 'paths');
      await board.updateComplete;
      const second = board.shadowRoot!.querySelector('lb-second-look') as LbBoard | null;
      await customElements.whenDefined('lb-second-look');
      await second?.updateComplete;
      const followers = (): number | undefined => board.canvas?.followers.size;
      const shown = followers();
      const [home, next] = [second!.parentNode!, second!.nextSibling];
      second!.requestUpdate();
      second!.remove();
      await second!.updateComplete;
      const without = followers();
      home.insertBefore(second!, next);
      await second!.updateComplete;
      const back = followers();
      const [page, after] = [board.parentNode!, board.nextSibling];
      board.requestUpdate();
      board.remove();
      await board.updateComplete;
      const isClosed = board.canvas === null;
      page.insertBefore(board, after);
      await board.updateComplete;
      return { shown, without, back, isClosed, isOpen: board.canvas !== null };
    });
    expect(left).toEqual({ shown: 1, without: 0, back: 1, isClosed: true, isOpen: true });
    const before = await rowsOf(page);
    await focusKnots(page);
    await page.keyboard.press('2');
    await expect.poll(() => rowsOf(page)).not.toEqual(before);
    expect(maker.complaints).toEqual([]);
  });

  it('[A63] a page that is moved in its document opens its board anew', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 12);
    const { page } = maker;
    const rows = await rowsOf(page);
    await page.evaluate(() => document.body.append(document.querySelector('lb-app')!));
    await page.locator('lb-mounting-panel').waitFor();
    await untilSaved(page);
    expect(await rowsOf(page)).toEqual(rows);
    await focusKnots(page);
    await page.keyboard.press('2');
    await expect.poll(() => rowsOf(page)).not.toEqual(rows);
    await untilSaved(page);
    expect(maker.complaints).toEqual([]);
  });

  it('[A63] of two pages in a document each has its own panels, light and colour', async () => {
    const maker = await newBoard(suite.browser, suite.http, 8, 12);
    const { page } = maker;
    const other = await makeBoardOf(maker, suite.http, { strings: 10, rows: 4 });
    await page.evaluate((id) => {
      const second = Object.assign(document.createElement('lb-board-page'), { boardId: id });
      document.body.append(second);
    }, other);
    const [first, second] = [page.locator('lb-app'), page.locator('body > lb-board-page')];
    await second.locator('lb-mounting-panel ol li').first().waitFor();
    await second.getByRole('tab', { name: 'Colours', exact: true }).click();
    await second.locator('lb-palette-panel .row').first().hover();
    await second.locator('lb-palette-panel .choose').nth(1).click();
    const litIn = (of: typeof first): Promise<unknown> =>
      of.locator('lb-board').evaluate((board) => (board as LbBoard).lit.value);
    expect(await litIn(second)).not.toBeNull();
    expect(await litIn(first)).toBeNull();
    const colourIn = (of: typeof first): Promise<unknown> =>
      of.locator('lb-board').evaluate((board) => (board as LbBoard).editor.colour);
    expect(await colourIn(second)).not.toBeNull();
    expect(await colourIn(first)).toBeNull();
    expect(await first.locator('[role=tab][aria-selected=true]').getAttribute('id')).toBe('tab-mounting');
    await first.locator('lb-mounting-panel ol li').first().hover();
    expect(await litIn(first)).not.toBeNull();
    expect(await second.locator('lb-palette-panel .row').count()).toBeGreaterThan(0);
    expect(maker.complaints).toEqual([]);
  });

  it('[A63] another board takes nothing over of the one before, nor is it told before it is there', async () => {
    const maker = await visit(suite.browser, 'about:blank', { viewport: { width: 1440, height: 1000 } });
    const { page } = maker;
    // The panels are told when the browser rests, which is when the test says so.
    await page.addInitScript(() => {
      const held: (() => void)[] = [];
      const rest = window.requestIdleCallback.bind(window);
      Object.assign(window, {
        held,
        isHeld: false,
        requestIdleCallback: (run: () => void) => {
          if (!(window as unknown as { isHeld: boolean }).isHeld) return rest(run);
          held.push(run);
          return 0;
        },
      });
    });
    const [first, second] = [
      await makeBoardOf(maker, suite.http, { file: demoFile('crosswind') }),
      await makeBoardOf(maker, suite.http, { file: demoFile('crosswind') }),
    ];
    // The second board is there once its line is let through.
    let letThrough = (): void => {};
    const isLet = new Promise<void>((resolve) => {
      letThrough = resolve;
    });
    await page.routeWebSocket(new RegExp(second), (socket) => {
      const kept: (string | Buffer)[] = [];
      socket.onMessage((message) => kept.push(message));
      void isLet.then(() => {
        const server = socket.connectToServer();
        socket.onMessage((message) => server.send(message));
        for (const message of kept) server.send(message);
      });
    });
    await page.goto(`${suite.http}/board/${first}`);
    await page.locator('lb-mounting-panel ol li').first().waitFor();
    await focusKnots(page);
    await page.keyboard.press('ArrowDown');
    await page.locator('lb-mounting-panel .pointed').first().waitFor();

    await page.evaluate(() => Object.assign(window, { isHeld: true }));
    await page.keyboard.press('Delete');
    await page.waitForFunction(() => (window as unknown as { held: unknown[] }).held.length > 0);
    await goToBoard(page, second);
    await page.waitForFunction((id) => {
      const shown = document.querySelector('lb-app')?.shadowRoot?.querySelector('lb-board-page') as
        | { session: BoardSession | null }
        | null
        | undefined;
      return shown?.session?.boardId === id;
    }, second);
    await page.evaluate(() => {
      for (const run of (window as unknown as { held: (() => void)[] }).held.splice(0)) run();
    });
    letThrough();
    await page.locator('lb-mounting-panel').waitFor();
    await untilDrawn(page);
    expect(await page.locator('lb-mounting-panel ol li').count()).toBeGreaterThan(3);
    expect(await page.locator('lb-mounting-panel .pointed').count()).toBe(0);
    expect(maker.complaints).toEqual([]);
  });
});
