/** Parts of the page that cannot be fetched: because there is no network, or because a newer release has replaced them. */
import { describe, expect, it } from 'vitest';
import { focusKnots, rowsOf, untilSaved, visit } from '../support/browser.ts';
import { browserSuite, ownServerSuite } from '../support/browser-suite.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';
import { copyRelease, releaseAnew, takePart } from '../support/own-release.ts';

const shared = browserSuite('missing-parts');

describe('without a connection', () => {
  it('[B190] a panel says so where it would stand, and comes when it is tried again', async () => {
    const { page } = await openOwnBoard(shared.browser, shared.http, LOPSIDED);
    await page.route(/lb-gauge-panel/, (route) => route.abort());
    await openTab(page, 'Bar and gauge');
    const panel = page.getByRole('tabpanel');
    await panel.getByRole('alert').getByText('cannot be fetched now').waitFor();
    await page.unroute(/lb-gauge-panel/);
    await panel.getByRole('button', { name: 'Try again' }).click();
    await page.locator('lb-gauge-panel h2').first().waitFor();
    expect(await panel.getByRole('alert').count()).toBe(0);
  });

  it('[B190] what was asked for elsewhere is said at the foot of the page; trying again does it', async () => {
    const { page } = await openOwnBoard(shared.browser, shared.http, LOPSIDED);
    await page.route(/lb-in-out/, (route) => route.abort());
    await page.getByRole('button', { name: 'File and print' }).click();
    await page.getByRole('alert').getByText('cannot be fetched now').waitFor();
    await page.unroute(/lb-in-out/);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('lb-in-out dialog[open]').waitFor();
    expect(await page.getByText('cannot be fetched now').count()).toBe(0);
  });

  it('[B190] on another page it is said no more', async () => {
    const { page } = await openOwnBoard(shared.browser, shared.http, LOPSIDED);
    await page.route(/lb-in-out/, (route) => route.abort());
    await page.getByRole('button', { name: 'File and print' }).click();
    await page.getByRole('alert').getByText('cannot be fetched now').waitFor();
    await page.getByRole('link', { name: 'All boards' }).click();
    await page.locator('lb-start-page').waitFor();
    expect(await page.locator('lb-app .update').count()).toBe(0);
  });

  it('[B190] it can be let be', async () => {
    const { page } = await openOwnBoard(shared.browser, shared.http, LOPSIDED);
    await page.route(/lb-command-list/, (route) => route.abort());
    await focusKnots(page);
    await page.keyboard.press('Control+k');
    await page.getByRole('alert').getByText('cannot be fetched now').waitFor();
    await page.locator('lb-app .update').getByRole('button', { name: 'Close' }).click();
    await expect.poll(() => page.locator('lb-app .update').count()).toBe(0);
  });
});

describe('after a newer release', () => {
  const suite = ownServerSuite('missing-parts-release', {}, copyRelease);

  it('[B191] a part that the server has no more is told from no connection; loaded anew, the page has it', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await untilSaved(page);
    const rows = await rowsOf(page);
    const putBack = takePart(suite.folder, 'lb-notes-panel');
    await openTab(page, 'Notes');
    await page.getByRole('tabpanel').getByRole('alert').getByText('A newer version').waitFor();
    expect(await page.getByRole('button', { name: 'Try again' }).count()).toBe(0);

    putBack();
    releaseAnew(suite.folder);
    await page.getByRole('button', { name: 'File and print' }).click();
    await page.locator('lb-app .update').getByText('A newer version').waitFor();
    await page.locator('lb-app .update').getByRole('button', { name: 'Reload' }).click();
    await page.locator('lb-app .update').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'File and print' }).click();
    await page.locator('lb-in-out dialog[open]').waitFor();
    expect(await rowsOf(page)).toEqual(rows);
  });

  it('[B191] a worker that the server has no more is told like a part', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED);
    await openTab(page, 'Work order');
    await page.locator('lb-work-panel .step').waitFor();
    releaseAnew(suite.folder);
    await page.locator('lb-work-panel #method').selectOption('exact');
    await page
      .locator('lb-work-panel')
      .getByRole('alert')
      .getByText('a newer version of the page is out')
      .waitFor();
    const foot = page.locator('lb-app .update');
    await foot.getByText('A newer version').waitFor();
    await foot.getByRole('button', { name: 'Reload' }).click();
    await foot.waitFor({ state: 'detached' });
    await openTab(page, 'Work order');
    await page.locator('lb-work-panel .step').waitFor();
    expect(await page.locator('lb-work-panel #method').inputValue()).toBe('exact');
  });

  it('[B191] what nobody asked for is said once, and asked for no more', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/healthz`);
    await page.clock.install();
    let asked = 0;
    await page.route(/lb-people/, (route) => {
      asked += 1;
      return route.fulfill({ status: 404 });
    });
    await page.goto(`${suite.http}/board/demo-crosswind`);
    await page.getByRole('alert').getByText('A newer version').waitFor();
    await page.locator('lb-app .update').getByRole('button', { name: 'Close' }).click();
    const before = asked;
    expect(before).toBeGreaterThan(0);
    await page.clock.runFor(20_000);
    await page.evaluate(() => fetch('/healthz'));
    expect(asked).toBe(before);
    expect(await page.locator('lb-app .update').count()).toBe(0);
  });

  it('[B191] in German, on a whole page of its own', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/help`, { locale: 'de' });
    await page.getByRole('heading', { level: 1 }).waitFor();
    releaseAnew(suite.folder);
    await page.evaluate(() => {
      history.pushState(null, '', '/board/demo-crosswind/set');
      dispatchEvent(new PopStateEvent('popstate'));
    });
    await page.getByRole('alert').getByText('Eine neuere Fassung').waitFor();
    await page.getByRole('button', { name: 'Neu laden' }).click();
    await page.locator('lb-set-page .keychain').first().waitFor();
  });

  it('[B191] another tab that took it leaves this one with parts that are gone', async () => {
    const first = await visit(suite.browser, `${suite.http}/`, { serviceWorkers: 'allow' });
    const isKept = (): boolean => navigator.serviceWorker.controller !== null;
    await first.page.waitForFunction(isKept);
    const second = await first.context.newPage();
    await second.goto(`${suite.http}/board/demo-crosswind`);
    await second.waitForFunction(isKept);
    await second.locator('lb-mounting-panel').waitFor();
    releaseAnew(suite.folder);
    await first.page.reload();
    await first.page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
    const ready = 'A newer version of this page is ready';
    await second.getByText(ready).waitFor();
    const taken = second.evaluate(() =>
      new Promise((done) => navigator.serviceWorker.addEventListener('controllerchange', done)).then(
        () => true,
      ),
    );
    await first.page
      .locator('lb-app .update', { hasText: ready })
      .getByRole('button', { name: 'Reload' })
      .click();
    expect(await taken).toBe(true);
    // What this browser fetched once it may have still.
    await (await first.context.newCDPSession(second)).send('Network.clearBrowserCache');
    await openTab(second, 'Keychain');
    await second
      .getByRole('tabpanel')
      .getByRole('alert')
      .getByText('this part of the old one is gone')
      .waitFor();
    // The offer of before loads the page too: the newer version waits no more.
    await second
      .locator('lb-app .update', { hasText: ready })
      .getByRole('button', { name: 'Reload' })
      .click();
    await second.locator('lb-app .update').waitFor({ state: 'detached' });
    await openTab(second, 'Keychain');
    await second.locator('lb-piece-panel h2').first().waitFor();
  });
});
