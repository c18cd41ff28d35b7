import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { Design, readDesign } from '../../../engine/document/index.ts';
import { formatBoard, parseBoard } from '../../../engine/index.ts';
import { cases } from '../../support/depth.ts';
import { joinDesign, openDesign } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

/** Values of every type that Yjs can hold, plain junk and things that nearly fit. */
const junk = fc.oneof(
  fc.constantFrom<unknown>(
    0,
    1,
    4,
    5,
    -1,
    0.5,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    true,
    false,
    null,
    undefined,
    '',
  ),
  fc.constantFrom<unknown>(
    'r',
    'g',
    'b',
    '#112233',
    '#XYZ',
    'w0.w1',
    'w0.w9',
    'w1.~0',
    'w1.~1',
    'w1.~',
    'w0.r',
    'w0.q',
  ),
  fc.constantFrom<unknown>('straight', 'round', 'x'.repeat(300), 'a\ud800', '__proto__', '😀'),
  fc.record(
    { name: fc.string(), hex: fc.constant('#abcdef'), order: fc.double() },
    { noNullPrototype: true },
  ),
  fc.record(
    { rows: fc.nat(3), strings: fc.nat(3), knots: fc.uint8Array({ maxLength: 9 }) },
    { noNullPrototype: true },
  ),
  fc.uint8Array({ maxLength: 4 }),
  fc.array(fc.nat(3), { maxLength: 3 }),
);
const nested = fc.constantFrom('map', 'array', 'text', 'doc', 'none', 'none', 'none', 'none');

const mapKeys: Record<string, readonly string[]> = {
  meta: [
    'version',
    'generation',
    'w0.title',
    'w1.firstHidden',
    'w1.lastHidden',
    'w1.loneString',
    'w0.piece.repeats',
    'w0.piece.lengthMm',
    'w0.piece.end',
    'w0.piece.leadInRows',
    'w0.gauge.cordMm',
    '__proto__',
  ],
  knots: ['w1', 'w1.~0:~0:i', 'w1.~1:~2:s', 'w1.~0:~1:i', 'w1.~:~:i', 'w9.~0:~0:i', ':', ''],
  colours: ['w1.~0:0', 'w1.~1:1', 'w1.~2:0', 'w1.~:0', 'w9.~0:0'],
  palette: ['w0.r:hex', 'w0.r:name', 'w0.r:instead', 'w0.q:hex', 'w0.q:instead', 'w0.g:instead', 'w0.b:hex'],
  colourways: [
    '["w0","w"]',
    '["w0","w","g"]',
    '["w0","n"]',
    '["w0","n","r"]',
    '["w0","w","","order"]',
    '["w0","w","","name"]',
    '["w0","w","","maker"]',
    '["w0","w","g","hex"]',
    '["w0","w","g","name"]',
    '["w0","n","","order"]',
    '["w0","n","r","hex"]',
    '["w0","n","r","order"]',
    '["w9","n"]',
    '["w0",',
    '',
  ],
};
/** Faults that junk in a random place seldom makes. */
const pointed = fc.constantFrom<readonly [string, string | number, unknown, string, boolean]>(
  ['meta', 'version', 4, 'none', false],
  ['meta', 'w0.piece.lengthMm', 90, 'none', false],
  ['meta', 'w0.piece.leadInRows', 4, 'none', false],
  ['rowPairs', 0, 'w1.~1', 'none', false],
  ['stringPairs', 0, 'w1.~1', 'none', false],
  ['paletteOrder', 0, 'w0.b', 'none', false],
  ['palette', 'w0.r:instead', 'g', 'none', false],
  ['knots', 'w1', { rows: 1, strings: 3, knots: Uint8Array.of(1, 16, 0x43) }, 'none', false],
);
const write = fc.oneof(
  { weight: 1, arbitrary: pointed },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom(...Object.keys(mapKeys))
      .chain((root) =>
        fc.tuple(fc.constant(root), fc.constantFrom(...mapKeys[root]!), junk, nested, fc.boolean()),
      ),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(
      fc.constantFrom('rowPairs', 'stringPairs', 'paletteOrder'),
      fc.nat(9),
      junk,
      nested,
      fc.boolean(),
    ),
  },
);

function perform(
  doc: Y.Doc,
  [root, at, value, kind, isRemoval]: readonly [string, string | number, unknown, string, boolean],
): void {
  const made =
    kind === 'map'
      ? new Y.Map([['a', value]])
      : kind === 'array'
        ? new Y.Array()
        : kind === 'text'
          ? new Y.Text('w1.~0')
          : kind === 'doc'
            ? new Y.Doc()
            : value;
  if (typeof at === 'string') {
    const map = doc.getMap(root);
    if (isRemoval) map.delete(at);
    else map.set(at, made);
    return;
  }
  const list = doc.getArray(root);
  const index = Math.min(at, list.length);
  if (isRemoval && index < list.length) list.delete(index, 1);
  // Yjs itself refuses `undefined` inside a list.
  else list.insert(index, [made ?? null]);
}

