import { expect, test } from 'vitest';
import { loadBoard } from '../../../engine/document/index.ts';
import { joinDesign, openDesign, rowsOf, runAll, stringsOf, syncAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

/** Two makers with a copy each; of two writes at once the second one’s wins, having the higher client id. */
function two(board = sampleBoard()) {
  const first = openDesign(board);
  return [joinDesign(first, 'mara'), joinDesign(first, 'tove')] as const;
}

test('two knots tied at once in one row both stay', () => {
  const [mara, tove] = two();
  runAll(mara, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
  runAll(tove, { kind: 'set-knots', knots: [{ row: 0, k: 2, knot: 4 }] });
  syncAll(mara, tove);
  expect(rowsOf(mara)[0]).toBe('bf f bf');
});

test('[D41] [D43] what one ties while another inserts rows and strings beside it stays where it was tied', () => {
  const [mara, tove] = two();
  const address = mara.addressOf(2, 1)!;
  runAll(mara, { kind: 'set-knots', knots: [{ row: 2, k: 1, knot: 1 }] });
  runAll(
    tove,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'insert-string-pairs', at: 0, count: 1 },
    { kind: 'insert-row-pairs', at: 2, count: 2 },
  );
  syncAll(mara, tove);
  expect(mara.placeOf(address)).toEqual({ row: 8, k: 2 });
  expect(rowsOf(tove)[8]).toBe('- b f bf');
});

test('two insertions at the same place are both there, each whole', () => {
  const [mara, tove] = two(sampleBoard(4, 2));
  runAll(mara, { kind: 'insert-string-pairs', at: 1, count: 2, colours: ['r', 'r', 'r', 'r'] });
  runAll(tove, { kind: 'insert-string-pairs', at: 1, count: 2, colours: ['b', 'b', 'b', 'b'] });
  syncAll(mara, tove);
  expect(['rgrrrrbbbbbr', 'rgbbbbrrrrbr']).toContain(stringsOf(mara));
  expect(mara.snapshot).toEqual(tove.snapshot);
});

test('[D71] of two boards loaded at once one wins as a whole', () => {
  const [mara, tove] = two();
  const one = { ...sampleBoard(4, 2), title: 'One', palette: [{ id: 'o', name: 'only', hex: '#010101' }] };
  const boards = [
    {
      ...one,
      pattern: { ...samplePattern(4, 2), colours: ['o', 'o', 'o', 'o'] },
      piece: { lengthMm: 70 },
      colourways: [],
    },
    { ...sampleBoard(9, 5, 1), title: 'Other', gauge: { rowMm: 3 } },
  ] as const;
  runAll(mara, loadBoard(boards[0]), { kind: 'set-title', title: 'Mine' });
  runAll(tove, loadBoard(boards[1]));
  syncAll(mara, tove);
  expect([mara.snapshot.board, mara.snapshot.repairs]).toEqual([boards[1], []]);
  expect(tove.snapshot).toEqual(mara.snapshot);
});

test('[D70] [D71] a board loaded while another replaces the pattern is not mixed with it', () => {
  for (const order of [0, 1]) {
    const makers = two();
    const [loader, replacer] = order === 0 ? makers : [makers[1], makers[0]];
    const board = { ...sampleBoard(4, 2), palette: [{ id: 'o', name: '', hex: '#010101' }], colourways: [] };
    const loaded = { ...board, pattern: { ...board.pattern, colours: ['o', 'o', 'o', 'o'] } };
    runAll(loader!, loadBoard(loaded));
    runAll(replacer!, { kind: 'replace-pattern', pattern: samplePattern(3, 3) });
    syncAll(...makers);
    const expected = order === 0 ? { ...sampleBoard(), pattern: samplePattern(3, 3) } : loaded;
    expect([makers[0].snapshot.board, makers[0].snapshot.repairs]).toEqual([expected, []]);
  }
});

test('[D22] strings given a colour while another removes it get what replaces it', () => {
  const [mara, tove] = two();
  runAll(mara, { kind: 'recolour-strings', strings: [1], colour: 'r' });
  runAll(tove, { kind: 'remove-colour', id: 'r', replaceWith: 'b' });
  syncAll(mara, tove);
  expect([stringsOf(mara), mara.snapshot.repairs]).toEqual(['bbbbgb', []]);
});

test('[D22] [D24] when two makers remove the last two colours in favour of each other, a palette remains', () => {
  const [mara, tove] = two();
  for (const design of [mara, tove]) runAll(design, { kind: 'remove-colour', id: 'g', replaceWith: 'b' });
  runAll(mara, { kind: 'remove-colour', id: 'r', replaceWith: 'b' });
  runAll(tove, { kind: 'remove-colour', id: 'b', replaceWith: 'r' });
  syncAll(mara, tove);
  expect(mara.snapshot.board.palette).toEqual([{ id: 'plain', name: '', hex: '#808080' }]);
  mara.undo();
  syncAll(mara, tove);
  expect(tove.snapshot.board.palette.map(({ id }) => id)).toEqual(['r']);
});

test('[D13] when two makers delete all strings between them, a pair stands in and both can go on', () => {
  const [mara, tove] = two(sampleBoard(4, 2));
  runAll(mara, { kind: 'delete-string-pairs', from: 0, count: 1 });
  runAll(tove, { kind: 'delete-string-pairs', from: 1, count: 1 });
  syncAll(mara, tove);
  expect(mara.snapshot.board.pattern.colours.length).toBe(2);
  runAll(mara, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 1 }] });
  runAll(tove, { kind: 'insert-string-pairs', at: 1, count: 1 });
  syncAll(mara, tove);
  expect(rowsOf(tove)).toEqual(['f -', '-']);
  expect(mara.snapshot).toEqual(tove.snapshot);
});

