/** Versions of a board, with an owner, a co-maker and an onlooker at it, each in a browser profile of their own. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { rowsOf, untilDrawn, untilSaved, type Visitor, type visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { guestOf } from '../support/guest.ts';
import { LOPSIDED, openOwnBoard, openTab, undo } from '../support/own-board.ts';

const suite = browserSuite('versions');

async function ownerWithVersions(options: Parameters<typeof visit>[2] = {}): Promise<Visitor> {
  const owner = await openOwnBoard(suite.browser, suite.http, LOPSIDED, options);
  await untilSaved(owner.page);
  return owner;
}

/** Keeps the board as it is under a name. */
async function keep(page: Page, name: string): Promise<void> {
  await page.getByLabel('Name of this version').fill(name);
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText(`Kept as “${name}”.`).waitFor();
}

function run(page: Page, command: unknown): Promise<void> {
  return page.evaluate((given) => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: { design: { run(command: unknown): { ok: boolean } } };
    };
    if (!element.session.design.run(given).ok) throw new Error('refused');
  }, command);
}

const names = (page: Page): Promise<readonly string[]> =>
  page.locator('lb-versions-panel .about b').allTextContents();
const untie = { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 0 }] };

/** Ids of the pairs of rows, from the first to the last. */
function rowIdsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const element = document
      .querySelector('lb-app')
      ?.shadowRoot?.querySelector('lb-board-page')
      ?.shadowRoot?.querySelector('lb-board') as unknown as {
      session: { design: { snapshot: { rowPairIds: readonly string[] } } };
    };
    return element.session.design.snapshot.rowPairIds;
  });
}

