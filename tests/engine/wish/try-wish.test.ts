import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Board,
  fitWish,
  KNOT_TOKENS,
  OPEN,
  openWish,
  type Pattern,
  planMount,
  rowParity,
  rowStride,
  type Trial,
  tryWish,
  type Wish,
  weave,
} from '../../../engine/index.ts';
import '../../support/property-seed.ts';

const PALETTE = ['#884422', '#2244aa', '#eeddcc', '#8a4424'].map((hex, i) => ({
  id: `c${i}`,
  name: `thread ${i}`,
  hex,
}));

function emptyBoard(colours: readonly number[], rows: number, start: 0 | 1 = 0): Board {
  const pattern: Pattern = {
    colours: colours.map((colour) => `c${colour}`),
    start,
    rows,
    knots: new Uint8Array(rows * rowStride(colours.length)),
  };
  return { title: '', palette: PALETTE, pattern, piece: { lengthMm: 80 }, gauge: {}, colourways: [] };
}

/** Any wish for a board of these strings and rows, about half of it open. */
function anyWish(strings: number, rows: number, colours: number): fc.Arbitrary<Wish> {
  const open = openWish({ strings, start: 0, rows }, PALETTE);
  const count = open.rows.flat().length;
  return fc
    .array(fc.integer({ min: OPEN, max: colours - 1 }), { minLength: count, maxLength: count })
    .map((cells) => {
      let at = 0;
      return { ...open, rows: open.rows.map((row) => row.map(() => cells[at++]!)) };
    });
}

/** Cells of the wish that another colour shows in, woven anew; `newRows` rows stand above. */
function plainWrong(
  wish: Wish,
  { board: { pattern }, newRows, joined }: Trial,
): (readonly [number, number])[] {
  const { shown } = weave(pattern);
  const idOf = (index: number): string => {
    const { id } = wish.palette[index]!;
    return joined?.[1] === id ? joined[0] : id;
  };
  return wish.rows.flatMap((row, r) =>
    row.flatMap((cell, k) => {
      if (cell === OPEN) return [];
      const string = shown[r + newRows]![k]!;
      return string >= 0 && pattern.colours[string] === idOf(cell) ? [] : [[r, k] as const];
    }),
  );
}

/** The fewest wrong cells of all knots under this order at the top. */
function leastByTrying({ pattern }: Board, wish: Wish): number {
  const stride = rowStride(wish.strings);
  const cells = wish.rows.flatMap((row, r) => row.map((_, k) => r * stride + k));
  const knots = new Uint8Array(pattern.knots.length);
  let least = Infinity;
  const go = (at: number): void => {
    if (at < cells.length) {
      for (let code = 1; code < KNOT_TOKENS.length; code++) {
        knots[cells[at]!] = code;
        go(at + 1);
      }
      return;
    }
    const { shownFlat } = weave({ ...pattern, knots });
    let wrong = 0;
    wish.rows.forEach((row, r) => {
      row.forEach((cell, k) => {
        if (cell !== OPEN && pattern.colours[shownFlat[r * stride + k]!] !== PALETTE[cell]!.id) wrong++;
      });
    });
    least = Math.min(least, wrong);
  };
  go(0);
  return least;
}

/** In four colours by turns, diagonally: more than eight strings can show at once. */
const BUSY: Wish = (() => {
  const open = openWish({ strings: 8, start: 0, rows: 8 }, PALETTE);
  return { ...open, rows: open.rows.map((row, r) => row.map((_, k) => (r * 3 + k * 2 + (r >> 1)) % 4)) };
})();
const LIMITS = { steps: 2_000_000 };

