/** What the finished look shows of a board, before anything is drawn. */
import { describe, expect, it } from 'vitest';
import { type Board, patternFromText, planMount, rowStride } from '../../../engine/index.ts';
import { layoutFinished } from '../../../web/board/draw-finished.ts';
import { backBars, dressModel, finishedModelOf } from '../../../web/board/finished-model.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const board = sampleBoard(6, 4);
const withPiece = (piece: Board['piece']): Board => ({ ...board, piece });

describe('the finished band', () => {
  it('has the rows of the piece, and says how many there are where it shows fewer', () => {
    const short = finishedModelOf(withPiece({ repeats: 2 }), null);
    expect([short.strings, short.rows >= 8, short.allRows]).toEqual([6, true, short.rows]);
    const long = finishedModelOf(withPiece({ repeats: 900 }), null);
    expect(long.rows).toBeLessThanOrEqual(1600);
    expect(long.allRows).toBeGreaterThan(long.rows);
  });

  it('ends as a whole, or in two halves', () => {
    expect(finishedModelOf(withPiece({ end: 'triangle' }), null).groups).toEqual([[0, 5]]);
    expect(finishedModelOf(withPiece({ end: 'double triangle' }), null).groups).toEqual([
      [0, 2],
      [3, 5],
    ]);
    const narrow = { ...withPiece({ end: 'double triangle' }), pattern: patternFromText(['r', 'g'], ['f']) };
    expect(finishedModelOf(narrow, null).groups).toEqual([[0, 1]]);
  });

  it('its strings have their colours’ looks and names; a nameless one is called by its id', () => {
    const [red, ...others] = board.palette;
    const { hexes, names, textures } = finishedModelOf(
      { ...board, palette: [{ ...red!, name: '' }, ...others] },
      null,
    );
    expect(hexes.slice(0, 3)).toEqual(['#cc2222', '#22aa44', '#2244cc']);
    expect(names.slice(0, 3)).toEqual(['r', 'green', 'blue']);
    expect(textures).toEqual([0, 0, 0, 0, 0, 0]);
    expect(finishedModelOf(board, null, new Map([['g', 3]])).textures).toEqual([0, 3, 0, 0, 3, 0]);
  });

  it('a string hangs free from the row after the last knot on its place', () => {
    const free = {
      ...withPiece({}),
      pattern: patternFromText(['r', 'g', 'b', 'r'], ['f -', '-', 'f -', '-']),
    };
    const { freeFrom, rows, knots, strings } = finishedModelOf(
      { ...free, piece: { repeats: 1, end: 'straight' } },
      null,
    );
    const last = Array.from({ length: strings }, () => 0);
    for (let row = 0; row < rows; row++)
      for (let k = 0; k < (strings - (row & 1)) >> 1; k++)
        if (knots[row * rowStride(strings) + k] !== 0)
          for (const place of [2 * k + (row & 1), 2 * k + (row & 1) + 1]) last[place] = row + 1;
    expect([...freeFrom]).toEqual(last);
    expect(freeFrom[0]).toBeGreaterThan(freeFrom[3]!);
  });

  it('a colour that is not in the palette is our own fault', () => {
    expect(() => finishedModelOf({ ...board, palette: [] }, null)).toThrow('not in the palette');
  });
});

describe('the same piece in other colours', () => {
  it('keeps its weave, and looks as the eye sees it', () => {
    const model = finishedModelOf(board, null);
    const palette = board.palette.map((colour) => ({ ...colour, hex: '#101010', name: '' }));
    const plan = planMount(board.pattern.colours);
    const dressed = dressModel(model, { ...board, palette }, plan, (hex) => `${hex}!`);
    expect(dressed.shown).toBe(model.shown);
    expect([dressed.hexes[0], dressed.names[0], dressed.plan]).toEqual(['#101010!', 'r', plan]);
    expect(dressModel(model, board, null).hexes).toEqual(model.hexes);
    expect(() => dressModel(model, { ...board, palette: [] }, null)).toThrow(RangeError);
  });
});

describe('bars on the back', () => {
  const barsOf = (colours: string) => backBars(planMount([...colours]));

  it('are none where the back is neat, or the plan is not known', () => {
    expect(barsOf('abba')).toEqual([]);
    expect(backBars(null)).toEqual([]);
  });

  it('are the later of two folds that cross', () => {
    const plan = planMount(['a', 'b', 'a', 'b']);
    const [bar] = backBars(plan);
    const later = [...plan.folds].sort((a, b) => b.turn - a.turn)[0]!;
    expect(bar).toEqual({ left: later.left, right: later.right, level: 0 });
  });

  it('those that share places lie below each other, others side by side', () => {
    const bars = barsOf('abcabc');
    const sharing = bars.filter((bar) =>
      bars.some((other) => other !== bar && other.left < bar.right && bar.left < other.right),
    );
    expect(sharing.length).toBeGreaterThan(1);
    for (const one of sharing)
      for (const other of sharing)
        if (one !== other && one.left < other.right && other.left < one.right)
          expect(one.level).not.toBe(other.level);
    expect(barsOf('ababcdcd').map(({ level }) => level)).toEqual([0, 0]);
  });
});

describe('its shape', () => {
  it('[B200] diagonals lie beside a drawn line of 45°, to 5°, where nothing was measured, and as measured', () => {
    for (const [gauge, ratio] of [
      [{}, 1.15],
      [{ cordMm: 2, rowMm: 3 }, 1.5],
    ] as const) {
      const layout = layoutFinished(
        finishedModelOf({ ...board, gauge }, null),
        { width: 600, height: 900 },
        1,
      );
      // A string that is carried to the other side goes a place sideways and a row down at each knot.
      const degrees = (Math.atan2(9 * layout.row, 9 * layout.unit) * 180) / Math.PI;
      expect(layout.row / layout.unit).toBeCloseTo(ratio, 9);
      expect(Math.abs(degrees - 45) < 5).toBe(ratio === 1.15);
    }
  });
});
