/** What a colourway means: its order, its marks, its threads, and colours that would do better. */
import { expect, test } from 'vitest';
import {
  type Board,
  type Colourway,
  checkPalette,
  cutList,
  dressBoard,
  formatBoard,
  markColourways,
  paletteIn,
  parseBoard,
  planBoard,
  planMount,
  shoppingList,
  suggestLooks,
  vanishingNeighbours,
} from '../../../engine/index.ts';
import { colourMeetings } from '../../../engine/set/meetings.ts';
import { demoFile, readBoard } from '../../support/own-board.ts';

const HEX = { a: '#1f6266', b: '#e8c98a', c: '#8a2d4f', d: '#efe8da' } as const;

/** Strings in the given colours over untied rows. */
function boardOf(order: string, rows: readonly string[] = []): Board {
  return readBoard({
    format: 'larkboard',
    version: 1,
    palette: Object.entries(HEX).map(([id, hex]) => ({ id, name: `colour ${id}`, hex })),
    strings: [...order],
    rows,
  });
}

/** A colourway that gives these palette colours these hexes. */
function way(looks: Readonly<Record<string, string>>, id = 'w'): Colourway {
  return {
    id,
    name: id,
    colours: Object.entries(looks).map(([c, hex]) => ({ id: c, name: `${id} ${c}`, hex })),
  };
}

function marksOf(board: Board, colourway: Colourway | null) {
  return markColourways(board, [colourway], planBoard)[0]!;
}

test('[E1] a colourway changes looks and names, and nothing else', () => {
  const board = readBoard(demoFile('club-set'));
  const [ada] = board.colourways;
  const dressed = dressBoard(board, ada!);
  expect(dressed.palette.map(({ name, hex }) => [name, hex])).toEqual([
    ['dusk', '#3b3563'],
    ['sky', '#7fb2d0'],
    ['cloud', '#efe8da'],
  ]);
  expect({ ...dressed, palette: board.palette, colourways: board.colourways }).toEqual(board);
  expect(parseBoard(formatBoard(dressed))).toEqual({ ok: true, value: dressed });
  expect(dressBoard(board, null)).toEqual({ ...board, colourways: [] });
});

test('[E1] colours of one hex are one thread, named as the first; a hex in capitals is the same', () => {
  const dressed = dressBoard(boardOf('abcd'), way({ a: '#ABCDEF', c: '#abcdef' }));
  expect(dressed.pattern.colours).toEqual(['a', 'b', 'a', 'd']);
  expect(dressed.palette).toEqual([
    { id: 'a', name: 'w a', hex: '#abcdef' },
    { id: 'b', name: 'colour b', hex: HEX.b },
    { id: 'd', name: 'colour d', hex: HEX.d },
  ]);
});

test('[E1] a colour that no string has does not name the thread of one that strings have', () => {
  const dressed = dressBoard(boardOf('bccb'), way({ a: '#112233', b: '#112233' }));
  expect(dressed.pattern.colours).toEqual(['b', 'c', 'c', 'b']);
  expect(dressed.palette.map(({ id, name }) => [id, name])).toEqual([
    ['b', 'w b'],
    ['c', 'colour c'],
    ['d', 'colour d'],
  ]);
});

test('[E1] [W971] the name of a board’s colour goes with its hex alone: other threads under it go by their code', () => {
  const board = boardOf('abcd');
  const named = (id: string, name: string, hex: string) => ({ id, name, hex });
  const w: Colourway = {
    id: 'w',
    name: 'w',
    colours: [
      // Changed since it came along; the board's own, in capitals; with a name of its own; that of another colour of the board, as it looks.
      named('a', 'colour a', '#ddeeff'),
      named('b', 'colour b', HEX.b.toUpperCase()),
      named('c', 'moss', '#446633'),
      named('d', 'colour a', HEX.a),
    ],
  };
  expect(paletteIn(board.palette, w).map(({ name, isUnnamed }) => [name, isUnnamed])).toEqual([
    ['', true],
    ['colour b', false],
    ['moss', false],
    ['colour a', false],
  ]);
  expect(dressBoard(board, w).palette.map(({ name }) => name)).toEqual([
    '#ddeeff',
    'colour b',
    'moss',
    'colour a',
  ]);
  // Without a name, and as on the board because it says nothing.
  const bare: Colourway = { ...w, colours: [named('a', '', '#ddeeff')] };
  expect(paletteIn(board.palette, bare).map(({ name, isUnnamed }) => [name, isUnnamed])).toEqual([
    ['', true],
    ['colour b', false],
    ['colour c', false],
    ['colour d', false],
  ]);
  // The board's own colours are called as they are, also by an empty name.
  const nameless = { ...board, palette: board.palette.map((colour) => ({ ...colour, name: '' })) };
  expect(dressBoard(nameless, null).palette).toEqual(nameless.palette);
});

