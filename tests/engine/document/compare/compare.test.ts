import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  applyCommand,
  type Change,
  changeKey,
  compactDesign,
  compareDesigns,
  Design,
  type KeyedDesign,
  mergeDesigns,
  neededBy,
  readKeyed,
  readKeyedUpdate,
} from '../../../../engine/document/index.ts';
import {
  joinDesign,
  numberedDoc,
  openDesign,
  rowsOf,
  runAll,
  stringsOf,
  syncAll,
} from '../../../support/open-design.ts';
import { countingIds, sampleBoard, samplePattern } from '../../../support/sample-board.ts';

const keyed = (design: Design): KeyedDesign => readKeyed(design.doc)!;

/** A branch of a design: the same board under the same ids, in a document of its own. */
function branchOf(design: Design): Design {
  const doc = numberedDoc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(compactDesign(design.doc)!));
  return new Design(doc, { makerId: 't', newId: countingIds('t-'), captureMs: 0 });
}

function start(strings = 6, rows = 4): { base: KeyedDesign; ours: Design; theirs: Design } {
  const ours = openDesign(sampleBoard(strings, rows));
  return { base: keyed(ours), ours, theirs: branchOf(ours) };
}

const merged = ({ base, ours, theirs }: ReturnType<typeof start>) =>
  mergeDesigns(base, keyed(ours), keyed(theirs));

/** Kind of each conflict with what it is about. */
const conflictsOf = (sides: ReturnType<typeof start>): readonly string[] =>
  merged(sides).conflicts.map(({ why, changes }) => `${why} ${changes.map(changeKey).join(' + ')}`);

function take(design: Design, changes: readonly Change[], toward: Design): void {
  runAll(design, applyCommand(changes, keyed(toward)));
}

test('[D130] nothing is read of a document without a board, and the same from the bytes of one', () => {
  expect(readKeyed(new Y.Doc())).toBeNull();
  expect(readKeyedUpdate(Y.encodeStateAsUpdate(new Y.Doc()))).toBeNull();
  const design = openDesign();
  expect(readKeyedUpdate(Y.encodeStateAsUpdate(design.doc))).toEqual(keyed(design));
  design.doc.getMap('meta').set('version', 9);
  expect(readKeyed(design.doc)).toBeNull();
});

test('[D130] a knot that the other side hides is no difference; one that comes to light is', () => {
  const { ours, theirs } = start();
  runAll(theirs, { kind: 'set-knots', knots: [{ row: 3, k: 0, knot: 4 }] });
  for (const one of [ours, theirs]) runAll(one, { kind: 'set-ends', lastHidden: true });
  expect(compareDesigns(keyed(ours), keyed(theirs))).toEqual([]);
  runAll(theirs, { kind: 'set-ends', lastHidden: false });
  const changes = compareDesigns(keyed(ours), keyed(theirs));
  expect(changes.map(changeKey)).toEqual(['end lastHidden', 'knot w1.~1 w1.~0 seam']);
  take(ours, changes, theirs);
  expect(rowsOf(ours)).toEqual(rowsOf(theirs));
});

test('[D130] the colour of a string that neither shows is no difference; it is one as soon as a side shows it', () => {
  const { ours, theirs } = start(5, 4);
  runAll(
    theirs,
    { kind: 'set-ends', loneString: false },
    { kind: 'recolour-strings', strings: [5], colour: 'b' },
    { kind: 'set-ends', loneString: true },
  );
  expect(keyed(theirs).ofPairs).not.toEqual(keyed(ours).ofPairs);
  expect(compareDesigns(keyed(ours), keyed(theirs))).toEqual([]);
  runAll(theirs, { kind: 'set-ends', loneString: false });
  expect(compareDesigns(keyed(ours), keyed(theirs)).map(changeKey)).toContain('string-colour w1.~2 1');
});

test('[D131] a difference says where it is, what was and what is', () => {
  const { ours, theirs } = start();
  runAll(
    theirs,
    { kind: 'set-knots', knots: [{ row: 1, k: 1, knot: 4 }] },
    { kind: 'recolour-strings', strings: [0], colour: 'b' },
    { kind: 'set-title', title: 'Kite tails' },
    { kind: 'set-piece', patch: { lengthMm: 90 } },
  );
  expect(compareDesigns(keyed(ours), keyed(theirs))).toEqual([
    { kind: 'string-colour', address: { stringPair: 'w1.~0', side: 0 }, before: 'r', after: 'b' },
    {
      kind: 'knot',
      address: { rowPair: 'w1.~0', stringPair: 'w1.~1', half: 'seam' },
      before: 2,
      after: 4,
    },
    { kind: 'title', before: 'Test input', after: 'Kite tails' },
    { kind: 'extent', before: { repeats: 2 }, after: { lengthMm: 90 } },
  ]);
});

