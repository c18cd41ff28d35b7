/**
 * The states a page can be in beside its usual one: beginnings, refusals, dialogs, no connection. Each is shown, named by a sentence
 * that must stand there, and looked at by axe, light and dark, wide and on a phone. Panels, looks, files, paper and help have their own.
 */
import { join } from 'node:path';
import type { Page, Route } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { focusKnots, untilDrawn, type Visitor, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { isLong } from '../support/depth.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('every-state');

const WIDTHS = [390, 820, 1440, 2560];

type Options = Parameters<typeof visit>[2];

interface State {
  readonly name: string;
  readonly open: (options: Options) => Promise<Visitor>;
  /** Brings the page into the state. */
  readonly reach?: (page: Page) => Promise<void>;
  /** What the page then says. */
  readonly says: string;
}

const start = (options: Options): Promise<Visitor> => visit(suite.browser, `${suite.http}/`, options);
const own = (options: Options): Promise<Visitor> =>
  openOwnBoard(suite.browser, suite.http, LOPSIDED, options);
const at = (path: string) => (options: Options) => visit(suite.browser, suite.http + path, options);

/** A page before the server has answered, and after it has not. */
const unanswered =
  (path: string, pattern: RegExp, answer: 'never' | 'fails') =>
  async (options: Options): Promise<Visitor> => {
    const visitor = await visit(suite.browser, 'about:blank', options);
    await visitor.page.route(pattern, (route) => (answer === 'fails' ? route.abort() : undefined));
    await visitor.page.goto(suite.http + path);
    return visitor;
  };

/** Asks for a panel and a dialog, neither of which can be fetched. */
async function withoutParts(page: Page, answer: (route: Route) => Promise<void>): Promise<void> {
  await page.route(/lb-notes-panel|lb-command-list/, answer);
  await openTab(page, 'Notes');
  await page.getByRole('tabpanel').getByRole('alert').waitFor();
  await focusKnots(page);
  await page.keyboard.press('Control+k');
  await page.locator('lb-app .update').waitFor();
}

const STATES: readonly State[] = [
  {
    name: 'start page, the demo boards on their way',
    open: unanswered('/', /\/api\/demos/, 'never'),
    says: 'New board',
  },
  {
    name: 'start page without a server',
    open: unanswered('/', /\/api\//, 'fails'),
    says: 'cannot be reached',
  },
  {
    name: 'start page, a number no board can have',
    open: start,
    reach: async (page) => {
      await page.locator('input[name=strings]').fill('1');
      await page.locator('form').evaluate((form) => form.setAttribute('novalidate', ''));
      await page.locator('button[type=submit]').click();
    },
    says: 'from 2 to 200',
  },
  { name: 'no such board', open: at('/board/nowhere'), says: 'There is no such board' },
  { name: 'no such page', open: at('/nowhere/at/all'), says: 'nothing at this address' },
  { name: 'paper of no board', open: at('/board/nowhere/print'), says: 'There is no such board' },
  {
    name: 'a board on its way',
    open: unanswered('/board/demo-crosswind', /\/api\/boards\//, 'never'),
    says: 'Opening',
  },
  { name: 'a link that opens nothing', open: at(`/board/nowhere#${'A'.repeat(32)}`), says: 'opens nothing' },
  { name: 'first steps', open: own, says: 'Tie a knot' },
  {
    name: 'share',
    open: own,
    reach: async (page) => {
      // On a phone it is behind one more button.
      const more = page.getByRole('button', { name: 'More', exact: true });
      if (await more.isVisible()) await more.click();
      await page.getByRole('button', { name: 'Share' }).click();
      await page.getByRole('button', { name: 'Make a link' }).click();
    },
    says: 'Here is the link',
  },
  {
    name: 'people',
    open: own,
    reach: async (page) => {
      await page.locator('lb-people summary').click();
    },
    says: 'Nobody else is here now',
  },
  {
    name: 'no connection',
    open: own,
    reach: async (page) => {
      await page.locator('lb-board-page .saved[data-state=saved]').waitFor();
      await page.routeWebSocket(/\/sync\//, (socket) => socket.close());
      await page.reload();
      await page.locator('lb-board-page .saved[data-state=offline]').waitFor();
    },
    says: 'Offline',
  },
  {
    name: 'a panel and a dialog, no connection',
    open: own,
    reach: (page) => withoutParts(page, (route) => route.abort()),
    says: 'Try again',
  },
  {
    name: 'a panel and a dialog that a newer release has replaced',
    open: own,
    reach: (page) => withoutParts(page, (route) => route.fulfill({ status: 404 })),
    says: 'This page has a newer version',
  },
  {
    name: 'a page that a newer release has replaced',
    open: async (options) => {
      const visitor = await visit(suite.browser, 'about:blank', options);
      await visitor.page.route(/lb-help-page/, (route) => route.fulfill({ status: 404 }));
      await visitor.page.goto(`${suite.http}/help`);
      return visitor;
    },
    says: 'This page has a newer version',
  },
];

/** A desk and a phone; in the long run every width, light and dark. */
const SCREENS = isLong
  ? WIDTHS.flatMap((width) => [
      { colorScheme: 'light' as const, width },
      { colorScheme: 'dark' as const, width },
    ])
  : [
      { colorScheme: 'light' as const, width: 1440 },
      { colorScheme: 'dark' as const, width: 390 },
    ];

describe('every state', () => {
  it.each(STATES.flatMap((state) => SCREENS.map((screen) => ({ ...state, ...screen }))))(
    '[B14] $name, $colorScheme, $width px: it says so, axe finds nothing, nothing is wider than the screen',
    async ({ open, reach, says, colorScheme, width, name }) => {
      const { page, context } = await open({ colorScheme, viewport: { width, height: 844 } });
      await reach?.(page);
      await page.getByText(says, { exact: false }).filter({ visible: true }).first().waitFor();
      if (process.env.SHOTS !== undefined)
        await page.screenshot({ path: join(process.env.SHOTS, `${name}-${width}.png`) });
      expect(await axeFindings(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await context.close();
    },
  );

  // WCAG 2.2, 2.3.3: motion that an action sets off can be switched off.
  it.each(['no-preference', 'reduce'] as const)(
    '[B15] the arcs draw themselves, unless less motion is asked for: %s',
    async (reducedMotion) => {
      const { page, context } = await own({ reducedMotion });
      await page.locator('lb-mount-steps .back').click();
      await page.locator('lb-mount-steps .back').click();
      await page.locator('lb-mount-steps .on').click();
      const moving = (): Promise<number> =>
        page.evaluate(() => {
          const count = (root: Document | ShadowRoot): number => {
            let sum = root.getAnimations().length;
            for (const element of root.querySelectorAll('*'))
              if (element.shadowRoot !== null) sum += count(element.shadowRoot);
            return sum;
          };
          return count(document);
        });
      if (reducedMotion === 'reduce') expect(await moving()).toBe(0);
      else expect(await moving()).toBeGreaterThan(0);
      await context.close();
    },
  );

  it('[B16] from 390 px to 2560 px, ltr and rtl: no page is wider than the screen, and axe finds nothing on the widest', async () => {
    const board = '/board/demo-mirrored-diamonds';
    for (const path of ['/', '/help', board, `${board}/set`, `${board}/print`, `${board}/card`]) {
      const { page, context } = await visit(suite.browser, suite.http + path);
      await page.locator('h1, lb-board canvas.pattern').first().waitFor();
      for (const dir of ['ltr', 'rtl'] as const) {
        await page.evaluate((to) => {
          document.documentElement.dir = to;
        }, dir);
        for (const width of WIDTHS) {
          await page.setViewportSize({ width, height: 1000 });
          await untilDrawn(page);
          const needed = await page.evaluate(() => document.documentElement.scrollWidth);
          expect(needed, `${path} at ${width}, ${dir}`).toBeLessThanOrEqual(width);
          if (isLong) expect(await axeFindings(page), `${path} at ${width}, ${dir}`).toEqual([]);
        }
        expect(await axeFindings(page), `${path}, ${dir}`).toEqual([]);
        if (process.env.SHOTS !== undefined)
          await page.screenshot({
            path: join(process.env.SHOTS, `w${path.replaceAll('/', '_')}-${dir}.png`),
          });
      }
      await context.close();
    }
  });
});
