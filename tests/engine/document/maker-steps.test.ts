import { expect, test } from 'vitest';
import { Design, loadBoard, readDesign } from '../../../engine/document/index.ts';
import { joinDesign, openDesign, rowsOf, runAll, stringsOf, syncAll } from '../../support/open-design.ts';
import { countingIds, sampleBoard, samplePattern } from '../../support/sample-board.ts';

test('[D80] undo and redo take back and repeat only this maker’s commands', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const begun = mara.snapshot;
  runAll(mara, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
  runAll(tove, { kind: 'set-knots', knots: [{ row: 0, k: 2, knot: 4 }] });
  syncAll(mara, tove);
  expect(rowsOf(mara)[0]).toBe('f f bf');
  expect(mara.undo()).toBe(true);
  expect(rowsOf(mara)[0]).toBe('- f bf');
  expect([mara.undo(), mara.canUndo, mara.canRedo]).toEqual([false, false, true]);
  expect(mara.redo()).toBe(true);
  expect(rowsOf(mara)[0]).toBe('f f bf');
  expect(tove.undo()).toBe(true);
  mara.undo();
  syncAll(mara, tove);
  expect(rowsOf(mara)[0]).toBe(rowsOf(tove)[0]);
  expect(mara.snapshot.board).toEqual(begun.board);
});

test('[D80] every kind of command is undone and redone whole', () => {
  const design = openDesign(sampleBoard(6, 4));
  const commands: Parameters<Design['run']>[0][] = [
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }], mirrored: true },
    { kind: 'insert-row-pairs', at: 1, count: 2 },
    { kind: 'delete-row-pairs', from: 0, count: 1 },
    { kind: 'insert-string-pairs', at: 1, count: 1, mirrored: true },
    { kind: 'delete-string-pairs', from: 1, count: 1 },
    { kind: 'set-ends', firstHidden: true, lastHidden: true, loneString: true },
    { kind: 'recolour-strings', strings: [0, 1], colour: 'b' },
    { kind: 'swap-colours', a: 'b', b: 'r' },
    { kind: 'add-colour', name: 'sand', hex: '#ddcc99', id: 's' },
    { kind: 'edit-colour', id: 's', hex: '#ccbb88' },
    { kind: 'move-colour', id: 's', to: 0 },
    { kind: 'remove-colour', id: 'r', replaceWith: 's' },
    { kind: 'set-title', title: 'Other' },
    { kind: 'set-piece', patch: { lengthMm: 100, end: null } },
    { kind: 'set-gauge', patch: { rowMm: 2 } },
    { kind: 'put-colourway', colourway: { id: 'x', name: 'X', colours: [] } },
    { kind: 'remove-colourway', id: 'w' },
    { kind: 'replace-pattern', pattern: { ...samplePattern(4, 6), colours: ['g', 'b', 's', 's'] } },
    loadBoard(sampleBoard(9, 3, 1)),
  ];
  const states = [design.snapshot];
  for (const command of commands) {
    runAll(design, command);
    expect(design.snapshot.board, command.kind).not.toEqual(states.at(-1)!.board);
    states.push(design.snapshot);
  }
  for (let i = states.length - 2; i >= 0; i--) {
    expect(design.undo()).toBe(true);
    expect([commands[i]!.kind, design.snapshot]).toEqual([commands[i]!.kind, states[i]]);
  }
  expect(design.canUndo).toBe(false);
  for (let i = 1; i < states.length; i++) {
    expect(design.redo()).toBe(true);
    expect([commands[i - 1]!.kind, design.snapshot]).toEqual([commands[i - 1]!.kind, states[i]]);
  }
  expect(readDesign(design.doc)).toEqual(design.snapshot);
});

/** A design on which no time goes by, and what ties a knot of its first row. */
function atOneMoment(): { readonly design: Design; readonly tie: (k: number) => void } {
  const design = new Design(openDesign().doc, {
    makerId: 'r',
    newId: countingIds('r'),
    captureMs: 60_000,
    now: () => 0,
  });
  return {
    design,
    tie: (k) => runAll(design, { kind: 'set-knots', knots: [{ row: 0, k, knot: 4 }] }),
  };
}

test('[D81] a run of one kind is one step, another kind or an explicit stop ends it', () => {
  const { design, tie } = atOneMoment();
  tie(0);
  tie(1);
  runAll(design, { kind: 'set-title', title: 'A' }, { kind: 'set-title', title: 'AB' });
  tie(2);
  design.stopUndoCapture();
  runAll(design, { kind: 'set-knots', knots: [{ row: 1, k: 0, knot: 4 }] });
  const seen = (): unknown => [design.snapshot.board.title, ...rowsOf(design).slice(0, 2)];
  expect(seen()).toEqual(['AB', 'bf bf bf', 'bf b']);
  design.undo();
  expect(seen()).toEqual(['AB', 'bf bf bf', 'f b']);
  design.undo();
  expect(seen()).toEqual(['AB', 'bf bf b', 'f b']);
  design.undo();
  expect(seen()).toEqual(['Test input', 'bf bf b', 'f b']);
  design.undo();
  expect(seen()).toEqual(['Test input', '- f b', 'f b']);
  expect(design.canUndo).toBe(false);
});

