import { afterEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../engine/document/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { cases } from '../../support/depth.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { seededRandom } from '../chaos.ts';
import { FaultyStore } from '../faulty-store.ts';
import { LinePage, ROWS } from '../line-page.ts';
import { RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const pages: LinePage[] = [];
let server: TestServer;

afterEach(async () => {
  for (const page of pages.splice(0)) page.end();
  await server.close();
});

/** A page whose board was renewed while it was offline. */
async function renewedMeanwhile(random: () => number, store = new FaultyStore(new MemoryStore())) {
  server = await startTestServer({
    store,
    env: { RENEW_BYTES: '2000', MAX_NEW_PER_ADDRESS: '1000000', MAX_CONNECTIONS_OF_NEWCOMERS: '1000000' },
  });
  const board = await makeBoard(server);
  const page = new LinePage(server.ws, board);
  pages.push(page);
  await until('the page has the board', () => page.line.saved === 'saved');
  page.wear(random);
  await until('all is saved', () => page.line.saved === 'saved');
  page.wire.isDown = true;
  page.wire.cut();
  await until('the board is renewed', () => server.rooms.size === 0);
  expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(1);
  return { board, page, store };
}

/** Everything the page did is on the board once, whatever happened. */
async function expectAllThere(board: string, page: LinePage, what: string): Promise<void> {
  page.wire.isDown = false;
  page.wire.open();
  await until(`${what}: all is saved`, () => {
    page.look();
    return page.line.saved === 'saved';
  });
  const late = await new RawClient(`${server.ws}/${board}/design`).join();
  const { pattern } = readDesign(late.doc).board;
  late.close();
  for (const [place, knot] of page.knots) {
    const [row, k] = place.split(' ').map(Number) as [number, number];
    expect(knotAt(pattern, row, k), `${what}: knot ${place}`).toBe(knot);
  }
  expect(pattern.rows, `${what}: rows`).toBe(ROWS + 2 * page.pairs);
  // The copy that was given up is not mixed into the board, and the page has what the server has.
  expect(Y.encodeStateAsUpdate(page.doc).length).toBeLessThan(6_000);
  expect(readDesign(page.doc)).toEqual(readDesign(late.doc));
}

describe('a page that comes back to a renewed board', () => {
  it('[V104] without edits of its own gives up its copy and joins anew', async () => {
    const { board, page } = await renewedMeanwhile(seededRandom(1));
    await expectAllThere(board, page, 'no edits');
    expect(page.drops).toBe(1);
  });

  it('[V108] an edit made while the close was on its way to the page is not lost', async () => {
    const { board, page } = await renewedMeanwhile(seededRandom(2));
    page.edit(() => 0.5);
    page.wire.isDown = false;
    await until('back', () => page.line.provider.wsconnected);
    // From here on what the server says arrives only when the test lets it: all but the close.
    page.wire.isOpen = false;
    await until('the server has closed the line', () => {
      page.wire.step('up');
      if (!server.lines.some((line) => line.includes('brought-over'))) page.wire.step('down');
      return server.rooms.connections.size === 0;
    });
    page.edit(() => 0.5);
    page.edit(() => 0.1);
    await expectAllThere(board, page, 'an edit behind the close');
    expect(page.knots.size).toBe(2);
    expect(page.pairs).toBe(1);
    // Once with the copy that held the late edits, and then without.
    expect(server.metrics.valueOf('larkboard_closed_total', { reason: 'outdated' })).toBe(2);
    expect(page.drops).toBe(1);
  });

  const seeds = cases(12, 300);
  it(`[V108] many orders of edits, messages, broken lines and a failing store: every edit is there once`, async () => {
    let outdated = 0;
    for (let seed = 1; seed <= seeds; seed += 1) {
      const random = seededRandom(seed);
      const { board, page, store } = await renewedMeanwhile(random);
      for (let i = Math.floor(random() * 3); i > 0; i -= 1) page.edit(random);
      page.wire.isOpen = false;
      page.wire.isDown = false;
      const other = await new RawClient(`${server.ws}/${board}/design`).join();
      for (let step = 0; step < 45; step += 1) {
        const dice = random();
        if (dice < 0.25) page.edit(random);
        else if (dice < 0.5) page.wire.step('up');
        else if (dice < 0.75) page.wire.step('down');
        else if (dice < 0.78) page.wire.cut();
        else if (dice < 0.82)
          store.fault =
            random() < 0.5 ? null : { kind: 'unavailable', when: random() < 0.5 ? 'before' : 'after' };
        else if (dice < 0.86) other.edit((doc) => doc.getMap('meta').set('title', `by the other ${step}`));
        else await turnsOfTheLoop(1 + Math.floor(random() * 20));
        page.look();
      }
      store.fault = null;
      await expectAllThere(board, page, `seed ${seed}`);
      other.close();
      outdated += server.metrics.valueOf('larkboard_closed_total', { reason: 'outdated' });
      page.end();
      pages.length = 0;
      await server.close();
    }
    // It must have come to what this is about, and to pages that came back with the same copy.
    expect(outdated).toBeGreaterThan(seeds);
  });
});
