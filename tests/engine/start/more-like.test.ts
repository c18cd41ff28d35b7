/** Variations, lessons, drawers and groups: what they promise is counted on woven boards. */
import { describe, expect, it } from 'vitest';
import {
  type Board,
  beginBoard,
  boardsFromDrawer,
  checkPalette,
  cutList,
  dressBoard,
  fitShape,
  formatBoard,
  groupColourways,
  hexToLab,
  lessonBoards,
  moreLike,
  parseBoard,
  planBoard,
  planMount,
  repeatCycle,
  SIGHTS,
  shoppingList,
  simulateSight,
  symmetry,
  weave,
} from '../../../engine/index.ts';
import { ciede2000 } from '../../../engine/colour/difference.ts';
import { BEGINNING_KINDS, type Shape } from '../../../engine/start/shape.ts';
import { THREADS } from '../../support/threads.ts';

const PALETTE = THREADS.slice(0, 5).map((thread, i) => ({ id: `c${i}`, ...thread }));

/** The picture of one repeat as text: a letter for what shows between two places of a row, `.` where nothing is. */
function pictureOf({ pattern }: Board, period: number): string[] {
  const { shown } = weave(pattern);
  return Array.from({ length: period }, (_, at) => {
    const row = at % pattern.rows;
    const line = new Array<string>(pattern.colours.length - 1).fill('.');
    const parity = (pattern.start + row) % 2;
    shown[row]!.forEach((string, k) => {
      line[2 * k + parity] = string < 0 ? '-' : pattern.colours[string]!.slice(1);
    });
    return line.join('');
  });
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** All ways in which `one` can lie on `other`: mirrored, upside down, moved along. */
function* layings(one: readonly string[], other: readonly string[]): Generator<string[]> {
  for (const isMirrored of [false, true])
    for (const isUpsideDown of [false, true]) {
      const turned = one.map((line) => (isMirrored ? [...line].reverse().join('') : line));
      if (isUpsideDown) turned.reverse();
      for (let by = 0; by < turned.length; by++) {
        const moved = [...turned.slice(by), ...turned.slice(0, by)];
        // Knots have to lie on knots.
        const isOn = moved.every((line, row) =>
          [...line].every((sign, i) => (sign === '.') === (other[row]![i] === '.')),
        );
        if (isOn) yield moved;
      }
    }
}

/** By the book: every laying, every pair of knots. */
function plainShare(first: Board, second: Board): number {
  const rows = (first.pattern.rows * second.pattern.rows) / gcd(first.pattern.rows, second.pattern.rows);
  const [one, other] = [pictureOf(first, rows), pictureOf(second, rows)];
  let best = 1;
  for (const laid of layings(one, other)) {
    const signs = laid.join('');
    const under = other.join('');
    let [knots, unlike] = [0, 0];
    for (let i = 0; i < signs.length; i++) {
      if (under[i] === '.') continue;
      knots++;
      if (signs[i] !== under[i]) unlike++;
    }
    best = Math.min(best, unlike / knots);
  }
  return best;
}

/** Whether one is the other in a mirror, moved along, or in other colours. */
function isPlainSame(first: Board, second: Board): boolean {
  const rows = (first.pattern.rows * second.pattern.rows) / gcd(first.pattern.rows, second.pattern.rows);
  const [one, other] = [pictureOf(first, rows), pictureOf(second, rows)];
  for (const laid of layings(one, other)) {
    const pairs = new Set<string>();
    const signs = laid.join('');
    const under = other.join('');
    for (let i = 0; i < signs.length; i++) pairs.add(`${signs[i]}${under[i]}`);
    const [left, right] = [0, 1].map((side) => new Set([...pairs].map((pair) => pair[side])));
    const isOpenKept = [...pairs].every((pair) => (pair[0] === '-') === (pair[1] === '-'));
    if (left!.size === pairs.size && right!.size === pairs.size && isOpenKept) return true;
  }
  return false;
}

const firsts: readonly Shape[] = BEGINNING_KINDS.flatMap((kind) => [
  fitShape(kind, 12),
  fitShape(kind, 16, { colours: 2, isTurned: true }),
]);

describe('more like this', () => {
  it.each(firsts)('[J30] [J31] $kind on $strings strings: others indeed, by every laying', (shape) => {
    const first = beginBoard(shape, PALETTE);
    const found = moreLike(shape, PALETTE, { seed: 3, count: 4 });
    const boards = [first, ...found.map(({ board }) => board)];
    for (const { board, share } of found) {
      expect(share).toBeGreaterThanOrEqual(0.08);
      expect(plainShare(first, board)).toBeCloseTo(share, 10);
      expect(planMount(board.pattern.colours)).toMatchObject({ neat: true, singles: [] });
      expect(board.pattern.colours.length).toBe(shape.strings);
      const [was, is] = [symmetry(first.pattern).band, symmetry(board.pattern).band];
      for (const motion of Object.keys(was) as (keyof typeof was)[])
        expect(is[motion] || !was[motion], motion).toBe(true);
    }
    for (const [i, one] of boards.entries())
      for (const other of boards.slice(i + 1)) expect(isPlainSame(one, other)).toBe(false);
  });

  it('[J30] finds some for every figure on usual strings, and the same ones for the same seed', () => {
    for (const kind of BEGINNING_KINDS) {
      const shape = fitShape(kind, 14);
      const found = moreLike(shape, PALETTE, { seed: 5 });
      expect(found.length, kind).toBeGreaterThanOrEqual(3);
      expect(moreLike(shape, PALETTE, { seed: 5 })).toEqual(found);
    }
  });

  it('[J31] the check by the book takes a mirrored, moved and recoloured one for the same', () => {
    const down = beginBoard(fitShape('arrowheads', 12), PALETTE);
    const up = beginBoard(fitShape('arrowheads', 12, { isTurned: true }), PALETTE);
    const others = beginBoard(fitShape('arrowheads', 12), [PALETTE[2]!, PALETTE[0]!, PALETTE[1]!]);
    expect(isPlainSame(down, up)).toBe(true);
    expect(isPlainSame(down, others)).toBe(true);
    expect(isPlainSame(down, beginBoard(fitShape('arrowheads', 12, { width: 2 }), PALETTE))).toBe(false);
  });

  it('[J32] what is said to differ was measured: longer, in colours, open, finer, mirrored', () => {
    for (const shape of firsts)
      for (const { board, differs } of moreLike(shape, PALETTE, { seed: 1, count: 3 })) {
        const first = beginBoard(shape, PALETTE);
        expect(differs.length).toBeGreaterThan(0);
        const open = (one: Board): number => pictureOf(one, one.pattern.rows).join('').split('-').length - 1;
        for (const one of differs)
          switch (one.what) {
            case 'longer':
            case 'shorter':
              expect([one.from, one.to]).toEqual([first.pattern.rows, board.pattern.rows]);
              expect(one.to > one.from).toBe(one.what === 'longer');
              break;
            case 'more-colours':
            case 'fewer-colours':
              expect([one.from, one.to]).toEqual([first, board].map((b) => new Set(b.pattern.colours).size));
              expect(one.to > one.from).toBe(one.what === 'more-colours');
              break;
            case 'more-open':
            case 'less-open':
              expect([one.from, one.to]).toEqual([open(first), open(board)]);
              break;
            case 'finer':
            case 'bolder':
              expect(one.to > one.from).toBe(one.what === 'finer');
              break;
            case 'mirrored':
              expect([first, board].map((b) => symmetry(b.pattern).band.leftRight)).toEqual([false, true]);
              break;
            case 'upside-down-alike':
              expect([first, board].map((b) => symmetry(b.pattern).band.upsideDown)).toEqual([false, true]);
              break;
          }
      }
  });
});

describe('a lesson', () => {
  it.each([8, 10, 12, 14, 16, 20, 24])(
    '[J40] twelve on %i strings: one order, one mounting, as many rows',
    (strings) => {
      const boards = lessonBoards(strings, PALETTE);
      expect(boards.length).toBe(12);
      for (const { pattern } of boards) {
        expect(pattern.colours).toEqual(boards[0]!.pattern.colours);
        expect(pattern.rows).toBe(boards[0]!.pattern.rows);
        expect(planMount(pattern.colours)).toMatchObject({ neat: true, singles: [] });
        expect(repeatCycle(pattern).colours).toBe(1);
        expect(symmetry(pattern).mirror).toEqual({ order: true, knots: true, picture: true });
      }
    },
  );

  it('[J41] no two of them are alike, by every laying', () => {
    const boards = lessonBoards(10, PALETTE, { seed: 7 });
    for (const [i, one] of boards.entries())
      for (const other of boards.slice(i + 1)) {
        expect(isPlainSame(one, other)).toBe(false);
        expect(plainShare(one, other)).toBeGreaterThanOrEqual(0.08);
      }
    expect(lessonBoards(10, PALETTE, { seed: 7 })).toEqual(boards);
    expect(lessonBoards(10, PALETTE, { seed: 8 })).not.toEqual(boards);
  });
});

describe('a drawer', () => {
  const drawer = THREADS.slice(0, 3).map((thread, i) => ({ ...thread, haveMm: [9000, 5000, 2500][i]! }));
  const piece = { lengthMm: 80 };

  it('[J45] boards need no more of any thread than is at home', () => {
    const found = boardsFromDrawer(drawer, { piece });
    expect(found.length).toBeGreaterThanOrEqual(3);
    for (const { board, leftMm } of found) {
      const cut = cutList(board);
      board.palette.forEach(({ id, hex }, i) => {
        const takes = [...cut.folds, ...cut.singles].filter(({ colour }) => colour === id);
        const takenMm = takes.reduce((sum, { cutMm }) => sum + cutMm, 0);
        const { haveMm } = drawer.find((thread) => thread.hex === hex)!;
        expect(leftMm[i]).toBe(haveMm - takenMm);
        expect(takenMm).toBeLessThanOrEqual(haveMm);
      });
      expect(new Set(board.palette.map(({ hex }) => hex)).size).toBe(board.palette.length);
    }
    expect(boardsFromDrawer(drawer, { piece })).toEqual(found);
  });

  it('[J45] more thread makes wider boards, and too little makes none', () => {
    const widest = (list: typeof drawer): number =>
      Math.max(0, ...boardsFromDrawer(list, { piece }).map(({ shape }) => shape.strings));
    expect(widest(drawer.map((thread) => ({ ...thread, haveMm: 40_000 })))).toBe(24);
    expect(widest(drawer.map((thread) => ({ ...thread, haveMm: 2500 })))).toBeLessThan(24);
    expect(
      boardsFromDrawer(
        drawer.map((thread) => ({ ...thread, haveMm: 300 })),
        { piece },
      ),
    ).toEqual([]);
    expect(boardsFromDrawer(drawer.slice(0, 1), { piece })).toEqual([]);
  });
});

describe('a group', () => {
  const board = beginBoard(fitShape('arrowheads', 14), PALETTE);
  // What else is known of a thread does not come along.
  const threads = THREADS.map((thread, i) => ({ id: `thread-${i}`, ...thread }));
  const ways = groupColourways(board, threads, (n) => `Keychain ${n}`);

  it('[J42] twelve colourways, in each of which all threads can be told apart', () => {
    expect(ways.length).toBe(12);
    for (const { colours } of ways) {
      expect(colours.map(({ id }) => id)).toEqual(board.palette.map(({ id }) => id));
      expect(checkPalette(colours).pairs).toEqual([]);
    }
    expect(groupColourways(board, threads, (n) => `Keychain ${n}`)).toEqual(ways);
    expect(parseBoard(formatBoard({ ...board, colourways: ways })).ok).toBe(true);
  });

  it('[J42] no two are alike: some colour differs by ten in every sight', () => {
    const least = (one: string, other: string): number =>
      Math.min(
        ...SIGHTS.map((sight) =>
          ciede2000(hexToLab(simulateSight(one, sight)), hexToLab(simulateSight(other, sight))),
        ),
      );
    for (const [i, one] of ways.entries())
      for (const other of ways.slice(i + 1))
        expect(one.colours.some(({ hex }, at) => least(hex, other.colours[at]!.hex) >= 10)).toBe(true);
  });

  it('[J42] one shopping list for all, and each mounts as the board does', () => {
    const set = { ...board, colourways: ways, piece: { lengthMm: 80 } };
    for (const way of ways) expect(planMount(dressBoard(set, way).pattern.colours).neat).toBe(true);
    const list = shoppingList(set, ways, planBoard);
    expect(list.pieces).toBe(12);
  });
});
