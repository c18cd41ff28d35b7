import { beforeEach, describe, expect, it } from 'vitest';
import { OPEN, openWish, type Wish, wantedCells } from '../../../engine/index.ts';
import { NO_MIRROR } from '../../../web/board/index.ts';
import { fitBrought } from '../../../web/wish/fit-brought.ts';
import { isShown, readWishBlock, withCells } from '../../../web/wish/wish-cells.ts';
import { WishEditor } from '../../../web/wish/wish-editor.ts';

const PALETTE = ['#884422', '#2244aa', '#eeddcc'].map((hex, i) => ({ id: `c${i}`, name: '', hex }));
const open = (strings = 8, rows = 6): Wish => openWish({ strings, start: 0, rows }, PALETTE);

let news: string[] = [];
let told = 0;

function editorOf(wish = open()): WishEditor {
  const editor = new WishEditor(wish, {
    onChange: () => {},
    onWish: () => told++,
    onNews: (kind, count) => news.push(count > 0 ? `${kind} ${count}` : kind),
  });
  editor.chooseInk(1);
  return editor;
}

/** The wish in text: `.` open, else the colour; one line a row. */
function drawn({ wish }: WishEditor): string[] {
  return wish.rows.map((row) => row.map((cell) => (cell === OPEN ? '.' : cell)).join(''));
}

const at = (row: number, k: number) => ({ row, k });

beforeEach(() => {
  news = [];
  told = 0;
});

