/** The board's model after edits, and which tiles of the picture they reach: work is counted, not timed. */
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, type KnotCode, knotsInRow, weave } from '../../../engine/index.ts';
import { type BoardModel, modelOf } from '../../../web/board/board-model.ts';
import { Editor } from '../../../web/board/editor.ts';
import {
  ColourNumbers,
  PaintedRows,
  stripsOfTiles,
  TILE_PLACES,
  TILE_ROWS,
} from '../../../web/board/painted-rows.ts';
import { joinDesign, openDesign, syncAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { SilentWorker } from '../../support/silent-worker.ts';

beforeAll(() => {
  vi.stubGlobal('Worker', SilentWorker);
});

function editorOn(board: Board): Editor {
  return new Editor(openDesign(board), { canEdit: true, onChange: () => {}, onNews: () => {} });
}

function tie(editor: Editor, row: number, k: number, knot: KnotCode): void {
  editor.chooseKnot(knot);
  editor.press({ row, k });
  editor.release();
}

/** 60 x 400, all knots of one bend: no string changes its place. */
function bent(strings = 60, rows = 400): Board {
  const board = sampleBoard(strings, rows);
  const knots = board.pattern.knots.map((_, i) => {
    const row = Math.floor(i / (strings >> 1));
    return i % (strings >> 1) < knotsInRow(strings, (row & 1) as 0 | 1) ? 3 : 0;
  });
  return { ...board, pattern: { ...board.pattern, knots } };
}

const isRight = ({ weave: woven, board }: BoardModel): void => {
  const fresh = weave(board.pattern);
  expect(woven.shownFlat).toEqual(fresh.shownFlat);
  expect(woven.orderFlat).toEqual(fresh.orderFlat);
};

describe('model', () => {
  it('[B81] an edit weaves its row anew, and those below it until the strings stand as before', () => {
    const editor = editorOn(bent());
    tie(editor, 5, 10, 4);
    expect(editor.model.rewoven).toEqual({ from: 5, to: 6 });
    tie(editor, 7, 10, 1);
    expect(editor.model.rewoven).toEqual({ from: 7, to: 400 });
    tie(editor, 9, 10, 1);
    expect(editor.model.rewoven).toEqual({ from: 9, to: 400 });
    isRight(editor.model);
    // The two strings cross back two rows later: what is below never notices.
    tie(editor, 9, 10, 3);
    editor.design.run({
      kind: 'set-knots',
      knots: [
        { row: 101, k: 3, knot: 1 },
        { row: 103, k: 3, knot: 1 },
      ],
    });
    expect(editor.model.rewoven).toEqual({ from: 101, to: 104 });
    isRight(editor.model);
  });

  it('[B81] colours, names and the piece weave nothing', () => {
    const editor = editorOn(bent(12, 40));
    const nothing = { from: 0, to: 0 };
    editor.design.run({ kind: 'recolour-strings', strings: [3], colour: 'g' });
    expect(editor.model.rewoven).toEqual(nothing);
    editor.design.run({ kind: 'set-title', title: 'another' });
    expect(editor.model.rewoven).toEqual(nothing);
    editor.design.run({ kind: 'set-piece', patch: { repeats: 3 } });
    expect(editor.model.rewoven).toEqual(nothing);
  });

  it('[B81] two makers’ edits in any order leave the same as weaving all anew', () => {
    const random = seededRandom(5);
    const one = openDesign(sampleBoard(9, 30));
    const two = joinDesign(one, 'two');
    const editors = [one, two].map(
      (design) => new Editor(design, { canEdit: true, onChange: () => {}, onNews: () => {} }),
    );
    let woven = 0;
    let edits = 0;
    for (let i = 0; i < 300; i++) {
      const editor = random.pick(editors);
      const { rows, strings, start } = editor.model;
      const row = random.below(rows);
      const k = random.below(knotsInRow(strings, ((start + row) & 1) as 0 | 1));
      const what = random.next();
      if (what < 0.06) editor.insertRows('below');
      else if (what < 0.12) editor.design.undo();
      else {
        tie(editor, row, k, random.below(5) as KnotCode);
        woven += editor.model.rewoven.to - editor.model.rewoven.from;
        edits += rows;
      }
      if (random.chance(0.3)) syncAll(one, two);
      for (const each of editors) isRight(each.model);
    }
    // The test would show nothing if everything had been woven anew each time.
    expect(woven).toBeLessThan(edits * 0.7);
  });
});

describe('tiles', () => {
  const all = (model: BoardModel, numbers: ColourNumbers, hasCarriers = false) =>
    new PaintedRows(model, { from: 0, to: model.rows - 1 }, hasCarriers, numbers);
  const keyOf = (row: number, place: number): number =>
    Math.floor(row / TILE_ROWS) * 256 + Math.floor(place / TILE_PLACES);

  it('[B68] every knot that looks otherwise lies in a tile drawn anew, and a bend in one tile or its neighbours', () => {
    const random = seededRandom(9);
    const numbers = new ColourNumbers();
    const board = sampleBoard(18, 60);
    const missed: string[] = [];
    let changedTiles = 0;
    for (let i = 0; i < 60; i++) {
      const before = modelOf(board, null);
      const knots = board.pattern.knots.slice();
      const row = random.below(60);
      const k = random.below(knotsInRow(18, (row & 1) as 0 | 1));
      knots[row * 9 + k] = random.below(5);
      const after = modelOf({ ...board, pattern: { ...board.pattern, knots } }, null);
      // As on the page: colours of `before` are those of `after`, and its plan is kept.
      const tiles = all(before, numbers).changedTiles(all({ ...after, plan: before.plan }, numbers));
      if (tiles === 'all') throw new Error('a knot is no other board');
      changedTiles += tiles.size;
      for (let r = 0; r < 60; r++)
        for (let c = 0; c < knotsInRow(18, (r & 1) as 0 | 1); c++) {
          const at = r * 9 + c;
          const look = ({ weave: woven, hexes }: BoardModel): string | undefined =>
            hexes[woven.shownFlat[at] as number];
          const isSame =
            look(before) === look(after) && board.pattern.knots[at] === after.board.pattern.knots[at];
          if (!isSame && !tiles.has(keyOf(r, 2 * c + (r & 1)))) missed.push(`${r}:${c}`);
        }
    }
    expect(missed).toEqual([]);
    expect(changedTiles).toBeLessThan(60 * 3 * 8 * 0.8);
    const flat = modelOf(bent(18, 60), null);
    const knots = flat.board.pattern.knots.slice();
    knots[12 * 9 + 6] = 4;
    const bend = modelOf({ ...flat.board, pattern: { ...flat.board.pattern, knots } }, null);
    const tiles = all(flat, numbers).changedTiles(all({ ...bend, plan: flat.plan }, numbers));
    expect([...(tiles as ReadonlySet<number>)]).toEqual([keyOf(12, 12)]);
  });

  it('[B68] carriers that change places are drawn where they are seen, and nowhere else', () => {
    const numbers = new ColourNumbers();
    const board = { ...sampleBoard(8, 8), pattern: { ...samplePattern(8, 8), knots: new Uint8Array(32) } };
    const knots = board.pattern.knots.slice();
    // Two strings of one colour change places: nobody sees it in a chart or in paths.
    const twins = { ...board, pattern: { ...board.pattern, colours: Array(8).fill('r') as string[] } };
    knots.fill(1, 8, 9);
    const before = modelOf(twins, null);
    const crossed = { ...twins, pattern: { ...twins.pattern, knots } };
    const bends = knots.slice();
    bends.fill(3, 8, 9);
    const after = modelOf(crossed, null);
    const bentModel = modelOf({ ...twins, pattern: { ...twins.pattern, knots: bends } }, null);
    const tilesOf = (a: BoardModel, b: BoardModel, hasCarriers: boolean) =>
      all(a, numbers, hasCarriers).changedTiles(all({ ...b, plan: a.plan }, numbers, hasCarriers));
    expect(tilesOf(before, after, false)).toEqual(new Set([0]));
    expect(tilesOf(after, bentModel, true)).toEqual(new Set([0]));
    expect(tilesOf(before, modelOf(twins, null), true)).toEqual(new Set());
    // Two colours that change places and hang untied from there on are seen all the way down.
    const loose = { ...sampleBoard(8, 20), pattern: { ...samplePattern(8, 20), knots: new Uint8Array(80) } };
    const first = loose.pattern.knots.slice();
    first[0] = 1;
    const hung = { ...loose, pattern: { ...loose.pattern, knots: first } };
    expect(tilesOf(modelOf(loose, null), modelOf(hung, null), false)).toEqual(new Set([0, 256, 512]));
  });

  it('[B68] tiles as strips cover what they stand for: beside each other as one, the edges to the end of the canvas', () => {
    const view = { unit: 20, row: 16, x: 40, y: 100 };
    const size = { width: 900, height: 600 };
    const shape = { strings: 24, rows: 60 };
    expect(stripsOfTiles(new Set([0, 1]), shape, view, size)).toEqual([
      { left: 0, top: 0, width: 40 + 16 * 20, height: 100 + 8 * 16 },
    ]);
    expect(stripsOfTiles(new Set([257]), shape, view, size)).toEqual([
      { left: 200, top: 228, width: 160, height: 128 },
    ]);
    const whole = new Set(Array.from({ length: 3 * 9 }, (_, i) => (i % 3) + 256 * Math.floor(i / 3)));
    const area = stripsOfTiles(whole, shape, view, size).reduce((sum, s) => sum + s.width * s.height, 0);
    expect(area).toBe(900 * 600);
    expect(stripsOfTiles(new Set([256 * 7]), shape, view, size)).toEqual([]);
  });
});
