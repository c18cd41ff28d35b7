/** What a renewal writes otherwise than it stood: edits taken back after it find their places and values all the same. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  becomeCommand,
  carryOver,
  changesOf,
  type Command,
  compactDesign,
  type Design,
  heldBy,
  readDesign,
  readKeyed,
  rootsOf,
} from '../../../../engine/document/index.ts';
import { type Edit, takeBack } from '../../../../engine/document/journal/index.ts';
import { doAgain } from '../../../../engine/document/journal/take-back.ts';
import { scoped } from '../../../../engine/document/schema.ts';
import { applyWrites } from '../../../../engine/document/writes.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../../support/open-design.ts';
import { countingIds, samplePattern } from '../../../support/sample-board.ts';

const renew = (design: Design): void => design.moveTo(compactDesign(design.doc)!);

/** A colourway of the sample board's palette. */
const put = (id: string, ...colours: readonly string[]): Command => ({
  kind: 'put-colourway',
  colourway: {
    id,
    name: id,
    colours: colours.map((colour) => ({ id: colour, name: colour, hex: '#102030' })),
  },
});

test.each<readonly [string, Command]>([
  ['a colourway that was removed', { kind: 'remove-colourway', id: 'z' }],
  ['a colour of it that was cleared', put('z', 'g')],
  ['a colour that left the palette', { kind: 'remove-colour', id: 'r', replaceWith: 'b' }],
])('[D305] [D365] after a renewal %s comes back to its place, with all that was said of it', (_, command) => {
  const design = openDesign();
  runAll(design, { kind: 'remove-colourway', id: 'w' }, put('z', 'r', 'g', 'b'), put('a', 'b'));
  const { board } = design.snapshot;
  runAll(design, command);
  expect(design.snapshot.board).not.toEqual(board);
  renew(design);
  expect([design.undo(), design.snapshot.board]).toEqual([true, board]);
});

test('[D305] [D368] what a renewal dropped reads as it was held: a colour comes back as it looked when it went', () => {
  const design = openDesign();
  runAll(
    design,
    { kind: 'edit-colour', id: 'g', name: 'fern', hex: '#118811' },
    { kind: 'remove-colour', id: 'g', replaceWith: 'b' },
    { kind: 'add-colour', id: 'g', name: 'grass', hex: '#33bb33' },
  );
  const { board } = design.snapshot;
  design.undo();
  renew(design);
  expect([design.redo(), design.snapshot.board]).toEqual([true, board]);
});

test.each([true, false])(
  '[D308] [D314] a colourway that another one took the id of comes back as itself; renewed: %s',
  (isRenewed) => {
    const design = openDesign();
    runAll(design, put('z', 'r', 'g'));
    const { board } = design.snapshot;
    runAll(design, { kind: 'remove-colourway', id: 'z' });
    if (isRenewed) renew(design);
    runAll(design, { kind: 'put-colourway', colourway: { id: 'z', name: 'Another', colours: [] } });
    design.undo();
    expect([design.undo(), design.snapshot.board]).toEqual([true, board]);
  },
);

test('[D367] colourways that are new in a design that was worked out beforehand stand where they stand there', () => {
  const design = openDesign();
  runAll(design, put('z', 'r'), put('m', 'g'), put('a', 'b'));
  const wanted = readKeyed(design.doc)!;
  for (const id of ['w', 'z', 'm']) runAll(design, { kind: 'remove-colourway', id });
  runAll(design, becomeCommand(wanted));
  expect(design.snapshot.board).toEqual(wanted.board);
});

test('[D367] [W1040] a colourway that was taken out and is brought back in hand is carried over to its place', () => {
  const design = openDesign();
  runAll(design, put('a', 'b'), { kind: 'remove-colourway', id: 'w' });
  const next = compactDesign(design.doc)!;
  design.undo();
  expect(design.snapshot.board.colourways.map(({ id }) => id)).toEqual(['w', 'a']);
  expect(carryOver(design.doc, next, countingIds('n'))).toBe(true);
  expect(readDesign(next).board).toEqual(design.snapshot.board);
});

