/** Mounting against the number of places, and the search for starts against the number of knots. */
import { findStarts, leadIn, type Pattern, planMount, recolour } from '../../engine/index.ts';
import type { BenchRow } from './bench-row.ts';
import { measure, timingRow } from './measure.ts';

const KINDS = 8;

/** A linear congruential generator of fixed seed. */
function drawing(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** Every colour an even number of times, shuffled: such orders hardly ever mount neatly. */
function shuffledOrder(places: number, kinds = KINDS): string[] {
  const draw = drawing(7);
  const order = Array.from({ length: places }, (_, i) => `c${(i >> 1) % kinds}`);
  for (let i = places - 1; i > 0; i--) {
    const j = draw(i + 1);
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}

function mirroredOrder(places: number): string[] {
  const draw = drawing(7);
  const half = Array.from({ length: places >> 1 }, () => `c${draw(KINDS)}`);
  return [...half, ...half.toReversed()];
}

function shuffledPattern(strings: number, rows: number): Pattern {
  const draw = drawing(11);
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - (row % 2)) >> 1; k++) knots[row * stride + k] = 1 + draw(4);
  return { colours: shuffledOrder(strings), start: 0, rows, knots };
}

export async function benchMount(): Promise<BenchRow[]> {
  const series = (
    name: string,
    sizes: readonly number[],
    note: string,
    prepare: (size: number) => () => unknown,
  ): BenchRow[] =>
    sizes.map((size) => timingRow(name, size, measure(prepare(size), { repeats: 5, warmUp: 1 }), { note }));
  return [
    ...series('planMount, free', [25, 50, 100, 200], '8 colours shuffled; size = places', (size) => {
      const order = shuffledOrder(size);
      return () => planMount(order, { singles: 'free' });
    }),
    ...series('planMount, forced, neat', [25, 50, 100, 200], 'mirrored; size = places', (size) => {
      const order = mirroredOrder(size);
      return () => planMount(order);
    }),
    ...series(
      'planMount, forced, crossing',
      [24, 50, 100, 200],
      '8 colours shuffled; size = places',
      (size) => {
        const order = shuffledOrder(size);
        return () => planMount(order);
      },
    ),
    ...series(
      'findStarts, rows',
      [50, 100, 200, 400],
      '60 strings, 8 colours shuffled; size = rows',
      (rows) => {
        const pattern = shuffledPattern(60, rows);
        return () => findStarts(pattern, { repeats: 4 });
      },
    ),
    ...series('findStarts, strings', [30, 60, 120], '100 rows; size = strings', (strings) => {
      const pattern = shuffledPattern(strings, 100);
      return () => findStarts(pattern, { repeats: 4 });
    }),
    ...series(
      'leadIn, exact',
      [6, 8, 10, 12],
      'each colour twice, in the same order; size = strings',
      (size) => {
        const half = Array.from({ length: size >> 1 }, (_, i) => `c${i}`);
        return () => leadIn([...half, ...half]);
      },
    ),
    ...series(
      'leadIn, beyond',
      [24, 60, 120, 200],
      'a colour for every three strings, shuffled; size = strings',
      (size) => {
        const order = shuffledOrder(size, Math.floor(size / 3));
        return () => leadIn(order);
      },
    ),
    ...series('recolour, kept', [25, 50, 100, 200], '8 colours shuffled; size = places', (size) => {
      const order = shuffledOrder(size & ~1);
      return () => recolour(order, { singles: 'kept' });
    }),
    ...series('recolour, forced', [25, 50, 100], '8 colours shuffled; size = places', (size) => {
      const order = shuffledOrder(size & ~1);
      return () => recolour(order);
    }),
  ];
}
