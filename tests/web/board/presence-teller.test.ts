/** Where this maker is, as the others are told: by ids, all that changed in one message, and not too often. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { Presence } from '../../../engine/document/index.ts';
import { type Block, staggerOf } from '../../../engine/index.ts';
import { PresenceTeller } from '../../../web/board/presence-teller.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('window', globalThis);
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function telling() {
  const design = openDesign(sampleBoard(6, 6));
  const told: Partial<Presence>[] = [];
  const session = { design, setPresence: (patch: Partial<Presence>) => told.push(patch) };
  const teller = new PresenceTeller(session as unknown as BoardSession);
  const stagger = () => staggerOf(design.snapshot.board.pattern);
  return { design, told, teller, select: (block: Block | null) => teller.tellSelection(block, stagger()) };
}

const FIRST_ROW: Block = { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 5 };
const passed = (): void => void vi.advanceTimersByTime(1000);

it('[B77] a hand that moves quickly is told as where it came to, with all else that changed, in one message', () => {
  const { design, told, teller, select } = telling();
  teller.tellView({ fromRow: 0, toRow: 5 });
  for (const k of [0, 1, 2]) teller.tellCursor({ row: 2, k });
  select(FIRST_ROW);
  expect(told).toEqual([]);
  passed();
  expect(told).toEqual([
    {
      view: { fromRow: 0, toRow: 5 },
      cursor: design.addressOf(2, 2),
      selection: { from: design.addressOf(0, 0), to: design.addressOf(0, 2) },
    },
  ]);
  passed();
  expect(told).toHaveLength(1);
});

it('[B77] what was told once is not told again, and what comes later is told', () => {
  const { told, teller, select } = telling();
  select(FIRST_ROW);
  passed();
  select(FIRST_ROW);
  passed();
  expect(told).toHaveLength(1);
  teller.tellCursor(null);
  passed();
  expect(told[1]).toEqual({ cursor: null });
  select(null);
  passed();
  expect(told[2]).toEqual({ selection: null });
});

it('[B77] a knot is told by its ids, so that it stays the same one for who has other rows above it', () => {
  const { design, told, teller } = telling();
  teller.tellCursor({ row: 2, k: 1 });
  runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
  passed();
  expect(design.placeOf(told[0]!.cursor!)).toEqual({ row: 4, k: 1 });
});

it('[B77] a selection in which there is no knot, or none that has an address, is none', () => {
  const { told, select } = telling();
  select(FIRST_ROW);
  passed();
  // A single place holds no knot; rows that another has just deleted have no address.
  for (const none of [
    { ...FIRST_ROW, toPlace: 0 },
    { ...FIRST_ROW, fromRow: 40, toRow: 41 },
  ]) {
    select(none);
    passed();
    expect(told.at(-1)).toEqual({ selection: null });
  }
  expect(told).toHaveLength(3);
});

it('[B77] who has left the board tells nothing more', () => {
  const { told, teller } = telling();
  teller.tellCursor({ row: 0, k: 0 });
  teller.dispose();
  passed();
  expect(told).toEqual([]);
});
