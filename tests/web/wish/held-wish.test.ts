import { describe, expect, it } from 'vitest';
import { OPEN, type Wish } from '../../../engine/index.ts';
import { LATER_COMMANDS } from '../../../engine/document/index.ts';
import { HeldWish, openWishFor } from '../../../web/wish/held-wish.ts';
import { takeAnswer } from '../../../web/wish/take-answer.ts';
import { WishEditor } from '../../../web/wish/wish-editor.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

function held(strings = 6, rows = 4) {
  const design = openDesign(sampleBoard(strings, rows));
  const editor = new WishEditor(openWishFor(design), {
    onChange: () => {},
    onWish: () => {},
    onNews: () => {},
  });
  editor.chooseInk(1);
  return { design, editor, wish: new HeldWish(design, editor) };
}

const wantedIn = ({ rows }: Wish): string[] =>
  rows.flatMap((row, r) => row.flatMap((cell, k) => (cell === OPEN ? [] : [`${r}:${k}=${cell}`])));

describe('a wish on its knots', () => {
  it('[B338] rows and strings that others put in or take out move it with its knots; steps too', () => {
    const { design, editor, wish } = held();
    editor.moveTo({ row: 2, k: 1 });
    editor.paintHere();
    editor.moveTo({ row: 3, k: 0 });
    editor.paintHere(2);
    runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect(wish.follow().isByPlace).toBe(false);
    expect(wantedIn(editor.wish)).toEqual(['4:1=1', '5:0=2']);
    runAll(design, { kind: 'insert-string-pairs', at: 0, count: 1 });
    wish.follow();
    expect(wantedIn(editor.wish)).toEqual(['4:2=1', '5:1=2']);
    editor.undo();
    expect(wantedIn(editor.wish)).toEqual(['4:2=1']);
    runAll(design, { kind: 'delete-row-pairs', from: 2, count: 1 });
    wish.follow();
    expect(wantedIn(editor.wish)).toEqual([]);
  });

  it('[B338] over another pattern it lies by rows and places, below lead-in rows; taken back, as before', () => {
    const { design, editor, wish } = held();
    editor.moveTo({ row: 2, k: 1 });
    editor.paintHere();
    design.giveCommands(LATER_COMMANDS);
    runAll(design, { kind: 'replace-pattern', pattern: samplePattern(6, 5, 1) });
    expect(wish.follow(1).isByPlace).toBe(true);
    expect(wantedIn(editor.wish)).toEqual(['3:1=1']);
    expect(editor.wish).toMatchObject({ strings: 6, start: 1 });
    design.undo();
    wish.follow();
    expect(wantedIn(editor.wish)).toEqual(['2:1=1']);
    expect(editor.wish.start).toBe(0);
  });

  it('[B338] colours of the palette that are moved or gone keep what is wanted, or open it', () => {
    const { design, editor, wish } = held();
    editor.moveTo({ row: 0, k: 0 });
    editor.paintHere(2);
    editor.moveTo({ row: 0, k: 1 });
    editor.paintHere(1);
    design.giveCommands(LATER_COMMANDS);
    runAll(design, { kind: 'move-colour', id: 'b', to: 0 });
    wish.recolour();
    expect(wantedIn(editor.wish)).toEqual(['0:0=0', '0:1=2']);
    runAll(design, { kind: 'remove-colour', id: 'b', replaceWith: 'r' });
    wish.recolour();
    expect(wantedIn(editor.wish)).toEqual(['0:1=1']);
  });
});

describe('taking an answer', () => {
  it('[B336] of the same band, knots and colours that differ, as one step; addresses stay', () => {
    const { design } = held();
    const before = design.snapshot.board;
    const address = design.addressOf(2, 1);
    const pattern = { ...samplePattern(6, 4), colours: ['b', 'g', 'b', 'r', 'r', 'b'] };
    pattern.knots[0] = 4;
    pattern.knots[7] = 1;
    expect(takeAnswer(design, { ...before, pattern })).toBeNull();
    expect(design.snapshot.board.pattern).toEqual(pattern);
    expect(design.placeOf(address!)).toEqual({ row: 2, k: 1 });
    design.undo();
    expect(design.snapshot.board).toEqual(before);
    expect(design.canUndo).toBe(false);
  });

  it('[B336] of another band, the whole pattern with its lead-in rows, as one step', () => {
    const { design } = held();
    const before = design.snapshot.board;
    const pattern = samplePattern(8, 6, 1);
    expect(takeAnswer(design, { ...before, pattern, piece: { ...before.piece, leadInRows: 2 } })).toBeNull();
    expect(design.snapshot.board.pattern).toEqual(pattern);
    expect(design.snapshot.board.piece.leadInRows).toBe(2);
    design.undo();
    expect(design.snapshot.board).toEqual(before);
    expect(design.canUndo).toBe(false);
  });
});