describe('versions', () => {
  it('[B110] [B112] [B114] kept by name, brought back by another, seen by everybody; an onlooker only looks', async () => {
    const owner = await ownerWithVersions();
    const friend = await guestOf(suite.browser, suite.http, owner, 'co-maker');
    const onlooker = await guestOf(suite.browser, suite.http, owner, 'onlooker');
    for (const { page } of [owner, friend, onlooker]) await openTab(page, 'Versions');
    await owner.page.getByText('There is no version yet.', { exact: false }).waitFor();
    await keep(owner.page, 'first try');
    const before = await rowsOf(owner.page);
    const ids = await rowIdsOf(owner.page);
    await run(owner.page, untie);
    await run(owner.page, { kind: 'delete-row-pairs', from: 1, count: 1 });
    await untilSaved(owner.page);
    const after = await rowsOf(owner.page);
    expect(after).not.toEqual(before);
    await expect.poll(() => rowsOf(friend.page)).toEqual(after);
    await openTab(friend.page, 'Notes');
    await openTab(friend.page, 'Versions');
    await friend.page.getByText('first try', { exact: true }).waitFor();
    const name = await owner.page.evaluate(() => JSON.parse(localStorage.getItem('larkboard.person')!).name);
    const kept = friend.page.locator('.version').filter({ hasText: 'first try' });
    expect(await kept.locator('.about').textContent()).toContain(`by ${name}`);
    await untilSaved(friend.page);
    await friend.page.getByRole('button', { name: 'Bring back “first try”', exact: false }).click();
    await friend.page.getByText('is back on the board', { exact: false }).waitFor();
    await expect.poll(() => rowsOf(owner.page)).toEqual(before);
    // Under the same ids: what is pinned to a row finds it.
    expect(await rowIdsOf(owner.page)).toEqual(ids);
    expect(await names(friend.page)).toEqual([
      'before something was brought back or taken back',
      'before much was changed at once',
      'first try',
    ]);
    // One step of undo, for who did it.
    await undo(friend.page);
    await expect.poll(() => rowsOf(owner.page)).toEqual(after);
    // The onlooker sees them and can do nothing with them but look.
    await openTab(onlooker.page, 'Notes');
    await openTab(onlooker.page, 'Versions');
    await onlooker.page.getByText('first try', { exact: true }).waitFor();
    for (const action of ['Bring back', 'Rename', 'Delete', 'Keep'])
      expect(
        await onlooker.page
          .locator('lb-versions-panel')
          .getByRole('button', { name: action, exact: false })
          .count(),
        action,
      ).toBe(0);
    // The friend may not delete, the owner may.
    expect(await friend.page.getByRole('button', { name: 'Delete', exact: false }).count()).toBe(0);
    await openTab(owner.page, 'Notes');
    await openTab(owner.page, 'Versions');
    await owner.page.getByRole('button', { name: 'Delete “first try”', exact: false }).click();
    await owner.page.getByRole('button', { name: 'Yes, delete it' }).click();
    await owner.page.getByText('Deleted.').waitFor();
    // Undoing what was brought back changed much at once as well.
    const much = 'before much was changed at once';
    const back = 'before something was brought back or taken back';
    expect(await names(owner.page)).toEqual([much, back, much]);
    // One that was kept by itself becomes a named one.
    await owner.page.getByRole('button', { name: `Give “${back}`, exact: false }).click();
    await owner.page.locator('#rename input').fill('with a gap');
    await owner.page.locator('#rename input').press('Enter');
    await owner.page.getByText('Kept as “with a gap”.').waitFor();
    expect(await names(owner.page)).toEqual([much, 'with a gap', much]);
    expect([...owner.complaints, ...friend.complaints, ...onlooker.complaints]).toEqual([]);
  });

  it('[B111] [B113] looked at, compared, and played back by button, slider and keys', async () => {
    const { page, complaints } = await ownerWithVersions();
    await openTab(page, 'Versions');
    await keep(page, 'one');
    await run(page, untie);
    await untilSaved(page);
    await keep(page, 'two');
    await run(page, { kind: 'insert-row-pairs', at: 1, count: 1 });
    await untilSaved(page);
    await keep(page, 'three');
    // Each in the list has its picture, the newest too.
    await expect
      .poll(() =>
        page
          .locator('.thumb lb-version-picture')
          .evaluateAll((pictures) =>
            pictures.map((one) => (one as unknown as { board: unknown }).board !== null),
          ),
      )
      .toEqual([true, true, true]);
    await page.getByRole('button', { name: 'Look at “one”', exact: false }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('heading', { name: 'one', exact: false }).waitFor();
    expect(await inkOf(page)).toBeGreaterThan(100);
    await dialog.getByRole('button', { name: 'Later' }).click();
    await dialog.getByRole('heading', { name: 'two', exact: false }).waitFor();
    await page.keyboard.press('Escape');
    // Two compared: the one later chosen first or last makes no difference.
    await page.getByLabel('Choose “two”', { exact: false }).check();
    await page.getByRole('button', { name: 'Compare with the board now' }).waitFor();
    await page.getByLabel('Choose “one”', { exact: false }).check();
    await page.getByRole('button', { name: 'Compare these two' }).click();
    const compare = dialog.locator('lb-compare');
    await compare.getByText('→ untied', { exact: false }).first().waitFor();
    const captions = await compare.evaluate(
      (element) => (element as unknown as { captions: string[] }).captions,
    );
    expect(captions.map((text) => text.trim().slice(0, 3))).toEqual(['one', 'two']);
    await page.keyboard.press('Escape');
    // Playing never begins by itself. From here on the page's clock stands still between the test's steps.
    await page.clock.install();
    await page.clock.pauseAt(Date.now() + 1_000);
    const aStep = () => page.clock.runFor(1_200);
    /** A step that is due waits for its picture. */
    const playTo = (place: string) =>
      expect
        .poll(async () => {
          await aStep();
          return dialog.getByText(place).count();
        })
        .toBe(1);
    await page.getByRole('button', { name: 'Play back how the board came to be' }).click();
    await dialog.getByText('1 of 4').waitFor();
    await aStep();
    expect(await dialog.getByText('1 of 4').count()).toBe(1);
    await dialog.getByRole('button', { name: 'Play', exact: true }).click();
    await playTo('2 of 4');
    await dialog.getByRole('button', { name: 'Pause', exact: true }).click();
    await aStep();
    expect(await dialog.getByText('2 of 4').count()).toBe(1);
    const slider = dialog.getByRole('slider', { name: 'Which version' });
    await slider.focus();
    await page.keyboard.press('End');
    await dialog.getByText('4 of 4').waitFor();
    expect(await slider.getAttribute('aria-valuetext')).toBe('The board now');
    await page.keyboard.press('ArrowLeft');
    await dialog.getByText('3 of 4').waitFor();
    expect(await slider.getAttribute('aria-valuetext')).toContain('three');
    await page.keyboard.press('Home');
    // From the last it begins anew and ends there.
    await dialog.getByRole('button', { name: 'Play', exact: true }).click();
    await playTo('4 of 4');
    await dialog.getByRole('button', { name: 'Play', exact: true }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('[B115] without a connection, and when something fails, it says so', async () => {
    const { page, context } = await ownerWithVersions();
    await openTab(page, 'Versions');
    await keep(page, 'kept');
    await context.setOffline(true);
    await page.getByLabel('Name of this version').fill('never');
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    await page.getByText('There is no connection.', { exact: false }).waitFor();
    const before = await rowsOf(page);
    await page.getByRole('button', { name: 'Bring back “kept”', exact: false }).click();
    await page.getByText('There is no connection.', { exact: false }).waitFor();
    expect(await rowsOf(page)).toEqual(before);
    await context.setOffline(false);
    await untilSaved(page);
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    await page.getByText('Kept as “never”.').waitFor();
    // Somebody else deleted it meanwhile.
    await page.evaluate(async () => {
      const address = `/api/boards/${location.pathname.split('/').at(-1)}/versions`;
      const { versions } = (await (await fetch(address)).json()) as { versions: { id: string }[] };
      for (const { id } of versions) await fetch(`${address}/${id}`, { method: 'DELETE' });
    });
    await page.getByRole('button', { name: 'Rename “kept”', exact: false }).click();
    await page.locator('#rename input').fill('x');
    await page.locator('#rename input').press('Enter');
    await page.getByText('this version is not there any more').waitFor();
  });

  it('[B116] axe finds nothing and a phone is wide enough, in light and in dark', async () => {
    const { page } = await ownerWithVersions({ viewport: { width: 390, height: 844 } });
    const findingsInBoth = async (): Promise<readonly string[]> => {
      const found: string[] = [];
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        await untilDrawn(page);
        found.push(...(await axeFindings(page)));
      }
      return found;
    };
    await openTab(page, 'Versions');
    await keep(page, 'a rather long name for a version of a board, kept');
    await run(page, untie);
    await untilSaved(page);
    await keep(page, 'second');
    await page.getByLabel('Choose “second”', { exact: false }).check();
    expect(await findingsInBoth()).toEqual([]);
    const width = () => page.evaluate(() => document.documentElement.scrollWidth);
    expect(await width()).toBeLessThanOrEqual(390);
    await page.getByRole('button', { name: 'Compare with the board now' }).click();
    await page.getByRole('dialog').getByText('What differs', { exact: false }).first().waitFor();
    expect(await findingsInBoth()).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Play back how the board came to be' }).click();
    await page.getByRole('dialog').getByText('1 of 3').waitFor();
    expect(await findingsInBoth()).toEqual([]);
    expect(await width()).toBeLessThanOrEqual(390);
  });
});

/** How many pixels of the dialog's picture are painted. */
function inkOf(page: Page): Promise<number> {
  return page
    .locator('lb-version-view lb-version-picture')
    .first()
    .evaluate(
      (element) =>
        new Promise<number>((resolve) => {
          requestAnimationFrame(() =>
            requestAnimationFrame(() => {
              const canvas = element.shadowRoot!.querySelector('canvas')!;
              const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
              resolve(data.filter((value, index) => index % 4 === 3 && value > 0).length);
            }),
          );
        }),
    );
}
