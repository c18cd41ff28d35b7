/** `weave` against a bare loop over typed arrays that moves the strings and notes the colour. */
import { type Pattern, weave } from '../../engine/index.ts';
import { randomBand, seededRandom } from '../reference/work-bands.ts';
import type { BenchRow } from './bench-row.ts';
import { measure, measureInTurn, timingRow } from './measure.ts';

const MIXED = { untied: 0.05, staying: 0.4 };
const bandOfRows = (strings: number, rows: number): Pattern =>
  randomBand(seededRandom(5), { strings, rows }, MIXED);

/** Nothing but the work itself: one order, one colour a knot. */
function bareLoop({ colours, start, rows, knots }: Pattern): Int16Array {
  const strings = colours.length;
  const stride = strings >> 1;
  const order = Int16Array.from({ length: strings }, (_, place) => place);
  const shown = new Int16Array(rows * stride).fill(-1);
  for (let row = 0; row < rows; row++) {
    let cell = row * stride;
    for (let place = (start + row) & 1; place + 1 < strings; place += 2, cell++) {
      const knot = knots[cell]!;
      if (knot === 0) continue;
      const left = order[place]!;
      const right = order[place + 1]!;
      shown[cell] = (knot & 1) === 1 ? left : right;
      if (knot <= 2) {
        order[place] = right;
        order[place + 1] = left;
      }
    }
  }
  return shown;
}

export function benchWeave(): readonly BenchRow[] {
  const large = bandOfRows(100, 10_000);
  const [ours, bare] = measureInTurn([() => weave(large), () => bareLoop(large)], { repeats: 25, warmUp: 5 });
  return [
    timingRow('weave', 10_000 * 100, ours!, {
      ratioTo: { name: 'a bare typed-array loop', ratio: ours!.medianMs / bare!.medianMs, bound: 2 },
      note: '100 x 10,000; size = strings x rows; keeps the order before every row too',
    }),
    timingRow('bare typed-array loop', 10_000 * 100, bare!, { note: '100 x 10,000; one order, overwritten' }),
    ...[500, 1000, 2000, 4000].map((rows) => {
      const band = bandOfRows(100, rows);
      return timingRow(
        'weave, rows',
        rows,
        measure(() => weave(band), { repeats: 25, warmUp: 5 }),
        { note: '100 strings; size = rows' },
      );
    }),
  ];
}
