/** What a peer may write to make others read for ever. Counted, not timed. */
import { expect, test } from 'vitest';
import { DesignReader } from '../../../engine/document/read-design.ts';
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
