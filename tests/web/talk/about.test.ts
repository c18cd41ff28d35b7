/** What a new thread can be about, what it is then pinned to, and what of the board lights for it. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Design, type EntryPlace, type Pin, placeOfPin } from '../../../engine/document/index.ts';
import { aboutChoices, litOfPin, pinAbout } from '../../../web/talk/about.ts';
import { EntriesOf } from '../../../web/talk/entry-words.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('talk'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

type Where = Parameters<typeof pinAbout>[0];

const at = (spot: Where['spot'], design: Design = openDesign()): Where => ({
  spot,
  design,
  placeOf: (pin) => placeOfPin(design, pin),
  entries: new EntriesOf(design.snapshot.board),
});
const KNOT = { on: 'knot', row: 1, k: 1, left: 3, right: 4 } as const;

describe('what can be talked about', () => {
  const own = (where: Where): readonly string[] =>
    aboutChoices(where)
      .map(([value, name]) => `${value}: ${name}`)
      .filter((choice) => !choice.startsWith('panel:'));

  it('[G1] is the board and each panel, wherever one is', () => {
    expect(own(at(null))).toEqual(['board: the whole board']);
    expect(aboutChoices(at(null)).map(([value]) => value)).toContain('panel:mounting');
  });

  it('[G1] on a knot also the knot, its row and both its strings; on a peg the string', () => {
    expect(own(at(KNOT))).toEqual([
      'board: the whole board',
      'knot: row 2, knot 2',
      'row: row 2',
      'left: string 4',
      'right: string 5',
    ]);
    expect(own(at({ on: 'peg', place: 2 }))).toEqual(['board: the whole board', 'peg: string 3']);
  });

  it('is an entry of a panel only while there is such an entry', () => {
    const colour = at({ on: 'entry', panel: 'colours', at: { on: 'colour', id: 'g' } });
    expect(own(colour)).toHaveLength(2);
    expect(own(colour)[1]).toContain('the colour green');
    expect(own(at({ on: 'entry', panel: 'mounting', at: { on: 'string', string: 30 } }))).toEqual([
      'board: the whole board',
    ]);
  });
});

describe('the pin of a choice', () => {
  const placed = (where: Where, about: string) => placeOfPin(where.design, pinAbout(where, about));

  it('[G1] leads back to what was chosen', () => {
    const where = at(KNOT);
    expect(placed(where, 'knot')).toEqual({ kind: 'knot', place: { row: 1, k: 1 } });
    expect(placed(where, 'row')).toEqual({ kind: 'row', place: 1 });
    expect(placed(where, 'left')).toEqual({ kind: 'string', place: 3 });
    expect(placed(where, 'right')).toEqual({ kind: 'string', place: 4 });
    expect(placed(where, 'board')).toEqual({ kind: 'board' });
    expect(placed(where, 'panel:gauge')).toEqual({ kind: 'panel', entry: 'gauge' });
    expect(placed(at({ on: 'peg', place: 5 }), 'peg')).toEqual({ kind: 'string', place: 5 });
    const value = at({ on: 'entry', panel: 'gauge', at: { on: 'value', name: 'cordMm' } });
    expect(placed(value, 'entry')).toMatchObject({
      kind: 'entry',
      panel: 'gauge',
      place: { name: 'cordMm' },
    });
  });

  it('is the board where the place is gone meanwhile, or another is asked for', () => {
    for (const about of ['knot', 'row', 'left', 'right'])
      expect(pinAbout(at({ on: 'knot', row: 40, k: 9, left: 90, right: 91 }), about)).toEqual({
        kind: 'board',
      });
    expect(pinAbout(at(null), 'entry')).toEqual({ kind: 'board' });
    expect(pinAbout(at(KNOT), 'peg')).toEqual({ kind: 'board' });
    expect(pinAbout(at({ on: 'peg', place: 1 }), 'left')).toEqual({ kind: 'board' });
    expect(pinAbout(at(KNOT), 'nothing we know')).toEqual({ kind: 'board' });
  });
});

describe('what lights for a thread', () => {
  const lit = (pin: Pin, design = openDesign()) => litOfPin(at(null, design), pin);

  it('[G2] is the knot, the knots of the row, or the string that it is about', () => {
    const where = at(KNOT);
    expect(lit(pinAbout(where, 'knot'), where.design)).toEqual({ knots: [{ row: 1, k: 1 }] });
    expect(lit(pinAbout(where, 'row'), where.design)).toEqual({
      knots: [
        { row: 1, k: 0 },
        { row: 1, k: 1 },
      ],
    });
    expect(lit(pinAbout(where, 'left'), where.design)).toEqual({ strings: [3] });
  });

  it('for an entry of a panel is what it speaks of; a value lights nothing', () => {
    const entry = (panel: string, of: EntryPlace) => {
      const where = at({ on: 'entry', panel, at: of });
      return lit(pinAbout(where, 'entry'), where.design);
    };
    expect(entry('mounting', { on: 'string', string: 2 })).toEqual({ strings: [2] });
    expect(entry('cutting', { on: 'strings', left: 0, right: 3 })).toEqual({ strings: [0, 3] });
    expect(entry('work', { on: 'knot', row: 0, k: 1 })).toEqual({ knots: [{ row: 0, k: 1 }] });
    expect(entry('colours', { on: 'colour', id: 'g' })).toEqual({ strings: [1, 4] });
    expect(entry('gauge', { on: 'value', name: 'cordMm' })).toBeNull();
  });

  it('is nothing for the board, a panel, and what is gone', () => {
    expect(lit({ kind: 'board' })).toBeNull();
    expect(lit({ kind: 'panel', entry: 'gauge' })).toBeNull();
    const where = at(KNOT);
    const pin = pinAbout(where, 'knot');
    runAll(where.design, { kind: 'delete-row-pairs', from: 0, count: 1 });
    expect(lit(pin, where.design)).toBeNull();
  });
});
