/** Parts of the matching set's page that need no browser: who may change what, the marks in short, words for colours. */
import { beforeAll, describe, expect, it } from 'vitest';
import { ROLES } from '../../../engine/document/index.ts';
import { type Colourway, markColourways, planBoard } from '../../../engine/index.ts';
import { shortMarks, whose } from '../../../web/set/card.ts';
import { colourWord } from '../../../web/set/colour-word.ts';
import { type Me, mayAssign, mayChange } from '../../../web/set/rights.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { readBoard } from '../../support/own-board.ts';

const me = (role: Me['role'], canEdit = true): Me => ({ id: 'me', name: 'Kit', role, canEdit });
const of = (maker?: Colourway['maker']): Colourway => ({
  id: 'w',
  name: 'W',
  colours: [],
  ...(maker && { maker }),
});
const mine = of({ id: 'me', name: 'Kit' });
const hers = of({ id: 'her', name: 'Fay' });

beforeAll(() => loadTexts('set'));

describe('rights in a set', () => {
  it('[Y4] one’s own, nobody’s, and as an owner all; nothing where the design cannot be changed', () => {
    for (const role of [...ROLES, null]) {
      const isAll = role === 'owner' || role === null;
      expect([role, mayChange(me(role), mine), mayChange(me(role), of()), mayChange(me(role), hers)]).toEqual(
        [role, true, true, isAll],
      );
      expect([role, mayAssign(me(role))]).toEqual([role, isAll]);
      for (const colourway of [mine, of(), hers]) expect(mayChange(me(role, false), colourway)).toBe(false);
      expect(mayAssign(me(role, false))).toBe(false);
    }
  });

  it('[Y1] whose it is: by the name somebody has now, else by the one they had', () => {
    const here = (name: string) => [
      {
        clientId: 1,
        self: false,
        presence: { person: { id: 'her', name, hex: '#112233' }, cursor: null, selection: null, view: null },
      },
    ];
    expect(whose(null, me('owner'), [])).toBe('the board');
    expect(whose(mine, me('owner'), [])).toBe('yours');
    expect(whose(of(), me('owner'), [])).toBe('nobody’s yet');
    expect(whose(hers, me('owner'), [])).toBe('Fay’s');
    expect(whose(hers, me('owner'), here('Fay Wren'))).toBe('Fay Wren’s');
  });
});

describe('marks in short', () => {
  const board = readBoard({
    format: 'larkboard',
    version: 1,
    palette: [
      { id: 'a', name: 'spruce', hex: '#1f6266' },
      { id: 'b', name: 'sand', hex: '#e8c98a' },
      { id: 'c', name: 'wine', hex: '#8a2d4f' },
    ],
    strings: ['a', 'c', 'b', 'c'],
    rows: [],
  });
  const marks = (colours: Colourway['colours']) =>
    shortMarks(markColourways(board, [{ id: 'w', name: 'W', colours }], planBoard)[0]!).map(
      ({ kind, text }) => [kind, text],
    );

  it('[Y10] each kind is named with its number', () => {
    const look = (id: string, hex: string) => ({ id, name: id, hex });
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#0c0c10')])).toEqual([
      ['good', 'neat back'],
    ]);
    expect(marks([look('a', '#111111'), look('b', '#111111'), look('c', '#141414')])).toEqual([
      ['warn', '1 crossing'],
      ['warn', '1 pair looks alike'],
      ['note', '2 colours became one'],
    ]);
    // Some who see colours otherwise see teal and wine alike.
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#8a2d4f')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair hard to tell apart'],
    ]);
    expect(marks([look('a', '#e0bf80')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair looks alike'],
      ['warn', '2 colours from the board'],
    ]);
  });
});

describe('words for colours', () => {
  it('[Y8] a colour without a name gets a plain word', () => {
    // Hues of CSS's own named colours (CSS Color Module Level 4).
    const named = {
      red: '#ff0000',
      blue: '#0000ff',
      green: '#008000',
      yellow: '#ffff00',
      orange: '#ffa500',
      pink: '#ffc0cb',
      grey: '#808080',
      brown: '#8b4513',
      turquoise: '#40e0d0',
      violet: '#ee82ee',
    };
    for (const [word, hex] of Object.entries(named))
      expect([word, colourWord(hex)]).toEqual([word, expect.stringContaining(word)]);
    expect(colourWord('#101010')).toBe('dark grey');
    expect(colourWord('#add8e6')).toBe('pale blue');
  });
});