test('[D66] two people work on two colours of one colourway', () => {
  const [mara, tove] = two();
  const way = { id: 'w', name: 'second', colours: [] as { id: string; name: string; hex: string }[] };
  const moss = { id: 'g', name: 'moss', hex: '#446633' };
  const rose = { id: 'r', name: 'rose', hex: '#dd8899' };
  const sky = { id: 'b', name: 'sky', hex: '#88bbff' };
  runAll(mara, { kind: 'put-colourway', colourway: { ...way, colours: [moss, rose] } });
  runAll(tove, { kind: 'put-colourway', colourway: { ...way, colours: [moss, sky] } });
  syncAll(mara, tove);
  expect(mara.snapshot.board.colourways[0]!.colours).toEqual([moss, sky, rose]);
});

test('[D66] of one colour one names the thread and another chooses it; of one colourway one renames it and another gives it away', () => {
  const [mara, tove] = two();
  const way = sampleBoard().colourways[0]!;
  runAll(mara, {
    kind: 'put-colourway',
    colourway: { ...way, colours: [{ id: 'g', name: 'fern', hex: '#446633' }] },
  });
  runAll(tove, {
    kind: 'put-colourway',
    colourway: { ...way, colours: [{ id: 'g', name: 'moss', hex: '#557744' }] },
  });
  runAll(mara, {
    kind: 'put-colourway',
    colourway: { ...mara.snapshot.board.colourways[0]!, name: 'For Tove' },
  });
  const maker = { id: 'person', name: 'Tove' };
  runAll(tove, { kind: 'put-colourway', colourway: { ...tove.snapshot.board.colourways[0]!, maker } });
  syncAll(mara, tove);
  expect(mara.snapshot.board.colourways).toEqual([
    { id: 'w', name: 'For Tove', maker, colours: [{ id: 'g', name: 'fern', hex: '#557744' }] },
  ]);
  expect(tove.snapshot).toEqual(mara.snapshot);
});

test('[D66] a colour put before the others changes no colour that somebody else chooses meanwhile', () => {
  const [mara, tove] = two();
  const way = sampleBoard().colourways[0]!;
  const red = { id: 'r', name: 'rose', hex: '#dd8899' };
  runAll(mara, { kind: 'put-colourway', colourway: { ...way, colours: [red, ...way.colours] } });
  runAll(tove, {
    kind: 'put-colourway',
    colourway: { ...way, colours: [{ id: 'g', name: 'moss', hex: '#557744' }] },
  });
  syncAll(mara, tove);
  expect(mara.snapshot.board.colourways[0]!.colours).toEqual([
    red,
    { id: 'g', name: 'moss', hex: '#557744' },
  ]);
});

test('[D67] a colour chosen while somebody removes the colourway is there when the removal is undone', () => {
  const [mara, tove] = two();
  const way = sampleBoard().colourways[0]!;
  runAll(mara, { kind: 'remove-colourway', id: 'w' });
  runAll(tove, {
    kind: 'put-colourway',
    colourway: { ...way, colours: [{ id: 'g', name: 'moss', hex: '#557744' }] },
  });
  syncAll(mara, tove);
  expect([mara.snapshot.board.colourways, mara.snapshot.repairs]).toEqual([[], []]);
  mara.undo();
  syncAll(mara, tove);
  expect(tove.snapshot.board.colourways[0]!.colours).toEqual([{ id: 'g', name: 'moss', hex: '#557744' }]);
});

test('[D69] a colour removed from the palette leaves the colourways whole, and its undo brings their colours back', () => {
  const [mara, tove] = two();
  runAll(mara, { kind: 'remove-colour', id: 'g', replaceWith: 'r' });
  expect(mara.snapshot.board.colourways).toEqual([{ id: 'w', name: 'second', colours: [] }]);
  runAll(tove, {
    kind: 'put-colourway',
    colourway: { id: 'w', name: 'second', colours: [{ id: 'g', name: 'moss', hex: '#557744' }] },
  });
  syncAll(mara, tove);
  // Whoever changes another colour meanwhile does not take back the one that is not to be seen.
  runAll(tove, {
    kind: 'put-colourway',
    colourway: { id: 'w', name: 'second', colours: [{ id: 'b', name: 'sky', hex: '#88bbff' }] },
  });
  syncAll(mara, tove);
  mara.undo();
  syncAll(mara, tove);
  expect(tove.snapshot.board.colourways[0]!.colours).toEqual([
    { id: 'b', name: 'sky', hex: '#88bbff' },
    { id: 'g', name: 'moss', hex: '#557744' },
  ]);
});

test('[D51] length and repeats set at once: the length counts, and setting either clears up', () => {
  const [mara, tove] = two({ ...sampleBoard(), piece: {} });
  runAll(mara, { kind: 'set-piece', patch: { repeats: 4 } });
  runAll(tove, { kind: 'set-piece', patch: { lengthMm: 80 } });
  syncAll(mara, tove);
  expect(mara.snapshot.board.piece).toEqual({ lengthMm: 80 });
  runAll(mara, { kind: 'set-piece', patch: { repeats: 4 } });
  expect([mara.snapshot.board.piece, mara.snapshot.repairs]).toEqual([{ repeats: 4 }, []]);
});
