import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { type Command, Design, loadBoard, readDesign } from '../../../engine/document/index.ts';
import { formatBoard, type Pattern } from '../../../engine/index.ts';
import { openDesign, rowsOf, runAll, stringsOf } from '../../support/open-design.ts';
import { countingIds, sampleBoard, samplePattern } from '../../support/sample-board.ts';

const untied = (strings: number, rows: number): Pattern => ({
  ...samplePattern(strings, rows),
  knots: new Uint8Array(rows * (strings >> 1)),
});
const blank = (strings: number, rows: number) => ({
  ...sampleBoard(strings, rows),
  pattern: untied(strings, rows),
});

test('[D39] every bad command is refused with the field at fault and writes nothing', () => {
  const bad: [Command, string, string][] = [
    [{ kind: 'set-knots', knots: [{ row: 4, k: 0, knot: 1 }] }, 'out-of-range', 'knots[0].row'],
    [{ kind: 'set-knots', knots: [{ row: Number.NaN, k: 0, knot: 1 }] }, 'out-of-range', 'knots[0].row'],
    [
      {
        kind: 'set-knots',
        knots: [
          { row: 0, k: 0, knot: 1 },
          { row: 1, k: 2, knot: 1 },
        ],
      },
      'out-of-range',
      'knots[1].k',
    ],
    [{ kind: 'set-knots', knots: [{ row: 0, k: 0.5, knot: 1 }] }, 'out-of-range', 'knots[0].k'],
    [{ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 5 as never }] }, 'unknown-knot', 'knots[0].knot'],
    [{ kind: 'insert-row-pairs', at: 3, count: 1 }, 'out-of-range', 'at'],
    [{ kind: 'insert-row-pairs', at: 0, count: 0 }, 'out-of-range', 'count'],
    [{ kind: 'insert-row-pairs', at: 0, count: 9_999 }, 'limit', 'count'],
    [{ kind: 'delete-row-pairs', from: 0, count: 3 }, 'out-of-range', 'count'],
    [{ kind: 'delete-row-pairs', from: -1, count: 1 }, 'out-of-range', 'from'],
    [{ kind: 'insert-string-pairs', at: 0, count: 98 }, 'limit', 'count'],
    [{ kind: 'insert-string-pairs', at: 1, count: 49, mirrored: true }, 'limit', 'count'],
    [{ kind: 'insert-string-pairs', at: 4, count: 1 }, 'out-of-range', 'at'],
    [{ kind: 'insert-string-pairs', at: 0, count: 1, colours: ['r'] }, 'wrong-count', 'colours'],
    [{ kind: 'insert-string-pairs', at: 0, count: 1, colours: ['r', 'z'] }, 'unknown-colour', 'colours[1]'],
    [{ kind: 'delete-string-pairs', from: 0, count: 3 }, 'last-pair', 'count'],
    [{ kind: 'set-ends', firstHidden: 1 as never }, 'wrong-type', 'firstHidden'],
    [{ kind: 'recolour-strings', strings: [6], colour: 'r' }, 'out-of-range', 'strings[0]'],
    [{ kind: 'recolour-strings', strings: [0], colour: 'z' }, 'unknown-colour', 'colour'],
    [{ kind: 'swap-colours', a: 'r', b: 'z' }, 'unknown-colour', 'b'],
    [{ kind: 'add-colour', name: 'x', hex: 'red' }, 'out-of-range', 'hex'],
    [{ kind: 'add-colour', name: 'x'.repeat(61), hex: '#112233' }, 'out-of-range', 'name'],
    [{ kind: 'add-colour', name: 'x', hex: '#112233', id: 'r' }, 'duplicate-id', 'id'],
    [{ kind: 'add-colour', name: 'x', hex: '#112233', id: '' }, 'out-of-range', 'id'],
    [{ kind: 'edit-colour', id: 'z', name: 'x' }, 'unknown-colour', 'id'],
    [{ kind: 'edit-colour', id: 'r', hex: '#12345' }, 'out-of-range', 'hex'],
    [{ kind: 'remove-colour', id: 'r', replaceWith: 'r' }, 'out-of-range', 'replaceWith'],
    [{ kind: 'remove-colour', id: 'r', replaceWith: 'z' }, 'unknown-colour', 'replaceWith'],
    [{ kind: 'move-colour', id: 'r', to: 3 }, 'out-of-range', 'to'],
    [{ kind: 'set-title', title: 'x'.repeat(121) }, 'out-of-range', 'title'],
    [{ kind: 'set-title', title: 5 as never }, 'wrong-type', 'title'],
    [{ kind: 'set-piece', patch: { repeats: 0 } }, 'out-of-range', 'patch.repeats'],
    [{ kind: 'set-piece', patch: { repeats: 2, lengthMm: 50 } }, 'out-of-range', 'patch.lengthMm'],
    [{ kind: 'set-piece', patch: { notes: 'x'.repeat(4_001) } }, 'out-of-range', 'patch.notes'],
    [{ kind: 'set-piece', patch: { notes: 5 as never } }, 'out-of-range', 'patch.notes'],
    [{ kind: 'set-piece', patch: { leadInRows: 5 } }, 'out-of-range', 'patch.leadInRows'],
    [{ kind: 'set-piece', patch: { toString: 5 } as never }, 'unknown-field', 'patch."toString"'],
    [{ kind: 'set-gauge', patch: { cordMm: Number.POSITIVE_INFINITY } }, 'out-of-range', 'patch.cordMm'],
    [
      {
        kind: 'put-colourway',
        colourway: { id: 'x', name: '', colours: [{ id: 'z', name: '', hex: '#112233' }] },
      },
      'unknown-colour',
      'colourway.colours[0].id',
    ],
    [
      {
        kind: 'put-colourway',
        colourway: { id: 'x', name: '', maker: { id: '', name: 'Ada' }, colours: [] },
      },
      'out-of-range',
      'colourway.maker.id',
    ],
    [
      {
        kind: 'put-colourway',
        colourway: { id: 'x', name: '', maker: { id: 'p', name: 'x'.repeat(61) }, colours: [] },
      },
      'out-of-range',
      'colourway.maker.name',
    ],
    [{ kind: 'remove-colourway', id: 'none' }, 'unknown-colourway', 'id'],
    [
      { kind: 'replace-pattern', pattern: { ...untied(6, 2), colours: ['r'] } },
      'out-of-range',
      'pattern.colours',
    ],
    [
      { kind: 'replace-pattern', pattern: { ...untied(6, 2), colours: Array(6).fill('z') } },
      'unknown-colour',
      'pattern.colours[0]',
    ],
    [
      { kind: 'replace-pattern', pattern: { ...untied(6, 2), knots: new Uint8Array(5) } },
      'wrong-count',
      'pattern.knots',
    ],
    [
      { kind: 'replace-pattern', pattern: { ...untied(6, 2), knots: Uint8Array.of(0, 0, 0, 0, 0, 1) } },
      'unknown-knot',
      'pattern.knots[5]',
    ],
    [
      { kind: 'replace-pattern', pattern: { ...untied(6, 2), knots: Array(6).fill(0) as never } },
      'wrong-count',
      'pattern.knots',
    ],
    // No text that can be stored: half of a character.
    ...['', '\ud800'].flatMap((id): [Command, string, string][] => [
      [
        loadBoard({
          ...sampleBoard(),
          palette: [...sampleBoard().palette, { id, name: '', hex: '#112233' }],
        }),
        'out-of-range',
        'board.palette[3].id',
      ],
      [
        loadBoard({ ...sampleBoard(), colourways: [{ id, name: '', colours: [] }] }),
        'out-of-range',
        'board.colourways[0].id',
      ],
    ]),
    [loadBoard({ ...sampleBoard(), palette: [] }), 'unknown-colour', 'board.pattern.colours[0]'],
    [loadBoard({ ...sampleBoard(), title: 'x'.repeat(121) }), 'out-of-range', 'board.title'],
    [loadBoard({ ...sampleBoard(), piece: { leadInRows: 5 } }), 'out-of-range', 'board.piece.leadInRows'],
    [{ kind: 'dance' } as never, 'unknown-command', 'kind'],
  ];
  const design = openDesign(sampleBoard(6, 4));
  const before = Y.encodeStateAsUpdate(design.doc);
  const snapshot = design.snapshot;
  for (const [command, kind, path] of bad) {
    const result = design.run(command);
    expect([command, result.ok ? 'ok' : [result.error.kind, result.error.path]]).toEqual([
      command,
      [kind, path],
    ]);
    if (!result.ok) expect(result.error.message.startsWith(path)).toBe(true);
  }
  expect(Y.encodeStateAsUpdate(design.doc)).toEqual(before);
  expect(design.snapshot).toBe(snapshot);
  expect(design.canUndo).toBe(false);
});

