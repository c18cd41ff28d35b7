import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openWish, type Wish } from '../../../engine/index.ts';
import { WishShelf } from '../../../web/wish/wish-shelf.ts';
import { refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';

const PALETTE = [{ id: 'c', name: '', hex: '#884422' }];
const WISH: Wish = { ...openWish({ strings: 4, start: 0, rows: 1 }, PALETTE), rows: [[0, -1]] };
const ADDRESSES = [[{ rowPair: 'r', stringPair: 's', half: 'inside' as const }, null]];
const DAY_MS = 24 * 3600 * 1000;

beforeEach(() => {
  stubBrowser();
});
afterEach(() => vi.unstubAllGlobals());

describe('wishes that this browser keeps', () => {
  it('[B337] one for each board, found again with the addresses of its cells; taken away, it is gone', async () => {
    const shelf = await WishShelf.open('one');
    expect(await shelf.read()).toBeNull();
    shelf.keep(WISH, ADDRESSES);
    shelf.close();
    const again = await WishShelf.open('one');
    expect(again.keeps).toBe(true);
    expect(await again.read()).toEqual({ wish: WISH, addresses: ADDRESSES });
    const other = await WishShelf.open('other');
    expect(await other.read()).toBeNull();
    again.keep(null, []);
    expect(await again.read()).toBeNull();
    again.close();
    other.close();
  });

  it('[B337] what is half a year old goes, of any board', async () => {
    let now = 0;
    const shelf = await WishShelf.open('old', () => now);
    shelf.keep(WISH, ADDRESSES);
    now = 181 * DAY_MS;
    const other = await WishShelf.open('new', () => now);
    await other.read();
    now = 0;
    expect(await shelf.read()).toBeNull();
    shelf.close();
    other.close();
  });

  it('[B337] without a database nothing is kept, and that is known', async () => {
    refuseDatabases();
    const shelf = await WishShelf.open('one');
    expect(shelf.keeps).toBe(false);
    shelf.keep(WISH, ADDRESSES);
    expect(await shelf.read()).toBeNull();
  });
});
