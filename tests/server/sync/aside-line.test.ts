/** What a tab put aside goes to the server over a line of its own: the page's code, without a browser. */
import { afterEach, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../engine/document/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { type AsideShelf, bringAside } from '../../../web/offline/bring-aside.ts';
import { BoardLine } from '../../../web/sync/board-line.ts';
import { ask } from '../../support/ask.ts';
import { cases } from '../../support/depth.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { seededRandom } from '../chaos.ts';
import { FaultyStore } from '../faulty-store.ts';
import { Wire } from '../held-socket.ts';
import { LinePage } from '../line-page.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

let server: TestServer;
const pages: LinePage[] = [];
const stops: AbortController[] = [];

async function end(): Promise<void> {
  for (const stop of stops.splice(0)) stop.abort();
  for (const page of pages.splice(0)) page.end();
  await server.close();
}

afterEach(end);

/** A copy in a browser that other tabs may write to as well. */
class Shelf implements AsideShelf {
  isThere = true;
  asked = 0;
  readonly #copy = new Y.Doc();
  /** Called before it is looked whether the copy may go. */
  readonly beforeEmpty: () => Promise<void>;

  constructor(copy: Y.Doc, beforeEmpty: () => Promise<void> = async () => {}) {
    this.write(copy);
    this.beforeEmpty = beforeEmpty;
  }

  write(doc: Y.Doc): void {
    Y.applyUpdate(this.#copy, Y.encodeStateAsUpdate(doc));
  }

  load = async (): Promise<Y.Doc> => {
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(this.#copy));
    return doc;
  };

  empty = async (_name: string, doc: Y.Doc): Promise<boolean> => {
    this.asked += 1;
    await this.beforeEmpty();
    const before = Y.snapshot(doc);
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(this.#copy));
    if (!Y.equalSnapshots(before, Y.snapshot(doc))) return false;
    this.isThere = false;
    return true;
  };
}

/** A tab that went offline with what the server holds; the board is renewed meanwhile where this is asked for. */
async function tabAway(isRenewed: boolean, store = new FaultyStore(new MemoryStore())) {
  server = await startTestServer({
    store,
    env: {
      RENEW_BYTES: isRenewed ? '2000' : '0',
      MAX_NEW_PER_ADDRESS: '1000000',
      MAX_CONNECTIONS_OF_NEWCOMERS: '1000000',
    },
  });
  const board = await makeBoard(server);
  const tab = new LinePage(server.ws, board);
  pages.push(tab);
  await until('the tab has the board', () => tab.line.saved === 'saved');
  tab.wear(seededRandom(3));
  await until('all is saved', () => tab.line.saved === 'saved');
  tab.wire.isDown = true;
  tab.wire.cut();
  await until('nobody is in', () => server.rooms.size === 0);
  expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(isRenewed ? 1 : 0);
  return { board, tab, store };
}

function bring(board: string, shelf: AsideShelf, wire = new Wire()) {
  const stop = new AbortController();
  stops.push(stop);
  const lineOf = (doc: Y.Doc, onChange: () => void): BoardLine => {
    const line = new BoardLine({
      doc,
      room: `${board}/design`,
      server: server.ws.replace(/\/sync$/, ''),
      canEdit: true,
      onChange,
      socket: wire.socketClass,
    });
    line.provider.maxBackoffTime = 3;
    return line;
  };
  const done = { isOver: false };
  const outcome = bringAside('aside', shelf, lineOf, stop.signal);
  const over = (): void => {
    done.isOver = true;
  };
  // Whoever awaits the outcome hears of a failure.
  void outcome.then(over, over);
  return { outcome, stop, wire, done };
}

/** What the tab tied is in the store, whatever the room holds beside it. */
async function expectStored(board: string, store: FaultyStore, { knots }: LinePage, what: string) {
  const stored = new Y.Doc();
  for (const { bytes } of await store.inner.load({ board, part: 'design' })) Y.applyUpdate(stored, bytes);
  const { pattern } = readDesign(stored).board;
  for (const [place, knot] of knots) {
    const [row, k] = place.split(' ').map(Number) as [number, number];
    expect(knotAt(pattern, row, k), `${what}: knot ${place}`).toBe(knot);
  }
}

for (const isRenewed of [false, true])
  it(`[B181] it is taken away once the server has all of it, also what was written meanwhile; renewed: ${isRenewed}`, async () => {
    const { board, tab, store } = await tabAway(isRenewed);
    tab.edit(() => 0.5);
    let rounds = 0;
    const shelf = new Shelf(tab.doc, async () => {
      await expectStored(board, store, tab, 'before it goes');
      rounds += 1;
      if (rounds > 3) return;
      tab.edit(() => 0.5);
      shelf.write(tab.doc);
    });
    expect(await bring(board, shelf).outcome).toBe('brought');
    expect(shelf.isThere).toBe(false);
    expect(shelf.asked).toBe(4);
    expect(tab.knots.size).toBe(4);
    await expectStored(board, store, tab, 'in the end');
  });

const seeds = cases(10, 200);
it('[B181] in whatever order messages pass, and lines and the store fail, it goes only once all of it is stored', async () => {
  for (let seed = 1; seed <= seeds; seed += 1) {
    const random = seededRandom(seed);
    if (seed > 1) await end();
    const { board, tab, store } = await tabAway(seed % 2 === 0);
    for (let i = 0; i < 3; i += 1) tab.edit(() => 0.5);
    const shelf = new Shelf(tab.doc, () => expectStored(board, store, tab, `seed ${seed}`));
    const wire = new Wire();
    wire.isOpen = false;
    const { outcome, done } = bring(board, shelf, wire);
    for (let step = 0; !done.isOver; step += 1) {
      const dice = random();
      if (dice < 0.25) wire.step('up');
      else if (dice < 0.5) wire.step('down');
      else if (dice < 0.6 || step >= 60) await turnsOfTheLoop(1 + Math.floor(random() * 20));
      else if (dice < 0.65) wire.cut();
      else if (dice < 0.75)
        store.fault =
          random() < 0.5 ? null : { kind: 'unavailable', when: random() < 0.5 ? 'before' : 'after' };
      // From here on nothing fails any more; messages still pass one by one.
      if (step === 60) store.fault = null;
    }
    expect(await outcome).toBe('brought');
    await expectStored(board, store, tab, `seed ${seed}`);
  }
});

it('[B181] it stays where the server will not take it', async () => {
  const { board, tab } = await tabAway(false);
  tab.edit(() => 0.5);
  const gone = await ask(`${server.http}/api/boards/${board}`, { method: 'DELETE' });
  expect(gone.ok).toBe(true);
  const shelf = new Shelf(tab.doc);
  expect(await bring(board, shelf).outcome).toBe('refused');
  expect([shelf.isThere, shelf.asked]).toEqual([true, 0]);
});

it('[B181] it stays where the board is left before the server has answered', async () => {
  const { board, tab } = await tabAway(false);
  tab.edit(() => 0.5);
  const shelf = new Shelf(tab.doc);
  const { outcome, stop, wire } = bring(board, shelf, Object.assign(new Wire(), { isOpen: false }));
  await until('the line is there', () => wire.sockets.size > 0);
  stop.abort();
  expect(await outcome).toBe('stopped');
  expect([shelf.isThere, shelf.asked]).toEqual([true, 0]);
  await until('the line is given up', () => wire.sockets.size === 0);
});