test('[D39] of too many strings it is told how many there would be, those on the other side of the mirror too', () => {
  const design = openDesign(sampleBoard(6, 4));
  const wouldBe = (command: Omit<Extract<Command, { kind: 'insert-string-pairs' }>, 'kind'>): unknown => {
    const result = design.run({ kind: 'insert-string-pairs', ...command });
    return result.ok ? 'ok' : [result.error.demand, result.error.value];
  };
  const most = { be: 'most-strings', most: 200 };
  expect(wouldBe({ at: 0, count: 98 })).toEqual([most, '202']);
  expect(wouldBe({ at: 1, count: 49, mirrored: true })).toEqual([most, '202']);
  const middle = openDesign(sampleBoard(4, 2)).run({
    kind: 'insert-string-pairs',
    at: 1,
    count: 99,
    mirrored: true,
  });
  expect(middle).toMatchObject({ error: { demand: most, value: '202' } });
});

test('[D39] what changes nothing writes nothing', () => {
  const design = openDesign();
  const before = Y.encodeStateAsUpdate(design.doc);
  runAll(
    design,
    { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 1 }] },
    { kind: 'set-title', title: 'Test input' },
    { kind: 'set-piece', patch: { repeats: 2, barMm: null } },
    { kind: 'recolour-strings', strings: [0], colour: 'r' },
    { kind: 'swap-colours', a: 'r', b: 'r' },
    { kind: 'edit-colour', id: 'r', name: 'red', hex: '#CC2222' },
    { kind: 'move-colour', id: 'g', to: 1 },
    { kind: 'put-colourway', colourway: sampleBoard().colourways[0]! },
    { kind: 'set-ends', firstHidden: false },
    { kind: 'set-knots', knots: [] },
  );
  expect(Y.encodeStateAsUpdate(design.doc)).toEqual(before);
});

