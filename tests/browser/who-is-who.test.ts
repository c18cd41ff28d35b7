/** People who come to one board by links: what they are called, who is seen, and what a broken connection says and moves. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { newBoard } from '../support/board-page.ts';
import { focusKnots, untilDrawn, untilSaved } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { openTab } from '../support/own-board.ts';

const suite = browserSuite('who-is-who');
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** Who is here as a page has them: name, colour, and whether they are heard. */
function people(page: Page): Promise<readonly (readonly [string, string, boolean])[]> {
  return page.locator('lb-board').evaluate((board) => {
    const { session } = board as unknown as {
      session: {
        people: {
          value: { presence: { person: { name: string; hex: string } }; isUnheard?: boolean }[];
        };
      };
    };
    return session.people.value.map(
      ({ presence: { person }, isUnheard }) => [person.name, person.hex, isUnheard === true] as const,
    );
  });
}

const stage = (page: Page): Promise<unknown> => page.locator('lb-board canvas.pattern').boundingBox();

describe('four friends', () => {
  it('[W940] [W941] [W945] [W946] come by links: four names, four colours, each asked once what they are called', async () => {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const phone = await guestOf(suite.browser, suite.http, owner, 'co-maker', null, PHONE);
    const [second, third] = [
      await guestOf(suite.browser, suite.http, owner, 'co-maker'),
      await guestOf(suite.browser, suite.http, owner, 'onlooker'),
    ];
    const pages = [owner, phone, second, third].map(({ page }) => page);
    for (const page of pages)
      await expect
        .poll(async () => {
          const here = await people(page);
          return [
            here.length,
            new Set(here.map(([name]) => name)).size,
            new Set(here.map(([, hex]) => hex)).size,
          ];
        })
        .toEqual([4, 4, 4]);
    expect(await owner.page.locator('lb-name-box').count()).toBe(0);

    // The phone shows three and counts the fourth; the wide page shows all.
    await expect.poll(() => phone.page.locator('lb-people summary .person:visible').count()).toBe(3);
    expect(await phone.page.locator('lb-people summary .rest:visible').textContent()).toBe('+1');
    expect(await owner.page.locator('lb-people summary .person:visible').count()).toBe(4);

    // By finger, with the name proposed; it stays.
    expect(await axeFindings(phone.page)).toEqual([]);
    const [[proposed]] = (await people(phone.page)) as [readonly [string, string, boolean]];
    const box = phone.page.locator('lb-name-box');
    expect(await box.locator('input').inputValue()).toBe(proposed);
    await box.getByRole('button', { name: 'Go on', exact: true }).tap();
    await expect.poll(() => box.count()).toBe(0);

    // By keyboard, with a name of one's own: the box took no focus, and what is typed in it ties nothing.
    const other = second.page.locator('lb-name-box');
    expect(await other.locator(':focus').count()).toBe(0);
    await other.locator('input').focus();
    await second.page.keyboard.press('Control+a');
    await second.page.keyboard.type(proposed);
    await other.getByText(`Somebody here is called ${proposed} already.`).waitFor();
    await second.page.keyboard.type(' 1');
    await second.page.keyboard.press('Enter');
    await expect.poll(() => other.count()).toBe(0);
    await expect
      .poll(async () => (await people(owner.page)).map(([name]) => name))
      .toContain(`${proposed} 1`);
    await untilSaved(second.page);

    // Asked once.
    await second.page.reload();
    await second.page.locator('lb-board canvas.pattern').waitFor();
    await expect.poll(async () => (await people(second.page)).length).toBe(4);
    expect([(await people(second.page))[0]?.[0], await other.count()]).toEqual([`${proposed} 1`, 0]);

    // Two tabs are one.
    const tab = await second.context.newPage();
    await tab.goto(second.page.url());
    await expect.poll(async () => (await people(tab).catch(() => [])).length).toBe(4);
    expect((await people(owner.page)).length).toBe(4);

    // Who leaves was here.
    await third.context.close();
    await expect.poll(async () => (await people(owner.page)).length).toBe(3);
    await owner.page.locator('lb-people summary').click();
    await owner.page.locator('lb-people .left').getByText('was here until').waitFor();
    expect(await axeFindings(owner.page)).toEqual([]);
    expect([...owner.complaints, ...phone.complaints, ...second.complaints]).toEqual([]);
  });
});