test('[D132] a pattern that was replaced is one change, and stands as a whole against edits in the one before', () => {
  const sides = start();
  runAll(
    sides.theirs,
    { kind: 'replace-pattern', pattern: samplePattern(8, 2) },
    { kind: 'set-title', title: 'Wider' },
  );
  expect(merged(sides).changes.map(changeKey)).toEqual(['pattern', 'title']);
  runAll(sides.ours, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
  expect(conflictsOf(sides)).toEqual(['both-changed pattern']);
  take(sides.ours, [{ kind: 'pattern' }], sides.theirs);
  expect(rowsOf(sides.ours)).toEqual(rowsOf(sides.theirs));
  expect(sides.ours.snapshot.board.title).toBe('Test input');
});

test('[D133] edits in different places are all kept', () => {
  const sides = start();
  runAll(
    sides.ours,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 3 }] },
    { kind: 'edit-colour', id: 'r', name: 'rust' },
  );
  runAll(
    sides.theirs,
    { kind: 'set-knots', knots: [{ row: 3, k: 1, knot: 1 }] },
    { kind: 'insert-string-pairs', at: 3, count: 1, colours: ['g', 'g'] },
    { kind: 'edit-colour', id: 'r', hex: '#884422' },
  );
  const { changes, conflicts } = merged(sides);
  expect(conflicts).toEqual([]);
  take(sides.ours, changes, sides.theirs);
  expect(rowsOf(sides.ours)[0]).toBe('fb - - -');
  expect(rowsOf(sides.ours)[5]).toBe('fb f -');
  expect(stringsOf(sides.ours)).toBe('rgbrgbgg');
  expect(sides.ours.snapshot.board.palette[0]).toEqual({ id: 'r', name: 'rust', hex: '#884422' });
});

test('[D134] the same change on both sides is none; different ones are a conflict, and theirs can be chosen', () => {
  const sides = start();
  for (const [one, knot] of [
    [sides.ours, 3],
    [sides.theirs, 4],
  ] as const)
    runAll(
      one,
      {
        kind: 'set-knots',
        knots: [
          { row: 0, k: 0, knot: 2 },
          { row: 2, k: 0, knot },
        ],
      },
      { kind: 'set-title', title: `Knot ${knot}` },
    );
  const { changes, conflicts } = merged(sides);
  expect(changes).toEqual([]);
  expect(conflictsOf(sides)).toEqual(['both-changed knot w1.~1 w1.~0 inside', 'both-changed title']);
  take(sides.ours, conflicts[0]!.changes, sides.theirs);
  expect(rowsOf(sides.ours)[2]).toBe(rowsOf(sides.theirs)[2]);
  expect(sides.ours.snapshot.board.title).toBe('Knot 3');
});

test('[D135] rows and strings that one took out and the other changed are conflicts; the others go', () => {
  const sides = start(8, 6);
  runAll(
    sides.ours,
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 4 }] },
    { kind: 'delete-string-pairs', from: 3, count: 1 },
  );
  runAll(
    sides.theirs,
    { kind: 'recolour-strings', strings: [6], colour: 'b' },
    { kind: 'delete-row-pairs', from: 1, count: 2 },
  );
  expect(conflictsOf(sides)).toEqual([
    'theirs-removed rows-removed w1.~1',
    'ours-removed strings-added w1.~3',
  ]);
  expect(merged(sides).changes.map(changeKey)).toEqual(['rows-removed w1.~2']);
  take(sides.ours, merged(sides).conflicts[1]!.changes, sides.theirs);
  expect(stringsOf(sides.ours)).toBe('rgbrgbbg');
});

test('[D136] a colour that they took out and we gave to a string is a conflict', () => {
  const sides = start();
  runAll(sides.theirs, { kind: 'remove-colour', id: 'b', replaceWith: 'g' });
  runAll(sides.ours, { kind: 'recolour-strings', strings: [0], colour: 'b' });
  expect(conflictsOf(sides)).toEqual(['theirs-removed colour-removed b']);
  const { changes, conflicts } = merged(sides);
  take(sides.ours, [...changes, ...conflicts[0]!.changes], sides.theirs);
  expect(stringsOf(sides.ours)).toBe('gggrgg');
});

