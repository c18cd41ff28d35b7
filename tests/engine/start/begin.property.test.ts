/** Beginnings show what they are called: every shape is woven by the book and held against a formula of its figure. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BeginningKind,
  type Board,
  beginBoard,
  choicesOf,
  cutList,
  fitShape,
  formatBoard,
  parseBoard,
  planMount,
  repeatCycle,
  symmetry,
  tallyOf,
  tilePattern,
  workOrder,
} from '../../../engine/index.ts';
import { rowsAsText } from '../../../engine/pattern/index.ts';
import { BEGINNING_KINDS, type Shape } from '../../../engine/start/shape.ts';
import { plainWeave } from '../../support/plain-weave.ts';
import '../../support/property-seed.ts';

const PALETTE = ['#f3ebdf', '#a63a1d', '#1f6266', '#e8c15a', '#2d3a8c', '#7fb069'].map((hex, i) => ({
  id: `c${i}`,
  name: `Colour ${i}`,
  hex,
}));

const wishes = fc.record({
  colours: fc.integer({ min: 2, max: 6 }),
  size: fc.integer({ min: 1, max: 30 }),
  width: fc.integer({ min: 1, max: 8 }),
  lines: fc.constantFrom(1 as const, 2 as const),
  across: fc.integer({ min: 1, max: 6 }),
  isTurned: fc.boolean(),
});
const shapes = (kinds: readonly BeginningKind[]) =>
  fc
    .tuple(fc.constantFrom(...kinds), fc.integer({ min: 6, max: 44 }), wishes)
    .map(([kind, strings, wish]) => fitShape(kind, strings, wish));

interface Seen {
  readonly row: number;
  /** Middle of the knot, in places. */
  readonly x: number;
  /** Number of the colour; -1 where the pair is untied. */
  readonly colour: number;
}

/** Every knot of one repeat, woven by the book. */
function seenIn({ pattern }: Board): readonly Seen[] {
  const rows = rowsAsText(pattern);
  const { shown } = plainWeave(pattern.colours.length, pattern.start, rows);
  return shown.flatMap((line, row) =>
    line.map((string, k) => ({
      row,
      x: 2 * k + ((pattern.start + row) % 2) + 0.5,
      colour: string < 0 ? -1 : Number(pattern.colours[string]!.slice(1)),
    })),
  );
}

/** Places from the nearest middle line that is one of the odd ones: those on which figures stand. */
function distOf({ strings, across }: Shape, x: number): number {
  const part = strings / across;
  const lines = Array.from({ length: across }, (_, i) => i)
    .filter((i) => i % 2 === 1)
    .map((i) => i * part - 0.5);
  return Math.min(...lines.map((line) => Math.abs(x - line)));
}

/** Whether everything with the same number has the same colour. */
function isFunctionOf(seen: readonly Seen[], number: (one: Seen) => number): boolean {
  const colours = new Map<number, number>();
  return seen.every((one) => {
    const at = number(one);
    const known = colours.get(at);
    colours.set(at, one.colour);
    return known === undefined || known === one.colour;
  });
}

/** A way that goes up and down by one a row, from 0 to `size`. */
function triangle(row: number, size: number): number {
  const at = row % (2 * size);
  return at <= size ? at : 2 * size - at;
}

const check = (
  kinds: readonly BeginningKind[],
  runs: number,
  law: (shape: Shape, board: Board) => void,
): void =>
  fc.assert(
    fc.property(shapes(kinds), (shape) => law(shape, beginBoard(shape, PALETTE))),
    { numRuns: runs },
  );

