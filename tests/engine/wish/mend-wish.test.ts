import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Board,
  mendToWish,
  OPEN,
  openWish,
  type Pattern,
  placeOfCell,
  rowParity,
  rowStride,
  staggerOf,
  type Wish,
  weave,
  wishFrom,
} from '../../../engine/index.ts';
import { anyPattern } from '../../support/patterns.ts';
import '../../support/property-seed.ts';

const PALETTE = ['#884422', '#2244aa', '#eeddcc'].map((hex, i) => ({ id: `c${i}`, name: '', hex }));
const boardOf = (pattern: Pattern): Board => ({
  title: '',
  palette: PALETTE,
  pattern,
  piece: {},
  gauge: {},
  colourways: [],
});

interface Case {
  readonly board: Board;
  readonly wish: Wish;
  /** Rows of the part, and its places up to this one. */
  readonly fromRow: number;
  readonly toRow: number;
  readonly toPlace: number;
}

/** A tied board, and a part of it with two cells that want some colour; the others of the part want what shows. */
const anyCase: fc.Arbitrary<Case> = fc
  .record({
    pattern: anyPattern({ maxStrings: 6, maxRows: 6, maxColours: 3 }).filter(
      ({ rows, colours }) => rows >= 4 && colours.length >= 4,
    ),
    from: fc.nat(2),
    toPlace: fc.integer({ min: 2, max: 4 }),
    painted: fc.array(fc.tuple(fc.nat(8), fc.nat(2)), { minLength: 1, maxLength: 2 }),
    isOpenElse: fc.boolean(),
  })
  .map(({ pattern, from, toPlace, painted, isOpenElse }) => {
    const board = boardOf(pattern);
    const [fromRow, toRow] = [from, from + 1];
    const isIn = (row: number, place: number): boolean => row >= fromRow && row <= toRow && place < toPlace;
    const size = { strings: pattern.colours.length, start: pattern.start, rows: pattern.rows };
    const base = isOpenElse ? openWish(size, PALETTE) : wishFrom(board, isIn);
    const rows = base.rows.map((row) => [...row]);
    const inside = rows.flatMap((row, r) =>
      row.flatMap((_, k) => (isIn(r, 2 * k + rowParity(pattern.start, r)) ? [[r, k] as const] : [])),
    );
    for (const [i, colour] of painted) {
      const [r, k] = inside[i % inside.length]!;
      rows[r]![k] = colour;
    }
    return { board, wish: { ...base, rows }, fromRow, toRow, toPlace };
  });

const inside =
  ({ fromRow, toRow, toPlace }: Case) =>
  (row: number, place: number): boolean =>
    row >= fromRow && row <= toRow && place < toPlace;

const shownIn = ({ pattern }: Board): (string | null)[][] =>
  weave(pattern).shown.map((row) => Array.from(row, (s) => (s < 0 ? null : pattern.colours[s]!)));

function wrongIn({ wish, ...rest }: Case, board: Board): (readonly [number, number])[] {
  const shown = shownIn(board);
  const stagger = staggerOf(board.pattern);
  return wish.rows.flatMap((row, r) =>
    row.flatMap((cell, k) =>
      cell !== OPEN &&
      inside({ wish, ...rest })(r, placeOfCell(stagger, { row: r, k })) &&
      shown[r]![k] !== PALETTE[cell]!.id
        ? [[r, k] as const]
        : [],
    ),
  );
}

/** Of all knots in the part: the fewest wrong cells with what lies outside shown as before, and with how few changed knots. */
function bestByTrying(one: Case): { readonly wrong: number; readonly changed: number } {
  const { board } = one;
  const { pattern } = board;
  const stride = rowStride(pattern.colours.length);
  const stagger = staggerOf(pattern);
  const before = shownIn(board);
  const cells = before.flatMap((row, r) =>
    row.flatMap((_, k) => (inside(one)(r, placeOfCell(stagger, { row: r, k })) ? [r * stride + k] : [])),
  );
  const knots = pattern.knots.slice();
  let best = { wrong: Infinity, changed: Infinity };
  const go = (i: number, changed: number): void => {
    if (i < cells.length) {
      const at = cells[i]!;
      for (let code = 0; code < 5; code++) {
        knots[at] = code;
        go(i + 1, changed + (code === pattern.knots[at] ? 0 : 1));
      }
      return;
    }
    const made = boardOf({ ...pattern, knots });
    const shown = shownIn(made);
    const isKept = shown.every((row, r) =>
      row.every((id, k) => inside(one)(r, placeOfCell(stagger, { row: r, k })) || id === before[r]![k]),
    );
    if (!isKept) return;
    const wrong = wrongIn(one, made).length;
    if (wrong < best.wrong || (wrong === best.wrong && changed < best.changed)) best = { wrong, changed };
  };
  go(0, 0);
  return best;
}

