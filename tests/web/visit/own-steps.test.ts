/** Undo on a page: it goes on after a reload, and says who stands in the way. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { type Command, LATER_COMMANDS, writeBoard } from '../../../engine/document/index.ts';
import type { Cell } from '../../../engine/index.ts';
import { BoardSession } from '../../../web/sync/index.ts';
import { joinCompany } from '../../../web/sync/join-company.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { OwnSteps } from '../../../web/visit/own-steps.ts';
import type { MemoryRoom } from '../../support/memory-rooms.ts';
import { press } from '../../support/press.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { wordsOf } from '../../support/template-text.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { stubHost, stubVisitedPage } from '../../support/visited-page.ts';

const WREN = { id: 'wren', name: 'Wren', hex: '#b3541e', isNamed: true };
const FINCH = { id: 'finch', name: 'Finch', hex: '#2f6f73', isNamed: true };
let page: ReturnType<typeof stubVisitedPage>;
let room: MemoryRoom;
const ends: (() => void)[] = [];

beforeEach(async () => {
  page = stubVisitedPage();
  await Promise.all([loadTexts('undo'), loadTexts('people')]);
  room = page.rooms.room('kites/design');
  writeBoard(room.doc, sampleBoard(), countingIds('w'));
});
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) end();
  await turnsOfTheLoop(5);
  await speak('en');
  vi.unstubAllGlobals();
});

interface Visit {
  readonly session: BoardSession;
  readonly shown: (readonly Cell[])[];
  words(): string;
  show(): void;
  leave(): Promise<void>;
}

async function visit(person = WREN): Promise<Visit> {
  const session = new BoardSession({
    boardId: 'kites',
    canEdit: true,
    person,
    server: 'ws://boards.example',
  });
  session.design.giveCommands(LATER_COMMANDS);
  joinCompany(session, { keepLook: () => {}, now: () => 1, after: () => () => {} });
  await until('the board is there', () => session.saved === 'saved');
  const shown: (readonly Cell[])[] = [];
  const steps = new OwnSteps(stubHost(), session, (knots) => shown.push(knots));
  const leave = (): void => {
    steps.end();
    session.dispose();
  };
  ends.push(leave);
  await steps.begin(() => 1);
  return {
    session,
    shown,
    words: () => wordsOf(steps.render()),
    show: () => press(steps.render(), 'Show'),
    leave: async () => {
      ends.splice(ends.indexOf(leave), 1);
      leave();
      await turnsOfTheLoop(5);
    },
  };
}

const run = ({ session }: Visit, ...commands: readonly Command[]): void => {
  for (const command of commands) {
    session.design.stopUndoCapture();
    expect(session.design.run(command)).toEqual({ ok: true });
  }
};
const tie = (row: number, k: number, knot: 0 | 3 | 4): Command => ({
  kind: 'set-knots',
  knots: [{ row, k, knot }],
});
const knotAt = ({ session }: Visit, row: number, k: number): number | undefined =>
  session.design.snapshot.board.pattern.knots[row * 3 + k];
const titleAt = ({ session }: Visit): string => session.design.snapshot.board.title;

it('[W900] undo and redo go on after a reload', async () => {
  const first = await visit();
  run(first, { kind: 'set-title', title: 'A' }, { kind: 'set-title', title: 'AB' }, tie(0, 0, 4));
  first.session.design.undo();
  await first.leave();
  const { session } = await visit();
  const again = { session } as Visit;
  expect([session.design.redo(), knotAt(again, 0, 0)]).toEqual([true, 4]);
  session.design.undo();
  session.design.undo();
  session.design.undo();
  expect([titleAt(again), session.design.canUndo]).toEqual(['Test input', false]);
});

it('[W900] another person at this browser has none of it', async () => {
  const first = await visit();
  run(first, tie(0, 0, 4));
  await first.leave();
  expect((await visit(FINCH)).session.design.canUndo).toBe(false);
});

it('[W901] two tabs of one person take back each step once', async () => {
  const one = await visit();
  run(one, { kind: 'set-title', title: 'A' });
  const two = await visit();
  run(two, tie(0, 0, 4));
  await until('the knot is there', () => knotAt(one, 0, 0) === 4);
  two.session.design.undo();
  two.session.design.undo();
  expect([titleAt(two), two.session.design.canUndo]).toEqual(['Test input', false]);
  await until('the other tab has let go of it', () => !one.session.design.canUndo);
  expect(one.words()).toBe('');
});

it('[W904] what another changed since stays, and a sentence says whose it is and shows it', async () => {
  const wren = await visit();
  const finch = await visit(FINCH);
  await until('they see each other', () => wren.session.people.value.length === 2);
  run(
    wren,
    { kind: 'set-title', title: 'Wren’s' },
    {
      kind: 'set-knots',
      knots: [0, 1].map((k) => ({ row: 0, k, knot: 4 as const })),
    },
  );
  await until('Finch has it', () => knotAt(finch, 0, 1) === 4);
  run(finch, tie(0, 1, 3));
  await until('Wren has it', () => knotAt(wren, 0, 1) === 3);
  // Who has left is remembered.
  await finch.leave();
  await until('Finch is gone', () => wren.session.people.value.length === 1);
  wren.session.design.undo();
  expect([knotAt(wren, 0, 0), knotAt(wren, 0, 1), wren.words()]).toEqual([
    0,
    3,
    '1 knot stays as Finch has tied it since. Show ×',
  ]);
  wren.show();
  expect(wren.shown).toEqual([[{ row: 0, k: 1 }]]);
  await speak('de');
  expect(wren.words()).toBe('1 Knoten bleibt, wie Finch ihn seither geknüpft hat. Zeigen ×');
  wren.session.design.undo();
  expect([titleAt(wren), wren.words()]).toEqual(['Test input', '']);
});

it('[W904] an undo with nothing left says who has changed it, or that it was somebody', async () => {
  const wren = await visit();
  const finch = await visit(FINCH);
  await until('they see each other', () => wren.session.people.value.length === 2);
  run(wren, tie(2, 0, 4), { kind: 'set-title', title: 'Wren’s' });
  await until('Finch has it', () => titleAt(finch) === 'Wren’s');
  run(finch, { kind: 'set-title', title: 'Finch’s' }, { kind: 'delete-row-pairs', from: 1, count: 1 });
  await until('Wren has it', () => wren.session.design.snapshot.board.pattern.rows === 2);
  wren.session.design.undo();
  expect([titleAt(wren), wren.words()]).toEqual([
    'Finch’s',
    'Nothing to take back here: Finch has changed it since. Undo again goes on to your step before. ×',
  ]);
  wren.session.design.undo();
  expect(wren.words()).toMatch(/^Nothing to take back here: somebody has changed it since\./);
});

it('[W905] the steps on a board that was deleted are forgotten', async () => {
  const first = await visit();
  run(first, tie(0, 0, 4));
  vi.spyOn(first.session, 'closeReason', 'get').mockReturnValue('deleted');
  await first.leave();
  expect((await visit()).session.design.canUndo).toBe(false);
});