test('[D39] more knots at once than an update should carry are refused', () => {
  const design = openDesign(blank(200, 2_010));
  const many = Array.from({ length: 100_500 }, (_, i) => ({
    row: (i % 1_005) * 2,
    k: Math.floor(i / 1_005),
    knot: 1 as const,
  }));
  expect(design.run({ kind: 'set-knots', knots: many.slice(0, 100_000) })).toEqual({ ok: true });
  design.undo();
  expect(design.run({ kind: 'set-knots', knots: many })).toMatchObject({
    ok: false,
    error: { kind: 'limit', path: 'knots' },
  });
});

test('[D40] knots are set, the later entry winning', () => {
  const design = openDesign(blank(6, 2));
  runAll(design, {
    kind: 'set-knots',
    knots: [
      { row: 0, k: 0, knot: 1 },
      { row: 1, k: 1, knot: 4 },
      { row: 0, k: 0, knot: 3 },
    ],
  });
  expect(rowsOf(design)).toEqual(['fb - -', '- bf']);
});

test('[D40] mirrored knots lean the other way, save on the middle line', () => {
  const design = openDesign(blank(6, 2));
  runAll(design, {
    kind: 'set-knots',
    mirrored: true,
    knots: [
      { row: 0, k: 0, knot: 1 },
      { row: 0, k: 1, knot: 3 },
      { row: 1, k: 1, knot: 4 },
    ],
  });
  expect(rowsOf(design)).toEqual(['f fb b', 'fb bf']);
  const odd = openDesign(blank(5, 2)).run({
    kind: 'set-knots',
    mirrored: true,
    knots: [{ row: 0, k: 0, knot: 1 }],
  });
  expect(odd).toMatchObject({ ok: false, error: { kind: 'no-mirror' } });
});