describe('shapes', () => {
  it('[J1] are fitted to the strings: what was fitted stays as it is, and so does what can be had', () => {
    fc.assert(
      fc.property(shapes(BEGINNING_KINDS), (shape) => {
        expect(fitShape(shape.kind, shape.strings, shape)).toEqual(shape);
      }),
      { numRuns: 300 },
    );
  });

  it('[J1] take one string more where a mirror needs it, and never fewer', () => {
    for (const kind of BEGINNING_KINDS)
      for (let strings = 6; strings <= 24; strings++) {
        const got = fitShape(kind, strings).strings;
        const isAlone = kind === 'stripes' || kind === 'zigzag' || kind === 'waves';
        const least = kind === 'hearts' || kind === 'windows' ? Math.max(8, strings) : strings;
        expect(got, `${kind} on ${strings}`).toBe(isAlone || least % 2 === 0 ? least : least + 1);
      }
  });

  it('[J2] every choice that is offered is taken, the others staying as they are', () => {
    fc.assert(
      fc.property(shapes(BEGINNING_KINDS), (shape) => {
        const { size, lines, colours, width } = choicesOf(shape);
        for (const wish of [
          ...size.map((one) => ({ size: one })),
          ...lines.map((one) => ({ lines: one })),
          ...colours.map((one) => ({ colours: one })),
          ...width.map((one) => ({ width: one })),
        ])
          expect(fitShape(shape.kind, shape.strings, { ...shape, ...wish })).toEqual({ ...shape, ...wish });
      }),
      { numRuns: 100 },
    );
  });
});

describe('every beginning', () => {
  it('[J3] mounts neatly, with one single under an odd number of strings and none else; the engine says so', () => {
    check(BEGINNING_KINDS, 120, (shape, { pattern }) => {
      const plan = planMount(pattern.colours);
      expect(plan.neat).toBe(true);
      expect(plan.singles.length).toBe(shape.strings % 2);
      if (shape.strings % 2 === 0) expect([...pattern.colours].reverse()).toEqual(pattern.colours);
    });
  });

  it('[J3] takes no lead-in, and its tally says what the panels say', () => {
    for (const kind of BEGINNING_KINDS) {
      const tally = tallyOf(beginBoard(fitShape(kind, 14), PALETTE));
      expect({ ...tally, isNeat: tally.isNeat }).toMatchObject({
        isNeat: true,
        crossings: 0,
        singles: 0,
        leadInRows: 0,
      });
    }
  });

  it('[J20] a tally says of a board what the panels say', () => {
    const crossing = beginBoard(fitShape('stripes', 12, { colours: 2 }), PALETTE);
    const colours = crossing.pattern.colours.map((_, place) => `c${place % 2}`);
    const board = {
      ...crossing,
      pattern: { ...crossing.pattern, colours },
      piece: { repeats: 3, barMm: 10 },
    };
    const tally = tallyOf(board);
    const plan = planMount(colours);
    const cut = cutList(board);
    expect(tally).toMatchObject({
      isNeat: plan.neat,
      crossings: plan.crossings.length,
      singles: plan.singles.length,
      knots: cut.knots,
      rows: cut.size.rows,
      pickUps: workOrder(board).pickUps,
      fit: { verdict: 'too tight' },
    });
    expect(tally.crossings).toBeGreaterThan(0);
    expect(tally.cords).toBe(plan.folds.length + plan.singles.length);
    expect(tally.longestMm).toBe(Math.max(...cut.ends.map(({ needMm }) => needMm)));
    expect(tally.shortestMm).toBe(Math.min(...cut.ends.map(({ needMm }) => needMm)));
    expect(tally.minutes).toBeGreaterThan(tally.knots / 6);
  });

  it('[J4] repeats without a seam: after one repeat the colours hang as at the start', () => {
    check(BEGINNING_KINDS, 120, (_, { pattern }) => {
      expect(pattern.rows % 2).toBe(0);
      expect(repeatCycle(pattern).colours).toBe(1);
    });
  });

  it('[J5] has on its strings and shows in its knots as many colours as its shape says', () => {
    check(BEGINNING_KINDS, 120, (shape, board) => {
      expect(new Set(board.pattern.colours).size).toBe(shape.colours);
      const seen = new Set(seenIn(board).map(({ colour }) => colour));
      seen.delete(-1);
      // What a window leaves open hangs there and shows in no knot.
      if (shape.kind !== 'windows') expect(seen.size).toBe(shape.colours);
    });
  });

  it('[J6] is the same for the same shape, and is a board that a file can hold', () => {
    check(BEGINNING_KINDS, 60, (shape, board) => {
      expect(beginBoard(shape, PALETTE)).toEqual(board);
      const parsed = parseBoard(formatBoard(board));
      expect(parsed.ok && parsed.value.pattern).toEqual(board.pattern);
    });
  });

  it('[J6] refuses a palette that has fewer colours', () => {
    expect(() => beginBoard(fitShape('stripes', 12, { colours: 3 }), PALETTE.slice(0, 2))).toThrow(
      RangeError,
    );
  });
});

