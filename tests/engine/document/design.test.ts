/** Where a step ends, and what an undo says that others stood in the way of. */
import { expect, test } from 'vitest';
import {
  type Command,
  compactDesign,
  Design,
  loadBoard,
  type OwnStep,
  type UndoNews,
} from '../../../engine/document/index.ts';
import { joinDesign, openDesign, rowsOf, runAll, syncAll } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

/** A maker on a clock that is turned by hand. */
function timed(): { readonly design: Design; readonly wait: (ms: number) => void } {
  let nowMs = 0;
  const { doc } = openDesign(sampleBoard(12, 6));
  const design = new Design(doc, { makerId: 'r', newId: countingIds('r'), now: () => nowMs });
  const wait = (ms: number): void => {
    nowMs += ms;
  };
  return { design, wait };
}

const tie = (row: number, k: number, knot: 0 | 1 | 2 | 3 | 4 = 4): Command => ({
  kind: 'set-knots',
  knots: [{ row, k, knot }],
});

function stepsOf(design: Design): number {
  let steps = 0;
  while (design.undo()) steps++;
  return steps;
}

function heardBy(design: Design): UndoNews[] {
  const news: UndoNews[] = [];
  design.onUndoNews((one) => news.push(one));
  return news;
}

test('[D81] knots tied quickly are one step for two seconds at most', () => {
  const { design, wait } = timed();
  for (let n = 0; n < 11; n++) {
    // Each another than is there.
    runAll(design, tie(0, n % 6, (((n % 6) + (n < 6 ? 1 : 2)) % 5) as 0 | 1 | 2 | 3 | 4));
    wait(400);
  }
  expect(stepsOf(design)).toBe(3);
});

test('[D81] a step of knots ends with its row, a pause, and not with a mirrored row', () => {
  const { design, wait } = timed();
  const begun = rowsOf(design);
  runAll(design, tie(0, 0), tie(0, 1), tie(1, 0), tie(1, 1));
  design.undo();
  expect(rowsOf(design).slice(0, 2)).toEqual(['bf bf b fb bf -', begun[1]]);
  design.undo();
  expect(rowsOf(design)).toEqual(begun);
  runAll(design, tie(2, 0, 1));
  wait(500);
  runAll(design, tie(2, 1, 1));
  expect(stepsOf(design)).toBe(2);
  const both = (k: number): Command => ({
    kind: 'set-knots',
    knots: [
      { row: 0, k, knot: 4 },
      { row: 4, k, knot: 3 },
    ],
  });
  runAll(design, both(0), both(1));
  expect(stepsOf(design)).toBe(1);
});

test('[D81] a gesture held down is one step however long', () => {
  const { design, wait } = timed();
  const close = design.openStep();
  for (let row = 0; row < 6; row++) {
    runAll(design, tie(row, 0, row % 2 === 0 ? 4 : 3));
    wait(3000);
  }
  close();
  expect(stepsOf(design)).toBe(1);
});

test('[D316] a step that another overwrote in part takes back the rest, and says what stays and whose', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const news = heardBy(mara);
  runAll(mara, { kind: 'set-knots', knots: [0, 1, 2].map((k) => ({ row: 0, k, knot: 4 })) });
  syncAll(mara, tove);
  runAll(tove, tie(0, 1, 3));
  syncAll(mara, tove);
  expect(mara.undo()).toBe(true);
  expect(rowsOf(mara)[0]).toBe('- fb b');
  expect(news).toMatchObject([
    { way: 'undo', isTaken: true, kept: [{ client: tove.doc.clientID, address: mara.addressOf(0, 1) }] },
  ]);
  mara.redo();
  expect([rowsOf(mara)[0], news.length]).toEqual(['bf fb bf', 1]);
});

test('[D316] an undo with nothing left says who has changed it, and stops there; the next goes on', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const news = heardBy(mara);
  runAll(mara, { kind: 'set-title', title: 'Mara’s' }, tie(0, 0));
  syncAll(mara, tove);
  runAll(tove, tie(0, 0, 3));
  syncAll(mara, tove);
  expect(mara.undo()).toBe(true);
  expect([rowsOf(mara)[0], mara.snapshot.board.title]).toEqual(['fb f b', 'Mara’s']);
  expect(news).toMatchObject([{ isTaken: false, kept: [{ client: tove.doc.clientID }] }]);
  mara.undo();
  expect([mara.snapshot.board.title, news.length, mara.canUndo]).toEqual(['Test input', 1, false]);
});