test('[D41] rows go in without moving a knot to another row pair', () => {
  const design = openDesign(sampleBoard(6, 4));
  runAll(design, { kind: 'insert-row-pairs', at: 1, count: 1 });
  expect(rowsOf(design)).toEqual(['- f b', 'f b', '- - -', '- -', 'b fb bf', 'fb bf']);
  runAll(
    design,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'insert-row-pairs', at: 4, count: 1 },
  );
  expect(rowsOf(design).slice(2, -2)).toEqual(['- f b', 'f b', '- - -', '- -', 'b fb bf', 'fb bf']);
});

test('[D42] all rows may go', () => {
  const design = openDesign(sampleBoard(6, 4));
  runAll(design, { kind: 'delete-row-pairs', from: 0, count: 1 });
  expect(rowsOf(design)).toEqual(['b fb bf', 'fb bf']);
  runAll(
    design,
    { kind: 'set-piece', patch: { leadInRows: 2 } },
    { kind: 'delete-row-pairs', from: 0, count: 1 },
  );
  expect(rowsOf(design)).toEqual([]);
  expect(design.snapshot.board.piece.leadInRows).toBe(0);
  expect(design.snapshot.repairs).toEqual([]);
  runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
  expect(rowsOf(design)).toEqual(['- - -', '- -']);
});

test('[D43] [D44] strings go in with the colours beside them and leave every knot with its pair', () => {
  const design = openDesign(sampleBoard(4, 2));
  expect([stringsOf(design), rowsOf(design)]).toEqual(['rgbr', ['- f', 'f']]);
  runAll(design, { kind: 'insert-string-pairs', at: 1, count: 1 });
  expect([stringsOf(design), rowsOf(design)]).toEqual(['rgrgbr', ['- - f', 'f -']]);
  runAll(design, { kind: 'insert-string-pairs', at: 0, count: 1 });
  expect([stringsOf(design), rowsOf(design)]).toEqual(['rgrgrgbr', ['- - - f', '- f -']]);
  runAll(design, { kind: 'insert-string-pairs', at: 4, count: 1, colours: ['g', 'g'] });
  expect([stringsOf(design), rowsOf(design)]).toEqual(['rgrgrgbrgg', ['- - - f -', '- f - -']]);
});

test('[D44] a mirrored pattern stays mirrored when strings go in mirrored', () => {
  const pattern: Pattern = {
    colours: ['r', 'g', 'g', 'b', 'b', 'g', 'g', 'r'],
    start: 0,
    rows: 2,
    knots: Uint8Array.of(1, 3, 4, 2, 1, 3, 2, 0),
  };
  const isMirrored = (design: Design): boolean => {
    const [inside, seams] = rowsOf(design).map((row) => row.split(' '));
    const swap: Record<string, string> = { f: 'b', b: 'f', fb: 'bf', bf: 'fb', '-': '-' };
    const same = (row: string[]): boolean =>
      row.every((knot, k) => k * 2 + 1 === row.length || row[row.length - 1 - k] === swap[knot]);
    const colours = stringsOf(design);
    return same(inside!) && same(seams!) && colours === [...colours].reverse().join('');
  };
  for (let at = 0; at <= 4; at++) {
    const design = openDesign({ ...sampleBoard(), pattern });
    expect(isMirrored(design)).toBe(true);
    for (const given of [true, false]) {
      const count = at === 2 ? 1 : 2;
      const colours = at === 2 ? ['b', 'b'] : ['r', 'g', 'g', 'b'];
      const command = { kind: 'insert-string-pairs', at, count, mirrored: true } as const;
      runAll(design, given ? { ...command, colours } : command);
      expect([at, stringsOf(design), isMirrored(design)]).toEqual([at, stringsOf(design), true]);
      expect(stringsOf(design).length).toBe(at === 2 ? 10 : 16);
      design.undo();
    }
  }
});