const LIMITS = { steps: 1_000_000 };

/** What the cases were. */
interface Seen {
  fewest: number;
  more: number;
  mended: number;
}

/** Holds every way of a case against the woven board, and those within the part against trying every knot of it. */
function check(one: Case, seen: Seen): void {
  const { board, wish } = one;
  const stagger = staggerOf(board.pattern);
  const before = shownIn(board);
  const mends = mendToWish(board, wish, inside(one), LIMITS);
  for (const { reach, board: made, changed, wrongCells, isFewest, proven } of mends) {
    expect(made.pattern.colours).toEqual(board.pattern.colours);
    expect(wrongCells).toEqual(wrongIn(one, made));
    const stride = rowStride(board.pattern.colours.length);
    expect(changed.map(({ row, k }) => row * stride + k)).toEqual(
      [...made.pattern.knots.keys()].filter((at) => made.pattern.knots[at] !== board.pattern.knots[at]),
    );
    shownIn(made).forEach((row, r) => {
      row.forEach((id, k) => {
        if (!inside(one)(r, placeOfCell(stagger, { row: r, k }))) expect(id).toBe(before[r]![k]);
      });
    });
    if (reach !== 'around')
      for (const cell of changed) expect(inside(one)(cell.row, placeOfCell(stagger, cell))).toBe(true);
    if (reach !== 'part' || !proven) continue;
    const best = bestByTrying(one);
    expect(wrongCells.length).toBe(best.wrong);
    expect(changed.length).toBeGreaterThanOrEqual(best.changed);
    if (isFewest) expect(changed.length).toBe(best.changed);
    seen[changed.length === best.changed ? 'fewest' : 'more']++;
  }
  if (mends.some(({ wrongCells }) => wrongCells.length === 0)) seen.mended++;
}

describe('mending a near miss', () => {
  it('[J60] [J62] beside trying every knot: outside nothing shows otherwise, as few cells are wrong, as few knots change', () => {
    fc.assert(
      fc.property(anyCase, (one) => check(one, { fewest: 0, more: 0, mended: 0 })),
      { numRuns: 100 },
    );
  });

  it('[J62] of cases that stay the same, most are mended, and none changes more knots than it takes', () => {
    const seen = { fewest: 0, more: 0, mended: 0 };
    fc.assert(
      fc.property(anyCase, (one) => check(one, seen)),
      { numRuns: 250, seed: 11 },
    );
    expect(seen.fewest).toBeGreaterThan(2);
    expect(seen.mended).toBeGreaterThan(30);
    expect(seen.more).toBe(0);
  });

  it('[J61] a wider reach is tried only while cells are wrong; no pattern comes twice', () => {
    const reaches = new Set<string>();
    fc.assert(
      fc.property(anyCase, (one) => {
        const mends = mendToWish(one.board, one.wish, inside(one), LIMITS);
        mends.forEach(({ reach, wrongCells }, i) => {
          reaches.add(reach);
          if (i < mends.length - 1) expect(wrongCells.length).toBeGreaterThan(0);
        });
        expect(new Set(mends.map(({ board }) => board.pattern.knots.join(''))).size).toBe(mends.length);
      }),
      { numRuns: 150, seed: 11 },
    );
    expect([...reaches].sort()).toEqual(['around', 'painted', 'part']);
  });

  it('[J63] what shows already needs no mending; equal input gives equal ways, told or not', () => {
    fc.assert(
      fc.property(anyCase, (one) => {
        const { board } = one;
        expect(mendToWish(board, wishFrom(board), inside(one), LIMITS)).toEqual([]);
        let told: readonly unknown[] = [];
        const shares: number[] = [];
        const mends = mendToWish(board, one.wish, inside(one), {
          ...LIMITS,
          onMend: (now) => {
            told = now;
          },
          onProgress: (share) => shares.push(share),
        });
        expect(told).toEqual(mends);
        expect(shares.at(-1)).toBe(1);
        expect(mendToWish(board, one.wish, inside(one), LIMITS)).toEqual(mends);
      }),
      { numRuns: 20 },
    );
  });
});
