/** The cutting list against rows, strings and repeats. */
import type { Board, Pattern } from '../../engine/index.ts';
import { cutList } from '../../engine/material/index.ts';
import { takeUp } from '../../engine/material/take-up.ts';
import type { BenchRow } from './bench-row.ts';
import { measure, measureInTurn, timingRow } from './measure.ts';

/** Knots drawn by a linear congruential generator of fixed seed; colours that mirror, so that mounting is no part of the cost. */
function seededBoard(strings: number, rows: number, repeats = 1): Board {
  let seed = 7;
  const draw = (below: number) => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((seed / 2 ** 32) * below);
  };
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - (row % 2)) >> 1; k++) knots[row * stride + k] = 1 + draw(4);
  const palette = Array.from({ length: 6 }, (_, i) => ({ id: `c${i}`, name: `c${i}`, hex: '#808080' }));
  const half = Array.from({ length: stride }, () => `c${draw(6)}`);
  const pattern: Pattern = { colours: [...half, ...half.toReversed()], start: 0, rows, knots };
  return { title: 'bench', palette, pattern, piece: { repeats, end: 'triangle' }, gauge: {}, colourways: [] };
}

export function benchMaterial(): readonly BenchRow[] {
  const series = (name: string, sizes: readonly number[], boardOf: (size: number) => Board, note: string) =>
    sizes.map((size) => {
      const board = boardOf(size);
      return timingRow(
        name,
        size,
        measure(() => cutList(board)),
        { note },
      );
    });
  return [
    ...series(
      'cutList, rows',
      [400, 1600, 6400, 20_000],
      (rows) => seededBoard(24, rows),
      '24 strings; size = rows',
    ),
    ...series(
      'cutList, strings',
      [12, 24, 48, 96],
      (n) => seededBoard(n, 4000),
      '4,000 rows; size = strings',
    ),
    ...series(
      'cutList, repeats',
      [1, 100, 10_000],
      (n) => seededBoard(24, 400, n),
      '24 x 400; size = repeats',
    ),
    againstWrittenOut(),
  ];
}

/** 100 repeats by the permutation of one, against the same rows written out and walked. */
function againstWrittenOut(): BenchRow {
  const { pattern } = seededBoard(24, 400);
  const repeats = 100;
  const knots = new Uint8Array(pattern.knots.length * repeats);
  for (let i = 0; i < repeats; i++) knots.set(pattern.knots, i * pattern.knots.length);
  const whole: Pattern = { ...pattern, rows: pattern.rows * repeats, knots };
  const [composed, walked] = measureInTurn([
    () => takeUp(pattern, { leadInRows: 0, repeats, end: 'straight' }),
    () => takeUp(whole, { leadInRows: 0, repeats: 1, end: 'straight' }),
  ]);
  return timingRow('takeUp, composed', repeats, composed!, {
    ratioTo: { name: 'the rows written out', ratio: composed!.medianMs / walked!.medianMs, bound: 0.2 },
    note: '24 x 400; size = repeats',
  });
}
