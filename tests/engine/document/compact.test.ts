import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { compactDesign, Design, loadBoard, readDesign } from '../../../engine/document/index.ts';
import { openDesign, rowsOf, runAll, stringsOf } from '../../support/open-design.ts';
import { countingIds, sampleBoard, samplePattern } from '../../support/sample-board.ts';

test('[D100] a worn document reads the same without its past, and needs no repair', () => {
  const design = openDesign(sampleBoard(6, 8));
  for (let i = 0; i < 20; i++)
    runAll(
      design,
      { kind: 'replace-pattern', pattern: samplePattern(6, 8) },
      { kind: 'set-knots', knots: [{ row: i % 8, k: i % 2, knot: ((i % 4) + 1) as 1 | 2 | 3 | 4 }] },
    );
  runAll(
    design,
    { kind: 'insert-string-pairs', at: 1, count: 2 },
    { kind: 'insert-row-pairs', at: 2, count: 1 },
    { kind: 'delete-row-pairs', from: 0, count: 1 },
    { kind: 'add-colour', name: 'sand', hex: '#ddcc99' },
    {
      kind: 'put-colourway',
      colourway: { id: 'a', name: 'A', colours: [{ id: 'b', name: '', hex: '#000000' }] },
    },
    { kind: 'set-ends', firstHidden: true, loneString: true },
  );
  const compact = compactDesign(design.doc)!;
  const { repairs, ...rest } = readDesign(compact);
  expect(rest).toEqual({ ...design.snapshot, repairs: undefined, ...rest });
  expect([rest.board, rest.rowPairIds, rest.stringPairIds, repairs]).toEqual([
    design.snapshot.board,
    design.snapshot.rowPairIds,
    design.snapshot.stringPairIds,
    [],
  ]);
  expect(Y.encodeStateAsUpdate(compact).length).toBeLessThan(Y.encodeStateAsUpdate(design.doc).length / 2);
  expect(compact.store.clients.size).toBe(1);
});

test('[D100] the compacted document takes every command as before', () => {
  const design = openDesign();
  runAll(design, { kind: 'insert-string-pairs', at: 1, count: 1 });
  const next = new Design(compactDesign(design.doc)!, {
    makerId: 'n',
    newId: countingIds('n'),
    captureMs: 0,
  });
  const address = design.addressOf(2, 2)!;
  expect(next.placeOf(address)).toEqual({ row: 2, k: 2 });
  for (const one of [design, next])
    runAll(
      one,
      { kind: 'insert-string-pairs', at: 2, count: 1 },
      {
        kind: 'set-knots',
        knots: [
          { row: 0, k: 0, knot: 4 },
          { row: 0, k: 4, knot: 0 },
        ],
      },
      { kind: 'delete-row-pairs', from: 1, count: 1 },
      { kind: 'recolour-strings', strings: [0], colour: 'b' },
    );
  expect(next.snapshot.board).toEqual(design.snapshot.board);
  while (next.undo());
  expect(rowsOf(next)[0]).toBe('- - f b');
});

test('[D100] faults are mended for good', () => {
  const design = openDesign();
  design.doc.getArray('rowPairs').insert(0, ['w1.~1', 7]);
  design.doc.getArray('stringPairs').delete(0, 3);
  design.doc.getMap('palette').set('w0.r:hex', 'crimson');
  design.doc.getMap('knots').set('w1.~0:~:i', 99);
  const next = readDesign(compactDesign(design.doc)!);
  expect(design.snapshot.repairs.length).toBe(6);
  expect(next).toEqual({ ...design.snapshot, repairs: [] });
});

test('[D101] what is only hidden stays, what is gone goes', () => {
  const design = openDesign(sampleBoard(6, 4));
  const before = rowsOf(design);
  runAll(design, { kind: 'set-ends', firstHidden: true, lastHidden: true, loneString: true });
  const next = new Design(compactDesign(design.doc)!, { makerId: 'n', newId: countingIds('n') });
  runAll(next, { kind: 'set-ends', firstHidden: false, lastHidden: false, loneString: false });
  expect([stringsOf(next), rowsOf(next)]).toEqual(['rgbrgb', before]);

  runAll(design, { kind: 'replace-pattern', pattern: samplePattern(4, 2) }, loadBoard(sampleBoard(2, 2)));
  const last = compactDesign(design.doc)!;
  expect(last.getArray('rowPairs').length).toBe(1);
  expect([...last.getMap('meta').keys()].filter((key) => key.endsWith('title')).length).toBe(1);
});

test('[D101] [D43] knots on the seam behind the last pair show again beside a new one, compacted or not', () => {
  const design = openDesign(sampleBoard(6, 4));
  runAll(
    design,
    { kind: 'set-knots', knots: [{ row: 1, k: 1, knot: 4 }] },
    { kind: 'delete-string-pairs', from: 2, count: 1 },
  );
  const next = new Design(compactDesign(design.doc)!, {
    makerId: 'n',
    newId: countingIds('n'),
    captureMs: 0,
  });
  for (const one of [design, next]) runAll(one, { kind: 'insert-string-pairs', at: 2, count: 1 });
  expect(rowsOf(design)[1]).toMatch(/ bf$/);
  expect(rowsOf(next)).toEqual(rowsOf(design));
});

test('[D101] what replaced a removed colour is still known to somebody who comes back with it', () => {
  const design = openDesign();
  runAll(design, { kind: 'remove-colour', id: 'r', replaceWith: 'b' });
  const next = compactDesign(design.doc)!;
  next.getMap('colours').set('w1.~0:0', 'r');
  expect(readDesign(next).board.pattern.colours[0]).toBe('b');
});

test('[D102] without a board, or from a newer version, there is nothing to compact', () => {
  expect(compactDesign(new Y.Doc())).toBeNull();
  const design = openDesign();
  design.doc.getMap('meta').set('version', 9);
  expect(compactDesign(design.doc)).toBeNull();
});
