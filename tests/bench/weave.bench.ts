/** `weave` against a bare loop over typed arrays that moves the strings and notes the colour. */
import { BACKWARD, FORWARD, FORWARD_BACKWARD, type Pattern, reweaveInto, weave } from '../../engine/index.ts';
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

const EDITS_A_RUN = 200;

/** Time of one edit that changes the first knot of a row back and forth between two kinds, and the rows woven anew by it. */
function editRow(
  name: string,
  pattern: Pattern,
  row: number,
  kinds: readonly [number, number],
  size: number,
  note: string,
): BenchRow {
  const woven = weave(pattern);
  const cell = row * (pattern.colours.length >> 1);
  const was = pattern.knots[cell]!;
  const timing = measure(
    () => {
      for (let i = 0; i < EDITS_A_RUN; i++) {
        pattern.knots[cell] = kinds[(i & 1) as 0 | 1];
        reweaveInto(pattern, { from: row, to: row + 1 }, woven);
      }
      return woven;
    },
    { repeats: 25, warmUp: 5 },
  );
  pattern.knots[cell] = was;
  const each = { minMs: timing.minMs / EDITS_A_RUN, medianMs: timing.medianMs / EDITS_A_RUN };
  return timingRow(name, size, each, { note });
}

/** The cost of an edit follows the rows whose strings it moves, not the size of the board. */
export function benchReweave(): readonly BenchRow[] {
  const board = bandOfRows(60, 6400);
  return [
    ...[400, 1600, 6400].map((rows) =>
      editRow(
        'reweaveInto, colour of one knot',
        bandOfRows(60, rows),
        rows >> 1,
        [FORWARD, BACKWARD],
        rows,
        '60 strings; size = rows of the board; one row changes',
      ),
    ),
    ...[100, 400, 1600, 6400].map((below) =>
      editRow(
        'reweaveInto, two strings exchanged',
        board,
        board.rows - below,
        [FORWARD, FORWARD_BACKWARD],
        below,
        '60 x 6,400; size = rows below the edit, all of which change',
      ),
    ),
  ];
}