test('[D136] a colour that we took out and they gave to a string: one question for all that needs it', () => {
  const sides = start();
  runAll(sides.ours, { kind: 'remove-colour', id: 'b', replaceWith: 'g' });
  runAll(sides.theirs, { kind: 'recolour-strings', strings: [0, 3], colour: 'b' });
  expect(conflictsOf(sides)).toEqual([
    'ours-removed colour-added b + string-colour w1.~0 0 + string-colour w1.~1 1',
  ]);
  take(sides.ours, merged(sides).conflicts[0]!.changes, sides.theirs);
  expect(stringsOf(sides.ours)).toBe('bggbgg');
  expect(sides.ours.snapshot.board.palette.map(({ id }) => id)).toEqual(['r', 'g', 'b']);
});

test('[D137] what was added stands where it stood, and both additions in one place are kept', () => {
  const sides = start();
  runAll(sides.ours, { kind: 'insert-row-pairs', at: 1, count: 1 });
  runAll(
    sides.theirs,
    { kind: 'insert-row-pairs', at: 1, count: 2 },
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 4 }] },
    { kind: 'move-colour', id: 'b', to: 0 },
    { kind: 'add-colour', id: 's', name: 'sand', hex: '#ddcc99' },
  );
  const { changes } = merged(sides);
  take(sides.ours, changes, sides.theirs);
  expect(sides.ours.snapshot.rowPairIds).toEqual(['w1.~0', 'w1.t-0', 'w1.t-1', 'w1.m-0', 'w1.~1']);
  expect(rowsOf(sides.ours)[2]).toBe('bf - -');
  expect(sides.ours.snapshot.board.palette.map(({ id }) => id)).toEqual(['b', 'r', 'g', 's']);
});

test('[D137] a palette that both put in another order is a conflict', () => {
  const sides = start();
  runAll(sides.ours, { kind: 'move-colour', id: 'b', to: 0 });
  runAll(sides.theirs, { kind: 'move-colour', id: 'r', to: 2 }, { kind: 'move-colour', id: 'g', to: 2 });
  expect(conflictsOf(sides)).toEqual([]);
  runAll(sides.theirs, { kind: 'move-colour', id: 'g', to: 0 });
  expect(conflictsOf(sides)).toEqual(['both-changed palette-order']);
});

test('[D138] a string in a new colour needs the colour; a colour that goes needs its strings to change', () => {
  const { ours, theirs } = start();
  runAll(
    theirs,
    { kind: 'add-colour', id: 's', name: 'sand', hex: '#ddcc99' },
    { kind: 'recolour-strings', strings: [0, 3], colour: 's' },
    { kind: 'remove-colour', id: 'r', replaceWith: 's' },
  );
  const [a, b] = [keyed(ours), keyed(theirs)];
  const changes = compareDesigns(a, b);
  const needs = (key: string): readonly string[] =>
    neededBy(changes.find((change) => changeKey(change) === key)!, changes, a, b);
  expect(needs('string-colour w1.~0 0')).toEqual(['colour-added s']);
  expect(needs('colour-removed r')).toEqual(['string-colour w1.~0 0', 'string-colour w1.~1 1']);
  expect(needs('colour-added s')).toEqual([]);
});

test('[D139] a lead-in ends with the rows', () => {
  const sides = start(6, 8);
  runAll(sides.ours, { kind: 'set-piece', patch: { leadInRows: 6 } });
  runAll(sides.theirs, { kind: 'delete-row-pairs', from: 2, count: 2 });
  take(sides.ours, merged(sides).changes, sides.theirs);
  expect(sides.ours.snapshot.board.piece.leadInRows).toBe(4);
  expect(sides.ours.snapshot.repairs).toEqual([]);
});

test('[D140] what is not there, or there already, is refused by its place, and nothing is written', () => {
  const { ours, theirs } = start();
  runAll(theirs, { kind: 'insert-row-pairs', at: 0, count: 1 }, { kind: 'set-title', title: 'x' });
  const changes = compareDesigns(keyed(ours), keyed(theirs));
  take(ours, changes, theirs);
  const before = Y.encodeStateAsUpdate(ours.doc);
  expect(ours.run(applyCommand(changes, keyed(theirs)))).toMatchObject({
    ok: false,
    error: { kind: 'out-of-range', path: 'changes[0]' },
  });
  runAll(theirs, { kind: 'set-knots', knots: [{ row: 4, k: 0, knot: 4 }] });
  const later = compareDesigns(keyed(ours), keyed(theirs));
  const other = openDesign(sampleBoard(2, 0));
  expect(other.run(applyCommand(later, keyed(theirs)))).toMatchObject({ ok: false });
  expect(Y.encodeStateAsUpdate(ours.doc)).toEqual(before);
});

