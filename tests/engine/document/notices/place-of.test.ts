/** Where something lost is to be seen, by the key under which it stood. */
import { describe, expect, it } from 'vitest';
import { type Design, type Lost, placeOfLost } from '../../../../engine/document/index.ts';
import type { KeyChange } from '../../../../engine/document/journal/index.ts';
import { openDesign } from '../../../support/open-design.ts';
import { sampleBoard } from '../../../support/sample-board.ts';

const lost = (change: Partial<KeyChange>, more: Partial<Lost> = {}): Lost => ({
  kind: 'text',
  thing: 'x',
  isRemoved: true,
  isWhole: false,
  change: { root: 'meta', key: '', before: null, after: undefined, ...change },
  ...more,
});
const placed = (design: Design, ...changes: Partial<KeyChange>[]): unknown =>
  placeOfLost(
    design,
    changes.map((change) => lost(change)),
  );
const at = (index: number): object => ({ behind: '', before: '', at: index });

describe('[D337] what was lost is shown', () => {
  it('a removed pair where it stood, or at the end where the board has grown shorter', () => {
    const design = openDesign(sampleBoard(6, 4));
    expect(placed(design, { root: 'rowPairs', before: at(1) })).toEqual({ kind: 'row', row: 2 });
    expect(placed(design, { root: 'rowPairs', before: at(7) })).toEqual({ kind: 'row', row: 3 });
    expect(placed(design, { root: 'stringPairs', before: at(1) })).toEqual({ kind: 'strings', strings: [2] });
    expect(placed(design, { root: 'stringPairs', before: at(9) })).toEqual({ kind: 'strings', strings: [5] });
    const bare = openDesign(sampleBoard(6, 0));
    expect(placed(bare, { root: 'rowPairs', before: at(0) })).toBeNull();
  });

  it('a string’s colour at the string, left or right of its pair, while the string is there', () => {
    const design = openDesign(sampleBoard(6, 4));
    const { stringPair } = design.stringAddressOf(1)!;
    const colours = (key: string): unknown => placed(design, { root: 'colours', key });
    expect(colours(`${stringPair}:0`)).toEqual({ kind: 'strings', strings: [0] });
    expect(colours(`${stringPair}:1`)).toEqual({ kind: 'strings', strings: [1] });
    expect(colours('gone.~0:1')).toBeNull();
    expect(colours('no pair:1')).toBeNull();
  });

  it('a colourway that is still there, and the titles, notes and colours of the board', () => {
    const design = openDesign(sampleBoard(6, 4));
    const colourway = (id: string): unknown =>
      placed(design, { root: 'colourways', key: JSON.stringify(['w0', id, '', 'name']) });
    expect([colourway('w'), colourway('gone')]).toEqual([{ kind: 'colourway', id: 'w' }, null]);
    expect(placed(design, { root: 'colourways', key: 'none' })).toBeNull();
    expect(placed(design, { key: 'w0.title' })).toEqual({ kind: 'title' });
    expect(placed(design, { key: 'w0.piece.notes' })).toEqual({ kind: 'notes' });
    for (const root of ['palette', 'paletteOrder'] as const)
      expect(placed(design, { root })).toEqual({ kind: 'colours' });
  });

  it('the most telling of several: a knot that can be seen; of knots that are gone nothing, of a whole board its versions', () => {
    const design = openDesign(sampleBoard(6, 4));
    expect(placed(design, { root: 'knots', key: 'gone.~0:~0:i' }, { key: 'w0.title' })).toEqual({
      kind: 'title',
    });
    expect(placed(design, { root: 'knots', key: 'gone.~0:~0:i' })).toBeNull();
    expect(placeOfLost(design, [lost({ root: 'knots', key: 'x' }, { isWhole: true })])).toEqual({
      kind: 'versions',
    });
    expect(placeOfLost(design, [])).toBeNull();
  });
});
