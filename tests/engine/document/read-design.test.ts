/** What a peer may write to make others read for ever. Counted, not timed. */
import { expect, test } from 'vitest';
import { DesignReader } from '../../../engine/document/read-design.ts';
import { colourwayKey } from '../../../engine/document/schema.ts';
import { formatBoard, parseBoard } from '../../../engine/index.ts';
import { openDesign, stringsOf } from '../../support/open-design.ts';

test('[Y30] a base that names more pairs than any pattern has is none', () => {
  const names = (count: number): string[] => Array.from({ length: count }, (_, i) => `~${i}`);
  const reading = (rows: unknown, strings: unknown, bytes: number): readonly string[] => {
    const design = openDesign();
    design.doc.getMap('knots').set('w1', { rows, strings, knots: new Uint8Array(bytes) });
    return design.snapshot.repairs.map(({ kind }) => kind);
  };
  expect(reading(names(0), names(10_002), 0)).toEqual(['base-unreadable']);
  expect(reading(names(10_002), names(0), 0)).toEqual(['base-unreadable']);
  expect(reading(names(10_001), names(0), 0)).toEqual([]);
  expect(reading(names(4), names(100), 400)).toEqual([]);
});

test('[Y31] a chain of replaced colours is followed once, whatever leads into it', () => {
  const links = 2_000;
  const design = openDesign();
  const palette = design.doc.getMap<unknown>('palette');
  const colours = design.doc.getMap<unknown>('colours');
  design.doc.transact(() => {
    for (let i = 0; i < links; i++) palette.set(`w0.c${i}:instead`, i + 1 < links ? `c${i + 1}` : 'r');
    for (let i = 0; i < 6; i++) colours.set(`w1.~${i >> 1}:${i & 1}`, `c${i}`);
  });
  expect(stringsOf(design)).toBe('rrrrrr');
  let asked = 0;
  const get = palette.get.bind(palette);
  palette.get = (key: string) => {
    asked++;
    return get(key);
  };
  expect(new DesignReader(design.doc).snapshot.board).toEqual(design.snapshot.board);
  // Both passes, and names and looks of the palette itself.
  expect(asked).toBeLessThan(2 * links + 50);
});

test('[Y31] [D22] chains that meet, come back or end nowhere read as before', () => {
  const design = openDesign();
  const palette = design.doc.getMap<unknown>('palette');
  const colours = design.doc.getMap<unknown>('colours');
  design.doc.transact(() => {
    palette.set('w0.a:instead', 'q');
    palette.set('w0.q:instead', 'a');
    palette.set('w0.x:instead', 'y');
    palette.set('w0.y:instead', 'g');
    palette.set('w0.z:instead', 'y');
    palette.set('w0.n:instead', 7);
    for (const [i, id] of ['a', 'q', 'x', 'z', 'n', 'y'].entries()) colours.set(`w1.~${i >> 1}:${i & 1}`, id);
  });
  // Two in a circle and one that names no colour: the first of the palette.
  expect(stringsOf(design)).toBe('rrggrg');
});

test('[D25] [D21] [D30] [D6] text of a peer is read plain, an id that is not is none, and what is read is a board', () => {
  const design = openDesign();
  const meta = design.doc.getMap<unknown>('meta');
  const palette = design.doc.getMap<unknown>('palette');
  const colourways = design.doc.getMap<unknown>('colourways');
  design.doc.transact(() => {
    meta.set('w0.title', 'A\u0000 bo\u202eard');
    meta.set('w0.piece.notes', `one\u2066 two${' '.repeat(3_000)}three`);
    meta.set('w0.piece.knotsPerMinute', 5e-324);
    meta.set('w0.gauge.rowMm', 1e-300);
    palette.set('w0.r:name', 'r\u0007ed');
    palette.set('w0.e\u202e:hex', '#112233');
    design.doc.getArray('paletteOrder').push(['w0.e\u202e']);
    colourways.set(colourwayKey('w0', 'k', 'order'), 0);
    colourways.set(colourwayKey('w0', 'k', 'name'), '\u202dmine');
    colourways.set(colourwayKey('w0', 'k', 'maker'), { id: 'p', name: 'A\u0085da' });
  });
  const { board, repairs } = design.snapshot;
  expect([board.title, board.piece.notes, board.palette.find(({ id }) => id === 'r')?.name]).toEqual([
    'A board',
    `one two${' '.repeat(100)}three`,
    'red',
  ]);
  expect([board.piece.knotsPerMinute, board.gauge.rowMm]).toEqual([undefined, undefined]);
  expect(board.palette.map(({ id }) => id)).not.toContain('e\u202e');
  expect(board.colourways.map(({ name, maker }) => [name, maker])).toContainEqual([
    'mine',
    { id: 'p', name: 'Ada' },
  ]);
  expect(new Set(repairs.map(({ kind }) => kind))).toEqual(
    new Set([
      'title-unreadable',
      'piece-unreadable',
      'gauge-unreadable',
      'name-unreadable',
      'colour-unreadable',
    ]),
  );
  expect(parseBoard(formatBoard(board))).toEqual({ ok: true, value: board });
});