test('[E1] [W971] a thread is called by the first of its colours that has a name', () => {
  const colours = [
    { id: 'a', name: 'colour a', hex: '#446633' },
    { id: 'c', name: 'moss', hex: '#446633' },
  ];
  const dressed = dressBoard(boardOf('abcd'), { id: 'w', name: 'w', colours });
  expect(dressed.palette.map(({ id, name }) => [id, name])).toEqual([
    ['a', 'moss'],
    ['b', 'colour b'],
    ['d', 'colour d'],
  ]);
});

test('[W971] five colourways that changed one colour of the board do not share its name in what is to be bought', () => {
  const board = boardOf('abba');
  const hexes = ['#111111', '#333333', '#555555', '#777777', '#999999'];
  const ways = hexes.map(
    (hex, i): Colourway => ({
      id: `w${i}`,
      name: '',
      colours: [
        { id: 'a', name: 'colour a', hex },
        { id: 'b', name: 'colour b', hex: HEX.b },
      ],
    }),
  );
  const list = shoppingList(board, [null, ...ways], planBoard);
  const called = list.threads.map(({ hex, names }) => [hex, names]);
  expect(called.filter(([, names]) => names!.includes('colour a'))).toEqual([[HEX.a, ['colour a']]]);
  expect(called).toHaveLength(7);
});

test('[E1] the board’s own colours stay two even where they look the same', () => {
  const board = boardOf('abab');
  const twins = { ...board, palette: board.palette.map((colour) => ({ ...colour, hex: '#112233' })) };
  expect(dressBoard(twins, null).pattern.colours).toEqual(['a', 'b', 'a', 'b']);
  expect(new Set(dressBoard(twins, way({})).pattern.colours).size).toBe(1);
});

test('[E2] [E3] two singles that become a fold make the order cross; kept apart it does not', () => {
  const board = boardOf('acbc');
  expect(planMount(board.pattern.colours).neat).toBe(true);
  const marks = marksOf(board, way({ a: '#112233', b: '#112233', c: HEX.c, d: HEX.d }));
  expect([marks.plan!.crossings.length, marks.joined]).toEqual([1, [['a', 'b']]]);
  // Of two that cross, the bar of the one mounted later shows (rule M4): the right one's, from c to c.
  expect(marks.showing).toEqual(['c']);
  expect(marks.apart).toEqual({ crossings: 0, furtherSingles: 2 });
  expect(marks.isFine).toBe(false);
});

test('[E3] an order that crosses is neat when its two colours are one', () => {
  const board = boardOf('abab');
  expect(marksOf(board, null).plan!.crossings.length).toBe(1);
  const marks = marksOf(board, way({ a: '#112233', b: '#112233' }));
  expect([marks.plan!.neat, marks.apart, marks.joined]).toEqual([true, null, [['a', 'b']]]);
});

test('[E2] what a colourway does not name is told when a string has it, and looks as on the board', () => {
  const board = boardOf('abba');
  const marks = marksOf(board, way({ a: '#112233' }));
  expect(marks.missing).toEqual(['b']);
  expect(marks.board.palette.find(({ id }) => id === 'b')?.hex).toBe(HEX.b);
  expect(marksOf(board, way({ a: '#112233', b: '#ddcc44' })).missing).toEqual([]);
  expect(marksOf(board, null).missing).toEqual([]);
});

test('[E2] [E4] threads that are hard to tell apart are named, with how often they meet, as the board’s own check finds them', () => {
  const board = boardOf('abab', ['f b', 'f', 'b f', 'fb', 'f f']);
  const looks = way({ a: '#1f6266', b: '#22666a', c: '#000000', d: '#000000' });
  const marks = marksOf(board, looks);
  expect(marks.alike.map(({ colours, degree }) => [colours, degree])).toEqual([[['a', 'b'], 'alike']]);
  const dressed = dressBoard(board, looks);
  expect(marks.alike[0]!.deltaE).toEqual(checkPalette(dressed.palette).pairs[0]!.deltaE);
  expect(marks.alike[0]!.meetings).toBe(vanishingNeighbours(dressed)[0]!.count);
  expect(marks.alike[0]!.meetings).toBeGreaterThan(0);
  // The two blacks are on no string.
  expect(marks.joined).toEqual([]);
});