describe('figures', () => {
  it('[J7] stripes lean: what shows depends on place and row alone by their difference, turned by their sum', () => {
    check(['stripes'], 80, ({ isTurned }, board) => {
      const lean = isTurned ? -1 : 1;
      expect(isFunctionOf(seenIn(board), ({ row, x }) => x - lean * row)).toBe(true);
      expect(['p1', 'p2']).toContain(symmetry(board.pattern).frieze);
    });
  });

  it('[J7] a line is as wide as its shape says, twice where it is drawn twice, with ground between', () => {
    check(['stripes'], 80, (shape, board) => {
      if (shape.strings % 2 === 1) return;
      const along = new Map(
        seenIn(board).map(({ row, x, colour }) => [x - (shape.isTurned ? -1 : 1) * row, colour]),
      );
      const lanes = [...along].sort(([a], [b]) => a - b).map(([, colour]) => colour);
      const runs: [number, number][] = [];
      for (const colour of lanes) {
        if (runs.at(-1)?.[0] === colour) runs.at(-1)![1]++;
        else runs.push([colour, 1]);
      }
      // Those at both ends may be cut off.
      for (const [colour, wide] of runs.slice(1, -1)) if (colour !== 0) expect(wide).toBe(shape.width);
      const first = runs.findIndex(([colour], i) => i > 0 && colour === 1);
      if (shape.lines === 2 && runs.length > first + 3)
        expect(
          runs
            .slice(first, first + 2)
            .map(([colour]) => colour)
            .sort(),
        ).toEqual([0, 1]);
    });
  });

  it('[J8] arrowheads point down, turned up, and are mirrored along the band and in no other way', () => {
    check(['arrowheads'], 80, (shape, board) => {
      const point = shape.isTurned ? -1 : 1;
      expect(isFunctionOf(seenIn(board), ({ row, x }) => distOf(shape, x) + point * row)).toBe(true);
      expect(symmetry(board.pattern)).toMatchObject({
        frieze: 'p11m',
        mirror: { order: true, picture: true },
      });
    });
  });

  it('[J9] a zigzag turns after as many rows as its size, and back; it is mirrored across the band', () => {
    check(['zigzag'], 80, (shape, board) => {
      const { size, across } = shape;
      const seen = seenIn(board);
      const fits = Array.from({ length: 2 * size }, (_, phase) => phase).filter((phase) =>
        isFunctionOf(
          seen,
          ({ row, x }) => (across === 1 ? x : distOf(shape, x)) + triangle(row + phase, size),
        ),
      );
      expect(fits.length).toBeGreaterThan(0);
      expect(board.pattern.rows).toBe(2 * size);
      expect(symmetry(board.pattern).band.upsideDown).toBe(true);
    });
  });

  it('[J9] waves go as far as their size, by a step a row at most, and rest where they turn', () => {
    check(['waves'], 80, (shape, board) => {
      const { pattern } = board;
      // What the strings in the middle of a part do, by the tokens of the rows.
      let at = 0;
      const way = rowsAsText(pattern).map((line) => {
        const token = line.split(' ')[0]!;
        at += token === 'f' ? 1 : token === 'b' ? -1 : 0;
        return at;
      });
      expect(Math.max(0, ...way) - Math.min(0, ...way)).toBe(shape.size);
      expect(at).toBe(0);
      expect(symmetry(pattern).band.upsideDown).toBe(true);
    });
  });

  it('[J10] diamonds are closed lines round their middles: what shows depends on places and rows from there', () => {
    check(['diamonds'], 80, (shape, board) => {
      const { size, isTurned, width } = shape;
      const fold = (contour: number): number => {
        const at = contour % size;
        return Math.min(at, size - at);
      };
      const seen = seenIn(board);
      const fromMiddle = (one: Seen): number =>
        fold((distOf(shape, one.x) + size - triangle(one.row + (isTurned ? size : 0), size)) / 2);
      expect(isFunctionOf(seen, fromMiddle)).toBe(true);
      // The line stands outermost, as wide as it is to be.
      for (const one of seen) if (fromMiddle(one) > (size >> 1) - width) expect(one.colour).toBe(1);
      expect(symmetry(board.pattern)).toMatchObject({ frieze: 'p2mm', mirror: { order: true } });
    });
  });

  it('[J11] windows are open inside their lines, closed all round, and a string hangs out where it hung in', () => {
    check(['windows'], 80, (shape, board) => {
      const { size, width, lines, colours } = shape;
      const line = lines === 1 ? width : 2 * width + 1;
      const open = (size >> 1) + 1 - line - (colours - 2);
      for (const { row, x, colour } of seenIn(board)) {
        const isInside = distOf(shape, x) + Math.abs(row - size) < 2 * open;
        expect(colour === -1, `row ${row}, place ${x}`).toBe(isInside);
      }
      expect(open).toBeGreaterThan(0);
      expect(symmetry(board.pattern)).toMatchObject({ frieze: 'p2mm' });
    });
  });

  it('[J12] hearts are hearts: a square on its corner without the upper corner, ground all round', () => {
    check(['hearts'], 80, (shape, board) => {
      const { size, lines, isTurned } = shape;
      const notch = Math.max(1, Math.round(size * 0.45));
      const seen = seenIn(board);
      const { rows } = board.pattern;
      const drawn = seen.filter(({ colour }) => colour > 0);
      const top = Math.min(...drawn.map(({ row }) => row));
      const tip = Math.max(...drawn.map(({ row }) => row));
      expect(tip - top).toBe(2 * size - 2 - notch);
      for (const { row, x, colour } of seen) {
        const down = isTurned ? tip - row : row - top;
        const [across, y] = [distOf(shape, x), down + notch];
        const isHeart = across <= y && across + y <= 2 * size - 2 && across + y >= 2 * notch;
        if (!isHeart) expect(colour, `row ${row}, place ${x}`).toBe(0);
        else if (lines === 1) expect(colour).toBeGreaterThan(0);
      }
      expect(rows).toBeGreaterThan(tip - top + 1);
      expect(symmetry(board.pattern)).toMatchObject({ frieze: 'p11m', mirror: { picture: true } });
    });
  });

  it('[J12] a heart drawn twice has ground between two lines', () => {
    const board = beginBoard(fitShape('hearts', 20, { size: 8, lines: 2 }), PALETTE);
    const middle = seenIn(board).filter(({ x }) => x === 9.5);
    const colours = middle.map(({ colour }) => colour);
    expect(colours.filter((colour, i) => colour !== colours[i - 1]).length).toBeGreaterThanOrEqual(4);
  });
});