test('[D1] [D6] [D8] whatever peers write, every client reads the same valid board, kept up to date as read afresh', () => {
  const seen = new Set<string>();
  fc.assert(
    fc.property(
      fc.array(write, { minLength: 1, maxLength: 12 }),
      fc.array(write, { maxLength: 6 }),
      (first, second) => {
        const mara = openDesign(sampleBoard(6, 4));
        const tove = joinDesign(mara, 'tove');
        for (const one of first) mara.doc.transact(() => perform(mara.doc, one), 'peer');
        for (const one of second) tove.doc.transact(() => perform(tove.doc, one), 'peer');
        const updates = [Y.encodeStateAsUpdate(mara.doc), Y.encodeStateAsUpdate(tove.doc)];
        Y.applyUpdate(mara.doc, updates[1]!);
        Y.applyUpdate(tove.doc, updates[0]!);
        const third = new Y.Doc();
        for (const update of updates.reverse()) Y.applyUpdate(third, update);

        const read = readDesign(mara.doc);
        expect(mara.snapshot).toEqual(read);
        expect(tove.snapshot).toEqual(read);
        expect(readDesign(third)).toEqual(read);
        const file = formatBoard(read.board);
        expect(parseBoard(JSON.parse(JSON.stringify(file)))).toEqual({ ok: true, value: read.board });
        for (const repair of read.repairs) seen.add(repair.kind);
      },
    ),
    { seed: 20261, numRuns: cases(300, 5000) },
  );
  // The generator reaches nearly every fault; the others need hundreds of entries and have tests of their own.
  for (const kind of [
    'newer-version',
    'no-version',
    'no-generation',
    'row-pair-twice',
    'row-pair-unreadable',
    'string-pair-twice',
    'string-pair-unreadable',
    'base-unreadable',
    'knot-unreadable',
    'colour-twice',
    'colour-unreadable',
    'hex-unreadable',
    'name-unreadable',
    'string-colour-unknown',
    'flag-unreadable',
    'title-unreadable',
    'piece-unreadable',
    'piece-twofold',
    'gauge-unreadable',
    'colourway-unreadable',
  ])
    expect(seen).toContain(kind);
});

test('[D1] commands after hostile writes leave a valid board too', () => {
  fc.assert(
    fc.property(fc.array(write, { minLength: 1, maxLength: 8 }), (writes) => {
      const design = openDesign(sampleBoard(6, 4));
      for (const one of writes) design.doc.transact(() => perform(design.doc, one), 'peer');
      const first = design.snapshot.board.palette[0]!.id;
      design.run({ kind: 'insert-string-pairs', at: 1, count: 1 });
      design.run({ kind: 'insert-row-pairs', at: 0, count: 1 });
      design.run({ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
      design.run({ kind: 'delete-string-pairs', from: 0, count: 1 });
      design.run({ kind: 'add-colour', name: 'n', hex: '#010203', id: 'n' });
      design.run({ kind: 'remove-colour', id: first, replaceWith: 'n' });
      design.run({ kind: 'move-colour', id: 'n', to: 0 });
      design.run({ kind: 'put-colourway', colourway: { id: 'w', name: 'v', colours: [] } });
      if (design.state.kind === 'ready')
        expect(design.snapshot.board.palette.some(({ id }) => id === first)).toBe(false);
      while (design.undo());
      expect(design.snapshot).toEqual(readDesign(design.doc));
      expect(parseBoard(formatBoard(design.snapshot.board)).ok).toBe(true);
    }),
    { seed: 20262, numRuns: 300 },
  );
});

test('[D8] a change of knots names exactly the cells that differ', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.nat(3), fc.nat(1), fc.nat(4)), { minLength: 1, maxLength: 12 }),
      (edits) => {
        const mara = openDesign(sampleBoard(6, 4));
        const tove = new Design(mara.doc, { makerId: 't', newId: countingIds('t') });
        const before = mara.snapshot.board.pattern.knots.slice();
        const told = new Set<string>();
        tove.subscribe((_, change) => {
          expect(change.local).toBe(false);
          if (change.kind === 'knots') for (const { row, k } of change.cells) told.add(`${row} ${k}`);
        });
        mara.run({
          kind: 'set-knots',
          knots: edits.map(([row, k, knot]) => ({ row, k, knot: knot as 0 | 1 | 2 | 3 | 4 })),
        });
        const after = tove.snapshot.board.pattern.knots;
        const differing = [...after.keys()]
          .filter((i) => after[i] !== before[i])
          .map((i) => `${Math.floor(i / 3)} ${i % 3}`);
        expect([...told].sort()).toEqual(differing.sort());
      },
    ),
    { seed: 20263, numRuns: 200 },
  );
});