test('[E4] meetings are those of the neighbours that the colour check counts, on every demo board', () => {
  for (const name of ['club-set', 'kites-on-a-line', 'crosswind', 'odd-one']) {
    const board = readBoard(demoFile(name));
    const meet = colourMeetings(board.pattern);
    // A threshold above any difference lists every pair that meets.
    for (const { colours, count } of vanishingNeighbours(board, { thresholdDeltaE: 1000 }))
      expect([name, colours, meet(...colours)]).toEqual([name, colours, count]);
    // A colour that no string has meets none.
    const { id } = board.palette[0]!;
    expect([meet(id, 'none of ours'), meet('none of ours', id)]).toEqual([0, 0]);
  }
});

test('[L14] each keychain of the demo set is bought as its own list cuts it', () => {
  const board = readBoard(demoFile('club-set'));
  const makers = [null, ...board.colourways];
  const list = shoppingList(board, makers, planBoard);
  for (const maker of makers) {
    const own = cutList(dressBoard(board, maker));
    const shares = list.threads.flatMap((thread) =>
      thread.shares
        .filter(({ colourway }) => colourway === (maker?.id ?? null))
        .map((share) => [thread.hex, share] as const),
    );
    const looks = new Map(dressBoard(board, maker).palette.map(({ id, hex }) => [id, hex]));
    expect(shares.map(([hex, { pieces, totalMm }]) => [hex, pieces, totalMm]).sort()).toEqual(
      own.colours.map(({ colour, pieces, totalMm }) => [looks.get(colour), pieces, totalMm]).sort(),
    );
  }
  // cloud is in all four.
  expect(list.threads.find(({ hex }) => hex === '#efe8da')?.shares.length).toBe(4);
  expect([list.pieces, list.parts.map(({ count }) => count)]).toEqual([4, [4]]);
});

test('[L14] where two colours became one, what is bought is what that fold takes, not two singles', () => {
  const board = boardOf('accb', ['f f', 'f']);
  const joined = way({ a: '#112233', b: '#112233', c: HEX.c });
  const list = shoppingList(board, [joined], planBoard);
  expect(list.threads.map(({ hex, pieces }) => [hex, pieces])).toEqual([
    ['#112233', 1],
    [HEX.c, 1],
  ]);
  expect(list.totalMm).toBeLessThan(shoppingList(board, [null], planBoard).totalMm);
});

test('[E5] what is suggested can be told from all other colours in every sight', () => {
  const board = readBoard(demoFile('club-set'));
  const [ada] = board.colourways;
  const given = suggestLooks(board, ada!, 'honey', { known: board.palette });
  expect(given.length).toBe(10);
  expect(given.filter(({ source }) => source === 'known').length).toBeGreaterThan(0);
  for (const { hex, isHard, least } of given) {
    const colours = ada!.colours.map((colour) => (colour.id === 'honey' ? { ...colour, hex } : colour));
    expect([hex, marksOf(board, { ...ada!, colours }).isFine]).toEqual([hex, true]);
    expect([isHard, least >= 10]).toEqual([false, true]);
  }
  expect(suggestLooks(board, ada!, 'honey', { known: board.palette })).toEqual(given);
  expect(new Set(given.map(({ hex }) => hex)).size).toBe(10);
  expect(() => suggestLooks(board, ada!, 'honey', { most: 0 })).toThrow('most 0');
});

test('[E5] a colour to join with comes first where only that mounts neatly', () => {
  const board = boardOf('abab');
  const [first] = suggestLooks(board, way({ a: '#112233', b: '#ddcc44' }), 'a', { most: 4 });
  expect(first).toMatchObject({ hex: '#ddcc44', name: 'w b', source: 'join' });
  expect(suggestLooks(boardOf('abba'), way({}), 'a').some(({ source }) => source === 'join')).toBe(false);
});

test('[E5] beside many colours the best there is comes, marked', () => {
  // A grid through the colour cube: nothing is 10 away from all of it in every sight.
  const steps = ['00', '2b', '55', '80', 'aa', 'd5'];
  const palette = steps
    .flatMap((r) => steps.flatMap((g) => steps.map((b) => `#${r}${g}${b}`)))
    .slice(0, 199)
    .map((hex, i) => ({ id: `p${i}`, name: '', hex }));
  const board: Board = {
    ...boardOf('ab'),
    palette: [...palette, { id: 'x', name: '', hex: '#ffffff' }],
    pattern: { colours: [...palette.map(({ id }) => id), 'x'], start: 0, rows: 0, knots: new Uint8Array(0) },
  };
  const given = suggestLooks(board, null, 'x');
  expect(given.length).toBeGreaterThan(0);
  for (const { isHard, least } of given) expect([isHard, least < 10]).toEqual([true, true]);
});
