import { beforeEach, describe, expect, it } from 'vitest';
import { type Keychain, KeychainShelf, marksOf } from '../../../web/table/keychain-shelf.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const BOARD = readBoard(LOPSIDED);
const begun = (id: string, more: Partial<Keychain> = {}): Keychain => ({
  id,
  name: `For ${id}`,
  begunAt: 1,
  colourway: null,
  stage: 'tie',
  method: 'segments',
  size: 'half-row',
  firstHalf: 'right',
  view: 'mirror',
  batch: 'five',
  isMiddle: true,
  isCompared: true,
  cut: [0, 2],
  mounted: 3,
  finished: ['close'],
  tied: new Set(['band 1 0 0', 'band 1 0 1']),
  declined: '',
  own: { kinds: new Map([['band 1 0 1', 'fb']]), endsAfter: 4 },
  marks: [{ gapMs: 8200, knots: 1, wasHidden: false }],
  ...more,
});
let store: MapShelf;
let shelf: KeychainShelf;

beforeEach(() => {
  store = new MapShelf();
  shelf = new KeychainShelf('b', store);
});

describe('keychains under way', () => {
  it('[N1] several of one board are each found again as they were, the latest first, those of another board not', () => {
    expect(shelf.begin(begun('one'), BOARD)).toBe(true);
    expect(shelf.begin(begun('two', { begunAt: 2, tied: new Set() }), BOARD)).toBe(true);
    new KeychainShelf('b.c', store).begin(begun('three'), BOARD);
    const again = new KeychainShelf('b', store);
    expect(again.all().map(({ id }) => id)).toEqual(['two', 'one']);
    expect(again.find('one')).toEqual(begun('one'));
    expect(again.find('four')).toBeNull();
  });

  it('[N1] one that goes on leaves the others as they are, and one that is forgotten is gone with its board', () => {
    shelf.begin(begun('one'), BOARD);
    shelf.begin(begun('two'), BOARD);
    shelf.keep(begun('one', { mounted: 7 }));
    shelf.remove('two');
    expect(shelf.all()).toEqual([begun('one', { mounted: 7 })]);
    expect(shelf.boardOf('two')).toBeNull();
    expect([...store.kept.keys()].filter((key) => key.includes('two'))).toEqual([]);
  });

  it('[N2] the board is kept as it was begun with, without its other colourways', () => {
    const colourways = [{ id: 'w', name: 'Other', colours: BOARD.palette }];
    shelf.begin(begun('one'), { ...BOARD, colourways });
    expect(shelf.boardOf('one')).toEqual(BOARD);
  });

  it('[N4] where there is no room it says so, and what was kept before stays', () => {
    shelf.begin(begun('one'), BOARD);
    store.isFull = true;
    expect(shelf.keep(begun('one', { mounted: 9 }))).toBe(false);
    expect(shelf.find('one')?.mounted).toBe(3);
  });

  it('[N1] of what was kept by another hand it takes what it can read, and nothing of another version', () => {
    store.setItem(
      'larkboard.table.b.odd',
      '{"version":1,"name":7,"mounted":-2,"cut":[1,"x"],"stage":"fly","tied":"?"}',
    );
    store.setItem('larkboard.table.b.later', '{"version":2}');
    store.setItem('larkboard.table.b.broken', '{');
    expect(shelf.all()).toHaveLength(1);
    expect(shelf.find('odd')).toMatchObject({
      name: '',
      mounted: 0,
      cut: [1],
      stage: 'cut',
      tied: new Set(),
    });
  });

  it('[N1] keys of this board alone are ours; a storage that was emptied concerns everybody', () => {
    expect(shelf.isOurs('larkboard.table.b.one')).toBe(true);
    expect(shelf.isOurs('larkboard.table.c.one')).toBe(false);
    expect(shelf.isOurs(null)).toBe(true);
  });
});

describe('what of a board matters at the table', () => {
  it('[N5] is its strings, knots, colours, piece and gauge, not its title and notes', () => {
    const marks = marksOf(BOARD);
    expect(marksOf({ ...BOARD, title: 'Else', piece: { ...BOARD.piece, notes: 'Else' } })).toBe(marks);
    const others = [
      { ...BOARD, gauge: { ...BOARD.gauge, rowMm: 3 } },
      { ...BOARD, piece: { ...BOARD.piece, repeats: 2 } },
      { ...BOARD, palette: BOARD.palette.map((colour) => ({ ...colour, hex: '#000000' })) },
      readBoard({ ...LOPSIDED, rows: ['f f b', 'f b', 'f b b', 'b b'] }),
    ].map(marksOf);
    expect(new Set([marks, ...others]).size).toBe(5);
  });
});