test('[D81] insertions in quick succession are steps of their own', () => {
  const design = new Design(openDesign().doc, {
    makerId: 'r',
    newId: countingIds('r'),
    captureMs: 60_000,
    now: () => 0,
  });
  runAll(
    design,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'insert-row-pairs', at: 0, count: 1 },
  );
  design.undo();
  expect(design.snapshot.board.pattern.rows).toBe(6);
});

test('[D81] an open step gathers every kind of command however long it takes, and nothing after it', () => {
  const design = openDesign();
  const begun = design.snapshot;
  const close = design.openStep();
  const closeInner = design.openStep();
  runAll(
    design,
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] },
    { kind: 'insert-row-pairs', at: 0, count: 1 },
  );
  closeInner();
  closeInner();
  runAll(design, { kind: 'set-title', title: 'In the step' });
  close();
  const middle = design.snapshot;
  runAll(design, { kind: 'set-title', title: 'After it' });
  design.undo();
  expect(design.snapshot).toEqual(middle);
  design.undo();
  expect(design.snapshot).toEqual(begun);
});

test('[D81] an open step leaves out what was done just before it', () => {
  const { design, tie } = atOneMoment();
  tie(0);
  const before = design.snapshot;
  const close = design.openStep();
  tie(1);
  close();
  design.undo();
  expect(design.snapshot).toEqual(before);
});

test('[D82] undo leaves what somebody else has changed since', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(
    mara,
    {
      kind: 'set-knots',
      knots: [
        { row: 0, k: 0, knot: 1 },
        { row: 0, k: 1, knot: 4 },
      ],
    },
    { kind: 'recolour-strings', strings: [0, 1], colour: 'b' },
    { kind: 'set-title', title: 'Mara’s' },
  );
  syncAll(mara, tove);
  runAll(
    tove,
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 3 }] },
    { kind: 'recolour-strings', strings: [0], colour: 'g' },
    { kind: 'set-title', title: 'Tove’s' },
  );
  syncAll(mara, tove);
  while (mara.undo());
  expect([mara.snapshot.board.title, stringsOf(mara), rowsOf(mara)[0]]).toEqual([
    'Tove’s',
    'ggbrgb',
    'fb f b',
  ]);
});

test('[D86] undoing a write that won over another at the same time brings back what was there before', () => {
  const first = openDesign();
  const [mara, tove] = [joinDesign(first, 'mara'), joinDesign(first, 'tove')];
  for (const [design, colour, knot, title] of [
    [mara, 'g', 3, 'Mara’s'],
    [tove, 'b', 4, 'Tove’s'],
  ] as const)
    runAll(
      design,
      { kind: 'recolour-strings', strings: [0], colour },
      { kind: 'set-knots', knots: [{ row: 0, k: 1, knot }] },
      { kind: 'set-knots', knots: [{ row: 0, k: 1, knot: 2 }] },
      { kind: 'set-title', title },
      { kind: 'edit-colour', id: 'r', hex: colour === 'g' ? '#111111' : '#222222' },
      { kind: 'set-piece', patch: { repeats: colour === 'g' ? 5 : 6 } },
    );
  syncAll(mara, tove);
  // The higher client id wins in Yjs; that is the one who joined later.
  expect(mara.snapshot.board.title).toBe('Tove’s');
  const begun = sampleBoard();
  for (let round = 0; round < 2; round++) {
    while (tove.undo());
    syncAll(mara, tove);
    const { title, palette, piece } = mara.snapshot.board;
    expect([title, palette, piece, stringsOf(mara)[0], mara.snapshot.repairs]).toEqual([
      begun.title,
      begun.palette,
      begun.piece,
      'r',
      [],
    ]);
    expect(rowsOf(mara)[0]).toBe('- f b');
    while (tove.redo());
    syncAll(mara, tove);
    expect([mara.snapshot.board.title, rowsOf(mara)[0]]).toEqual(['Tove’s', '- b b']);
  }
});

test('[D86] undoing one of two loads at once never leaves the document without a board', () => {
  const first = openDesign();
  const [mara, tove] = [joinDesign(first, 'mara'), joinDesign(first, 'tove')];
  runAll(mara, loadBoard({ ...sampleBoard(4, 2), title: 'Mara’s' }));
  runAll(tove, loadBoard({ ...sampleBoard(8, 2), title: 'Tove’s' }));
  syncAll(mara, tove);
  expect(mara.snapshot.board).toEqual({ ...sampleBoard(8, 2), title: 'Tove’s' });
  tove.undo();
  mara.undo();
  syncAll(mara, tove);
  expect([mara.state, mara.snapshot.board]).toEqual([{ kind: 'ready' }, sampleBoard()]);
  tove.redo();
  syncAll(mara, tove);
  expect(mara.snapshot.board.title).toBe('Tove’s');
});

