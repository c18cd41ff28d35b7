import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { type Design, loadBoard, readDesign, writeBoard } from '../../../engine/document/index.ts';
import type { Repair } from '../../../engine/document/repair.ts';
import { formatBoard, parseBoard } from '../../../engine/index.ts';
import { openDesign, rowsOf, runAll, stringsOf } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

/** The sample board (ids `w0` board, `w1` pattern) after a peer wrote into it behind the commands' back. */
function tampered(write: (doc: Y.Doc) => void): Design {
  const design = openDesign();
  design.doc.transact(() => write(design.doc), 'peer');
  expect(design.snapshot).toEqual(readDesign(design.doc));
  const file = formatBoard(design.snapshot.board);
  const parsed = parseBoard(JSON.stringify(file));
  expect(parsed).toEqual({ ok: true, value: design.snapshot.board });
  return design;
}
const repairs = (design: Design): readonly (readonly [string, string, number])[] =>
  design.snapshot.repairs.map(({ kind, path, count }: Repair) => [kind, path, count]);

test('[D6] [D7] a board is read as it was written, without repairs, whatever its size', () => {
  for (const strings of [2, 3, 4, 7, 20, 199, 200])
    for (const rows of [0, 1, 2, 3, 8])
      for (const start of [0, 1] as const) {
        const doc = new Y.Doc();
        writeBoard(doc, sampleBoard(strings, rows, start), countingIds('w'));
        expect(readDesign(doc)).toMatchObject({ board: sampleBoard(strings, rows, start), repairs: [] });
      }
});

test('a board that is none is refused before anything is written', () => {
  const doc = new Y.Doc();
  const board = { ...sampleBoard(), title: 'x'.repeat(121) };
  expect(() => writeBoard(doc, board, countingIds('w'))).toThrow(/title/);
  expect(doc.store.clients.size).toBe(0);
});

test('[D5] [D13] [D24] an empty document reads as the smallest board', () => {
  const { board, repairs: found } = readDesign(new Y.Doc());
  expect(parseBoard(formatBoard(board)).ok).toBe(true);
  expect([board.pattern.colours.length, board.pattern.rows, board.palette.length]).toEqual([2, 0, 1]);
  expect(found.map(({ kind }) => kind)).toContain('no-generation');
});

test('[D2] a newer document is neither read nor written', () => {
  const design = tampered((doc) => doc.getMap('meta').set('version', 3));
  expect(design.state).toEqual({ kind: 'newer', version: 3 });
  expect(design.snapshot.board.title).toBe('');
  const before = Y.encodeStateAsUpdate(design.doc);
  const result = design.run(loadBoard(sampleBoard()));
  expect(result).toMatchObject({ ok: false, error: { kind: 'newer-version' } });
  expect([design.undo(), design.redo(), design.canUndo]).toEqual([false, false, false]);
  expect(Y.encodeStateAsUpdate(design.doc)).toEqual(before);
});

test('[D3] a version that is none reads as the present one', () => {
  for (const version of [undefined, null, 'x', Number.NaN, 0, -1, 1.5, {}, new Y.Map()]) {
    const design = tampered((doc) => doc.getMap('meta').set('version', version));
    expect([design.state, repairs(design)]).toEqual([{ kind: 'ready' }, [['no-version', 'meta.version', 1]]]);
  }
});

test('[D5] a scope that is none leaves an empty document, which a board can be loaded into', () => {
  for (const scope of [undefined, 7, '', 'w0', 'w0.', 'a.b.c', new Y.Array(), `${'a'.repeat(41)}.b`]) {
    const design = tampered((doc) => doc.getMap('meta').set('generation', scope));
    expect(design.state).toEqual({ kind: 'empty' });
    runAll(design, loadBoard(sampleBoard(3, 1)));
    expect(design.snapshot.board).toEqual(sampleBoard(3, 1));
  }
});

test('[D10] entries of a list that are no ids of this pattern are left out', () => {
  const design = tampered((doc) => {
    const junk = [7, null, { id: 'w1.x' }, new Y.Map(), new Y.Text('w1.x'), Uint8Array.of(1), true];
    doc.getArray('rowPairs').insert(1, junk);
    doc
      .getArray('stringPairs')
      .insert(0, ['other.x', 'w1.', 'w1', 'w1.a:b', `w1.${'x'.repeat(41)}`, ...junk.slice(0, 3)]);
  });
  expect(design.snapshot.board).toEqual(sampleBoard());
  expect(repairs(design)).toEqual([
    ['row-pair-unreadable', 'rowPairs[1]', 7],
    ['string-pair-unreadable', 'stringPairs[5]', 3],
  ]);
});