describe('the generator', () => {
  it('reaches every figure, both ways, drawn twice, beside each other and on odd strings', () => {
    const found = fc.sample(shapes(BEGINNING_KINDS), 600);
    for (const kind of BEGINNING_KINDS) {
      const of = found.filter((shape) => shape.kind === kind);
      expect(
        of.some(({ lines }) => lines === 2),
        kind,
      ).toBe(true);
      if (kind !== 'windows')
        expect(
          of.some(({ isTurned }) => isTurned),
          kind,
        ).toBe(true);
      if (kind !== 'stripes')
        expect(
          of.some(({ across }) => across > 2),
          kind,
        ).toBe(true);
    }
    expect(found.some(({ strings }) => strings % 2 === 1)).toBe(true);
    expect(Math.max(...found.map(({ colours }) => colours))).toBe(6);
  });

  it('tiles: three repeats show three times the same', () => {
    const { pattern } = beginBoard(fitShape('diamonds', 14), PALETTE);
    const tiled = tilePattern(pattern, 3);
    const once = seenIn({ ...beginBoard(fitShape('diamonds', 14), PALETTE) });
    const all = seenIn({ ...beginBoard(fitShape('diamonds', 14), PALETTE), pattern: tiled });
    expect(all.slice(2 * once.length).map(({ colour }) => colour)).toEqual(once.map(({ colour }) => colour));
  });
});
