/**
 * Refusals on a German page: those that the real engine and server make, and kinds that the server may answer, each with a message in
 * English that must not reach the page.
 */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { PROBLEM_KINDS } from '../../engine/document/problem-kinds.ts';
import { deProblems } from '../../web/text/de/problems.ts';
import { untilSaved, visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { isLong } from '../support/depth.ts';
import { LOPSIDED, openOwnBoard, openTab } from '../support/own-board.ts';

const suite = browserSuite('german');

/** Words of the server that no German page may show. */
const SENTINEL = 'the server speaks plain English here';
const GERMAN = { locale: 'de-DE', serviceWorkers: 'block' } as const;

/** Answers what matches with a problem of this kind. */
async function refuse(page: Page, pattern: RegExp, method: string, kind: string): Promise<void> {
  await page.unroute(pattern);
  await page.route(pattern, (route) => {
    if (route.request().method() !== method) return route.continue();
    const values = { most: 7, mostBytes: 4096 };
    return route.fulfill({ status: 409, json: { error: { kind, message: SENTINEL, values } } });
  });
}

/** Everything that the page shows, shadow roots included. */
function shownText(page: Page): Promise<string> {
  return page.evaluate(() => {
    const textOf = (root: ParentNode): string =>
      [...root.querySelectorAll('*')]
        .map(
          (element) =>
            [...element.childNodes].map((node) => (node.nodeType === 3 ? node.textContent : '')).join(' ') +
            (element.shadowRoot === null ? '' : textOf(element.shadowRoot)),
        )
        .join(' ');
    return textOf(document);
  });
}

/** The sentence of a kind, as it begins. */
function sentence(kind: string): string {
  return deProblems[`error.${kind}` as keyof typeof deProblems].replace(/\{.*$/, '').trim();
}

describe('[A50] a German page', () => {
  it('says in German what is wrong with files and archives, as the real engine and server find it', async () => {
    const { page } = await visit(suite.browser, `${suite.http}/`, GERMAN);
    const choose = async (name: string, text: string): Promise<void> => {
      const mimeType = name.endsWith('zip') ? 'application/zip' : 'application/json';
      await page.locator('input[type=file]').setInputFiles({ name, mimeType, buffer: Buffer.from(text) });
    };
    const alert = page.getByRole('alert');
    await choose('a.json', JSON.stringify({ ...LOPSIDED, rows: ['f f b', 'f x'] }));
    await alert.getByText('Knoten sind f, b, fb, bf und -, nicht "x"', { exact: false }).waitFor();
    await choose('b.json', '{"format":');
    await alert.getByText('kein vollständiges JSON', { exact: false }).waitFor();
    await choose('c.json', JSON.stringify({ ...LOPSIDED, piece: { repeats: 0 } }));
    await alert
      .getByText('Zahl der Rapporte muss eine ganze Zahl von 1 bis 10000 sein', { exact: false })
      .waitFor();
    await choose('d.zip', 'no zip at all');
    await alert.getByText('diese Datei ist kein Archiv eines Bretts', { exact: false }).waitFor();
    expect(await shownText(page)).not.toMatch(/\bmust be\b|\bis not\b|\bno board\b/);
  });

  // That each kind has its sentence is known without a browser: tests/web/words/say-error.test.ts.
  it('[A51] says of kinds that the server may answer the sentence of each, and none of its words', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED, GERMAN);
    await untilSaved(page);
    await openTab(page, 'Stände');
    const panel = page.locator('lb-versions-panel');
    await panel.locator('input[name=name]').waitFor();
    const own = /^(bad-version)$/;
    const kinds = Object.keys(PROBLEM_KINDS).filter((one) => !own.test(one));
    for (const kind of isLong ? kinds : ['too-many-versions', 'store-full', 'too-large']) {
      expect(kinds).toContain(kind);
      await refuse(page, /\/versions$/, 'POST', kind);
      await panel.locator('input[name=name]').fill(kind);
      await panel.locator('form').first().locator('button[type=submit], .primary').first().click();
      await panel.getByText(sentence(kind), { exact: false }).first().waitFor();
    }
    expect(await shownText(page)).not.toContain(SENTINEL);
  });

  it('says in German what links, proposals and the start page are refused', async () => {
    const { page } = await openOwnBoard(suite.browser, suite.http, LOPSIDED, GERMAN);
    await untilSaved(page);
    await openTab(page, 'Vorschläge');
    await refuse(page, /\/proposals$/, 'POST', 'too-many-own-proposals');
    const proposals = page.locator('lb-proposals-panel');
    await proposals.locator('input').first().fill('Kürzer');
    await proposals.getByRole('button', { name: 'Änderungen vorschlagen' }).click();
    await proposals.getByText('mehr als 7 offene Vorschläge', { exact: false }).waitFor();
    await refuse(page, /\/links$/, 'POST', 'last-owner');
    await page.getByRole('button', { name: 'Teilen' }).click();
    await page.getByRole('button', { name: 'Link erstellen' }).click();
    await page.getByText('mindestens einen Besitzer-Link', { exact: false }).waitFor();
    await page.goto(`${suite.http}/`);
    await refuse(page, /\/api\/boards$/, 'POST', 'store-full');
    await page.locator('button[type=submit]').click();
    await page.getByText('keinen Platz mehr, um das zu sichern', { exact: false }).waitFor();
    // A proxy in front answers with no JSON at all.
    await page.unroute(/\/api\/boards$/);
    await page.route(/\/api\/boards$/, (route) =>
      route.fulfill({ status: 502, body: '<h1>Bad gateway</h1>' }),
    );
    await page.locator('button[type=submit]').click();
    await page.getByText('der Server ist nicht zu erreichen', { exact: false }).waitFor();
    expect(await shownText(page)).not.toContain(SENTINEL);
  });
});