test('[D135] [D140] what would leave no strings is asked, and refused when it is wanted', () => {
  const sides = start(4, 2);
  runAll(sides.ours, { kind: 'delete-string-pairs', from: 0, count: 1 });
  runAll(sides.theirs, { kind: 'delete-string-pairs', from: 1, count: 1 });
  expect(conflictsOf(sides)).toEqual(['theirs-removed strings-removed w1.~1']);
  const { conflicts } = merged(sides);
  expect(sides.ours.run(applyCommand(conflicts[0]!.changes, keyed(sides.theirs)))).toMatchObject({
    ok: false,
    error: { kind: 'last-pair' },
  });
});

test('[D141] one step of undo takes all of it back', () => {
  const sides = start();
  runAll(
    sides.theirs,
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] },
    { kind: 'set-title', title: 'x' },
    { kind: 'insert-string-pairs', at: 1, count: 1 },
    { kind: 'add-colour', name: 'sand', hex: '#ddcc99', id: 's' },
  );
  const before = sides.ours.snapshot.board;
  take(sides.ours, merged(sides).changes, sides.theirs);
  expect(sides.ours.snapshot.board).toEqual(sides.theirs.snapshot.board);
  expect(sides.ours.undo()).toBe(true);
  expect(sides.ours.snapshot.board).toEqual(before);
  expect(sides.ours.canUndo).toBe(false);
});

test('[D142] a pattern comes back under its ids, also into a document that has forgotten it', () => {
  const { ours } = start();
  const address = ours.addressOf(2, 1)!;
  const earlier = keyed(ours);
  runAll(ours, { kind: 'replace-pattern', pattern: samplePattern(8, 2) });
  const forgetful = branchOf(ours);
  for (const one of [ours, forgetful]) {
    expect(one.placeOf(address)).toBeNull();
    runAll(one, applyCommand(compareDesigns(keyed(one), earlier), earlier));
    expect(one.placeOf(address)).toEqual({ row: 2, k: 1 });
    expect(one.snapshot.board).toEqual(earlier.board);
    expect(one.snapshot.repairs).toEqual([]);
    expect(one.undo()).toBe(true);
    expect(one.snapshot.board.pattern.colours).toHaveLength(8);
  }
});

test('[D138] what was only hidden does not come to light', () => {
  // Two makers set the length in two ways at once; what is read is one of them.
  const ours = openDesign();
  runAll(ours, { kind: 'set-piece', patch: { repeats: null } });
  const second = joinDesign(ours, 'n');
  runAll(ours, { kind: 'set-piece', patch: { repeats: 5 } });
  runAll(second, { kind: 'set-piece', patch: { lengthMm: 90 } });
  syncAll(ours, second);
  expect(ours.snapshot.repairs.map(({ kind }) => kind)).toEqual(['piece-twofold']);
  expect(ours.snapshot.board.piece).toMatchObject({ lengthMm: 90 });
  const theirs = branchOf(ours);
  runAll(theirs, { kind: 'set-piece', patch: { lengthMm: null } });
  take(ours, compareDesigns(keyed(ours), keyed(theirs)), theirs);
  expect(ours.snapshot.board.piece).toEqual(theirs.snapshot.board.piece);
  expect(ours.snapshot.repairs).toEqual([]);
});

test('[D142] a pattern without rows comes back without those it got later', () => {
  const ours = openDesign(sampleBoard(4, 0));
  const earlier = keyed(ours);
  runAll(
    ours,
    { kind: 'insert-row-pairs', at: 0, count: 2 },
    { kind: 'replace-pattern', pattern: samplePattern(4, 0) },
  );
  runAll(ours, applyCommand(compareDesigns(keyed(ours), earlier), earlier));
  expect(ours.snapshot.board).toEqual(earlier.board);
});

test('[D143] taking over the same once more changes nothing', () => {
  const sides = start();
  runAll(
    sides.theirs,
    { kind: 'insert-row-pairs', at: 1, count: 1 },
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 4 }] },
  );
  take(sides.ours, merged(sides).changes, sides.theirs);
  const before = sides.ours.snapshot;
  expect(merged(sides)).toEqual({ changes: [], conflicts: [] });
  take(sides.ours, [], sides.theirs);
  expect(sides.ours.snapshot).toBe(before);
});