test('[D45] [D15] two strings stay, and a lone string needs a second pair', () => {
  const design = openDesign(sampleBoard(5, 2));
  expect(design.run({ kind: 'delete-string-pairs', from: 0, count: 2 })).toMatchObject({
    error: { kind: 'last-pair' },
  });
  runAll(design, { kind: 'delete-string-pairs', from: 0, count: 1 });
  expect(stringsOf(design)).toBe('brg'.slice(0, 3));
  expect(design.run({ kind: 'delete-string-pairs', from: 0, count: 1 })).toMatchObject({
    error: { kind: 'last-pair' },
  });
  runAll(design, { kind: 'set-ends', loneString: false }, { kind: 'delete-string-pairs', from: 1, count: 1 });
  expect(stringsOf(design)).toBe('br');
  expect(design.run({ kind: 'set-ends', loneString: true })).toMatchObject({ error: { kind: 'last-pair' } });
});

test('[D46] hiding ends moves nothing and showing them brings the knots back', () => {
  const design = openDesign(sampleBoard(6, 4));
  const before = rowsOf(design);
  runAll(design, { kind: 'set-ends', firstHidden: true, lastHidden: true, loneString: true });
  expect(design.snapshot.board.pattern).toMatchObject({ start: 1, rows: 2 });
  expect([stringsOf(design), rowsOf(design)]).toEqual(['rgbrg', ['f b', 'b fb']]);
  runAll(design, { kind: 'set-ends', firstHidden: false, lastHidden: false, loneString: false });
  expect(rowsOf(design)).toEqual(before);
});

test('[D25] [D50] [D51] [D52] title, piece and gauge are set and taken back', () => {
  const design = openDesign();
  runAll(
    design,
    { kind: 'set-title', title: 'New' },
    { kind: 'set-piece', patch: { lengthMm: 90, end: null, ring: 'd-ring', notes: 'for Ada\nand Grace' } },
    { kind: 'set-gauge', patch: { cordMm: null, rowMm: 2 } },
  );
  const { board, repairs } = design.snapshot;
  expect([board.title, board.piece, board.gauge, repairs]).toEqual([
    'New',
    { lengthMm: 90, tailMm: 40, ring: 'd-ring', notes: 'for Ada\nand Grace' },
    { rowMm: 2 },
    [],
  ]);
  runAll(design, { kind: 'set-piece', patch: { repeats: 3, notes: null } });
  expect(design.snapshot.board.piece).toEqual({ repeats: 3, tailMm: 40, ring: 'd-ring' });
});

test('[D60] [D61] strings are recoloured and colours swapped', () => {
  const design = openDesign(sampleBoard(5, 2));
  runAll(design, { kind: 'recolour-strings', strings: [0, 4], colour: 'b' });
  expect(stringsOf(design)).toBe('bgbrb');
  runAll(design, { kind: 'swap-colours', a: 'b', b: 'g' });
  expect(stringsOf(design)).toBe('gbgrg');
  runAll(design, { kind: 'set-ends', loneString: false });
  expect(stringsOf(design)).toBe('gbgrgg');
});

test('[D62] [D63] [D64] [D65] the palette is added to, changed, ordered and reduced', () => {
  const design = openDesign();
  const ids = (): string => design.snapshot.board.palette.map(({ id }) => id).join(' ');
  runAll(
    design,
    { kind: 'add-colour', name: 'sand', hex: '#DDCC99', id: 's' },
    { kind: 'edit-colour', id: 'g', name: 'leaf' },
    { kind: 'move-colour', id: 's', to: 0 },
  );
  expect(ids()).toBe('s r g b');
  runAll(design, { kind: 'move-colour', id: 's', to: 2 });
  expect(ids()).toBe('r g s b');
  runAll(design, { kind: 'move-colour', id: 'r', to: 3 });
  expect(ids()).toBe('g s b r');
  runAll(design, { kind: 'remove-colour', id: 'r', replaceWith: 's' });
  expect(design.snapshot.board.palette).toEqual([
    { id: 'g', name: 'leaf', hex: '#22aa44' },
    { id: 's', name: 'sand', hex: '#ddcc99' },
    { id: 'b', name: 'blue', hex: '#2244cc' },
  ]);
  expect(stringsOf(design)).toBe('sgbsgb');
  runAll(design, { kind: 'add-colour', name: 'no id', hex: '#000000' });
  expect(design.snapshot.board.palette.at(-1)).toEqual({ id: 'm-0', name: 'no id', hex: '#000000' });
});