test('[D11] an id that stands twice counts where it stands first', () => {
  const design = tampered((doc) => {
    doc.getArray('rowPairs').insert(0, ['w1.~1']);
    doc.getArray('stringPairs').push(['w1.~0', 'w1.~0']);
  });
  expect(stringsOf(design)).toBe('rgbrgb');
  expect(rowsOf(design)).toEqual(['b fb bf', 'fb bf', '- f b', 'f b']);
  expect(repairs(design)).toEqual([
    ['row-pair-twice', 'rowPairs[2]', 1],
    ['string-pair-twice', 'stringPairs[3]', 2],
  ]);
  runAll(design, { kind: 'delete-row-pairs', from: 0, count: 1 });
  expect(rowsOf(design)).toEqual(['- f b', 'f b']);
});

test('[D12] pairs beyond the limits are left out, the last first', () => {
  const many = (prefix: string, count: number) => Array.from({ length: count }, (_, i) => `w1.${prefix}${i}`);
  const long = tampered((doc) => doc.getArray('rowPairs').push(many('p', 10_003)));
  expect([long.snapshot.board.pattern.rows, repairs(long)]).toEqual([
    20_000,
    [['too-many-row-pairs', 'rowPairs[10000]', 5]],
  ]);
  runAll(long, { kind: 'set-ends', firstHidden: true, lastHidden: true });
  expect([long.snapshot.board.pattern.rows, long.snapshot.rowPairIds.length]).toEqual([20_000, 10_001]);
  const wide = tampered((doc) => doc.getArray('stringPairs').push(many('q', 120)));
  expect([stringsOf(wide).length, repairs(wide)]).toEqual([
    200,
    [
      ['too-many-string-pairs', 'stringPairs[100]', 23],
      ['string-colour-unknown', 'colours[100]', 194],
    ],
  ]);
});

test('[D13] [D14] without strings one pair stands in, and the next command keeps it', () => {
  const design = tampered((doc) => doc.getArray('stringPairs').delete(0, 3));
  expect([design.snapshot.stringPairIds, stringsOf(design), rowsOf(design)]).toEqual([
    ['w1.~'],
    'rr',
    ['-', '', '-', ''],
  ]);
  expect(repairs(design)).toEqual([
    ['no-string-pairs', 'stringPairs', 1],
    ['string-colour-unknown', 'colours[0]', 2],
  ]);
  runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
  expect(repairs(design)).toEqual([]);
  runAll(
    design,
    { kind: 'insert-string-pairs', at: 0, count: 1, colours: ['g', 'g'] },
    { kind: 'insert-string-pairs', at: 2, count: 1, colours: ['b', 'b'] },
  );
  expect([stringsOf(design), rowsOf(design)[0]]).toEqual(['ggrrbb', '- f -']);
  for (const at of [0, 1]) {
    const other = tampered((doc) => doc.getArray('stringPairs').delete(0, 3));
    runAll(other, { kind: 'insert-string-pairs', at, count: 1, colours: ['g', 'b'] });
    expect(stringsOf(other)).toBe(at === 0 ? 'gbrr' : 'rrgb');
  }
});

test('[D13] without row pairs there are no rows', () => {
  const design = tampered((doc) => {
    doc.getArray('rowPairs').delete(0, 2);
    doc.getMap('meta').set('w1.lastHidden', true);
  });
  expect([rowsOf(design), repairs(design)]).toEqual([[], []]);
});

test('[D15] flags are true or false, and a lone string needs a second pair', () => {
  for (const value of [() => 1, () => 'true', () => null, () => new Y.Map()]) {
    const design = tampered((doc) => {
      for (const flag of ['firstHidden', 'lastHidden', 'loneString'])
        doc.getMap('meta').set(`w1.${flag}`, value());
    });
    expect(design.snapshot.board).toEqual(sampleBoard());
    expect(repairs(design)).toEqual([['flag-unreadable', 'meta.firstHidden', 3]]);
  }
  const alone = tampered((doc) => {
    doc.getMap('meta').set('w1.loneString', true);
    doc.getArray('stringPairs').delete(0, 2);
  });
  expect([stringsOf(alone), repairs(alone)]).toEqual(['gb', [['lone-string-alone', 'meta.loneString', 1]]]);
});

test('[D17] [D18] a knot that is none reads as untied, keys that lead nowhere are left out', () => {
  const junk = [
    5,
    -1,
    0.5,
    Number.NaN,
    '1',
    null,
    true,
    {},
    [1],
    Uint8Array.of(1),
    new Y.Map(),
    new Y.Text('1'),
  ];
  for (const value of junk) {
    const design = tampered((doc) => {
      const knots = doc.getMap('knots');
      knots.set('w1.~0:~1:i', value);
      for (const key of [
        '',
        ':',
        '::',
        ':::i',
        'w1.~0',
        'w1.~0:~1',
        'w1.~0:~1:x',
        'w1.~9:~1:i',
        'w1.~0:~1:i:i',
        'w2.~0:~1:i',
      ])
        knots.set(key, 1);
    });
    expect(rowsOf(design)[0]).toBe('- - b');
    expect(repairs(design)).toEqual([['knot-unreadable', 'knots.w1.~0:~1:i', 1]]);
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 4 }] });
    expect([rowsOf(design)[0], repairs(design)]).toEqual(['- bf b', []]);
  }
});