describe('painting a wish', () => {
  it('[B331] knot by knot, along a drag; each stroke is one step of undo', () => {
    const editor = editorOf();
    editor.press(at(0, 0));
    editor.drag(at(0, 2));
    editor.release();
    expect(drawn(editor)[0]).toBe('111.');
    editor.chooseInk(OPEN);
    editor.press(at(0, 1));
    editor.release();
    expect(drawn(editor)[0]).toBe('1.1.');
    editor.undo();
    expect(drawn(editor)[0]).toBe('111.');
    editor.undo();
    expect(drawn(editor)[0]).toBe('....');
    expect(editor.canUndo).toBe(false);
    editor.redo();
    expect(drawn(editor)[0]).toBe('111.');
  });

  it('[B333] what was so already is no step, and what a second finger interrupts is taken back', () => {
    const editor = editorOf();
    editor.press(at(1, 1));
    editor.release();
    const before = editor.wish;
    const heard = told;
    editor.press(at(1, 1));
    editor.release();
    expect(editor.wish).toBe(before);
    expect(told).toBe(heard);
    editor.press(at(2, 0));
    editor.cancel(true);
    expect(editor.wish).toBe(before);
    editor.undo();
    expect(editor.canUndo).toBe(false);
  });

  it('[B331] a line shows before it is let go, an area fills to what wants something else', () => {
    const editor = editorOf();
    editor.choose('line');
    editor.press(at(0, 0));
    editor.drag(at(4, 2));
    expect(wantedCells(editor.wish)).toBe(0);
    expect(editor.preview.length).toBeGreaterThan(3);
    editor.release();
    expect(wantedCells(editor.wish)).toBeGreaterThan(3);
    const rows = editorOf();
    rows.choose('line');
    rows.press(at(2, 0));
    rows.drag(at(2, 3));
    rows.release();
    rows.choose('fill');
    rows.press(at(0, 3));
    rows.release();
    expect(drawn(rows)).toEqual(['1111', '111', '1111', '...', '....', '...']);
  });

  it('[B331] mirrored along the middle, each cell in the same colour; without a middle it is said', () => {
    const editor = editorOf();
    editor.setMirror({ upright: 'middle', level: null });
    editor.press(at(0, 0));
    editor.release();
    editor.press(at(1, 1));
    editor.release();
    expect(drawn(editor).slice(0, 2)).toEqual(['1..1', '.1.']);
    editor.setMirror(NO_MIRROR);
    editor.moveTo(at(2, 1));
    editor.mirrorHere('level');
    editor.press(at(1, 0));
    editor.release();
    expect(drawn(editor)[3]).toBe('1..');
    const odd = editorOf(open(7));
    odd.setMirror({ upright: 'middle', level: null });
    expect(news).toEqual(['no-middle']);
  });

  it('[B331] a block is copied, cut, laid, moved and repeated', () => {
    const editor = editorOf();
    editor.press(at(0, 0));
    editor.release();
    editor.chooseInk(2);
    editor.press(at(1, 0));
    editor.release();
    editor.select({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 2 });
    const text = editor.copy();
    expect(text).toBe('c1\n  c2');
    editor.select(null);
    editor.moveTo(at(2, 2));
    editor.paste(text);
    expect(drawn(editor).slice(2, 4)).toEqual(['..1.', '..2']);
    editor.select({ fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 2 });
    editor.repeatSelection('down');
    expect(drawn(editor)).toEqual(['1...', '2..', '1.1.', '2.2', '1...', '2..']);
    editor.moveSelection(0, 2);
    expect(drawn(editor).slice(0, 2)).toEqual(['.1..', '.2.']);
    editor.cut();
    expect(drawn(editor).slice(0, 2)).toEqual(['....', '...']);
    editor.choose('select');
    editor.press(at(4, 1));
    editor.drag(at(4, 3));
    editor.release();
    expect(editor.selection).toEqual({ fromRow: 4, toRow: 4, fromPlace: 2, toPlace: 7 });
    editor.select(null);
    editor.moveTo(at(5, 2));
    editor.paste('c1 c1');
    expect(news.at(-1)).toBe('outside 1');
    editor.paste('f b');
    expect(news.at(-1)).toBe('bad-clip');
    expect(readWishBlock('', editor.wish)).toBeNull();
  });

  it('[B331] a colour is taken from the wish, and what is open opens', () => {
    const editor = editorOf();
    editor.press(at(0, 0));
    editor.release();
    editor.pick(at(0, 1));
    expect(editor.ink).toBe(OPEN);
    editor.pick(at(0, 0));
    expect(editor.ink).toBe(1);
  });

  it('[B339] in a region nothing outside it is painted', () => {
    const editor = editorOf();
    editor.limitTo({ fromRow: 1, toRow: 2, fromPlace: 0, toPlace: 3 });
    editor.selectAll();
    editor.paintHere();
    expect(drawn(editor)).toEqual(['....', '1..', '11..', '...', '....', '...']);
  });

  it('[B339] what is wanted in a block is told from what shows there, open cells aside', () => {
    const now = { ...open(), rows: open().rows.map((row) => row.map(() => 2)) };
    const block = { fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 7 };
    const wish = withCells(open(), [
      { row: 0, k: 1, wanted: 2 },
      { row: 1, k: 0, wanted: 0 },
    ]);
    expect(isShown(wish, now, block)).toBe(true);
    expect(isShown(wish, now, null)).toBe(false);
    expect(isShown(withCells(wish, [{ row: 0, k: 0, wanted: 1 }]), now, block)).toBe(false);
  });

  it('[B338] brought onto another band, the steps come along and the cursor stays inside', () => {
    const editor = editorOf();
    editor.moveTo(at(5, 2));
    editor.paintHere();
    editor.follow(() => open(4, 2));
    expect(editor.cursor).toEqual({ row: 1, k: 0 });
    editor.undo();
    expect(editor.wish.rows.length).toBe(2);
  });

  it('[B340] from elsewhere: what falls outside and what the palette has not is counted', () => {
    const wish: Wish = {
      ...openWish({ strings: 8, start: 0, rows: 3 }, [
        { id: 'x', name: '', hex: '#2244aa' },
        { id: 'y', name: '', hex: '#00ff00' },
      ]),
      rows: [
        [0, 0, 1, 0],
        [-1, -1, -1],
        [0, 0, 0, 0],
      ],
    };
    const { taken, outside, strange } = fitBrought(wish, open(6, 2));
    expect(taken.rows).toEqual([
      [1, 1, OPEN],
      [OPEN, OPEN],
    ]);
    expect(strange).toBe(1);
    expect(outside).toBe(5);
    expect(taken.palette).toBe(PALETTE);
  });
});
