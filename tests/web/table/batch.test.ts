import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { cutTogether, keepCut, MOST_AT_ONCE, newBatch } from '../../../web/table/batch.ts';
import { KeychainShelf } from '../../../web/table/keychain-shelf.ts';
import { mirrorBoard } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { keychain } from '../../support/keychain.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';

const BOARD = readBoard(LOPSIDED);

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

it('[N83] several that are begun at once have numbers, ids of their own and one name as a batch; the first comes first', () => {
  const begin = (name: string, many: number) => {
    let ids = 0;
    const order = { before: 3, colourway: 'night', firstHalf: 'right', now: 50 } as const;
    return newBatch({ ...order, name, many, newId: () => `id${ids++}` });
  };
  const one = begin(' For Nell ', 1);
  expect(one.map(({ name, batch, view }) => [name, batch, view])).toEqual([['For Nell', '', 'from-right']]);
  const five = begin('Harbour', 5);
  expect(five.map(({ name }) => name)).toEqual([1, 2, 3, 4, 5].map((number) => `Harbour ${number}`));
  expect(new Set(five.map(({ id }) => id)).size).toBe(5);
  expect(new Set(five.map(({ batch }) => batch)).size).toBe(1);
  const shelf = new KeychainShelf('b', new MapShelf());
  for (const each of five) shelf.begin(each, BOARD);
  expect(shelf.all()).toEqual(five);
  // The name that the page proposes has a number already.
  for (const name of ['', 'Keychain 4'])
    expect(begin(name, 2).map((each) => each.name)).toEqual(['Keychain 4', 'Keychain 5']);
  expect([0, -3, Number.NaN, 2.4, 99].map((many) => begin('x', many).length)).toEqual([
    1,
    1,
    1,
    2,
    MOST_AT_ONCE,
  ]);
});

it('[N83] a cord is cut for all that were begun together, hang nothing yet and have the same cords', () => {
  const store = new MapShelf();
  const shelf = new KeychainShelf('b', store);
  const begin = (id: string, more: Parameters<typeof keychain>[1] = {}, board = BOARD): void => {
    shelf.begin(keychain(id, { batch: 'five', ...more }), board);
  };
  for (const id of ['one', 'two', 'three']) begin(id);
  begin('mounted', { mounted: 1 });
  begin('tied', { tied: new Set(['band 1 0 0']) });
  begin('mirrored', { view: 'mirror' }, mirrorBoard(BOARD));
  begin('other', { batch: 'two' });
  begin('alone', { batch: '' });
  const ids = (id: string) =>
    cutTogether(shelf, shelf.find(id)!)
      .map((one) => one.id)
      .sort();
  expect(ids('one')).toEqual(['three', 'two']);
  expect([ids('alone'), ids('other'), ids('mirrored')]).toEqual([[], [], []]);
  expect(keepCut(shelf, cutTogether(shelf, shelf.find('one')!), [0, 2])).toBe(true);
  expect(['two', 'three', 'mounted', 'mirrored', 'other'].map((id) => shelf.find(id)!.cut.length)).toEqual([
    2, 2, 0, 0, 0,
  ]);
  store.isFull = true;
  expect(keepCut(shelf, cutTogether(shelf, shelf.find('one')!), [0])).toBe(false);
});