test('[D16] [D17] without a readable base the knots with keys of their own remain', () => {
  const bases: unknown[] = [
    null,
    5,
    {},
    { rows: 2, strings: 3 },
    { rows: 2, strings: 3, knots: [0, 0, 0, 0, 0, 0] },
    { rows: 2, strings: 3, knots: new Uint8Array(5) },
    { rows: -1, strings: 0, knots: new Uint8Array(0) },
    { rows: 1e9, strings: 0, knots: new Uint8Array(0) },
    { rows: [1, 2], strings: 3, knots: new Uint8Array(6) },
    new Y.Map(),
  ];
  for (const base of bases) {
    const design = tampered((doc) => {
      doc.getMap('knots').set('w1', base);
      doc.getMap('knots').set('w1.~0:~2:i', 3);
    });
    expect(rowsOf(design)).toEqual(['- - fb', '- -', '- - -', '- -']);
    expect(repairs(design)).toEqual([['base-unreadable', 'knots', 1]]);
  }
  const odd = tampered((doc) =>
    doc.getMap('knots').set('w1', {
      rows: ['~1', '~1', 'x'],
      strings: ['~2', '~2'],
      knots: Uint8Array.of(0xf4, 1, 1, 1, 1, 1),
    }),
  );
  expect(rowsOf(odd)).toEqual(['- - -', '- -', '- - bf', '- -']);
});

test('[D20] the palette counts each id once and at most 200', () => {
  const design = tampered((doc) => {
    const order = doc.getArray('paletteOrder');
    order.insert(0, ['w0.g', 5, new Y.Map(), 'w0.', `w0.${'x'.repeat(61)}`, 'w0.\ud800', 'other.z']);
    order.push(Array.from({ length: 200 }, (_, i) => `w0.n${i}`));
  });
  const ids = design.snapshot.board.palette.map(({ id }) => id);
  expect([ids.length, ids.slice(0, 4)]).toEqual([200, ['g', '\ufffd', 'r', 'b']]);
  expect(repairs(design).map(([kind, , count]) => [kind, count])).toEqual([
    ['colour-twice', 1],
    ['colour-unreadable', 4],
    ['too-many-colours', 4],
    ['hex-unreadable', 197],
  ]);
});

test('[D21] [D30] looks, names and titles that cannot be read, or are too long', () => {
  const design = tampered((doc) => {
    const palette = doc.getMap('palette');
    palette.set('w0.r:hex', 'crimson');
    palette.set('w0.g:hex', '#ABCDEF');
    palette.set('w0.b:hex', new Y.Map());
    palette.set('w0.r:name', 5);
    palette.set('w0.g:name', `${'x'.repeat(59)}😀`);
    palette.set('w0.b:name', 'y'.repeat(1_000_000));
    doc.getMap('meta').set('w0.title', 'z'.repeat(1_000_000));
  });
  expect(design.snapshot.board.palette).toEqual([
    { id: 'r', name: '', hex: '#808080' },
    { id: 'g', name: 'x'.repeat(59), hex: '#abcdef' },
    { id: 'b', name: 'y'.repeat(60), hex: '#808080' },
  ]);
  expect(design.snapshot.board.title).toBe('z'.repeat(120));
  expect(repairs(design)).toEqual([
    ['hex-unreadable', 'palette.b:hex', 2],
    ['name-unreadable', 'palette.b:name', 3],
    ['title-unreadable', 'meta.title', 1],
  ]);
});

test('[D22] [D23] the colour of a string follows what replaced it, else comes back, else is the first', () => {
  const design = tampered((doc) => {
    const palette = doc.getMap('palette');
    const colours = doc.getMap('colours');
    for (const [id, next] of [
      ['x', 'y'],
      ['y', 'b'],
      ['c', 'd'],
      ['d', 'c'],
      ['e', 7],
    ] as const)
      palette.set(`w0.${id}:instead`, next);
    palette.set('w0.k:hex', '#111111');
    palette.set('w0.k:name', 'coal');
    ['x', 'c', 'e', 'k', 'nowhere', new Y.Map()].forEach((value, i) => {
      colours.set(`w1.~${i >> 1}:${i & 1}`, value);
    });
  });
  expect(design.snapshot.board.pattern.colours).toEqual(['b', 'r', 'r', 'k', 'r', 'r']);
  expect(design.snapshot.board.palette.map(({ id }) => id)).toEqual(['r', 'g', 'b', 'k']);
  expect(repairs(design)).toEqual([['string-colour-unknown', 'colours[1]', 4]]);
});

