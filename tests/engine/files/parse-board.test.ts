import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { boardSchema, formatBoard, parseBoard } from '../../../engine/index.ts';

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
    ['a later version', 'unknown-version', 'version', (f) => ({ ...f, version: 3 })],
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
});
