import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import {
  boardSchema,
  formatBoard,
  PIECE_FIELDS,
  parseBoard,
  planBoard,
  shoppingList,
} from '../../../engine/index.ts';

function goodFile() {
  return {
    format: 'larkboard',
    version: 1,
    title: 'A test',
    palette: [
      { id: 'a', name: 'one', hex: '#112233' },
      { id: 'b', name: 'two', hex: '#AABBCC' },
    ],
    strings: ['a', 'b', 'b', 'a'],
    rows: ['f b', 'fb', '- bf'],
    start: 0,
    piece: { repeats: 3, end: 'triangle', barMm: 19 },
    gauge: { cordMm: 1.2 },
    colourways: [{ id: 'w', name: 'other', colours: [{ id: 'a', name: 'x', hex: '#000000' }] }],
  };
}

const validate = new Ajv2020({ strict: true }).compile(boardSchema);

describe('parseBoard', () => {
  it('[P4] reads a whole file, from text and from a value', () => {
    const fromValue = parseBoard(goodFile());
    expect(fromValue).toEqual(parseBoard(JSON.stringify(goodFile())));
    if (!fromValue.ok) throw new Error(fromValue.error.message);
    expect(fromValue.value.pattern).toEqual({
      colours: ['a', 'b', 'b', 'a'],
      start: 0,
      rows: 3,
      knots: Uint8Array.of(1, 2, 3, 0, 0, 4),
    });
    expect(fromValue.value.palette[1]?.hex).toBe('#aabbcc');
    expect(fromValue.value.piece).toEqual({ repeats: 3, end: 'triangle', barMm: 19 });
  });

  it('[P5] formatBoard and parseBoard are each other’s inverse', () => {
    const read = parseBoard(goodFile());
    if (!read.ok) throw new Error(read.error.message);
    const file = formatBoard(read.value);
    expect(parseBoard(file)).toEqual(read);
    expect(formatBoard(read.value)).toEqual(JSON.parse(JSON.stringify(file)));
    expect(validate(file)).toBe(true);
  });

  it('[P4] what may be absent may be absent', () => {
    const { palette, strings, rows } = goodFile();
    const read = parseBoard({ format: 'larkboard', version: 1, palette, strings, rows });
    expect(read.ok && [read.value.title, read.value.piece, read.value.gauge, read.value.colourways]).toEqual([
      '',
      {},
      {},
      [],
    ]);
  });

  type File = ReturnType<typeof goodFile> & Record<string, unknown>;
  const cases: [name: string, kind: string, path: string, change: (file: File) => unknown][] = [
    ['a list', 'not-a-board', '', () => []],
    ['null', 'not-a-board', '', () => null],
    ['another format', 'not-a-board', 'format', (f) => ({ ...f, format: 'other' })],
    ['a later version', 'unknown-version', 'version', (f) => ({ ...f, version: 5 })],
    ['no rows', 'missing-field', 'rows', ({ rows: _, ...f }) => f],
    ['a field of its own', 'unknown-field', 'colors', (f) => ({ ...f, colors: [] })],
    [
      'a field of its own in the piece',
      'unknown-field',
      'piece.length',
      (f) => ({ ...f, piece: { length: 3 } }),
    ],
    ['an unknown knot', 'unknown-knot', 'rows[1]', (f) => ({ ...f, rows: ['f b', 'x', '- bf'] })],
    [
      '3 strings listed where the rows are of 4',
      'wrong-count',
      'rows[0]',
      (f) => ({ ...f, strings: ['a', 'b', 'b'] }),
    ],
    ['a row with a knot too many', 'wrong-count', 'rows[1]', (f) => ({ ...f, rows: ['f b', 'f f', '- bf'] })],
    ['a row that is no text', 'wrong-type', 'rows[0]', (f) => ({ ...f, rows: [['f', 'b']] })],
    [
      'a string of no colour',
      'unknown-colour',
      'strings[2]',
      (f) => ({ ...f, strings: ['a', 'b', 'c', 'a'] }),
    ],
    ['one string', 'out-of-range', 'strings', (f) => ({ ...f, strings: ['a'] })],
    ['201 strings', 'out-of-range', 'strings', (f) => ({ ...f, strings: Array(201).fill('a') })],
    ['20,001 rows', 'out-of-range', 'rows', (f) => ({ ...f, rows: Array(20_001).fill('f f') })],
    ['an empty palette', 'out-of-range', 'palette', (f) => ({ ...f, palette: [] })],
    [
      'two colours of one id',
      'duplicate-id',
      'palette[1].id',
      (f) => ({ ...f, palette: [f.palette[0], f.palette[0]] }),
    ],
    [
      'a hex of three digits',
      'out-of-range',
      'palette[0].hex',
      (f) => ({ ...f, palette: [{ id: 'a', hex: '#123' }] }),
    ],
    ['a start of 2', 'out-of-range', 'start', (f) => ({ ...f, start: 2 })],
    ['a negative gauge', 'out-of-range', 'gauge.cordMm', (f) => ({ ...f, gauge: { cordMm: -1 } })],
    ['a gauge that is text', 'out-of-range', 'gauge.rowMm', (f) => ({ ...f, gauge: { rowMm: '2' } })],
    ['half a repeat', 'out-of-range', 'piece.repeats', (f) => ({ ...f, piece: { repeats: 0.5 } })],
    [
      'repeats and a length',
      'out-of-range',
      'piece.lengthMm',
      (f) => ({ ...f, piece: { repeats: 1, lengthMm: 5 } }),
    ],
    ['an end of its own', 'out-of-range', 'piece.end', (f) => ({ ...f, piece: { end: 'round' } })],
    ['a title of 121 characters', 'out-of-range', 'title', (f) => ({ ...f, title: 'x'.repeat(121) })],
    [
      'a colourway of an unknown colour',
      'unknown-colour',
      'colourways[0].colours[0].id',
      (f) => ({ ...f, colourways: [{ id: 'w', colours: [{ id: 'z', hex: '#000000' }] }] }),
    ],
  ];

  it.each(cases)('[P6] %s is refused as %s at "%s"', (_, kind, path, change) => {
    const file = change(goodFile() as File);
    const read = parseBoard(file);
    expect(read).toMatchObject({ ok: false, error: { kind, path } });
    expect(!read.ok && read.error.message.startsWith(path)).toBe(true);
  });

  it('[P6] whatever the schema refuses, the parser refuses too', () => {
    let refused = 0;
    for (const [, , , change] of cases) {
      const file = change(goodFile() as File);
      if (validate(file)) continue;
      refused++;
      expect(parseBoard(file).ok).toBe(false);
    }
    expect(refused).toBeGreaterThan(15);
    expect(validate(goodFile())).toBe(true);
  });

  it('[P6] a file cut off anywhere is refused, never thrown', () => {
    const text = JSON.stringify(goodFile());
    for (let length = 0; length < text.length; length++)
      expect(parseBoard(text.slice(0, length))).toMatchObject({
        ok: false,
        error: { kind: 'not-json', path: '' },
      });
  });

  const number = (path: string, value: number): [path: string, file: unknown] => {
    const [table, field] = path.split('.') as ['piece' | 'gauge', string];
    return [path, { ...goodFile(), strings: ['a', 'a', 'a', 'a'], version: 4, [table]: { [field]: value } }];
  };
  const LEAST: readonly string[] = [
    ...Object.keys(PIECE_FIELDS).map((field) => `piece.${field}`),
    'gauge.cordMm',
    'gauge.rowMm',
    'gauge.knottingMm',
    'gauge.carrierMm',
  ].filter((path) => {
    const [, field] = path.split('.') as [string, keyof typeof PIECE_FIELDS];
    const rule = PIECE_FIELDS[field];
    return rule === undefined || (rule.type === 'number' && rule.isMinOpen);
  });

  it('[P30] no length and no pace is next to nothing, in files and in the schema', () => {
    expect(LEAST).toContain('piece.knotsPerMinute');
    expect(LEAST).toContain('piece.skeinMm');
    expect(LEAST.length).toBe(10);
    for (const path of LEAST)
      for (const value of [5e-324, 1e-9, 0.01, 0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
        const [, file] = number(path, value);
        expect(parseBoard(file)).toMatchObject({
          ok: false,
          error: { kind: 'out-of-range', path, demand: { be: 'above', least: 0.01 } },
        });
        expect(validate(file)).toBe(false);
      }
    for (const path of LEAST) expect(parseBoard(number(path, 0.5)[1]).ok).toBe(true);
  });

  it('[P30] whatever a file may say, minutes, lengths and price of it are numbers', () => {
    for (const path of LEAST) {
      const read = parseBoard(number(path, 0.0101)[1]);
      if (!read.ok) throw new Error(read.error.message);
      const board = { ...read.value, piece: { skeinPrice: 1, hourlyRate: 1, ...read.value.piece } };
      const { minutes, price, threads } = shoppingList(board, [null], planBoard);
      expect(price.kind === 'priced' && Number.isFinite(price.price), path).toBe(true);
      expect(Number.isFinite(minutes.all), path).toBe(true);
      for (const { totalMm, skeins } of threads) expect(Number.isFinite(totalMm + skeins), path).toBe(true);
    }
  });

  it('[P30] -0 reads as 0', () => {
    const read = parseBoard({ ...goodFile(), piece: { tailMm: -0 } });
    expect(read.ok && Object.is(read.value.piece.tailMm, 0)).toBe(true);
  });

  const texts: [path: string, set: (text: string) => unknown][] = [
    ['title', (title) => ({ ...goodFile(), title })],
    [
      'palette[0].name',
      (name) => ({
        ...goodFile(),
        palette: [
          { id: 'a', name, hex: '#112233' },
          { id: 'b', hex: '#112233' },
        ],
      }),
    ],
    [
      'palette[1].id',
      (id) => ({
        ...goodFile(),
        strings: ['a', 'a', 'a', 'a'],
        palette: [
          { id: 'a', hex: '#112233' },
          { id, hex: '#112233' },
        ],
      }),
    ],
    ['piece.notes', (notes) => ({ ...goodFile(), piece: { notes } })],
    ['colourways[0].name', (name) => ({ ...goodFile(), colourways: [{ id: 'w', name }] })],
    ['colourways[0].id', (id) => ({ ...goodFile(), colourways: [{ id }] })],
    [
      'colourways[0].maker.name',
      (name) => ({ ...goodFile(), version: 2, colourways: [{ id: 'w', maker: { id: 'p', name } }] }),
    ],
    [
      'colourways[0].maker.id',
      (id) => ({ ...goodFile(), version: 2, colourways: [{ id: 'w', maker: { id } }] }),
    ],
    [
      'colourways[0].colours[0].name',
      (name) => ({ ...goodFile(), colourways: [{ id: 'w', colours: [{ id: 'a', name, hex: '#112233' }] }] }),
    ],
  ];

  it.each(texts)('[P31] %s holds no text in which something else works than its characters', (path, set) => {
    const bad = [
      '\u0000',
      '\u0007',
      '\u007f',
      '\u0085',
      '\u009f',
      '\u202a',
      '\u202e',
      '\u2066',
      '\u2069',
      '\ufffe',
      '\uffff',
      '\ud83d',
      '\udc4d',
    ];
    for (const mark of bad) {
      const read = parseBoard(set(`blue${mark}x`));
      expect(read).toMatchObject({
        ok: false,
        error: { kind: 'out-of-range', path, demand: { be: 'plain' } },
      });
      if (!read.ok) {
        expect(read.error.value).toBe(`"blue\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}x"`);
        expect(read.error.message).not.toContain(mark);
      }
      // Halves of characters are beyond a schema.
      if (mark < '\ud800' || mark > '\udfff') expect(validate(set(`blue${mark}x`)), path).toBe(false);
    }
    for (const fine of ['naïve 👍', 'אבג \u200f', 'tab\tand\nline', ' '.repeat(20)])
      expect(parseBoard(set(fine)).ok, fine).toBe(true);
  });

  it('[P31] more than 100 spaces in a row are refused', () => {
    const notes = (count: number) =>
      parseBoard({ ...goodFile(), piece: { notes: `a${' \n'.repeat(count / 2)}b` } });
    expect(notes(100).ok).toBe(true);
    for (const count of [102, 3_000])
      expect(notes(count)).toMatchObject({
        ok: false,
        error: { path: 'piece.notes', demand: { be: 'spaces', most: 100 } },
      });
  });

  it('[P32] a hole in a list is refused by its place', () => {
    const { palette, strings, rows, colourways } = goodFile();
    const holed = <T>(list: readonly T[], at: number): T[] => {
      const copy = [...list];
      delete copy[at];
      return copy;
    };
    expect(parseBoard({ ...goodFile(), palette: holed(palette, 1) })).toMatchObject({
      error: { kind: 'wrong-type', path: 'palette[1]' },
    });
    expect(parseBoard({ ...goodFile(), strings: holed(strings, 2) })).toMatchObject({
      error: { kind: 'wrong-type', path: 'strings[2]' },
    });
    expect(parseBoard({ ...goodFile(), rows: holed(rows, 0) })).toMatchObject({
      error: { kind: 'wrong-type', path: 'rows[0]' },
    });
    expect(parseBoard({ ...goodFile(), rows: Array(3) })).toMatchObject({ error: { path: 'rows[0]' } });
    expect(parseBoard({ ...goodFile(), colourways: holed(colourways, 0) })).toMatchObject({
      error: { path: 'colourways[0]' },
    });
    expect(parseBoard({ ...goodFile(), colourways: [{ id: 'w', colours: Array(1) }] })).toMatchObject({
      error: { path: 'colourways[0].colours[0]' },
    });
  });

  it('[P32] what is not an object’s own is not read, and what is no plain object or list is refused', () => {
    class Palette extends Array {}
    class File {}
    expect(parseBoard(Object.assign(new File(), goodFile()))).toMatchObject({
      error: { kind: 'not-a-board', path: '' },
    });
    expect(parseBoard(Object.create(goodFile()))).toMatchObject({ error: { kind: 'not-a-board' } });
    const noPrototype = Object.assign(Object.create(null), goodFile());
    expect(parseBoard(noPrototype)).toEqual(parseBoard(goodFile()));
    const inherits = Object.assign(Object.create({ repeats: 3 }), { barMm: 19 });
    expect(parseBoard({ ...goodFile(), piece: inherits })).toMatchObject({
      error: { kind: 'wrong-type', path: 'piece' },
    });
    const ofRoot = Object.assign(Object.create(Object.assign(Object.create(null), { repeats: 3 })), {
      barMm: 19,
    });
    const read = parseBoard({ ...goodFile(), piece: ofRoot });
    expect(read.ok && read.value.piece).toEqual({ barMm: 19 });
    expect(parseBoard({ ...goodFile(), gauge: new Map() })).toMatchObject({ error: { path: 'gauge' } });
    expect(parseBoard({ ...goodFile(), palette: Palette.from(goodFile().palette) })).toMatchObject({
      error: { kind: 'wrong-type', path: 'palette' },
    });
    const noMethods = Object.setPrototypeOf([...goodFile().strings], null);
    expect(parseBoard({ ...goodFile(), strings: noMethods })).toMatchObject({ error: { path: 'strings' } });
    const text = JSON.stringify(goodFile()).replace('"repeats"', '"__proto__"');
    expect(parseBoard(text)).toMatchObject({ error: { kind: 'unknown-field', path: 'piece.__proto__' } });
  });

  it('[P33] a row or a file that is too long is refused unread, and no message repeats it', () => {
    const huge = 'f '.repeat(4_000_000);
    for (const row of [huge, `f${' '.repeat(8_000_000)}b`, ' '.repeat(1_001), 'f '.repeat(501)]) {
      const read = parseBoard({ ...goodFile(), rows: ['f b', row] });
      expect(read).toMatchObject({
        ok: false,
        error: { kind: 'out-of-range', path: 'rows[1]', demand: { be: 'characters', most: 1_000 } },
      });
    }
    expect(validate({ ...goodFile(), rows: ['f b', `f${' '.repeat(8_000_000)}`] })).toBe(false);
    expect(parseBoard(`${' '.repeat(40_000_001)}{}`)).toMatchObject({
      error: { kind: 'out-of-range', path: '' },
    });
    for (const file of [
      { ...goodFile(), title: huge },
      { ...goodFile(), strings: ['a', huge] },
      { ...goodFile(), palette: [{ id: huge, hex: '#112233' }] },
      { ...goodFile(), [huge]: 1 },
      { ...goodFile(), piece: { [huge]: 1 } },
      { ...goodFile(), format: huge },
      { ...goodFile(), version: huge },
    ]) {
      const read = parseBoard(file);
      if (read.ok) throw new Error('read');
      expect(JSON.stringify(read.error).length).toBeLessThan(400);
    }
  });

  it('[P33] the widest row, set under each other with spaces, is read', () => {
    const strings = Array(200).fill('a');
    const rows = [Array(100).fill('bf').join('   '), `  ${Array(99).fill('fb').join('  ')}  `];
    expect(parseBoard({ ...goodFile(), strings, rows }).ok).toBe(true);
  });
});
