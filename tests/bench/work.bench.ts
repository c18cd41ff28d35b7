/** Working orders: time against knots, pick-ups against the proven least and against a plain greedy. */
import { type Board, type Pattern, workOrder } from '../../engine/index.ts';
import { bandOf, boardOf, posetOf, randomBand, seededRandom } from '../reference/work-bands.ts';
import type { LabelledPoset } from '../reference/work-poset.ts';
import type { BenchRow } from './bench-row.ts';
import { measure, minAndMedian, timingRow } from './measure.ts';

const MIXED = { untied: 0.05, staying: 0.4 };

/** Every odd string shows in all its knots, tied in turn round its neighbours: one tangle over the whole band, a tenth untied. */
function stripes(strings: number, rows: number): Pattern {
  const random = seededRandom(17);
  return bandOf(strings, rows, (row) => (random() < 0.1 ? 0 : row % 2 === 0 ? 4 : 3));
}

/** Pick-ups of the plain greedy: go on with the string in the hand while it can, then take the first knot that is ready. */
function plainGreedy({ after, labels }: LabelledPoset): number {
  const tied = new Set<number>();
  const isReady = (knot: number): boolean =>
    !tied.has(knot) && after[knot]!.every((before) => tied.has(before));
  let hand: string | number | undefined;
  let pickUps = 0;
  while (tied.size < labels.length) {
    const own = labels.findIndex((label, knot) => label === hand && isReady(knot));
    const next = own >= 0 ? own : labels.findIndex((_, knot) => isReady(knot));
    if (own < 0) pickUps++;
    hand = labels[next];
    tied.add(next);
  }
  return pickUps;
}

function segmentsRow(name: string, board: Board, note: string): BenchRow {
  const order = workOrder(board, { method: 'segments' });
  const timing = measure(() => workOrder(board, { method: 'segments' }), { repeats: 7, warmUp: 5 });
  return timingRow(name, order.steps.length, timing, {
    ratioTo: { name: 'the lower bound, in pick-ups', ratio: order.pickUps / order.lowerBound, bound: 1.03 },
    note: `${note}; size = knots; ${order.pickUps} pick-ups${order.exact ? ', proven fewest' : ''}`,
  });
}

function ratioRow(
  name: string,
  ratios: readonly number[],
  bound: number | undefined,
  note: string,
): BenchRow {
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
  const ratioTo = {
    name: 'the fewest pick-ups, mean',
    ratio: mean,
    ...(bound === undefined ? {} : { bound }),
  };
  return { name, size: ratios.length, unit: 'x', value: mean, ...minAndMedian(ratios), ratioTo, note };
}

function smallBands(): readonly BenchRow[] {
  const random = seededRandom(23);
  const bands = Array.from({ length: 400 }, () =>
    randomBand(
      random,
      { strings: 6 + Math.floor(random() * 7), rows: 6 + Math.floor(random() * 15) },
      { untied: random() * 0.3, staying: random() },
    ),
  ).filter((band) => band.knots.some((knot) => knot > 0));
  const fewest = bands.map((band) => {
    const order = workOrder(boardOf(band), { method: 'exact' });
    if (!order.ok) throw new Error(order.error.message);
    return order.pickUps;
  });
  const ratios = (pickUps: (band: Pattern) => number): readonly number[] =>
    bands.map((band, i) => pickUps(band) / fewest[i]!);
  const note = 'random bands of 6 to 12 strings and 6 to 20 rows; size = bands';
  return [
    ratioRow(
      'workOrder, segments, small bands',
      ratios((band) => workOrder(boardOf(band)).pickUps),
      1.03,
      note,
    ),
    ratioRow(
      'plain greedy, small bands',
      ratios((band) => plainGreedy(posetOf(band))),
      undefined,
      note,
    ),
    ratioRow(
      'workOrder, rows, small bands',
      ratios((band) => workOrder(boardOf(band), { method: 'rows' }).pickUps),
      undefined,
      note,
    ),
  ];
}

export function benchWork(): readonly BenchRow[] {
  const mixed = (rows: number): Board => boardOf(randomBand(seededRandom(11), { strings: 60, rows }, MIXED));
  const sizes = [100, 200, 400, 800, 1600];
  return [
    ...sizes.map((rows) => segmentsRow('workOrder, segments, mixed', mixed(rows), `60 x ${rows}`)),
    ...sizes.map((rows) =>
      segmentsRow('workOrder, segments, stripes', boardOf(stripes(60, rows)), `60 x ${rows}, one tangle`),
    ),
    ...sizes.map((rows) =>
      timingRow(
        'workOrder, rows, mixed',
        workOrder(mixed(rows), { method: 'rows' }).steps.length,
        measure(() => workOrder(mixed(rows), { method: 'rows' }), { repeats: 7, warmUp: 5 }),
        { note: `60 x ${rows}; size = knots` },
      ),
    ),
    ...smallBands(),
  ];
}