describe('trying a wish', () => {
  it('[J54] [J56] each board is what its condition says, and its wrong cells are those of the woven board', () => {
    const seen = new Set<string>();
    const check = (board: Board, wish: Wish): void => {
      for (const trial of tryWish(board, wish, LIMITS)) {
        const { kind, board: made, newRows, wrongCells, joined } = trial;
        seen.add(kind);
        expect(wrongCells).toEqual(plainWrong(wish, trial));
        const { colours } = made.pattern;
        expect(colours.length).toBe(wish.strings + (kind === 'wider' ? 2 : 0));
        expect(made.pattern.rows).toBe(wish.rows.length + newRows);
        expect(rowParity(made.pattern.start, newRows)).toBe(wish.start);
        expect(newRows).toBeLessThanOrEqual(kind === 'lead-in' ? 2 : 0);
        expect(made.piece).toEqual({ lengthMm: 80, ...(newRows > 0 ? { leadInRows: newRows } : {}) });
        expect(joined === null).toBe(kind !== 'joined');
        if (kind === 'as-it-hangs') expect(colours).toEqual(board.pattern.colours);
        else expect(planMount(colours).neat).toBe(true);
        if (kind === 'mirrored') expect(colours).toEqual(colours.toReversed());
      }
    };
    fc.assert(
      fc.property(anyWish(6, 5, 4), (wish) => check(emptyBoard([0, 1, 2, 3, 0, 1], 5), wish)),
      { numRuns: 25 },
    );
    check(emptyBoard([0, 1, 2, 3, 0, 1, 2, 3], 8), BUSY);
    expect([...seen].sort()).toEqual(['as-it-hangs', 'joined', 'lead-in', 'mirrored', 'neat', 'wider']);
  });

  it('[J56] as it hangs, what is proven is the fewest that trying every knot leaves', () => {
    let proven = 0;
    fc.assert(
      fc.property(anyWish(4, 3, 3), (wish) => {
        const board = emptyBoard([0, 1, 2, 0], 3);
        const trial = tryWish(board, wish, LIMITS).find(({ kind }) => kind === 'as-it-hangs');
        if (trial === undefined) return;
        const least = leastByTrying(board, wish);
        expect(trial.wrongCells.length).toBeGreaterThanOrEqual(least);
        if (!trial.proven) return;
        expect(trial.wrongCells.length).toBe(least);
        proven++;
      }),
      { numRuns: 25 },
    );
    expect(proven).toBeGreaterThan(0);
  });

  it('[J55] what takes more is tried only where nothing shows all; no pattern comes twice', () => {
    const busy = tryWish(emptyBoard([0, 1, 2, 3, 0, 1, 2, 3], 8), BUSY, LIMITS);
    expect(busy.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['wider', 'joined']));
    const two: Wish = {
      ...BUSY,
      rows: BUSY.rows.map((row, r) => row.map((_, k) => (k === 1 && r > 1 ? 1 : 0))),
    };
    const plain = tryWish(emptyBoard([0, 1, 0, 1, 0, 1, 0, 1], 8), two, LIMITS);
    expect(plain.some(({ wrongCells }) => wrongCells.length === 0)).toBe(true);
    expect(plain.some(({ kind }) => kind === 'wider' || kind === 'joined')).toBe(false);
    for (const trials of [busy, plain]) {
      const patterns = trials.map(
        ({ board: { pattern } }) => `${pattern.colours} ${pattern.start} ${pattern.knots}`,
      );
      expect(new Set(patterns).size).toBe(patterns.length);
    }
  });

  it('[J54] the two colours that differ least are made one, and lead-in rows are added to those there are', () => {
    const board = emptyBoard([0, 1, 2, 3, 0, 1, 2, 3], 8);
    const trials = tryWish({ ...board, piece: { leadInRows: 1 } }, BUSY, LIMITS);
    const joined = trials.find(({ kind }) => kind === 'joined');
    // The first and the last thread are browns that hardly differ.
    expect(joined).toBeDefined();
    expect([...(joined?.joined ?? [])].sort()).toEqual(['c0', 'c3']);
    for (const { board: made, newRows } of trials) expect(made.piece.leadInRows).toBe(1 + newRows);
  });

  it('[J57] equal input gives equal boards, told or not; nothing wanted, nothing tried', () => {
    const board = emptyBoard([0, 1, 2, 3, 0, 1, 2, 3], 8);
    const shares: number[] = [];
    let told: readonly Trial[] = [];
    const trials = tryWish(board, BUSY, {
      ...LIMITS,
      onTrial: (sofar) => {
        expect(sofar.length).toBe(told.length + 1);
        told = sofar;
      },
      onProgress: (share) => shares.push(share),
    });
    expect(told).toEqual(trials);
    expect(tryWish(board, BUSY, LIMITS)).toEqual(trials);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    expect(tryWish(board, openWish({ strings: 8, start: 0, rows: 8 }, PALETTE))).toEqual([]);
    const wider = fitWish(BUSY, { strings: 10, start: 0, rows: 8 });
    expect(() => tryWish(board, wider)).toThrow(RangeError);
    const strange = { ...BUSY, palette: PALETTE.map((colour) => ({ ...colour, id: `x${colour.id}` })) };
    expect(() => tryWish(board, strange)).toThrow(RangeError);
  });
});