test('[D66] [D67] colourways are put, changed and removed', () => {
  const design = openDesign();
  const one = {
    id: 'x',
    name: 'X',
    colours: [
      { id: 'b', name: 'sky', hex: '#88bbff' },
      { id: 'r', name: '', hex: '#ff8888' },
    ],
  };
  runAll(design, { kind: 'put-colourway', colourway: one });
  expect(design.snapshot.board.colourways).toEqual([...sampleBoard().colourways, one]);
  const less = { ...one, name: 'Y', colours: one.colours.slice(1) };
  runAll(design, { kind: 'put-colourway', colourway: less });
  expect(design.snapshot.board.colourways).toEqual([...sampleBoard().colourways, less]);
  runAll(design, { kind: 'remove-colourway', id: 'w' });
  expect(design.snapshot.board.colourways).toEqual([less]);
});

test('[D68] a colourway is given to somebody, to somebody else, and let go', () => {
  const design = openDesign();
  const [way] = sampleBoard().colourways;
  const given = (id: string) => ({ ...way!, maker: { id, name: `name of ${id}` } });
  for (const colourway of [given('ada'), given('bo'), way!]) {
    runAll(design, { kind: 'put-colourway', colourway });
    expect(design.snapshot.board.colourways).toEqual([colourway]);
  }
  const before = Y.encodeStateAsUpdate(design.doc);
  runAll(design, { kind: 'put-colourway', colourway: way! });
  expect(Y.encodeStateAsUpdate(design.doc)).toEqual(before);
});

test('[D67] a colourway put again under the id of one that was removed is as it is put', () => {
  const design = openDesign();
  runAll(design, { kind: 'remove-colourway', id: 'w' });
  const again = { id: 'w', name: 'again', colours: [{ id: 'r', name: '', hex: '#123456' }] };
  runAll(design, { kind: 'put-colourway', colourway: again });
  expect(design.snapshot.board.colourways).toEqual([again]);
});

test('[D70] [D71] a pattern is replaced, a board loaded', () => {
  const design = openDesign();
  runAll(
    design,
    { kind: 'set-title', title: 'Mine' },
    { kind: 'replace-pattern', pattern: samplePattern(7, 3, 1) },
  );
  expect(design.snapshot.board).toEqual({ ...sampleBoard(), title: 'Mine', pattern: samplePattern(7, 3, 1) });
  runAll(design, loadBoard(sampleBoard(3, 9)));
  expect(formatBoard(design.snapshot.board)).toEqual(formatBoard(sampleBoard(3, 9)));
  expect(design.snapshot.repairs).toEqual([]);
});

test('[D5] an empty document takes nothing but a board', () => {
  const doc = new Y.Doc();
  const design = new Design(doc, { makerId: 'm', newId: countingIds('m') });
  expect(design.state).toEqual({ kind: 'empty' });
  expect(design.run({ kind: 'set-title', title: 'x' })).toMatchObject({ error: { kind: 'empty-document' } });
  runAll(design, loadBoard(sampleBoard()));
  expect(design.state).toEqual({ kind: 'ready' });
  expect(readDesign(doc)).toEqual(design.snapshot);
});

test('a command inside a transaction is a mistake of the caller', () => {
  const design = openDesign();
  design.doc.transact(() => {
    expect(() => design.run({ kind: 'set-title', title: 'x' })).toThrow(TypeError);
    expect(() => design.undo()).toThrow(TypeError);
  });
});

test('ids that would not read back are a mistake of the caller, before anything is written', () => {
  const design = new Design(openDesign().doc, { makerId: 'm', newId: () => 'a:b' });
  const before = Y.encodeStateAsUpdate(design.doc);
  expect(() => design.run({ kind: 'insert-row-pairs', at: 0, count: 1 })).toThrow(TypeError);
  expect(Y.encodeStateAsUpdate(design.doc)).toEqual(before);
});
