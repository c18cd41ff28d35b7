/** What this browser keeps of a person's steps. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { StepShelf, type StepOwner } from '../../../web/sync/step-shelf.ts';
import type { Edit, OwnStep } from '../../../engine/document/index.ts';
import { refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

const DAY = 24 * 3600 * 1000;
let nowMs = 40 * DAY;
const shelves: StepShelf[] = [];

beforeEach(() => void stubBrowser());
afterEach(async () => {
  for (const shelf of shelves.splice(0)) shelf.close();
  await turnsOfTheLoop(3);
  vi.unstubAllGlobals();
});

async function shelfOf(more: Partial<StepOwner> = {}): Promise<StepShelf> {
  const owner = { boardId: 'kites', personId: 'wren', client: 7, now: () => nowMs++, ...more };
  const shelf = await StepShelf.open(owner);
  if (shelf === null) throw new Error('there is no database');
  shelves.push(shelf);
  return shelf;
}

const titled = (title: string): Edit => ({
  changes: [{ root: 'meta', key: 'b.title', before: '', after: title }],
  held: { lists: [], values: [], bases: [] },
});

const stepOf = (...titles: readonly string[]): OwnStep => ({ way: 'undo', edits: titles.map(titled) });

function put(shelf: StepShelf, step: OwnStep): OwnStep {
  for (const edit of step.edits) shelf.added(step, edit);
  return step;
}

const titlesIn = ({ steps }: StepShelf): unknown =>
  steps.map(({ edits }) => edits.map(({ changes }) => changes[0]!.after).join('+'));

it('[W900] steps come back in their order, each with all its edits, for this person on this board alone', async () => {
  const shelf = await shelfOf();
  put(shelf, stepOf('a', 'b'));
  put(shelf, { ...stepOf('c'), way: 'redo' });
  put(await shelfOf({ personId: 'finch' }), stepOf('others'));
  put(await shelfOf({ boardId: 'kite' }), stepOf('elsewhere'));
  const later = await shelfOf();
  expect([titlesIn(later), later.steps.map(({ way }) => way), [...later.clients]]).toEqual([
    ['a+b', 'c'],
    ['undo', 'redo'],
    [7],
  ]);
});

it('[W900] what was taken back is gone', async () => {
  const shelf = await shelfOf();
  const step = put(shelf, stepOf('a', 'b'));
  put(shelf, stepOf('c'));
  shelf.dropped(step);
  shelf.dropped(stepOf('never kept'));
  const later = await shelfOf();
  later.dropped(later.steps[0]!);
  expect(titlesIn(await shelfOf())).toEqual([]);
});

it('[W901] a step that one tab takes back is let go of in the other', async () => {
  const one = await shelfOf();
  put(one, stepOf('a'));
  put(one, stepOf('b'));
  const other = await shelfOf();
  const gone: OwnStep[] = [];
  other.onDropped = (step) => gone.push(step);
  const again = await shelfOf();
  again.dropped(again.steps[1]!);
  await until('the other tab has heard', () => gone.length > 0);
  expect(gone).toEqual([other.steps[1]]);
});

it('[W902] the oldest steps go when there are too many bytes, and whoever did them when they are too old', async () => {
  const bound = { mostBytes: 150 };
  const shelf = await shelfOf(bound);
  for (const title of ['a', 'b', 'c', 'd']) put(shelf, stepOf(title.repeat(20)));
  put(shelf, stepOf('e'.repeat(400)));
  expect(titlesIn(await shelfOf(bound))).toEqual([]);
  for (const title of ['a', 'b', 'c', 'd']) put(shelf, stepOf(title.repeat(20)));
  expect(titlesIn(await shelfOf(bound))).toEqual(['c'.repeat(20), 'd'.repeat(20)]);
  nowMs += 31 * DAY;
  await shelfOf({ personId: 'finch' });
  nowMs -= 31 * DAY;
  expect(titlesIn(await shelfOf(bound))).toEqual([]);
});

it('[W902] a step of which a part cannot be read is dropped whole', async () => {
  const shelf = await shelfOf();
  const step = put(shelf, stepOf('a'));
  shelf.added(step, { ...titled('b'), changes: [{ root: 'meta', key: 'b.title', before: '', after: {} }] });
  put(shelf, stepOf('c'));
  expect(titlesIn(await shelfOf())).toEqual(['c']);
  expect(titlesIn(await shelfOf())).toEqual(['c']);
});

it('[W903] without a database there is no shelf, and one that is taken away ends nothing', async () => {
  const shelf = await shelfOf();
  await new Promise<void>((resolve, reject) => {
    const deleting = indexedDB.deleteDatabase('larkboard-steps');
    deleting.onsuccess = () => resolve();
    deleting.onerror = () => reject(deleting.error);
  });
  const step = put(shelf, stepOf('a'));
  shelf.dropped(step);
  refuseDatabases();
  expect(await StepShelf.open({ boardId: 'kites', personId: 'wren', client: 7, now: () => 0 })).toBeNull();
});

it('[W905] the steps of a board that is gone go with it, whoever did them', async () => {
  put(await shelfOf({ personId: 'finch' }), stepOf('a'));
  put(await shelfOf({ boardId: 'kites2' }), stepOf('b'));
  const shelf = await shelfOf();
  put(shelf, stepOf('c'));
  shelf.forgetBoard();
  expect(titlesIn(await shelfOf())).toEqual([]);
  expect(titlesIn(await shelfOf({ personId: 'finch' }))).toEqual([]);
  expect(titlesIn(await shelfOf({ boardId: 'kites2' }))).toEqual(['b']);
});
