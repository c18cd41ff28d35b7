import { describe, expect, it } from 'vitest';
import { type Board, KNOT_TOKENS, knotsInRow, mend, rowParity, weave } from '../../../engine/index.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { leastWrong, paletteOf, targetOf } from '../../support/pictures.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';

interface At {
  readonly row: number;
  readonly k: number;
}

function randomBoard(
  random: SeededRandom,
  strings: number,
  rows: number,
  colours: number,
  untied: number,
): Board {
  const start = random.below(2) as 0 | 1;
  const knots = new Uint8Array(rows * (strings >> 1));
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < knotsInRow(strings, rowParity(start, row)); k++)
      knots[row * (strings >> 1) + k] = random.chance(untied) ? 0 : 1 + random.below(4);
  const ids = Array.from({ length: strings }, () => `c${random.below(colours)}`);
  return {
    title: '',
    palette: paletteOf(colours),
    pattern: { colours: ids, start, rows, knots },
    piece: {},
    gauge: {},
    colourways: [],
  };
}

/** Every tied knot, row by row. */
function tiedKnots({ pattern }: Board): At[] {
  const { colours, start, rows, knots } = pattern;
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: knotsInRow(colours.length, rowParity(start, row)) }, (_, k) => ({ row, k })),
  )
    .flat()
    .filter(({ row, k }) => knots[row * (colours.length >> 1) + k] !== 0);
}

/** Some knots that can have been tied so far: one after the other, each where all that it hangs on is tied. */
function someDone(random: SeededRandom, board: Board, count: number): At[] {
  const { order } = weave(board.pattern);
  const stringsOf = ({ row, k }: At): number[] => {
    const place = 2 * k + rowParity(board.pattern.start, row);
    return [order[row]![place]!, order[row]![place + 1]!];
  };
  let open = tiedKnots(board);
  const done: At[] = [];
  while (done.length < count && open.length > 0) {
    const ready = open.filter((knot) =>
      open.every(
        (other) => other.row >= knot.row || !stringsOf(other).some((s) => stringsOf(knot).includes(s)),
      ),
    );
    const next = random.pick(ready);
    done.push(next);
    open = open.filter((knot) => knot !== next);
  }
  return done;
}

const isSame = (a: At, b: At): boolean => a.row === b.row && a.k === b.k;

