/** How the page comes back to a board that is full: its own code, without a browser. */
import { afterEach, expect, it } from 'vitest';
import * as Y from 'yjs';
import { bringAside } from '../../../web/offline/bring-aside.ts';
import { BoardLine } from '../../../web/sync/board-line.ts';
import { FIRST_PAUSE_MS, FullPause, LONGEST_PAUSE_MS } from '../../../web/sync/full-pause.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import { LinePage } from '../line-page.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

const HOUR_MS = 60 * 60 * 1000;
const ends: (() => unknown)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const refusals = (server: TestServer): number =>
  server.metrics.valueOf('larkboard_closed_total', { reason: 'boardFull' });

/** Somebody whose last edit was too much for the board; their pauses go by the clock. */
async function fullBoard() {
  const server = await startTestServer({ env: { MAX_DOCUMENT_BYTES: '20000', RENEW_BYTES: '0' } });
  ends.push(() => server.close());
  const board = await makeBoard(server);
  const clock = new HandClock();
  const page = new LinePage(server.ws, board, { after: clock.after });
  ends.push(() => page.end());
  await page.fill();
  return { server, board, clock, page };
}

it('[B158] a page at a full board comes back ever more seldom, and says all along why', async () => {
  const { server, clock, page } = await fullBoard();
  const before = refusals(server);
  const came: number[] = [];
  for (let seconds = 1; seconds * 1000 <= HOUR_MS; seconds += 1) {
    expect(clock.waiting).toBe(1);
    clock.turn(1000);
    if (clock.waiting > 0) continue;
    came.push(seconds);
    expect(page.line.closeReason).toBe('boardFull');
    await until('it was turned away again', () => clock.waiting > 0);
  }
  expect(came.slice(0, 4)).toEqual([3, 9, 21, 45]);
  expect(came.length).toBeLessThan(20);
  expect(refusals(server) - before).toBe(came.length);
});

it('[B158] an edit is tried soon, however long the pause was, and what is stored ends the notice', async () => {
  const { clock, page } = await fullBoard();
  while (clock.elapsed() < HOUR_MS) {
    clock.turn(LONGEST_PAUSE_MS);
    await until('it was turned away again', () => clock.waiting > 0);
  }
  expect(page.design.run({ kind: 'delete-row-pairs', from: 0, count: 200 })).toEqual({ ok: true });
  clock.turn(FIRST_PAUSE_MS);
  await until('all is saved', () => page.line.saved === 'saved');
  expect(page.line.closeReason).toBeNull();
  expect(clock.waiting).toBe(0);
  // The next edit is an edit like any other.
  page.edit(() => 0.5);
  expect(page.line.closeReason).toBeNull();
  await until('that is saved too', () => page.line.saved === 'saved');
});

it('[B158] however fast somebody edits, a page comes back no more often than after the first pause', () => {
  const clock = new HandClock();
  let knocks = 0;
  const pause = new FullPause(clock.after, () => {
    knocks += 1;
    pause.refused();
  });
  pause.refused();
  for (let i = 0; i < 600; i += 1) {
    pause.edited();
    clock.turn(100);
  }
  expect(knocks).toBeLessThanOrEqual(60_000 / FIRST_PAUSE_MS);
  expect(knocks).toBeGreaterThan(10);
  pause.stop();
  clock.turn(HOUR_MS);
  expect(clock.waiting).toBe(0);
});

it('[B182] what was put aside of a board that is full stays, and counts as refused', async () => {
  const { server, board, page } = await fullBoard();
  const aside = new Y.Doc();
  Y.applyUpdate(aside, Y.encodeStateAsUpdate(page.doc));
  let emptied = 0;
  const shelf = {
    load: async () => aside,
    empty: async () => {
      emptied += 1;
      return true;
    },
  };
  const lineOf = (doc: Y.Doc, onChange: () => void): BoardLine =>
    new BoardLine({
      doc,
      room: `${board}/design`,
      server: server.ws.replace(/\/sync$/, ''),
      canEdit: true,
      onChange,
      socket: page.wire.socketClass,
    });
  expect(await bringAside('aside', shelf, lineOf, new AbortController().signal)).toBe('refused');
  expect(emptied).toBe(0);
});
