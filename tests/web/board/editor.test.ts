/** The editor of the board without a screen: blocks, what is done at the cursor, and what happens when others edit at the same time. */
import { describe, expect, it } from 'vitest';
import type { Command } from '../../../engine/document/index.ts';
import type { Board } from '../../../engine/index.ts';
import { at, blank, edit } from '../../support/editing.ts';
import { joinDesign, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

describe('blocks', () => {
  it('[B50] copy on one board, paste on another', () => {
    const one = edit(sampleBoard(6, 4));
    one.editor.selectBlock({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 5 });
    const text = one.editor.copy();
    expect(text).toBe('- f b\n  f b');
    const two = edit(blank(8, 6));
    two.editor.moveTo({ on: 'knot', row: 2, k: 1 });
    two.editor.paste(text);
    expect(two.rows().slice(2, 4)).toEqual(['- - f b', '- f b']);
    two.design.undo();
    expect(two.rows()[3]).toBe('- - -');
  });

  it('[B51] text from elsewhere is refused and nothing changes', () => {
    const { editor, news, rows } = edit(sampleBoard(6, 4));
    const before = rows();
    editor.paste('dear friend');
    expect(rows()).toEqual(before);
    expect(news.at(-1)).toMatchObject({ kind: 'bad-clip', error: { line: 1, token: 'dear' } });
  });

  it('[B54] a selection is moved by dragging it, and is selected where it lands', () => {
    const { design, editor, rows } = edit(sampleBoard(6, 6));
    editor.choose('select');
    editor.selectBlock({ fromRow: 0, toRow: 0, fromPlace: 2, toPlace: 5 });
    editor.press(at(0, 1));
    editor.drag(at(1, 0));
    editor.drag(at(4, 1));
    editor.release();
    expect(rows()[0]).toBe('- - -');
    expect(rows()[4]).toBe('bf f b');
    expect(editor.selection).toEqual({ fromRow: 4, toRow: 4, fromPlace: 2, toPlace: 5 });
    design.undo();
    expect(rows()[0]).toBe('- f b');
  });

  it('[B61] cut unties what it copies', () => {
    const { editor, rows } = edit(sampleBoard(6, 4));
    editor.selectAll();
    expect(editor.cut()).toContain('f b');
    expect(rows()).toEqual(['- - -', '- -', '- - -', '- -']);
  });
});

describe('with others', () => {
  it('[B62] cursor and selection stay with their knots when somebody inserts above and beside', () => {
    const mine = edit(sampleBoard(6, 6));
    const theirs = joinDesign(mine.design, 'friend');
    mine.editor.moveTo({ on: 'knot', row: 2, k: 1 });
    mine.editor.selectBlock({ fromRow: 2, toRow: 3, fromPlace: 2, toPlace: 5 });
    theirs.run({ kind: 'insert-row-pairs', at: 0, count: 2 });
    theirs.run({ kind: 'insert-string-pairs', at: 0, count: 1 });
    syncAll(mine.design, theirs);
    expect(mine.editor.spot).toEqual({ on: 'knot', row: 6, k: 2 });
    expect(mine.editor.selection).toEqual({ fromRow: 6, toRow: 7, fromPlace: 4, toPlace: 7 });
    theirs.run({ kind: 'delete-row-pairs', from: 3, count: 1 });
    syncAll(mine.design, theirs);
    expect(mine.editor.selection).toBeNull();
    expect(mine.editor.cursor?.row).toBeLessThan(mine.editor.model.rows);
  });

  it('[B58] undo after a drag leaves what a friend tied meanwhile', () => {
    const mine = edit();
    const theirs = joinDesign(mine.design, 'friend');
    mine.editor.press(at(0, 0));
    theirs.run({ kind: 'set-knots', knots: [{ row: 0, k: 2, knot: 4 }] });
    syncAll(mine.design, theirs);
    mine.editor.drag(at(0, 1));
    mine.editor.release();
    mine.design.undo();
    expect(mine.rows()[0]).toBe('- - bf');
  });

  it('[B62] a board that grows while a line is drawn does not throw', () => {
    const mine = edit();
    const theirs = joinDesign(mine.design, 'friend');
    mine.editor.choose('line');
    mine.editor.press(at(4, 2));
    theirs.run({ kind: 'delete-row-pairs', from: 1, count: 2 });
    syncAll(mine.design, theirs);
    mine.editor.drag(at(0, 0));
    mine.editor.release();
    expect(mine.rows()).toHaveLength(2);
  });
});

describe('with others, in the middle of something', () => {
  /** Two makers; what the second does is seen by the first at once. */
  function together(board: Board = blank(8, 8)) {
    const mine = edit(board);
    const theirs = joinDesign(mine.design, 'friend');
    const they = (...commands: readonly Command[]): void => {
      runAll(theirs, ...commands);
      syncAll(mine.design, theirs);
    };
    return { ...mine, theirs, they };
  }

  it('[B140] a line goes on from the knot where it began when rows come in above', () => {
    const { editor, rows, they } = together();
    editor.choose('line');
    editor.press(at(2, 0));
    editor.drag(at(2, 1));
    they({ kind: 'insert-row-pairs', at: 0, count: 1 });
    expect(editor.preview).toEqual([]);
    editor.drag(at(4, 2));
    editor.release();
    expect(rows()[4]).toBe('f f f -');
    expect(rows().filter((row) => row.includes('f'))).toHaveLength(1);
  });

  it('[B140] a line whose beginning was deleted ends and ties nothing', () => {
    const { editor, rows, they } = together();
    editor.choose('line');
    editor.press(at(2, 0));
    they({ kind: 'delete-row-pairs', from: 1, count: 1 });
    editor.drag(at(3, 2));
    editor.release();
    expect(editor.isInStroke).toBe(false);
    expect(rows().join('')).not.toContain('f');
  });

  it('[B140] a selection that is moved lands where the pointer is, counted from where it was taken', () => {
    const { editor, rows, they } = together();
    editor.moveTo({ on: 'knot', ...at(2, 0) });
    editor.tieHere({ kind: 'knot', knot: 3 });
    editor.choose('select');
    editor.selectBlock({ fromRow: 2, toRow: 2, fromPlace: 0, toPlace: 1 });
    editor.press(at(2, 0));
    editor.drag(at(2, 1));
    they({ kind: 'insert-row-pairs', at: 0, count: 1 });
    editor.drag(at(6, 1));
    expect(editor.shift).toEqual({ fromRow: 6, toRow: 6, fromPlace: 2, toPlace: 3 });
    editor.release();
    expect(rows()[6]).toBe('- fb - -');
    expect(rows()[4]).toBe('- - - -');
  });

  it('[B140] a stroke ties what it comes to, not the way from where the rows were before', () => {
    const { editor, rows, they } = together();
    editor.press(at(6, 0));
    they({ kind: 'insert-row-pairs', at: 0, count: 1 });
    editor.drag(at(6, 1));
    editor.drag(at(6, 2));
    editor.release();
    expect(rows()[8]).toBe('f - - -');
    expect(rows()[6]).toBe('- f f -');
    expect(rows()[7]).toBe('- - -');
  });

  it('[B141] axes stay with their rows and strings, and are gone with them, which is said', () => {
    const { editor, news, rows, they } = together();
    editor.moveTo({ on: 'knot', ...at(2, 1) });
    editor.mirrorHere('level');
    editor.mirrorHere('upright');
    they({ kind: 'insert-row-pairs', at: 0, count: 1 }, { kind: 'insert-string-pairs', at: 0, count: 1 });
    expect(editor.mirror).toEqual({ upright: 4.5, level: 4 });
    editor.chooseKnot(1);
    editor.press(at(2, 1));
    editor.release();
    expect(rows()[2]).toBe('- f - b -');
    expect(rows()[6]).toBe('- b - f -');
    they({ kind: 'delete-row-pairs', from: 2, count: 1 });
    expect(editor.mirror).toEqual({ upright: 4.5, level: null });
    expect(news.at(-1)).toEqual({ kind: 'axis-gone' });
  });

  it('[B141] the middle is gone, and it is said, when the strings become odd', () => {
    const { editor, news, they } = together();
    editor.setMirror({ upright: 'middle', level: null });
    they({ kind: 'insert-string-pairs', at: 4, count: 1 });
    expect(editor.mirror.upright).toBe('middle');
    they({ kind: 'set-ends', loneString: true });
    expect(editor.mirror.upright).toBeNull();
    expect(news.at(-1)).toEqual({ kind: 'axis-gone' });
  });

  it('[B142] a traced string stays the same string, and is let go with it', () => {
    const { editor, they } = together();
    editor.trace(3);
    they({ kind: 'insert-string-pairs', at: 0, count: 1 });
    expect(editor.traced).toBe(5);
    they({ kind: 'delete-string-pairs', from: 2, count: 1 });
    expect(editor.traced).toBeNull();
  });

  it('a colour that was taken out of the palette is no longer the chosen one', () => {
    const { editor, they } = together({
      ...blank(8, 8),
      palette: [...blank(8, 8).palette, { id: 'z', name: 'spare', hex: '#123456' }],
    });
    editor.chooseColour('z');
    editor.chooseShowing();
    they({ kind: 'remove-colour', id: 'z', replaceWith: 'r' });
    expect(editor.colour).toBeNull();
    expect(editor.ink).toEqual({ kind: 'knot', knot: 1 });
  });
});

describe('where the cursor leaves the selection', () => {
  it('[B144] what is done next is done at the cursor', () => {
    const { editor, rows } = edit(sampleBoard(6, 8));
    const before = rows();
    editor.selectBlock({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 3 });
    const text = editor.copy();
    editor.moveTo({ on: 'knot', row: 0, k: 1 });
    editor.leaveSelection();
    expect(editor.selection).not.toBeNull();
    editor.moveTo({ on: 'knot', row: 4, k: 0 });
    editor.leaveSelection();
    expect(editor.selection).toBeNull();
    editor.paste(text);
    expect(rows().slice(0, 4)).toEqual(before.slice(0, 4));
    expect(rows()[4]?.split(' ').slice(0, 2)).toEqual(before[0]?.split(' ').slice(0, 2));
  });
});

describe('rows, strings and colours', () => {
  it('[B63] pairs go in and out where the cursor is', () => {
    const { editor, rows } = edit(sampleBoard(6, 4));
    const [first, second] = rows();
    editor.moveTo({ on: 'knot', row: 1, k: 0 });
    editor.insertRows('above');
    expect(rows().slice(2, 4)).toEqual([first, second]);
    expect(editor.cursor).toMatchObject({ row: 3, k: 0 });
    editor.deleteRows();
    expect(rows()).toHaveLength(4);
    editor.moveTo({ on: 'knot', row: 0, k: 0 });
    editor.insertStrings('left');
    expect(editor.model.strings).toBe(8);
    expect(editor.cursor).toMatchObject({ row: 0, k: 1 });
    editor.deleteStrings();
    expect(editor.model.strings).toBe(6);
  });

  it('[B64] a peg takes the chosen colour; without one the maker is told to choose', () => {
    const { editor, news, design } = edit();
    editor.moveTo({ on: 'peg', place: 1 });
    editor.recolourHere();
    expect(news.at(-1)).toEqual({ kind: 'choose-a-colour' });
    editor.chooseColour('b');
    editor.recolourHere();
    expect(design.snapshot.board.pattern.colours[1]).toBe('b');
    editor.swapColours('b', 'r');
    expect(design.snapshot.board.pattern.colours.slice(0, 3)).toEqual(['b', 'r', 'r']);
  });

  it('[B65] picking takes knot and colour from the board', () => {
    const { editor } = edit(sampleBoard(6, 4));
    editor.choose('pick');
    editor.press(at(0, 1));
    editor.release();
    expect(editor.ink).toEqual({ kind: 'knot', knot: 1 });
    expect(editor.colour).toBe('b');
  });

  it('[B55] mirrored tying follows the middle; no middle is refused with a word', () => {
    const { editor, rows } = edit();
    editor.setMirror({ upright: 'middle', level: null });
    editor.press(at(0, 0));
    editor.release();
    expect(rows()[0]).toBe('f - b');
    const odd = edit(blank(7, 4));
    odd.editor.setMirror({ upright: 'middle', level: null });
    expect(odd.news).toEqual([{ kind: 'no-middle' }]);
    expect(odd.editor.mirror.upright).toBeNull();
  });
});

describe('at the cursor, by key', () => {
  const knot = (row: number, k: number) => ({ on: 'knot', ...at(row, k) }) as const;
  const peg = (place: number) => ({ on: 'peg', place }) as const;

  it('[B75] selects the row or the places of its knot; on a peg there is none', () => {
    const { editor } = edit(sampleBoard(6, 4));
    editor.moveTo(knot(1, 0));
    editor.selectAlong('row');
    expect(editor.selection).toEqual({ fromRow: 1, toRow: 1, fromPlace: 0, toPlace: 5 });
    editor.selectAlong('places');
    expect(editor.selection).toEqual({ fromRow: 0, toRow: 3, fromPlace: 1, toPlace: 2 });
    editor.clearSelection();
    editor.moveTo(peg(3));
    editor.selectAlong('row');
    editor.mirrorHere('level');
    expect([editor.selection, editor.mirror]).toEqual([null, { upright: null, level: null }]);
  });

  it('[B75] a board without rows has nothing to select, copy, tie, paste on or delete, and takes its first rows', () => {
    const { design, editor, news, rows } = edit(blank(6, 0));
    editor.selectAll();
    editor.tieHere();
    editor.fillHere();
    editor.traceHere();
    editor.paste('f f');
    editor.deleteRows();
    expect([editor.selection, editor.copy(), editor.cut(), editor.hasClip]).toEqual([
      null,
      null,
      null,
      false,
    ]);
    expect([editor.traced, news, design.canUndo]).toEqual([null, [], false]);
    editor.insertRows('below');
    expect(rows()).toEqual(['- - -', '- -']);
  });

  it('[B75] ties the selection, else the knot; on a peg the string takes the colour', () => {
    const { design, editor, news, rows } = edit();
    editor.moveTo(knot(2, 1));
    editor.tieHere();
    editor.recolourHere();
    editor.selectBlock({ fromRow: 0, toRow: 0, fromPlace: 2, toPlace: 5 });
    editor.tieHere({ kind: 'knot', knot: 3 });
    expect([rows()[0], rows()[2]]).toEqual(['- fb fb', '- f -']);
    editor.clearSelection();
    editor.chooseColour('b');
    editor.moveTo(peg(0));
    editor.tieHere();
    editor.fillHere();
    expect(design.snapshot.board.pattern.colours.slice(0, 2)).toEqual(['b', 'g']);
    editor.chooseShowing();
    editor.moveTo(knot(4, 1));
    editor.tieHere({ kind: 'show', colour: 'g', places: 'keep' });
    expect([news.at(-1), rows()[4]]).toEqual([{ kind: 'no-such-colour' }, '- - -']);
  });

  it('[B57] fills from the knot', () => {
    const { editor, rows } = edit(blank(6, 4));
    editor.moveTo(knot(0, 2));
    editor.tieHere();
    editor.moveTo(knot(0, 0));
    editor.chooseKnot(4);
    editor.fillHere();
    expect(rows()).toEqual(['bf bf f', 'bf bf', 'bf bf bf', 'bf bf']);
  });

  it('[B54] moves the selection by knots, as one step; off the stagger and over the edge it goes nowhere', () => {
    const { design, editor, rows } = edit(sampleBoard(6, 6));
    const before = rows();
    editor.moveTo(knot(2, 1));
    editor.moveSelection(2, 0);
    editor.selectBlock({ fromRow: 2, toRow: 2, fromPlace: 2, toPlace: 3 });
    editor.moveSelection(1, 0);
    editor.moveSelection(-4, 0);
    expect([rows(), design.canUndo]).toEqual([before, false]);
    editor.moveSelection(1, 1);
    expect(rows().slice(2, 4)).toEqual(['b - bf', 'fb fb']);
    expect(editor.selection).toEqual({ fromRow: 3, toRow: 3, fromPlace: 3, toPlace: 4 });
    design.undo();
    expect(rows()).toEqual(before);
  });

  it('[B53] repeats the selection to the end of the pattern; without one there is nothing to repeat', () => {
    const { editor, news, rows } = edit(sampleBoard(6, 6));
    const [first, second, ...others] = rows();
    editor.repeatSelection('down');
    expect([rows().slice(2), news]).toEqual([others, []]);
    editor.selectBlock({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 5 });
    editor.repeatSelection('down');
    expect(rows()).toEqual([first, second, first, second, first, second]);
  });

  it('[B52] what is pasted over the edge is counted and told; without text what was copied here last is pasted', () => {
    const { editor, news, rows } = edit();
    editor.paste(null);
    expect(news).toEqual([{ kind: 'bad-clip', error: { kind: 'empty' } }]);
    editor.moveTo(knot(0, 2));
    editor.paste('f b');
    expect([rows()[0], news.at(-1)]).toEqual(['- - f', { kind: 'outside', count: 1 }]);
    editor.copy();
    editor.moveTo(knot(2, 0));
    editor.paste(null);
    expect([rows()[2], news.at(-1)]).toEqual(['f - -', { kind: 'tied', count: 1 }]);
  });

  it('[B73] traces the string that shows, of an untied pair the left one, or that of the peg; again lets it go', () => {
    const { editor } = edit(sampleBoard(6, 4));
    const traced = (spot: ReturnType<typeof knot> | ReturnType<typeof peg>): number | null => {
      editor.moveTo(spot);
      editor.traceHere();
      return editor.traced;
    };
    // Forward: the left string lies on top. Backward: the right one.
    expect([knot(0, 1), knot(0, 2), knot(0, 0), peg(5), peg(5)].map(traced)).toEqual([2, 5, 0, 5, null]);
  });

  it('[B63] with tying mirrored about the middle, strings come on both sides; a selection goes with all its pairs', () => {
    const { editor, rows } = edit(blank(6, 4));
    editor.insertStrings('right');
    expect(editor.model.strings).toBe(8);
    editor.setMirror({ upright: 'middle', level: null });
    editor.insertStrings('left');
    expect(editor.model.strings).toBe(12);
    editor.selectBlock({ fromRow: 1, toRow: 2, fromPlace: 3, toPlace: 6 });
    editor.deleteStrings();
    expect(editor.model.strings).toBe(6);
    editor.selectBlock({ fromRow: 1, toRow: 2, fromPlace: 0, toPlace: 3 });
    editor.insertRows('below');
    expect(rows()).toHaveLength(6);
    expect(editor.selection).toMatchObject({ fromRow: 1, toRow: 2 });
  });

  it('what the board cannot take is told with its reason, and nothing changes', () => {
    const { design, editor, news } = edit();
    editor.selectAll();
    editor.deleteStrings();
    expect(news).toEqual([{ kind: 'refused', why: expect.objectContaining({ kind: expect.any(String) }) }]);
    expect(editor.model.strings).toBe(6);
    editor.swapColours('r', 'r');
    expect([news.length, design.canUndo]).toEqual([1, false]);
  });
});

describe('what is tied', () => {
  it('[B56] tying by colour takes the colour of the first string where none is chosen, and ties with the tool at hand', () => {
    const { editor } = edit();
    editor.choose('line');
    editor.chooseShowing('change');
    expect([editor.tool, editor.colour, editor.ink]).toEqual([
      'line',
      'r',
      { kind: 'show', colour: 'r', places: 'change' },
    ]);
    editor.choose('pick');
    editor.chooseShowing();
    expect([editor.tool, editor.places]).toEqual(['tie', 'change']);
    editor.chooseColour('g');
    expect(editor.ink).toEqual({ kind: 'show', colour: 'g', places: 'change' });
    editor.chooseColour(null);
    expect(editor.ink).toEqual({ kind: 'knot', knot: 1 });
  });

  it('[B65] picking while tying by colour goes on tying by colour', () => {
    const { editor } = edit(sampleBoard(6, 4));
    editor.chooseColour('r');
    editor.chooseShowing('keep');
    editor.pick(at(0, 1));
    expect(editor.ink).toEqual({ kind: 'show', colour: 'b', places: 'keep' });
  });
});