describe('a connection that breaks', () => {
  it.each([
    ['wide', { viewport: { width: 1440, height: 900 } }],
    ['on a phone', PHONE],
  ])(
    '[W944] [W950] [W951] %s: it is said at once and moves nothing, and the others stay, greyed',
    async (_, options) => {
      const maker = await newBoard(suite.browser, suite.http, 6, 4, options);
      await guestOf(suite.browser, suite.http, maker, 'co-maker', 'Fay');
      const { page, context } = maker;
      await expect.poll(async () => (await people(page)).length).toBe(2);
      await untilDrawn(page);
      const before = await stage(page);
      await context.setOffline(true);
      // Not waited for: the next frame after the browser's event says so.
      expect(
        await page.evaluate(
          () =>
            new Promise((resolve) => {
              const said = (): unknown =>
                document
                  .querySelector('lb-app')
                  ?.shadowRoot?.querySelector('lb-board-page')
                  ?.shadowRoot?.querySelector('.saved')
                  ?.getAttribute('data-state');
              if (said() === 'offline') resolve('offline');
              else
                addEventListener('offline', () => requestAnimationFrame(() => resolve(said())), {
                  once: true,
                });
            }),
        ),
      ).toBe('offline');
      await page.getByText('Offline: your changes are kept here').last().waitFor();
      expect(await stage(page)).toEqual(before);
      expect(await page.locator('lb-people summary .person.unheard').count()).toBe(1);
      expect(await axeFindings(page)).toEqual([]);
      expect((await people(page))[1]?.[2]).toBe(true);
      await focusKnots(page);
      await page.keyboard.press('1');
      await untilDrawn(page);
      expect(await page.locator('lb-board-page .saved').getAttribute('data-state')).toBe('offline');
      expect(await stage(page)).toEqual(before);
      await page.locator('lb-strip').getByRole('button', { name: 'Close' }).click();
      await untilDrawn(page);
      expect([await page.locator('lb-strip p').count(), await stage(page)]).toEqual([0, before]);
      await context.setOffline(false);
      await untilSaved(page);
      await expect
        .poll(async () => (await people(page)).map(([, , isUnheard]) => isUnheard))
        .toEqual([false, false]);
      expect(await stage(page)).toEqual(before);
    },
  );
});

describe('what somebody has open', () => {
  it('[W960] [W961] before a version is deleted it is said who looks at it, and before the board is, who is there', async () => {
    const owner = await newBoard(suite.browser, suite.http, 6, 4);
    const fay = await guestOf(suite.browser, suite.http, owner, 'co-maker', 'Fay');
    await openTab(owner.page, 'Versions');
    await owner.page.locator('lb-versions-panel #name').fill('Straight');
    await owner.page.locator('lb-versions-panel form.keep button.primary').first().click();
    const version = owner.page.locator('lb-versions-panel .version', { hasText: 'Straight' });
    await version.waitFor();
    const ask = version.getByRole('button', { name: 'Delete “Straight”' });
    await ask.click();
    await version.getByText('Really delete it?').waitFor();
    expect(await version.getByText('looks at it now').count()).toBe(0);
    await version.getByRole('button', { name: 'Keep it' }).click();

    await openTab(fay.page, 'Versions');
    await fay.page.locator('lb-versions-panel .version', { hasText: 'Straight' }).locator('.thumb').click();
    await expect
      .poll(() =>
        owner.page.locator('lb-board').evaluate((board) => {
          const { session } = board as unknown as {
            session: { people: { value: { presence: { open?: { kind: string } } }[] } };
          };
          return session.people.value.map(({ presence }) => presence.open?.kind);
        }),
      )
      .toEqual([undefined, 'version']);
    await ask.click();
    await version.getByText('Fay looks at it now.').waitFor();

    await owner.page.getByRole('button', { name: 'File and print' }).click();
    await owner.page.getByRole('button', { name: 'Delete this board' }).click();
    await owner.page.getByText('Here now: Fay.').waitFor();
    await fay.context.close();
    await owner.page.getByText('Nobody else is here now.').last().waitFor();
    expect(owner.complaints).toEqual([]);
  });
});
