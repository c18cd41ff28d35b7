/** The editor of the board without a screen: tools, strokes, undo, and what happens when others edit at the same time. */
import { describe, expect, it } from 'vitest';
import type { Command } from '../../../engine/document/index.ts';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { Editor } from '../../../web/board/editor.ts';
import type { EditorNews } from '../../../web/board/editor-news.ts';
import { joinDesign, openDesign, rowsOf, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

function blank(strings: number, rows: number): Board {
  const board = sampleBoard(strings, rows);
  const colours = Array.from({ length: strings }, (_, i) => ['r', 'g', 'b'][i % 3] as string);
  const text = Array.from({ length: rows }, (_, row) =>
    Array((strings - (row % 2)) >> 1)
      .fill('-')
      .join(' '),
  );
  return { ...board, pattern: patternFromText(colours, text) };
}

function edit(board: Board = blank(6, 6), canEdit = true) {
  const design = openDesign(board);
  const news: EditorNews[] = [];
  const editor = new Editor(design, { canEdit, onChange: () => {}, onNews: (one) => news.push(one) });
  return { design, editor, news, rows: () => rowsOf(design) };
}

const at = (row: number, k: number) => ({ row, k });

describe('strokes', () => {
  it('[B58] a drag ties every knot on its way once, and undoes as one step', () => {
    const { design, editor, rows } = edit();
    editor.press(at(0, 0));
    editor.drag(at(2, 1));
    editor.drag(at(0, 2));
    editor.release();
    expect(rows().slice(0, 3)).toEqual(['f - f', 'f f', '- f -']);
    design.undo();
    expect(rows().every((row) => !row.includes('f'))).toBe(true);
    expect(design.canUndo).toBe(false);
  });

  it('[B58] two drags are two steps', () => {
    const { design, editor, rows } = edit();
    for (const row of [0, 2]) {
      editor.press(at(row, 0));
      editor.drag(at(row, 2));
      editor.release();
    }
    design.undo();
    expect(rows()[2]).toBe('- - -');
    expect(rows()[0]).toBe('f f f');
  });

  it('[B58] a stroke taken back leaves nothing', () => {
    const { editor, rows } = edit();
    editor.press(at(0, 0));
    editor.drag(at(0, 2));
    editor.cancel(true);
    expect(rows()[0]).toBe('- - -');
  });

  it('[B69] a stroke over knots that were so already is taken back without what was done before', () => {
    const { editor, rows } = edit();
    for (const isBack of [false, true]) {
      editor.press(at(0, 0));
      editor.drag(at(0, 2));
      if (isBack) editor.cancel(true);
      else editor.release();
    }
    expect(rows()[0]).toBe('f f f');
  });

  it('[B59] a line is only a preview until it is released', () => {
    const { editor, rows } = edit();
    editor.chooseKnot(2);
    editor.choose('line');
    editor.press(at(0, 0));
    editor.drag(at(2, 0));
    editor.drag(at(3, 1));
    expect(editor.preview.length).toBeGreaterThan(2);
    expect(rows().join('')).not.toContain('b');
    editor.release();
    expect(rows().slice(0, 4)).toEqual(['b - -', 'b -', '- b -', '- b']);
    editor.press(at(0, 2));
    editor.cancel();
    expect(rows()[0]).toBe('b - -');
  });

  it('[B57] fill ties the area of like knots; inside a selection the selection', () => {
    const { editor, rows } = edit();
    editor.selectBlock({ fromRow: 1, toRow: 2, fromPlace: 0, toPlace: 3 });
    editor.chooseKnot(3);
    editor.choose('fill');
    editor.press(at(1, 0));
    editor.release();
    expect(rows()).toEqual(['- - -', 'fb -', 'fb fb -', '- -', '- - -', '- -']);
    editor.clearSelection();
    editor.chooseKnot(4);
    editor.choose('fill');
    editor.press(at(2, 1));
    editor.release();
    expect(rows().slice(1, 3)).toEqual(['bf -', 'bf bf -']);
    expect(rows()[0]).toBe('- - -');
  });

  it('[B56] tying by colour says so when neither string has it', () => {
    const { editor, news, rows } = edit();
    editor.chooseColour('b');
    editor.chooseShowing('keep');
    editor.press(at(0, 0));
    editor.release();
    expect(rows()[0]).toBe('- - -');
    expect(news.at(-1)).toEqual({ kind: 'no-such-colour' });
    editor.press(at(0, 1));
    editor.release();
    expect(rows()[0]).toBe('- fb -');
  });

  it('[B60] who may only look ties nothing, and hears why', () => {
    const { editor, news, rows } = edit(blank(6, 4), false);
    editor.press(at(0, 0));
    editor.release();
    editor.tieHere({ kind: 'knot', knot: 1 });
    editor.insertRows('below');
    expect(rows()).toHaveLength(4);
    expect(rows()[0]).toBe('- - -');
    expect(news).toEqual(Array(3).fill({ kind: 'refused', why: null }));
  });
});

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