test('[D316] what somebody made as it was before is theirs, and what went with rows is nobody’s', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const news = heardBy(mara);
  runAll(mara, tie(0, 0), tie(2, 0));
  syncAll(mara, tove);
  runAll(tove, tie(0, 0, 0), { kind: 'delete-row-pairs', from: 1, count: 1 });
  syncAll(mara, tove);
  const before = mara.snapshot;
  mara.undo();
  mara.undo();
  expect(mara.snapshot).toBe(before);
  // The rows went without a writer; the knot stands as Tove made it.
  expect(news).toMatchObject([
    { isTaken: false, kept: [{ client: null }] },
    { isTaken: false, kept: [{ client: tove.doc.clientID }] },
  ]);
});

test('[D316] a step on a board that another has replaced says whose that is', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const news = heardBy(mara);
  runAll(mara, tie(0, 0));
  syncAll(mara, tove);
  runAll(tove, loadBoard(sampleBoard(8, 2)));
  syncAll(mara, tove);
  mara.undo();
  expect(news).toMatchObject([{ isTaken: false, kept: [{ client: tove.doc.clientID }] }]);
  tove.undo();
  syncAll(mara, tove);
  expect(rowsOf(mara)[0]).toBe('bf f b');
});

/** Keeps steps as a store would: as they were added, without those that were dropped. */
class Shelf {
  readonly steps = new Map<OwnStep, OwnStep['edits'][number][]>();
  added(step: OwnStep, edit: OwnStep['edits'][number]): void {
    this.steps.set(step, [...(this.steps.get(step) ?? []), edit]);
  }
  dropped(step: OwnStep): void {
    this.steps.delete(step);
  }
  kept(): OwnStep[] {
    return [...this.steps].map(([{ way }, edits]) => ({ way, edits }));
  }
}

test('[D317] steps that were kept are undone and done again by a later visit, on a renewed document too', () => {
  const board = sampleBoard(8, 6);
  const first = openDesign(board);
  const shelf = new Shelf();
  // What was done before the shelf was there is kept as well.
  runAll(first, tie(0, 0));
  first.recallSteps([], shelf, () => false);
  const commands: readonly Command[] = [
    tie(0, 1),
    { kind: 'delete-row-pairs', from: 0, count: 1 },
    { kind: 'delete-string-pairs', from: 1, count: 2 },
    { kind: 'recolour-strings', strings: [0], colour: 'b' },
    { kind: 'remove-colour', id: 'r', replaceWith: 'g' },
    { kind: 'remove-colourway', id: 'w' },
    { kind: 'set-piece', patch: { lengthMm: 90 } },
    {
      kind: 'replace-pattern',
      pattern: { ...sampleBoard(6, 4).pattern, colours: ['g', 'g', 'b', 'g', 'b', 'g'] },
    },
    { kind: 'set-title', title: 'Other' },
    loadBoard(sampleBoard(4, 2)),
    tie(0, 0, 3),
  ];
  const states = [first.snapshot.board];
  for (const command of commands) {
    runAll(first, command);
    states.push(first.snapshot.board);
  }
  first.undo();
  states.pop();
  for (const doc of [first.doc, compactDesign(first.doc)!]) {
    const later = new Design(doc, { makerId: 'm', newId: countingIds('l'), captureMs: 0 });
    const kept = shelf.kept();
    later.recallSteps(kept, new Shelf(), () => false);
    expect(later.canRedo).toBe(true);
    later.redo();
    expect(rowsOf(later)[0]).toBe('fb f');
    later.undo();
    for (let i = states.length - 2; i >= 0; i--) {
      expect([later.undo(), later.snapshot.board]).toEqual([true, states[i]]);
    }
    expect([later.undo(), later.snapshot.board, later.undo()]).toEqual([true, board, false]);
    for (const state of states) {
      later.redo();
      expect(later.snapshot.board).toEqual(state);
    }
    later.dispose();
  }
});

test('[D317] what was undone elsewhere is passed over, and what could be done again ends with a new step', () => {
  const mine = openDesign();
  const shelf = new Shelf();
  mine.recallSteps([], shelf, () => false);
  runAll(mine, { kind: 'set-title', title: 'A' }, tie(0, 0));
  const other = joinDesign(mine, 'm');
  const news = heardBy(other);
  other.recallSteps(shelf.kept(), new Shelf(), (client) => client === mine.doc.clientID);
  mine.undo();
  syncAll(mine, other);
  expect(other.undo()).toBe(true);
  expect([other.snapshot.board.title, news]).toEqual(['Test input', []]);
  const third = joinDesign(mine, 'm');
  runAll(third, tie(0, 2));
  third.recallSteps(shelf.kept(), new Shelf(), () => true);
  expect([third.canRedo, shelf.kept().map(({ way }) => way)]).toEqual([false, ['undo', 'redo']]);
});