test('[D365] [W1040] a colour that comes back in hand is carried over with its place, so that one before it finds its own', () => {
  const design = openDesign();
  runAll(design, put('z', 'r', 'g', 'b'));
  const { board } = design.snapshot;
  runAll(
    design,
    { kind: 'remove-colour', id: 'g', replaceWith: 'r' },
    { kind: 'remove-colour', id: 'b', replaceWith: 'r' },
  );
  const next = compactDesign(design.doc)!;
  design.undo();
  expect(carryOver(design.doc, next, countingIds('n'))).toBe(true);
  design.moveTo(next);
  expect([design.undo(), design.snapshot.board]).toEqual([true, board]);
});

test('[D368] an end that was shown again, where no renewal had written that it is shown, is hidden again by redo', () => {
  const design = openDesign();
  const next = compactDesign(design.doc)!;
  runAll(design, { kind: 'replace-pattern', pattern: samplePattern(6, 4) });
  expect(carryOver(design.doc, next, countingIds('n'))).toBe(true);
  design.moveTo(next);
  runAll(design, { kind: 'set-ends', loneString: true });
  design.undo();
  renew(design);
  expect([design.redo(), design.snapshot.board.pattern.colours.length]).toEqual([true, 5]);
});

test('[D314] [D366] a lead-in that others left no rows for is taken back, renewed or not', () => {
  const design = openDesign();
  const other = joinDesign(design, 'other');
  let edit: Edit | null = null;
  design.doc.once('afterTransaction', (transaction: Y.Transaction) => {
    const changes = changesOf(transaction, rootsOf(design.doc));
    edit = { changes, held: heldBy(changes, rootsOf(design.doc)) };
  });
  runAll(design, { kind: 'set-piece', patch: { leadInRows: 3 } });
  runAll(other, { kind: 'delete-row-pairs', from: 0, count: 1 });
  syncAll(design, other);
  expect(design.snapshot.board.piece.leadInRows).toBe(2);
  for (const doc of [compactDesign(design.doc)!, design.doc]) {
    const { writes, kept } = takeBack(edit!, doc);
    doc.transact(() => applyWrites(writes));
    expect([kept, readDesign(doc).board.piece.leadInRows]).toEqual([[], undefined]);
  }
});

test('[D366] a lead-in that somebody made shorter than the rows that are left stays', () => {
  const design = openDesign();
  const other = joinDesign(design, 'other');
  runAll(design, { kind: 'set-piece', patch: { leadInRows: 3 } });
  syncAll(design, other);
  runAll(other, { kind: 'set-piece', patch: { leadInRows: 1 } });
  syncAll(design, other);
  design.undo();
  expect(design.snapshot.board.piece.leadInRows).toBe(1);
});

test('[D301] a knot that arrived before the pattern it is of counts as shown once both are there', () => {
  const from = openDesign();
  // Of two values of a key the one of the greater client id stands.
  from.doc.clientID = 2 ** 32 - 1;
  const pattern = rootsOf(from.doc).meta.get('generation')?.toString().split('.')[1] ?? '';
  const key = `${scoped(pattern, '~0')}:~0:i`;
  const [early, mirror] = [new Y.Doc(), new Y.Doc()];
  for (const doc of [early, mirror]) rootsOf(doc).knots.set(key, 4);
  early.on('afterTransaction', (transaction: Y.Transaction) => {
    const changes = changesOf(transaction, rootsOf(early));
    mirror.transact(() =>
      applyWrites(doAgain({ changes, held: heldBy(changes, rootsOf(early)) }, mirror).writes),
    );
  });
  rootsOf(from.doc).knots.set(key, 3);
  Y.applyUpdate(early, Y.encodeStateAsUpdate(from.doc));
  expect(readDesign(mirror).board.pattern.knots[0]).toBe(3);
  expect(readDesign(mirror)).toEqual(readDesign(early));
});