test('[D24] [D14] an empty palette reads as one grey, which the next command keeps', () => {
  const design = tampered((doc) => {
    doc.getArray('paletteOrder').delete(0, 3);
    for (const id of 'rgb') doc.getMap('palette').delete(`w0.${id}:hex`);
  });
  expect(design.snapshot.board.palette).toEqual([{ id: 'plain', name: '', hex: '#808080' }]);
  runAll(design, { kind: 'add-colour', name: 'sand', hex: '#ddcc99', id: 's' });
  expect(design.snapshot.board.palette.map(({ id }) => id)).toEqual(['plain', 's']);
});

test('[D26] colourways stand in their order, and what cannot be read is left out', () => {
  const design = tampered((doc) => {
    const ways = doc.getMap('colourways');
    const key = (...parts: string[]): string => JSON.stringify(['w0', ...parts]);
    ways.set(key('a'), { name: 'first', order: -1 });
    ways.set(key('a', 'r'), { name: 'r', hex: '#ff0000', order: 1 });
    ways.set(key('a', 'b'), { name: 'b', hex: '#0000ff', order: 0 });
    ways.set(key('a', 'g'), { name: 'g', hex: 'green' });
    ways.set(key('a', 'gone'), { name: '', hex: '#000000', order: 0 });
    ways.set(key('z'), 'junk');
    ways.set(key('y'), new Y.Map());
    ways.set(key('headless', 'r'), { name: 'r', hex: '#ff0000', order: 1 });
    ways.set(key(''), { name: 'no id', order: 0 });
    for (const bad of ['', '[', '["w0"', '["w0",1]', '["w0", "spaced"]', '["w0","a","r","x"]', '{"w0":1}'])
      ways.set(bad, {});
  });
  expect(design.snapshot.board.colourways).toEqual([
    {
      id: 'a',
      name: 'first',
      colours: [
        { id: 'b', name: 'b', hex: '#0000ff' },
        { id: 'r', name: 'r', hex: '#ff0000' },
      ],
    },
    sampleBoard().colourways[0],
    { id: 'y', name: '', colours: [] },
    { id: 'z', name: '', colours: [] },
  ]);
  expect(repairs(design).map(([kind, , count]) => [kind, count])).toEqual([['colourway-unreadable', 2]]);
  const many = tampered((doc) => {
    for (let i = 0; i < 120; i++)
      doc.getMap('colourways').set(JSON.stringify(['w0', `c${i}`]), { name: '', order: i });
  });
  expect(many.snapshot.board.colourways.length).toBe(100);
});

test('[D31] [D32] fields of piece and gauge out of their bounds read as unset', () => {
  const design = tampered((doc) => {
    const meta = doc.getMap('meta');
    for (const [field, value] of Object.entries({
      repeats: Number.NaN,
      lengthMm: -3,
      end: 'wavy',
      tailMm: '40',
      barMm: Number.POSITIVE_INFINITY,
      ringMm: new Y.Map(),
      skeinMm: 0,
      leadInRows: 9,
    }))
      meta.set(`w0.piece.${field}`, value);
    meta.set('w0.gauge.cordMm', 101);
    meta.set('w0.gauge.other', 1);
  });
  expect([design.snapshot.board.piece, design.snapshot.board.gauge]).toEqual([{ leadInRows: 4 }, {}]);
  expect(repairs(design)).toEqual([
    ['piece-unreadable', 'meta.piece.barMm', 7],
    ['lead-in-too-long', 'meta.piece.leadInRows', 1],
    ['gauge-unreadable', 'meta.gauge.cordMm', 1],
  ]);
  const both = tampered((doc) => doc.getMap('meta').set('w0.piece.lengthMm', 90));
  expect(both.snapshot.board.piece).toEqual({ lengthMm: 90, end: 'triangle', tailMm: 40 });
  expect(repairs(both)).toEqual([['piece-twofold', 'meta.piece.repeats', 1]]);
});

test('[D1] roots of another type than ours are read as empty', () => {
  const peer = new Y.Doc();
  for (const name of ['rowPairs', 'stringPairs', 'paletteOrder']) peer.getMap(name).set('a', 1);
  for (const name of ['meta', 'knots', 'colours', 'palette', 'colourways'])
    peer.getText(name).insert(0, 'words');
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(peer));
  expect(readDesign(doc)).toEqual(readDesign(new Y.Doc()));
  const design = openDesign();
  Y.applyUpdate(design.doc, Y.encodeStateAsUpdate(peer));
  expect(design.snapshot.board).toEqual(sampleBoard());
  expect(readDesign(design.doc)).toEqual(design.snapshot);
});