describe('mend', () => {
  it('[Z16] as few knots show another colour as trying every kind of those not tied finds', () => {
    const seen = new Set<number>();
    for (let seed = firstSeed; seed < firstSeed + cases(80, 2000); seed++) {
      const random = seededRandom(seed);
      const board = randomBoard(random, 3 + random.below(4), 3 + random.below(6), 2 + random.below(3), 0.1);
      const done = someDone(random, board, 1 + random.below(10));
      if (done.length === 0) continue;
      const before = structuredClone(board);
      const wrongKnot = random.pick(done);
      // Now and then it was left out.
      const kind = KNOT_TOKENS[random.below(5)]!;
      const told: number[] = [];
      const found = mend(
        board,
        done,
        { ...wrongKnot, kind },
        { onBest: ({ wrong }) => void told.push(wrong) },
      );
      if (!found.ok) throw new Error(found.error.message);
      expect(board).toEqual(before);

      const { pattern } = board;
      const stride = pattern.colours.length >> 1;
      const meant = weave(pattern).shown;
      const shown = weave(found.pattern).shown;
      const wrong: (readonly [number, number])[] = [];
      const kept = new Map<string, number>();
      for (const knot of tiedKnots(board)) {
        const { row, k } = knot;
        const cell = row * stride + k;
        if (isSame(knot, wrongKnot)) expect(KNOT_TOKENS[found.pattern.knots[cell]!]).toBe(kind);
        else if (done.some((one) => isSame(one, knot)))
          expect(found.pattern.knots[cell]).toBe(pattern.knots[cell]);
        else if (pattern.colours[shown[row]![k]!] !== pattern.colours[meant[row]![k]!]) wrong.push([row, k]);
      }
      pattern.knots.forEach((code, cell) => {
        const at = `${Math.floor(cell / stride)} ${cell % stride}`;
        if (code === 0) {
          expect(found.pattern.knots[cell]).toBe(0);
          kept.set(at, 0);
        }
      });
      for (const knot of done)
        kept.set(`${knot.row} ${knot.k}`, found.pattern.knots[knot.row * stride + knot.k]!);
      expect([found.wrong, found.wrongCells], seedFailed(seed)).toEqual([wrong.length, wrong]);

      const number = pattern.colours.map((id) => Number(id.slice(1)));
      const wishes = meant.map((row, r) =>
        Array.from(row, (string, k) =>
          string < 0 || done.some((one) => isSame(one, { row: r, k })) ? -1 : number[string]!,
        ),
      );
      const target = targetOf(number.length, pattern.start, board.palette.length, wishes);
      const least = leastWrong(target, { kept, mayHang: (order) => order.join() === number.join() });
      expect([found.wrong, found.lowerBound, found.proven], seedFailed(seed)).toEqual([least, least, true]);
      // Each better than the one before, the last as good as the answer.
      expect([told.at(-1), told], seedFailed(seed)).toEqual([
        found.wrong,
        [...new Set(told)].sort((a, b) => b - a),
      ]);
      seen.add(found.wrong);
    }
    expect(seen.size).toBeGreaterThan(2);
  });

  it('[Z16] nothing changes where the knot is as it should be', () => {
    const random = seededRandom(4);
    const board = randomBoard(random, 14, 30, 4, 0);
    const done = someDone(random, board, 40);
    const knot = done[20]!;
    const kind = KNOT_TOKENS[board.pattern.knots[knot.row * 7 + knot.k]!]!;
    const found = mend(board, done, { ...knot, kind });
    expect(found).toEqual({
      ok: true,
      pattern: board.pattern,
      wrong: 0,
      wrongCells: [],
      lowerBound: 0,
      proven: true,
    });
  });

  it('[Z16] on a band of usual size most mistakes can be put right below', () => {
    const random = seededRandom(9);
    const board = randomBoard(random, 14, 30, 4, 0);
    const done = someDone(random, board, 60);
    let better = 0;
    for (const knot of done.slice(20, 26)) {
      const code = board.pattern.knots[knot.row * 7 + knot.k]!;
      // The other string shows, and the two change places or not as they should not.
      const found = mend(board, done, { ...knot, kind: KNOT_TOKENS[5 - code]! });
      if (!found.ok) throw new Error(found.error.message);
      const left = { ...board.pattern, knots: Uint8Array.from(board.pattern.knots) };
      left.knots[knot.row * 7 + knot.k] = 5 - code;
      const meant = weave(board.pattern);
      const shown = weave(left);
      const wrongBefore = tiedKnots(board).filter(
        (one) =>
          !done.some((tied) => isSame(tied, one)) &&
          left.colours[shown.shown[one.row]![one.k]!] !== left.colours[meant.shown[one.row]![one.k]!],
      ).length;
      expect(found.wrong).toBeLessThanOrEqual(wrongBefore);
      if (found.wrong < wrongBefore) better++;
    }
    expect(better).toBeGreaterThan(2);
  });

  const board = randomBoard(seededRandom(1), 4, 3, 2, 0);
  const first = { row: 0, k: 0 };
  const bad: readonly (readonly [string, unknown, unknown, object])[] = [
    ['no list', 7, { ...first, kind: 'f' }, { kind: 'wrong-type', path: 'done', demand: { be: 'list' } }],
    ['a row that is not there', [{ row: 3, k: 0 }], { ...first, kind: 'f' }, { path: 'done[0].row' }],
    ['a knot that is not there', [{ row: 0, k: 2 }], { ...first, kind: 'f' }, { path: 'done[0].k' }],
    [
      'a knot that hangs on others',
      [{ row: 2, k: 0 }],
      { row: 2, k: 0, kind: 'f' },
      { kind: 'cannot-be', path: 'done' },
    ],
    ['a knot that is not done', [first], { row: 1, k: 0, kind: 'f' }, { kind: 'cannot-be', path: 'knot' }],
    [
      'another kind',
      [first],
      { ...first, kind: 'x' },
      { kind: 'unknown-knot', path: 'knot.kind', demand: { be: 'knot' } },
    ],
    ['no knot', [first], null, { kind: 'wrong-type', path: 'knot' }],
  ];
  it.each(bad)('[Z12] refuses %s', (_, done, knot, error) => {
    const found = mend(board, done as never, knot as never);
    expect(found).toMatchObject({ ok: false, error });
  });
});