test('[D86] redoing what somebody has changed since the undo leaves their change', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, { kind: 'set-title', title: 'Mara’s' });
  mara.undo();
  syncAll(mara, tove);
  runAll(tove, { kind: 'set-title', title: 'Tove’s' });
  syncAll(mara, tove);
  mara.redo();
  expect(mara.snapshot.board.title).toBe('Tove’s');
});

test('[D83] undone insertions and deletions take and bring back what others tied there', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, { kind: 'insert-row-pairs', at: 1, count: 1 });
  syncAll(mara, tove);
  runAll(tove, { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 4 }] });
  syncAll(mara, tove);
  const tied = mara.snapshot;
  mara.undo();
  expect(mara.snapshot.board.pattern).toEqual(sampleBoard().pattern);
  mara.redo();
  expect(mara.snapshot).toEqual(tied);

  runAll(mara, { kind: 'delete-row-pairs', from: 0, count: 1 });
  runAll(tove, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 2 }] });
  syncAll(mara, tove);
  expect(rowsOf(mara)[0]).toBe('bf - -');
  mara.undo();
  syncAll(mara, tove);
  expect(rowsOf(tove).slice(0, 3)).toEqual(['b f b', 'f b', 'bf - -']);
});

test('[D11] a pair that two makers deleted and both brought back is there once', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  for (const design of [mara, tove]) runAll(design, { kind: 'delete-row-pairs', from: 0, count: 1 });
  syncAll(mara, tove);
  expect(mara.snapshot.board.pattern.rows).toBe(2);
  mara.undo();
  tove.undo();
  syncAll(mara, tove);
  expect(mara.snapshot.board).toEqual(sampleBoard());
  expect(tove.snapshot).toEqual(mara.snapshot);
  expect(mara.snapshot.repairs).toEqual([{ kind: 'row-pair-twice', path: 'rowPairs[1]', count: 1 }]);
  runAll(tove, { kind: 'delete-row-pairs', from: 0, count: 1 });
  expect([tove.snapshot.board.pattern.rows, tove.snapshot.repairs]).toEqual([2, []]);
});

test('[D84] undoing a load shows the former board with all that was done to it meanwhile', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, loadBoard(sampleBoard(3, 2)));
  runAll(
    tove,
    { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] },
    { kind: 'set-title', title: 'Kept' },
  );
  syncAll(mara, tove);
  expect(tove.snapshot.board).toEqual(sampleBoard(3, 2));
  mara.undo();
  expect([mara.snapshot.board.title, rowsOf(mara)[0]]).toEqual(['Kept', 'bf f b']);
});

test('[D84] a maker who went on from a loaded board keeps it when the load is undone', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, loadBoard({ ...sampleBoard(4, 4), title: 'Loaded' }));
  syncAll(mara, tove);
  runAll(tove, { kind: 'replace-pattern', pattern: samplePattern(8, 2) });
  syncAll(mara, tove);
  mara.undo();
  syncAll(mara, tove);
  expect(mara.snapshot.board).toEqual({ ...sampleBoard(8, 2), title: 'Loaded' });
  expect(mara.snapshot.repairs).toEqual([]);
});

test('[D85] a colour taken back stays for the strings that others gave it', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  runAll(mara, { kind: 'add-colour', name: 'sand', hex: '#ddcc99', id: 's' });
  syncAll(mara, tove);
  runAll(tove, { kind: 'recolour-strings', strings: [3], colour: 's' });
  syncAll(mara, tove);
  mara.undo();
  expect(stringsOf(mara)).toBe('rgbsgb');
  expect(mara.snapshot.board.palette.at(-1)).toEqual({ id: 's', name: 'sand', hex: '#ddcc99' });
  tove.undo();
  syncAll(mara, tove);
  expect(mara.snapshot.board).toEqual(sampleBoard());
});

test('listeners hear of own and others’ changes, with undo already counted', () => {
  const mara = openDesign();
  const tove = joinDesign(mara, 't');
  const heard: unknown[] = [];
  const stop = mara.subscribe((snapshot, change) => {
    expect(snapshot).toBe(mara.snapshot);
    heard.push([change, mara.canUndo]);
  });
  runAll(mara, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
  runAll(tove, { kind: 'recolour-strings', strings: [0], colour: 'b' });
  syncAll(mara, tove);
  mara.undo();
  stop();
  runAll(mara, { kind: 'set-title', title: 'Unheard' });
  expect(heard).toEqual([
    [{ kind: 'knots', cells: [{ row: 0, k: 0 }], local: true }, true],
    [{ kind: 'colours', local: false }, true],
    [{ kind: 'knots', cells: [{ row: 0, k: 0 }], local: true }, false],
  ]);
});

test('a disposed design hears nothing and leaves nothing on the document', () => {
  const design = openDesign();
  const before = design.snapshot;
  design.subscribe(() => expect.unreachable());
  design.dispose();
  const other = new Design(design.doc, { makerId: 'o', newId: countingIds('o') });
  runAll(other, { kind: 'set-title', title: 'x' });
  expect(design.snapshot).toBe(before);
  expect(design.canUndo).toBe(false);
});
