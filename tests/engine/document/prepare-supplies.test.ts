/** Threads and parts in a document: what is said of them, by several makers at once. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  applyCommand,
  type Command,
  compactDesign,
  compareDesigns,
  mergeDesigns,
  readDesign,
  readKeyed,
  setPart,
  setThread,
} from '../../../engine/document/index.ts';
import { scoped } from '../../../engine/document/schema.ts';
import type { Board } from '../../../engine/index.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const RED = { hex: '#cc2222', name: 'red' };
const priced = (price: number | null): Command => setThread(RED, { price });
const boardOf = (design: ReturnType<typeof openDesign>): Board => design.snapshot.board;

test('[D360] of one thread two makers say different things at once, and both stay', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, priced(1.2), setPart('ring', { kind: 'ring', price: 0.4 }));
  runAll(
    tove,
    setThread({ ...RED, hex: '#CC2222' }, { number: '347', haveMm: 5000 }),
    setPart('ring', { have: 6 }),
  );
  syncAll(mara, tove);
  expect(boardOf(tove).supplies).toEqual(boardOf(mara).supplies);
  expect(boardOf(mara).supplies).toEqual({
    threads: [{ ...RED, number: '347', price: 1.2, haveMm: 5000 }],
    parts: [{ id: 'ring', kind: 'ring', price: 0.4, have: 6 }],
  });
});

test('[D360] null takes back what was said; all taken back there is no such line; undo brings it back', () => {
  const design = openDesign();
  runAll(design, priced(1.2), priced(null));
  expect('supplies' in boardOf(design)).toBe(false);
  design.undo();
  expect(boardOf(design).supplies?.threads).toEqual([{ ...RED, price: 1.2 }]);
  const sent: Uint8Array[] = [];
  design.doc.on('update', (update: Uint8Array) => sent.push(update));
  runAll(design, priced(1.2), setThread(RED, { haveMm: null }));
  expect(sent).toEqual([]);
});

test('[D39] [D360] what no thread or part can be is refused with its field, and nothing is written', () => {
  const design = openDesign();
  const cases: readonly (readonly [object, string, string])[] = [
    [setThread({ hex: 'red', name: 'red' }, {}), 'thread.hex', 'out-of-range'],
    [setThread({ hex: '#cc2222', name: 7 as never }, {}), 'thread.name', 'wrong-type'],
    [setThread({ ...RED, name: 'n'.repeat(61) }, {}), 'thread.name', 'out-of-range'],
    [setThread(RED, { price: -1 }), 'patch.price', 'out-of-range'],
    [setThread(RED, { weight: 1 } as never), 'patch."weight"', 'unknown-field'],
    [setPart('', { count: 1 }), 'id', 'out-of-range'],
    [setPart('p', { count: 0.5 }), 'patch.count', 'out-of-range'],
    [
      { kind: 'put-colourway', colourway: { id: 'w', name: '', pieces: 0, colours: [] } },
      'colourway.pieces',
      'out-of-range',
    ],
  ];
  const before = Y.encodeStateVector(design.doc);
  for (const [command, path, kind] of cases)
    expect(design.run(command as Command)).toMatchObject({ ok: false, error: { path, kind } });
  expect(Y.encodeStateVector(design.doc)).toEqual(before);
});

test('[D360] a board holds 100 kinds of parts, and one more is refused', () => {
  const design = openDesign({
    ...sampleBoard(),
    supplies: {
      threads: [],
      parts: Array.from({ length: 100 }, (_, i) => ({ id: `p${100 + i}`, count: 1 })),
    },
  });
  expect(design.run(setPart('q', { count: 1 }))).toMatchObject({
    ok: false,
    error: { kind: 'limit', demand: { be: 'entries', most: 100 } },
  });
  runAll(design, setPart('p100', { count: 2 }));
});

test('[D361] what cannot be read is left out and told, and a document without supplies reads as it always did', () => {
  const design = openDesign();
  expect('supplies' in readDesign(design.doc).board).toBe(false);
  const meta = design.doc.getMap('meta');
  const board = String(meta.get('generation')).split('.')[0]!;
  meta.set(scoped(board, 'supply.thread.price.#cc2222.red'), 'dear');
  meta.set(scoped(board, 'supply.part.count.p'), 2);
  meta.set(scoped(board, 'supply.part.colour.p'), 2);
  const { board: read, repairs } = readDesign(design.doc);
  expect(read.supplies).toEqual({ threads: [], parts: [{ id: 'p', count: 2 }] });
  expect(repairs).toEqual([
    { kind: 'supply-unreadable', path: 'meta.supply.thread.price.#cc2222.red', count: 1 },
  ]);
});

test('[D68] [D362] how many pieces a colourway has is a field of its own', () => {
  const mara = openDesign();
  const [way] = boardOf(mara).colourways;
  const tove = joinDesign(mara, 't');
  runAll(mara, { kind: 'put-colourway', colourway: { ...way!, pieces: 4 } });
  runAll(tove, { kind: 'put-colourway', colourway: { ...way!, name: 'third' } });
  syncAll(mara, tove);
  expect(boardOf(mara).colourways).toEqual([{ ...way!, name: 'third', pieces: 4 }]);
  const { pieces: _, ...one } = boardOf(mara).colourways[0]!;
  runAll(mara, { kind: 'put-colourway', colourway: one });
  expect(boardOf(mara).colourways).toEqual([one]);
});

test('[D363] supplies are compared value by value, and those that both changed are asked about', () => {
  const base = openDesign();
  runAll(base, priced(1), setPart('bead', { count: 2, price: 0.1 }));
  const [ours, theirs] = [joinDesign(base, 'o'), joinDesign(base, 't')];
  runAll(ours, priced(2), setPart('bead', { have: 7 }));
  runAll(theirs, priced(3), setPart('bead', { count: 5, price: null }));
  const keyed = [base, ours, theirs].map(({ doc }) => readKeyed(doc)!);
  const { changes, conflicts } = mergeDesigns(keyed[0]!, keyed[1]!, keyed[2]!);
  expect(changes).toEqual([
    { kind: 'supply', field: 'part.count.bead', before: 2, after: 5 },
    { kind: 'supply', field: 'part.price.bead', before: 0.1, after: null },
  ]);
  expect(conflicts).toEqual([
    {
      why: 'both-changed',
      changes: [{ kind: 'supply', field: 'thread.price.#cc2222.red', before: 2, after: 3 }],
    },
  ]);
  runAll(ours, applyCommand([...changes, ...conflicts[0]!.changes], keyed[2]!));
  expect(boardOf(ours).supplies).toEqual({
    threads: [{ ...RED, price: 3 }],
    parts: [{ id: 'bead', count: 5, have: 7 }],
  });
  expect(compareDesigns(readKeyed(ours.doc)!, keyed[2]!)).toEqual([
    { kind: 'supply', field: 'part.have.bead', before: 7, after: null },
  ]);
});

test('[D100] [D363] a compacted document keeps supplies', () => {
  const design = openDesign();
  runAll(design, priced(1.5), setPart('ring', { kind: 'ring' }));
  expect(readDesign(compactDesign(design.doc)!).board).toEqual(boardOf(design));
});
