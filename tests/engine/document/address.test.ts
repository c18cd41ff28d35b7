import { expect, test } from 'vitest';
import { joinDesign, openDesign, rowsOf, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

test('[D110] every knot has an address that leads back to it, and nothing outside has one', () => {
  for (const [strings, rows, start] of [
    [6, 4, 0],
    [5, 3, 1],
    [2, 2, 0],
    [3, 1, 1],
  ] as const) {
    const design = openDesign(sampleBoard(strings, rows, start));
    const seen = new Set<string>();
    for (let row = 0; row < rows; row++) {
      const count = (strings - ((start + row) & 1)) >> 1;
      for (let k = 0; k < count; k++) {
        const address = design.addressOf(row, k)!;
        expect(design.placeOf(address)).toEqual({ row, k });
        seen.add(JSON.stringify(address));
      }
      expect([design.addressOf(row, count), design.addressOf(row, -1), design.addressOf(row, 0.5)]).toEqual([
        null,
        null,
        null,
      ]);
    }
    expect(design.addressOf(rows, 0)).toBeNull();
    expect(design.addressOf(-1, 0)).toBeNull();
    expect(seen.size).toBe(
      rowsOf(design)
        .join(' ')
        .split(' ')
        .filter((token) => token !== '').length,
    );
  }
});

test('[D110] an address follows its knot through insertions and deletions, to nowhere and back', () => {
  const mara = openDesign(sampleBoard(6, 4));
  const tove = joinDesign(mara, 't');
  const seam = mara.addressOf(3, 1)!;
  const inside = mara.addressOf(2, 1)!;
  runAll(
    tove,
    { kind: 'insert-row-pairs', at: 0, count: 2 },
    { kind: 'insert-string-pairs', at: 1, count: 1 },
    { kind: 'delete-row-pairs', from: 2, count: 1 },
    { kind: 'set-ends', firstHidden: true },
  );
  syncAll(mara, tove);
  expect([mara.placeOf(inside), mara.placeOf(seam)]).toEqual([
    { row: 3, k: 2 },
    { row: 4, k: 2 },
  ]);
  runAll(tove, { kind: 'delete-string-pairs', from: 2, count: 1 });
  syncAll(mara, tove);
  expect([mara.placeOf(inside), mara.placeOf(seam)]).toEqual([null, null]);
  tove.undo();
  syncAll(mara, tove);
  expect(mara.placeOf(inside)).toEqual({ row: 3, k: 2 });
  runAll(tove, { kind: 'replace-pattern', pattern: samplePattern(6, 4) });
  expect(tove.placeOf(inside)).toBeNull();
  tove.undo();
  expect(tove.placeOf(inside)).toEqual({ row: 3, k: 2 });
});

test('[D110] a seam leads nowhere while its pair is the last', () => {
  const design = openDesign(sampleBoard(4, 2));
  const seam = design.addressOf(1, 0)!;
  runAll(design, { kind: 'delete-string-pairs', from: 1, count: 1 });
  expect(design.placeOf(seam)).toBeNull();
  runAll(design, { kind: 'insert-string-pairs', at: 1, count: 1 });
  expect(design.placeOf(seam)).toEqual({ row: 1, k: 0 });
});

test('[D111] rows and strings have addresses that follow them', () => {
  const design = openDesign(sampleBoard(5, 3, 1));
  const rows = [0, 1, 2].map((row) => design.rowAddressOf(row)!);
  const strings = [0, 1, 2, 3, 4].map((string) => design.stringAddressOf(string)!);
  expect(rows.map((address) => design.rowOf(address))).toEqual([0, 1, 2]);
  expect(strings.map((address) => design.stringOf(address))).toEqual([0, 1, 2, 3, 4]);
  for (const outside of [-1, 3, 0.5]) expect(design.rowAddressOf(outside)).toBeNull();
  for (const outside of [-1, 5, 0.5]) expect(design.stringAddressOf(outside)).toBeNull();
  runAll(
    design,
    { kind: 'insert-row-pairs', at: 1, count: 1 },
    { kind: 'insert-string-pairs', at: 0, count: 1 },
  );
  expect(rows.map((address) => design.rowOf(address))).toEqual([0, 3, 4]);
  expect(strings.map((address) => design.stringOf(address))).toEqual([2, 3, 4, 5, 6]);
  runAll(
    design,
    { kind: 'delete-row-pairs', from: 0, count: 1 },
    { kind: 'delete-string-pairs', from: 1, count: 1 },
    { kind: 'set-ends', firstHidden: true },
  );
  expect(rows.map((address) => design.rowOf(address))).toEqual([null, 1, 2]);
  expect(strings.map((address) => design.stringOf(address))).toEqual([null, null, 2, 3, 4]);
});
