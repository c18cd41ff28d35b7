/** What a press, a drag and a release do, each tool its own; and what becomes of it when it is let go or others edit meanwhile. */
import { describe, expect, it } from 'vitest';
import { at, blank, edit } from '../../support/editing.ts';
import { sampleBoard } from '../../support/sample-board.ts';

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

  it('[B60] who may only look selects, and what they drag inside the selection is not moved', () => {
    const { editor, news, rows } = edit(sampleBoard(6, 4), false);
    const before = rows();
    editor.choose('select');
    editor.selectAll();
    editor.press(at(0, 1));
    editor.drag(at(2, 1));
    editor.release();
    expect([rows(), news]).toEqual([before, []]);
    expect(editor.selection).toEqual({ fromRow: 0, toRow: 2, fromPlace: 2, toPlace: 3 });
  });

  it('[B58] a drag or a release without a press does nothing, and a hand that trembles on a knot ties it once', () => {
    const { design, editor, news, rows } = edit();
    editor.drag(at(0, 0));
    editor.release();
    editor.cancel(true);
    expect([design.canUndo, rows()[0]]).toEqual([false, '- - -']);
    editor.press(at(0, 0));
    editor.drag(at(0, 0));
    editor.drag(at(2, 0));
    editor.drag(at(0, 0));
    editor.release();
    expect(news.map((one) => ('count' in one ? one.count : one))).toEqual([1, 2]);
  });

  it('[B58] a page that is left in the middle of a stroke leaves what it tied as one step, and what comes then is another', () => {
    const { design, editor, rows } = edit();
    editor.press(at(0, 0));
    editor.drag(at(0, 1));
    editor.dispose();
    const left = editor.model;
    design.run({ kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 2 }] });
    expect([rows()[0], rows()[2], editor.model]).toEqual(['f f -', 'b - -', left]);
    design.undo();
    expect([rows()[0], rows()[2]]).toEqual(['f f -', '- - -']);
    design.undo();
    expect(rows()[0]).toBe('- - -');
  });

  it('[B57] a fill is done where it was pressed, not along the way', () => {
    const { editor, news, rows } = edit();
    editor.selectBlock({ fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 3 });
    editor.choose('fill');
    editor.press(at(0, 0));
    editor.drag(at(4, 2));
    editor.release();
    expect([rows()[0], rows()[4]]).toEqual(['f f -', '- - -']);
    expect(news).toEqual([{ kind: 'tied', count: 2 }]);
  });

  it('[B65] picking takes the knot that was pressed on, whatever the pointer goes over then', () => {
    const { editor, news } = edit(sampleBoard(6, 4));
    editor.choose('pick');
    editor.press(at(2, 1));
    editor.drag(at(2, 2));
    editor.release();
    expect([editor.ink, news]).toEqual([{ kind: 'knot', knot: 3 }, [{ kind: 'picked' }]]);
  });

  it('[B59] letting go ends the line, then what is traced, then the selection', () => {
    const { editor, rows } = edit();
    editor.selectAll();
    editor.trace(2);
    editor.choose('line');
    editor.press(at(0, 0));
    editor.drag(at(2, 0));
    editor.letGo();
    expect([editor.isInStroke, editor.preview, editor.traced]).toEqual([false, [], 2]);
    editor.letGo();
    expect([editor.traced, editor.selection === null]).toEqual([null, false]);
    editor.letGo();
    expect(editor.selection).toBeNull();
    editor.release();
    expect(rows().join('')).not.toContain('f');
  });
});

describe('selecting and moving', () => {
  /** Two knots of the first row selected, pressed on the first of them. */
  function held() {
    const opened = edit(sampleBoard(6, 6));
    opened.editor.choose('select');
    opened.editor.selectBlock({ fromRow: 0, toRow: 0, fromPlace: 2, toPlace: 5 });
    opened.editor.press(at(0, 1));
    return opened;
  }

  it('[B75] a press outside the selection selects the knot, a drag the block from there', () => {
    const { design, editor } = edit(sampleBoard(6, 6));
    editor.choose('select');
    editor.press(at(1, 0));
    expect(editor.selection).toEqual({ fromRow: 1, toRow: 1, fromPlace: 1, toPlace: 2 });
    editor.drag(at(3, 1));
    editor.release();
    expect(editor.selection).toEqual({ fromRow: 1, toRow: 3, fromPlace: 1, toPlace: 4 });
    editor.press(at(0, 0));
    editor.release();
    expect(editor.selection).toEqual({ fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 1 });
    expect(design.canUndo).toBe(false);
  });

  it('[B54] pressed and let go without a move, or moved and back, it selects the knot and moves nothing', () => {
    for (const way of [[], [at(4, 1), at(0, 1)]]) {
      const { design, editor } = held();
      for (const cell of way) editor.drag(cell);
      editor.release();
      expect(editor.selection).toEqual({ fromRow: 0, toRow: 0, fromPlace: 2, toPlace: 3 });
      expect([editor.shift, design.canUndo]).toEqual([null, false]);
    }
  });

  it('[B54] a copy leaves the knots where they were as well', () => {
    const { editor, rows } = held();
    editor.drag(at(4, 1));
    editor.release(true);
    expect([rows()[0], rows()[4]]).toEqual(['- f b', 'bf f b']);
  });

  it('[B52] what a move pushes over the edge is untied, counted and told, and the selection is what is left', () => {
    const { design, editor, news, rows } = held();
    editor.drag(at(0, 2));
    editor.release();
    expect(rows()[0]).toBe('- - f');
    expect(news.at(-1)).toEqual({ kind: 'outside', count: 1 });
    expect(editor.selection).toEqual({ fromRow: 0, toRow: 0, fromPlace: 4, toPlace: 5 });
    design.undo();
    expect(rows()[0]).toBe('- f b');
  });

  it('[B54] let go before it is released, nothing is moved', () => {
    const { editor, rows } = held();
    editor.drag(at(4, 1));
    expect(editor.shift).toEqual({ fromRow: 4, toRow: 4, fromPlace: 2, toPlace: 5 });
    const { selection } = editor;
    editor.letGo();
    expect([editor.isInStroke, editor.shift, editor.selection]).toEqual([false, null, selection]);
    editor.release();
    expect(rows()[0]).toBe('- f b');
  });
});
