/** Entries of the panels: whether their panel still has them, and what they are called. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { EntryPlace } from '../../../engine/document/index.ts';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { EntriesOf, entryKey, entryName, pinnedEntryName } from '../../../web/talk/entry-words.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('talk'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

const boardOf = (colours: readonly string[], rows: readonly string[]): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(colours, rows),
});
const EVERY: readonly EntryPlace[] = [
  { on: 'string', string: 0 },
  { on: 'strings', left: 0, right: 1 },
  { on: 'knot', row: 0, k: 0 },
  { on: 'colour', id: 'r' },
  { on: 'value', name: 'cordMm' },
];

describe('whether a panel has an entry', () => {
  it('a folded string is one as long as it is mounted so, a single one as long as it is alone', () => {
    const entries = new EntriesOf(boardOf(['r', 'g', 'g', 'r', 'b'], []));
    expect(entries.has('mounting', { on: 'strings', left: 0, right: 3 })).toBe(true);
    expect(entries.has('cutting', { on: 'strings', left: 1, right: 2 })).toBe(true);
    expect(entries.has('cutting', { on: 'strings', left: 0, right: 1 })).toBe(false);
    expect(entries.has('cutting', { on: 'string', string: 4 })).toBe(true);
    expect(entries.has('cutting', { on: 'string', string: 0 })).toBe(false);
  });

  it('[B280] without a ring the cords are those of the beginning', () => {
    const worn = (begin: 'loose' | 'loop') =>
      new EntriesOf({ ...boardOf(['r', 'g', 'r', 'g'], []), piece: { begin } });
    expect(worn('loop').has('cutting', { on: 'strings', left: 0, right: 2 })).toBe(true);
    expect(worn('loop').has('cutting', { on: 'string', string: 0 })).toBe(false);
    expect(worn('loose').has('cutting', { on: 'string', string: 0 })).toBe(true);
    expect(worn('loose').has('cutting', { on: 'strings', left: 0, right: 2 })).toBe(false);
  });

  it('two strings of another colour break the order; of one colour they do not any more', () => {
    const entries = new EntriesOf(boardOf(['r', 'g', 'b', 'r'], []));
    expect(entries.has('symmetry', { on: 'strings', left: 1, right: 2 })).toBe(true);
    expect(entries.has('symmetry', { on: 'strings', left: 0, right: 3 })).toBe(false);
  });

  it('a step is one where a knot is tied', () => {
    const entries = new EntriesOf(boardOf(['r', 'g', 'b', 'r'], ['f -']));
    expect(entries.has('work', { on: 'knot', row: 0, k: 0 })).toBe(true);
    expect(entries.has('work', { on: 'knot', row: 0, k: 1 })).toBe(false);
  });

  it('a break of the mirror is both knots of it, and none once they mirror each other', () => {
    const broken = new EntriesOf(boardOf(['r', 'g', 'g', 'r'], ['f f', '-']));
    const whole = new EntriesOf(boardOf(['r', 'g', 'g', 'r'], ['f b', '-']));
    for (const k of [0, 1]) {
      expect(broken.has('symmetry', { on: 'knot', row: 0, k })).toBe(true);
      expect(whole.has('symmetry', { on: 'knot', row: 0, k })).toBe(false);
    }
  });

  it('in a board too large to be looked through at each edit, every break counts as there', () => {
    const entries = new EntriesOf(sampleBoard(100, 1300));
    expect(entries.has('symmetry', { on: 'knot', row: 0, k: 0 })).toBe(true);
  });

  it('colours and values are there as long as the board has them', () => {
    const entries = new EntriesOf(sampleBoard());
    expect(entries.has('colours', { on: 'colour', id: 'r' })).toBe(true);
    expect(entries.has('gauge', { on: 'value', name: 'cordMm' })).toBe(true);
  });

  it('[Y89] what a piece costs has a panel of its own, and is gone from that of the piece', () => {
    const entries = new EntriesOf(sampleBoard());
    const price: EntryPlace = { on: 'value', name: 'skeinPrice' };
    expect([entries.has('piece', price), entries.has('cost', price)]).toEqual([false, true]);
    expect(entries.has('piece', { on: 'value', name: 'tailMm' })).toBe(true);
    expect(entryName('cost', price, sampleBoard())).toBe('Price of a skein');
    expect(entryName('cost', { on: 'value', name: 'marginShare' }, sampleBoard())).toBe(
      'Margin (% of the price)',
    );
  });
});

describe('an entry', () => {
  it('has a key of its own in each panel', () => {
    const keys = ['mounting', 'symmetry'].flatMap((panel) => EVERY.map((at) => entryKey(panel, at)));
    expect(new Set(keys).size).toBe(keys.length);
    expect(entryKey('work', { on: 'knot', row: 1, k: 2 })).not.toBe(
      entryKey('work', { on: 'knot', row: 12, k: 2 }),
    );
  });

  it('is called by what it is, counted from one', () => {
    const name = (panel: string, at: EntryPlace) => entryName(panel, at, sampleBoard());
    expect(EVERY.map((at) => name(at.on === 'value' ? 'gauge' : 'cutting', at))).toEqual([
      'the single cord at place 1',
      'the cord at places 1 and 2',
      'the step at row 1, knot 1',
      'the colour red',
      'Width of a string',
    ]);
    expect(name('symmetry', EVERY[1]!)).toBe('the order of strings 1 and 2');
    expect(name('symmetry', EVERY[2]!)).toBe('the break at row 1, knot 1');
  });

  it('of a colour without a name is called by its id', () => {
    const [first, ...others] = sampleBoard().palette;
    const nameless = { ...sampleBoard(), palette: [{ ...first!, name: '' }, ...others] };
    expect(entryName('colours', { on: 'colour', id: 'r' }, nameless)).toBe('the colour r');
  });

  it('[G2] that is gone says so, and one that its panel has no longer too', () => {
    const board = boardOf(['r', 'g', 'g', 'r'], ['f -']);
    const say = (panel: string, place: EntryPlace | null, on: EntryPlace['on'] = 'knot') =>
      pinnedEntryName(
        { kind: 'entry', panel, of: { on } as never, place },
        board,
        new EntriesOf(board),
        'Panel',
      );
    expect(say('work', null)).toBe('a step that is gone (“Panel”)');
    expect(say('symmetry', null)).toBe('a break that is gone with its knot (“Panel”)');
    expect(say('cutting', null, 'strings')).toBe('a cord of which a string is gone (“Panel”)');
    expect(say('work', { on: 'knot', row: 0, k: 0 })).toBe('the step at row 1, knot 1 (“Panel”)');
    expect(say('work', { on: 'knot', row: 0, k: 1 })).toBe(
      'the step at row 1, knot 2, not an entry any more (“Panel”)',
    );
  });
});
